//! Model × model → what changed, and what follows from it.
//!
//! Both sites are taken apart into [`facts`], the things of both are [`pair`]ed by identity and not by line, and the
//! facts of each pair are compared. Spacing, order, comments and files are no facts, so they are no change. A diff guesses
//! nothing: the old facts with a diff applied are the new facts.
//!
//! Identity: zones by number; rooms, openings, parts, cable types, boards, areas, buses, circuits and communicators by
//! name; devices by name, else by zone and opening, else by zone, part and room; runs by the label of their cable. What
//! is left over on both sides and alike beyond doubt is one thing under another name.
//!
//! Out of scope: words for people and the steps of the work (`views::work_order`).

mod cables;
pub(crate) mod consequences;
mod cut;
mod exchanged;
pub mod facts;
pub(crate) mod materials;
mod pair;

pub(crate) use materials::{Handed, Materials};

use crate::base::Id;
use crate::compiled::Compiled;
use crate::model::{CableType, Part, Site};
use std::collections::{BTreeMap, BTreeSet};

use crate::record::fact;
pub use crate::record::{Atom, Kind, Subject, Value};
pub(crate) use cables::{STARTS_IN, is_now, was_dead};
pub use consequences::Consequence;
pub(crate) use cut::Cut;
pub(crate) use exchanged::{BatteryChange, OneBattery, is_later, is_other_transformer, is_renewed};
use facts::nested;
pub use facts::{Facts, Thing};
pub use pair::Apart;

/// What became of a thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum What {
    /// It is gone.
    Removed,
    /// It is new.
    Added,
    /// It has another name, number or label.
    Renamed,
    /// It is in another room, on another board, input, cable or opening.
    Moved,
    /// Something else about it differs.
    Changed,
}

/// A thing that differs between the two sites.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// What it is in the old site; `None` where it is new.
    pub old: Option<(Subject, Thing)>,
    /// What it is in the new site; `None` where it is gone.
    pub new: Option<(Subject, Thing)>,
    /// The facts that differ, where it is in both.
    pub fields: Vec<FieldChange>,
}

/// A fact that differs.
#[derive(Clone, Debug, PartialEq)]
pub struct FieldChange {
    /// The field.
    pub field: String,
    /// Its value in the old site, in the old site's names.
    pub old: Option<Value>,
    /// Its value in the new site.
    pub new: Option<Value>,
}

/// Everything that differs between two sites.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Diff {
    /// By kind, then by name in the new site, else in the old one.
    pub changes: Vec<Change>,
    /// Old subject → new subject, for those things that are known under another name.
    pub renamed: BTreeMap<Subject, Subject>,
}

impl Diff {
    /// A thing of the old site by its name in the new one.
    pub(crate) fn now(&self, was: Subject) -> Subject {
        self.renamed.get(&was).cloned().unwrap_or(was)
    }
}

/// Fields that say where a thing is: when one of them differs, the thing has moved.
const PLACES: [&str; 15] = [
    fact::Device::room,
    fact::Place::room,
    nested::LEVEL,
    fact::Loop::board,
    fact::Loop::input,
    fact::Board::bus,
    fact::Board::feed,
    nested::ZONE,
    nested::CIRCUIT,
    fact::Device::opening,
    fact::Device::cable,
    fact::Run::goes_on_from,
    fact::Run::into,
    fact::Run::belongs_to,
    cables::STARTS_IN,
];

impl Change {
    /// What became of it.
    pub fn what(&self) -> What {
        match (&self.old, &self.new) {
            (None, _) => What::Added,
            (_, None) => What::Removed,
            (Some((old, _)), Some((new, thing))) if old != new && thing.named => What::Renamed,
            _ if self.moved() => What::Moved,
            _ => What::Changed,
        }
    }

    /// True where it is in both, but somewhere else. What had no place before, as a zone that was kept for later, has not moved.
    pub(crate) fn moved(&self) -> bool {
        let both = |change: &FieldChange| change.old.is_some() && change.new.is_some();
        self.fields.iter().any(|change| both(change) && PLACES.contains(&change.field.as_str()))
    }

    /// True of a device or a board where another one is in its place: of another part, or of the same.
    pub(crate) fn is_another(&self) -> bool {
        self.field(fact::Device::part).is_some() || is_renewed(self)
    }

    /// What it is in the new site, else what it was.
    pub(crate) fn subject(&self) -> Option<&Subject> {
        self.new.as_ref().or(self.old.as_ref()).map(|(subject, _)| subject)
    }

    /// The thing in the new site, else in the old one.
    pub fn thing(&self) -> Option<&Thing> {
        self.new.as_ref().or(self.old.as_ref()).map(|(_, thing)| thing)
    }

    /// The change of a field, where it is one of those that differ.
    pub(crate) fn field(&self, name: &str) -> Option<&FieldChange> {
        self.fields.iter().find(|change| change.field == name)
    }
}

/// Two sites held against each other.
#[derive(Clone, Debug)]
pub struct Comparison {
    /// The facts of the old site.
    pub(crate) old: Facts,
    /// The facts of the new one.
    pub(crate) new: Facts,
    /// What differs.
    pub diff: Diff,
    /// What follows.
    pub consequences: Vec<Consequence>,
    /// The cables of the new site that are to be pulled.
    pub pulled: BTreeSet<Subject>,
    /// The cables of the new site that were in the wall before and that the old one did not know.
    pub(crate) taken_over: BTreeSet<Subject>,
    /// The cables of the old site that are cut where they lie.
    pub(crate) cuts: Vec<Cut>,
    /// What to buy, and what comes back.
    pub materials: Materials,
}

