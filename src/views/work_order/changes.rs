//! The plain list of changes, and the line that sums it up.
//!
//! What comes or goes together is one line: a new zone with its cables and devices. Conductors stand in the list only
//! where a cable that stays lands elsewhere.

use std::collections::{BTreeMap, BTreeSet};

use schemars::JsonSchema;
use serde::Serialize;

use super::Sides;
use crate::base::wording::{count, list};
use crate::diff::consequences::Nominal;
use crate::diff::{Atom, Change, Consequence, Facts, FieldChange, Kind, Subject, Value, What};
use crate::quantity::Seconds;
use crate::record::{fact, measured};
use crate::words;

/// A line of the list.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ChangeLine {
    /// "added", "removed", "renamed", "moved", "changed"; "reads" for a loop whose reading changed, "supplied" for
    /// other volts at a device or another time of a battery.
    pub what: &'static str,
    /// `+`, `-` or `~`.
    pub(crate) mark: &'static str,
    /// What kind of thing: "zone", "cable", …
    pub(crate) kind: &'static str,
    /// Its name, number or label in the new revision, else in the old one.
    pub(crate) name: String,
    /// In words: "zone 7 Garden door".
    pub(crate) subject: String,
    /// What is new, gone or different, in words; empty where the subject says it all.
    pub(crate) text: String,
    /// The fields that differ, of a thing that is in both revisions.
    pub(crate) fields: Vec<FieldLine>,
}

/// A field that differs.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub(crate) struct FieldLine {
    /// Its name.
    pub(crate) field: String,
    /// Its value in the old revision, in words; empty where it had none.
    pub(crate) old: String,
    /// Its value in the new revision.
    pub(crate) new: String,
}

/// The lines: changes by kind and name, then loops that read otherwise.
pub(crate) fn lines(sides: &Sides<'_>) -> Vec<ChangeLine> {
    let diff = &sides.found.diff;
    let gone =
        whole(diff.changes.iter().filter(|change| change.new.is_none()).filter_map(|change| change.old.as_ref()));
    let come =
        whole(diff.changes.iter().filter(|change| change.old.is_none()).filter_map(|change| change.new.as_ref()));
    let mut lines: Vec<ChangeLine> =
        diff.changes.iter().filter_map(|change| line(sides, change, &gone, &come)).collect();
    for (zone, read) in loops(sides) {
        let key = Subject { kind: Kind::Zone, key: zone.to_string() };
        let text: Vec<String> = read.iter().map(|line| format!("{} {} → {}", line.field, line.old, line.new)).collect();
        lines.push(ChangeLine {
            what: "reads",
            mark: "~",
            kind: "zone",
            name: zone.to_string(),
            subject: sides.found.new.get(&key).map(|thing| thing.said.clone()).unwrap_or_default(),
            text: text.join("; "),
            fields: read,
        });
    }
    lines.extend(sides.found.consequences.iter().filter_map(|consequence| supply(sides, consequence)));
    lines
}

/// What reads otherwise of each loop, at rest and with one contact in alarm. What prints alike reads alike.
fn loops(sides: &Sides<'_>) -> BTreeMap<u32, Vec<FieldLine>> {
    let mut found: BTreeMap<u32, Vec<FieldLine>> = BTreeMap::new();
    for consequence in &sides.found.consequences {
        let (zone, field, old, new) = match consequence {
            Consequence::Reads { zone, old, new } => (zone, "at rest".to_owned(), old, new),
            Consequence::Alarm { zone, device, old, new } => {
                let said = sides.found.new.get(device).map(|thing| thing.said.as_str());
                (zone, format!("{} in alarm", said.unwrap_or(&device.key)), old, new)
            }
            Consequence::Volts { .. } | Consequence::Battery { .. } | Consequence::Lands { .. } => continue,
        };
        let (old, new) = (reading(*old), reading(*new));
        if old != new {
            found.entry(*zone).or_default().push(FieldLine { field, old, new });
        }
    }
    found
}

