//! The text on the two ends of a cable.
//!
//! A cable that is in the register keeps its label. A new one gets one that no cable ever had: a loop's first cable
//! is `Z` (or what `label-prefix=` says) and the zone's number, the further ones `Z7-2`, `Z7-3` in the order of the text; other cables have the name
//! of their bus, circuit or line and a number; that to a transformer is `AC-` and its board. So a label tells what it belongs to without any list. A label given
//! in the spec wins. Where that is the label of a cable of another type, the cable that had it is dead from then on and
//! has `-OLD` behind its label.

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
    for (id, run) in site.runs.entries() {
        let entry = known.of_run.get(&id);
        if let Some(label) = &run.label {
            taken.insert(as_seen(&label.value));
            labels.insert(id, label.value.clone());
            if let Some(entry) = entry.filter(|entry| entry.label != label.value) {
                let (from, entry) = (entry.label.clone(), entry.place);
                notices.push(Notice::LabelChanged { run: id, from, entry });
            }
            if let Some(entry) = former(known, &label.value) {
                notices.push(Notice::LabelSpent { run: id, entry });
            }
        } else if let Some(entry) = entry {
            labels.insert(id, entry.label.clone());
        }
    }
    for (id, run) in site.runs.entries().filter(|(_, run)| !run.along_written) {
        if labels.contains_key(&id) {
            continue;
        }
        let label = free(site, run, &taken);
        taken.insert(as_seen(&label));
        labels.insert(id, label);
    }
    labels
}

/// The label of a cable that stays in the wall while another is given its own: "Z7-OLD", and "Z7-OLD-2" where that was
/// given before.
pub(crate) fn retired(label: &str, given: &BTreeSet<String>) -> String {
    let wanted = |nth: usize| if nth == 1 { format!("{label}-OLD") } else { format!("{label}-OLD-{nth}") };
    // One more number than labels there are: one of them is free.
    (1..=given.len() + 1).map(wanted).find(|label| !given.contains(label)).unwrap_or_else(|| wanted(1))
}

/// The entry of a cable that is dead, out, or gone long since.
fn former(known: &Recognised<'_>, label: &str) -> Option<Spanned<()>> {
    let out = known.register.cables.iter().filter(|entry| entry.state == State::Out);
    let gone = known.dead.iter().copied().chain(out).map(|entry| (&entry.label, entry.place));
    let spent = known.register.spent.iter().map(|spent| (&spent.value, Spanned::new((), spent.span)));
    gone.chain(spent).find(|(former, _)| *former == label).map(|(_, entry)| entry)
}

/// The first label of a run's pattern that nothing has or ever had; `taken` as they look.
fn free(site: &Site, run: &Run, taken: &BTreeSet<String>) -> String {
    // Guests have no label, so they are not counted.
    let nth = site
        .runs
        .iter()
        .filter(|other| other.owner == run.owner && other.order <= run.order && !other.along_written)
        .count();
    let named = |name: &str, nth: usize| {
        // Capitals may be longer; a label has sixteen characters at most, three of them for the number.
        format!("{}-{nth}", name.to_uppercase().chars().take(13).collect::<String>())
    };
    let prefix = site.label_prefix.as_deref().unwrap_or("Z");
    let wanted = |nth: usize| match run.owner {
        Owner::Zone(zone) if nth == 1 => format!("{prefix}{}", site.zones[zone].number.value),
        Owner::Zone(zone) => format!("{prefix}{}-{nth}", site.zones[zone].number.value),
        Owner::Bus(bus) => named(&site.buses[bus].name.value, nth),
        Owner::Circuit(circuit) => named(&site.circuits[circuit].name.value, nth),
        // Where the cable goes must be told from a bus or circuit of the board's name.
        Owner::Transformer(board) => named(&format!("ac-{}", site.boards[board].name.value), nth),
        Owner::Spare(spare) => named(&site.spares[spare].name.value, nth),
        Owner::Communicator(line) => named(&site.communicators[line].name.value, nth),
    };
    // One more number than labels there are: one of them is free.
    (nth..=nth + taken.len()).map(wanted).find(|label| !taken.contains(&as_seen(label))).unwrap_or_else(|| wanted(nth))
}