/// Holds two sites against each other.
pub fn compare(old: &Compiled, new: &Compiled) -> Comparison {
    let (mut before, mut after) = (facts::of(&old.site, &old.wiring), facts::of(&new.site, &new.wiring));
    // What a shared folder has for other sites is no news of this one.
    let concern: BTreeSet<Subject> = [old, new].into_iter().flat_map(|of| sheets_that_concern(&of.site)).collect();
    for facts in [&mut before, &mut after] {
        facts.retain(|subject, _| !matches!(subject.kind, Kind::Part | Kind::CableType) || concern.contains(subject));
    }
    let mut diff = of_facts(&before, &after, &Apart::of(old, new));
    cables::tell_starts(&mut diff, [&before, &after], old, new);
    let consequences = consequences::of(&diff, old, new);
    let mut pulled = cables::pulled(&diff, old, new);
    let mut taken_over = cables::taken_over(&diff, old, new);
    let cuts = cut::cuts(&diff, [&before, &after], old, new);
    for cut in &cuts {
        taken_over.insert(Subject::new(Kind::Cable, cut.near.as_str()));
        let far = if cut.far_stays { &mut taken_over } else { &mut pulled };
        far.insert(Subject::new(Kind::Cable, cut.far.as_str()));
    }
    let materials = materials::of(&diff, &pulled, old, new);
    Comparison { old: before, new: after, diff, consequences, pulled, taken_over, cuts, materials }
}

/// The parts and types of cable that a site uses, and those that it defines itself.
fn sheets_that_concern(site: &Site) -> impl Iterator<Item = Subject> {
    let devices = site.devices.iter().filter_map(|device| device.part);
    let parts: BTreeSet<Id<Part>> = site.boards.iter().filter_map(|board| board.part).chain(devices).collect();
    let cables: BTreeSet<Id<CableType>> =
        site.runs.iter().filter_map(|run| run.cable.as_ref()).map(|kind| kind.value).collect();
    let parts = site.parts.entries().filter(move |(id, part)| !part.shared || parts.contains(id));
    let cables = site.cables.entries().filter(move |(id, kind)| !kind.shared || cables.contains(id));
    let cables = cables.map(|(_, kind)| Subject::new(Kind::CableType, kind.name.value.as_str()));
    parts.map(|(_, part)| Subject::new(Kind::Part, part.name.value.as_str())).chain(cables)
}

/// What differs between the facts of two sites; `apart` are the cables that the registers keep apart.
pub fn of_facts(old: &Facts, new: &Facts, apart: &Apart) -> Diff {
    let pairs = pair::pairs(old, new, apart);
    let mut diff = Diff::default();
    for (subject, thing) in old {
        match pairs.get(subject).and_then(|other| new.get_key_value(other)) {
            None => {
                let gone = Some((subject.clone(), thing.clone()));
                diff.changes.push(Change { old: gone, new: None, fields: Vec::new() });
            }
            Some((other, found)) => {
                // Of a room that another takes in, only that is news: the other's place is told with the other.
                let is_taken_in = subject != other && pairs.get(other) == Some(other);
                let fields = if is_taken_in { Vec::new() } else { differing(thing, found, &pairs) };
                if subject != other {
                    diff.renamed.insert(subject.clone(), other.clone());
                }
                // A thing without a name of its own is no news under another key.
                if !fields.is_empty() || (subject != other && found.named) {
                    let both = [(subject, thing), (other, found)].map(|(s, t)| Some((s.clone(), t.clone())));
                    let [old, new] = both;
                    diff.changes.push(Change { old, new, fields });
                }
            }
        }
    }
    let known: BTreeSet<&Subject> = pairs.values().collect();
    for (subject, thing) in new.iter().filter(|(subject, _)| !known.contains(subject)) {
        diff.changes.push(Change { old: None, new: Some((subject.clone(), thing.clone())), fields: Vec::new() });
    }
    diff.changes = sorted(diff.changes);
    diff
}

/// Changes in the order of a list: by kind, then by name, numbers by their value.
fn sorted(mut changes: Vec<Change>) -> Vec<Change> {
    changes.sort_by_cached_key(|change| {
        let subject = change.subject();
        let number = subject.and_then(|s| s.key.parse::<u32>().ok());
        (subject.map(|s| s.kind), number, subject.map(|s| s.key.clone()), change.what())
    });
    changes
}

/// The fields in which two things differ, after the old one's references have been given their new names.
fn differing(old: &Thing, new: &Thing, pairs: &BTreeMap<Subject, Subject>) -> Vec<FieldChange> {
    let names: BTreeSet<&String> = old.fields.keys().chain(new.fields.keys()).collect();
    let change = |name: &String| {
        let (was, is) = (old.fields.get(name), new.fields.get(name));
        let same = was.map(|value| renamed(value, pairs)).as_ref() == is;
        (!same).then(|| FieldChange { field: name.clone(), old: was.cloned(), new: is.cloned() })
    };
    names.into_iter().filter_map(change).collect()
}

/// A value with its references under their new names.
pub fn renamed(value: &Value, names: &BTreeMap<Subject, Subject>) -> Value {
    let atom = |atom: &Atom| match atom {
        Atom::Thing(subject) => Atom::Thing(names.get(subject).unwrap_or(subject).clone()),
        other @ (Atom::Text(_) | Atom::Figure { .. }) => other.clone(),
    };
    value.iter().map(atom).collect()
}