/// Volts that arrive otherwise, and a battery that lasts otherwise.
fn supply(sides: &Sides<'_>, consequence: &Consequence) -> Option<ChangeLine> {
    let line = |subject: &Subject, text: String| {
        let said = sides.found.new.get(subject).map(|thing| thing.said.clone()).unwrap_or_default();
        Some(line_of("supplied", "~", subject, said, text))
    };
    match consequence {
        Consequence::Volts { subject, old, new } => line(subject, format!("least volts in alarm {old} → {new}")),
        Consequence::Battery { board, old, new } => {
            let hours = |time: &Seconds| format!("{:.1} h", time.0 / 3600.0);
            line(board, format!("its battery, new and warm, lasts {} → {} at rest", hours(old), hours(new)))
        }
        Consequence::Reads { .. } | Consequence::Alarm { .. } | Consequence::Lands { .. } => None,
    }
}

/// "2.202 kΩ, 2.50 V".
pub(crate) fn reading(read: Nominal) -> String {
    let volts = read.volts.map(|volts| format!(", {}", words::volts(volts))).unwrap_or_default();
    format!("{}{volts}", words::ohms(read.ohms))
}

/// Subjects that come, or go, with what they are part of.
fn whole<'c>(
    things: impl Iterator<Item = &'c (Subject, crate::diff::Thing)>,
) -> BTreeMap<&'c Subject, Option<&'c Subject>> {
    things.map(|(subject, thing)| (subject, thing.of.as_ref())).collect()
}

type Together<'c> = BTreeMap<&'c Subject, Option<&'c Subject>>;

fn line(sides: &Sides<'_>, change: &Change, gone: &Together<'_>, come: &Together<'_>) -> Option<ChangeLine> {
    let (subject, thing) = (change.subject()?, change.thing()?);
    let what = change.what();
    let (word, mark) = match what {
        What::Added => ("added", "+"),
        What::Removed => ("removed", "-"),
        What::Renamed => ("renamed", "~"),
        What::Moved => ("moved", "~"),
        What::Changed => ("changed", "~"),
    };
    let text = match what {
        What::Added | What::Removed => {
            let (set, facts) = if what == What::Added { (come, &sides.found.new) } else { (gone, &sides.found.old) };
            if set.get(subject).copied().flatten().is_some_and(|of| set.contains_key(of)) {
                return None;
            }
            if subject.kind == Kind::Conductor {
                let of = thing.of.as_ref().map(|of| of.key.as_str()).unwrap_or_default();
                let does =
                    thing.fields.get(fact::Conductor::does).map(|value| value_words(value, facts)).unwrap_or_default();
                return Some(line_of(
                    word,
                    mark,
                    subject,
                    format!("{} ({does}) of cable {of}", thing.said),
                    String::new(),
                ));
            }
            together(subject, set, facts)
        }
        What::Renamed | What::Moved | What::Changed => {
            let mut parts: Vec<String> = Vec::new();
            if let (Some((old, _)), What::Renamed) = (&change.old, what) {
                parts.push(format!("was {}", old.key));
            }
            parts.extend(change.fields.iter().filter(|field| !is_echo(field)).map(|field| field_words(sides, field)));
            if parts.is_empty() {
                return None;
            }
            parts.join("; ")
        }
    };
    let words = |value: &Option<Value>, field: &str, facts: &Facts| {
        value.as_ref().map(|value| words_of(field, value, facts)).unwrap_or_default()
    };
    let fields = change.fields.iter().map(|FieldChange { field, old, new }| FieldLine {
        field: field.clone(),
        old: words(old, field, &sides.found.old),
        new: words(new, field, &sides.found.new),
    });
    Some(ChangeLine { fields: fields.collect(), ..line_of(word, mark, subject, thing.said.clone(), text) })
}

fn line_of(what: &'static str, mark: &'static str, subject: &Subject, said: String, text: String) -> ChangeLine {
    ChangeLine {
        what,
        mark,
        kind: noun(subject.kind),
        name: subject.key.clone(),
        subject: said,
        text,
        fields: Vec::new(),
    }
}

