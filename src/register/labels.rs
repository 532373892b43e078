//! The text on the two ends of a cable.
//!
//! A cable that is in the register keeps its label. A new one gets one that no cable ever had: a loop's first cable
//! is `Z` (or what `label-prefix=` says) and the zone's number, the further ones `Z7-2`, `Z7-3` in the order of the text; other cables have the name
//! of their bus, circuit or line and a number; that to a transformer is `AC-` and its board. So a label tells what it belongs to without any list. A label given
//! in the spec wins. A cable that is pulled in place of another has its label: one to another room, and one of another type to
//! which the spec gives that label. The cable that had it is dead from then on and has `-OLD` behind its label.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::wording::as_seen;
use crate::base::{Id, Spanned};
use crate::model::{Owner, Run, Site};

use super::entry::State;
use super::notice::Notice;
use super::recognised::Recognised;

/// The label of every run that has a cable of its own.
pub(crate) fn give(site: &Site, known: &Recognised<'_>, notices: &mut Vec<Notice>) -> BTreeMap<Id<Run>, String> {
    let mut labels: BTreeMap<Id<Run>, String> = BTreeMap::new();
    // What looks like a label that is taken is taken too.
    let mut taken: BTreeSet<String> = known.register.labels().map(as_seen).collect();
    let former = former(known);
    for (id, run) in site.runs.entries() {
        let entry = known.of_run.get(&id);
        if let Some(label) = &run.label {
            taken.insert(as_seen(&label.value));
            labels.insert(id, label.value.clone());
            if let Some(entry) = entry.filter(|entry| entry.label != label.value) {
                let (from, entry) = (entry.label.clone(), entry.place);
                notices.push(Notice::LabelChanged { run: id, from, entry });
            }
            if let Some(entry) = former.get(label.value.as_str()) {
                notices.push(Notice::LabelSpent { run: id, entry: *entry });
            }
        } else if let Some(entry) = entry {
            labels.insert(id, entry.label.clone());
        }
    }
    let mut free = Free { site, taken, cables: BTreeMap::new(), rows: BTreeMap::new() };
    for (id, run) in site.runs.entries().filter(|(_, run)| !run.along_written) {
        let nth = free.count(run.owner);
        labels.entry(id).or_insert_with(|| free.label(run.owner, nth));
    }
    labels
}

/// The label of a cable that stays in the wall while another is given its own: "Z7-OLD", and "Z7-OLD-2" where that was
/// given before. Labels that are given are as they look.
pub(crate) fn retired(label: &str, given: &BTreeSet<String>) -> String {
    let wanted = |nth: usize| if nth == 1 { format!("{label}-OLD") } else { format!("{label}-OLD-{nth}") };
    // One more number than labels there are: one of them is free.
    (1..=given.len() + 1).map(wanted).find(|label| !given.contains(&as_seen(label))).unwrap_or_else(|| wanted(1))
}

/// The entries of cables that are dead, out, or gone long since, by label.
fn former<'r>(known: &Recognised<'r>) -> BTreeMap<&'r str, Spanned<()>> {
    let out = known.register.cables.iter().filter(|entry| entry.state == State::Out);
    let gone = known.dead.iter().copied().chain(out).map(|entry| (entry.label.as_str(), entry.place));
    let spent = known.register.spent.iter().map(|spent| (spent.value.as_str(), Spanned::new((), spent.span)));
    let mut former = BTreeMap::new();
    for (label, entry) in gone.chain(spent) {
        former.entry(label).or_insert(entry);
    }
    former
}

/// Gives out labels that nothing has or ever had.
struct Free<'s> {
    site: &'s Site,
    /// As they look.
    taken: BTreeSet<String>,
    /// Cables of each owner so far.
    cables: BTreeMap<Owner, usize>,
    /// By the first label of a pattern: the first and the last of a row of numbers that are all taken.
    rows: BTreeMap<String, (usize, usize)>,
}

impl Free<'_> {
    /// The number of the next cable of an owner. Guests have no label, so they are not counted.
    fn count(&mut self, owner: Owner) -> usize {
        let counted = self.cables.entry(owner).or_insert(0);
        *counted += 1;
        *counted
    }

    /// The first label of an owner's pattern, from a number on, that is free.
    fn label(&mut self, owner: Owner, nth: usize) -> String {
        // Capitals may be longer; a label has sixteen characters at most, three of them for the number.
        let short = |name: &str| name.to_uppercase().chars().take(13).collect::<String>();
        let before = match owner {
            Owner::Zone(zone) => {
                let prefix = self.site.label_prefix.as_deref().unwrap_or("Z");
                format!("{prefix}{}", self.site.zones[zone].number.value)
            }
            Owner::Bus(bus) => short(&self.site.buses[bus].name.value),
            Owner::Circuit(circuit) => short(&self.site.circuits[circuit].name.value),
            // Where the cable goes must be told from a bus or circuit of the board's name.
            Owner::Transformer(board) => short(&format!("ac-{}", self.site.boards[board].name.value)),
            Owner::Spare(spare) => short(&self.site.spares[spare].name.value),
            Owner::Communicator(line) => short(&self.site.communicators[line].name.value),
        };
        let is_zone = matches!(owner, Owner::Zone(_));
        let label = |nth: usize| if is_zone && nth == 1 { before.clone() } else { format!("{before}-{nth}") };
        let pattern = label(1);
        let (first, last) = self
            .rows
            .get(&pattern)
            .copied()
            .filter(|(first, last)| (*first..=*last).contains(&nth))
            .unwrap_or((nth, nth));
        // One more number than labels there are: one of them is free.
        let number = (last..=last + self.taken.len())
            .find(|number| !self.taken.contains(&as_seen(&label(*number))))
            .unwrap_or(nth);
        let given = label(number);
        self.taken.insert(as_seen(&given));
        self.rows.insert(pattern, (first, number));
        given
    }
}