/// "with cable Z47, contact …": what comes or goes with a thing; for a cable, its type and length.
fn together(subject: &Subject, set: &Together<'_>, facts: &Facts) -> String {
    let parts: Vec<String> = set
        .iter()
        .filter(|(other, of)| **of == Some(subject) && other.kind != Kind::Conductor)
        .filter_map(|(other, _)| facts.get(*other).map(|thing| thing.said.clone()))
        .collect();
    let own = [
        fact::Run::kind,
        fact::Run::length,
        fact::Place::room,
        fact::Device::part,
        fact::Device::room,
        fact::Device::opening,
    ];
    let thing = facts.get(subject);
    let facts_of =
        |field: &&str| thing.and_then(|thing| thing.fields.get(*field)).map(|value| words_of(field, value, facts));
    let mut said: Vec<String> = match subject.kind {
        Kind::Zone => [fact::Zone::kind].iter().filter_map(facts_of).collect(),
        Kind::Cable | Kind::Device | Kind::Board => own.iter().filter_map(facts_of).collect(),
        Kind::Site
        | Kind::Level
        | Kind::Room
        | Kind::Opening
        | Kind::Area
        | Kind::Bus
        | Kind::Circuit
        | Kind::Spare
        | Kind::Communicator
        | Kind::Monitoring
        | Kind::Conductor
        | Kind::CableType
        | Kind::Part
        | Kind::Accept => Vec::new(),
    };
    if !parts.is_empty() {
        said.push(format!("with {}", list(&parts, "and")));
    }
    said.join(", ")
}

/// A list of things in which only things differ: those have lines of their own.
fn is_echo(change: &FieldChange) -> bool {
    let chains = [fact::Loop::chain, fact::Run::at_far_end];
    let figures = |value: &Option<Value>| -> Vec<String> {
        let exact = |atom: &Atom| if let Atom::Figure { exact, .. } = atom { Some(exact.clone()) } else { None };
        value.iter().flatten().filter_map(exact).collect()
    };
    chains.contains(&change.field.as_str()) && figures(&change.old) == figures(&change.new)
}

/// What is said of what is so.
const YES: &str = "yes";

/// "length 24 ft → 31 ft".
pub(crate) fn field_words(sides: &Sides<'_>, change: &FieldChange) -> String {
    let field = &change.field;
    let side = |value: &Option<Value>, facts: &Facts| value.as_ref().map(|value| words_of(field, value, facts));
    let (old, new) = (side(&change.old, &sides.found.old), side(&change.new, &sides.found.new));
    if let (Some(old), Some(new)) = (&change.old, &change.new)
        && old.len().max(new.len()) > 2
    {
        return list_words(field, (old, &sides.found.old), (new, &sides.found.new));
    }
    match (old, new) {
        (Some(old), Some(new)) if old == new => format!("{field} {new}, changed by less than is printed"),
        (Some(old), Some(new)) => format!("{field} {old} → {new}"),
        (None, Some(new)) if new == YES => format!("{field}: {YES}, not said before"),
        (Some(old), None) if old == YES => format!("{field}: {YES} before, not said now"),
        (None, Some(new)) => format!("{field} {new}, none before"),
        (Some(old), None) => format!("{field} {old} before, none now"),
        (None, None) => field.clone(),
    }
}

/// Of a list only what came and what went.
fn list_words(field: &str, (old, before): (&Value, &Facts), (new, after): (&Value, &Facts)) -> String {
    let words = |value: &Value, facts: &Facts| -> Vec<String> {
        value.iter().map(|atom| value_words(&vec![atom.clone()], facts)).collect()
    };
    let (old, new) = (words(old, before), words(new, after));
    let only = |these: &[String], those: &[String]| -> Vec<String> {
        these.iter().filter(|word| !those.contains(word)).cloned().collect()
    };
    let (gone, come) = (only(&old, &new), only(&new, &old));
    match (gone.is_empty(), come.is_empty()) {
        (true, true) => format!("{field}: {} → {}", old.join(", "), new.join(", ")),
        (true, false) => format!("{field}: {} joins", list(&come, "and")),
        (false, true) => format!("{field}: {} leaves", list(&gone, "and")),
        (false, false) => format!("{field}: {} → {}", gone.join(", "), come.join(", ")),
    }
}

/// A value in words; where it only repeats the field's name, without that: "area House", not "area area House".
pub(crate) fn words_of(field: &str, value: &Value, facts: &Facts) -> String {
    let words = value_words(value, facts);
    let kinds = [field, "cable type", "part", "room"];
    kinds.iter().find_map(|noun| words.strip_prefix(&format!("{noun} "))).map(str::to_owned).unwrap_or(words)
}

/// A value in words.
pub(crate) fn value_words(value: &Value, facts: &Facts) -> String {
    let word = |atom: &Atom| match atom {
        Atom::Text(text) => text.clone(),
        Atom::Figure { shown, .. } => shown.clone(),
        Atom::Thing(subject) => facts.get(subject).map_or_else(|| subject.key.clone(), |thing| thing.said.clone()),
    };
    value.iter().map(word).collect::<Vec<_>>().join(", ")
}

/// The noun of a kind.
pub(crate) fn noun(kind: Kind) -> &'static str {
    match kind {
        Kind::Site => "site",
        Kind::Level => "level",
        Kind::Room => "room",
        Kind::Opening => "opening",
        Kind::Board => "board",
        Kind::Area => "area",
        Kind::Zone => "zone",
        Kind::Device => "device",
        Kind::Bus => "bus",
        Kind::Circuit => "circuit",
        Kind::Spare => "spare cable",
        Kind::Communicator => "communicator",
        Kind::Monitoring => "monitoring",
        Kind::Cable => "cable",
        Kind::Conductor => "conductor",
        Kind::CableType => "cable type",
        Kind::Part => "part",
        Kind::Accept => "accepted finding",
    }
}

/// How many lines of each mark there are: "3 added, 1 removed".
pub(crate) fn counted(sides: &Sides<'_>) -> String {
    let lines = lines(sides);
    let marks = [("+", "added"), ("-", "removed"), ("~", "altered")];
    let numbers = marks.map(|(mark, word)| (lines.iter().filter(|line| line.mark == mark).count(), word));
    let said: Vec<String> =
        numbers.iter().filter(|(number, _)| *number > 0).map(|(number, word)| format!("{number} {word}")).collect();
    if said.is_empty() { "no change".to_owned() } else { said.join(", ") }
}

/// "3 zones added, 1 zone moved, 2 cables changed"; "nothing differs". Readings are no facts of the wall, and only counted.
pub(crate) fn summary(sides: &Sides<'_>, lines: &[ChangeLine]) -> String {
    let consequences = &sides.found.consequences;
    let mut counts: BTreeMap<(usize, &str), usize> = BTreeMap::new();
    let order = ["zone", "board", "device", "cable", "area"];
    let mut others: BTreeSet<(&str, &str)> = BTreeSet::new();
    for line in lines.iter().filter(|line| line.what != "reads" && line.what != "supplied") {
        match order.iter().position(|kind| *kind == line.kind) {
            Some(rank) => *counts.entry((rank, line.what)).or_insert(0) += 1,
            None => {
                others.insert((line.kind, &line.name));
            }
        }
    }
    let mut said: Vec<String> = counts
        .iter()
        .filter_map(|((rank, what), number)| Some(format!("{} {what}", count(*number, order.get(*rank)?, None))))
        .collect();
    if !others.is_empty() {
        said.push(count(others.len(), "other change", None));
    }
    let reads = lines.iter().filter(|line| line.what == "reads").count();
    if reads > 0 {
        said.push(format!("{} changed", count(reads, "loop reading", None)));
    }
    let batteries = consequences.iter().filter(|found| matches!(found, Consequence::Battery { .. })).count();
    let volts = consequences.iter().filter(|found| matches!(found, Consequence::Volts { .. })).count();
    for (number, noun) in [(volts, "supply voltage"), (batteries, "battery time")] {
        if number > 0 {
            said.push(format!("{} changed", count(number, noun, None)));
        }
    }
    let [before, after] = [sides.old, sides.new].map(|side| measured::lines(&side.site));
    for (number, what) in [(more(&after, &before), "added"), (more(&before, &after), "taken out")] {
        if number > 0 {
            said.push(format!("{} {what}", count(number, "reading", None)));
        }
    }
    if said.is_empty() { "nothing differs".to_owned() } else { said.join(", ") }
}

/// How many of some lines are not among others, each of which stands for one.
fn more(these: &[String], those: &[String]) -> usize {
    let mut left: Vec<&String> = those.iter().collect();
    left.sort_unstable();
    let mut these: Vec<&String> = these.iter().collect();
    these.sort_unstable();
    let mut left = left.into_iter().peekable();
    let is_more = |line: &&&String| {
        while left.next_if(|other| other < *line).is_some() {}
        left.next_if(|other| other == *line).is_none()
    };
    these.iter().filter(is_more).count()
}
