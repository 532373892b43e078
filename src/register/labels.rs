//! The text on the two ends of a cable.
//!
//! A loop's first cable is `Z` and the zone's number, the further ones `Z7-2`, `Z7-3` in the order of the text;
//! other cables have the name of their bus, circuit or line and a number. So a label tells what it belongs to
//! without any list. A label given in the spec wins.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::Id;
use crate::model::{Owner, Run, Site};

/// The label of every run that has a cable of its own.
pub fn propose(site: &Site) -> BTreeMap<Id<Run>, String> {
    let mut labels: BTreeMap<Id<Run>, String> = BTreeMap::new();
    let mut taken: BTreeSet<String> = BTreeSet::new();
    for (id, run) in site.runs.entries() {
        if let Some(label) = &run.label {
            taken.insert(label.value.clone());
            labels.insert(id, label.value.clone());
        }
    }
    for (id, run) in site.runs.entries().filter(|(_, run)| !run.along_written && run.label.is_none()) {
        let wanted = wanted(site, run);
        let label = free(&wanted, &taken);
        taken.insert(label.clone());
        labels.insert(id, label);
    }
    labels
}

fn wanted(site: &Site, run: &Run) -> String {
    // Guests have no label, so they are not counted.
    let nth = site
        .runs
        .iter()
        .filter(|other| other.owner == run.owner && other.order <= run.order && !other.along_written)
        .count();
    let named = |name: &str| format!("{}-{nth}", name.to_uppercase().chars().take(13).collect::<String>());
    match run.owner {
        Owner::Zone(zone) if nth == 1 => format!("Z{}", site.zones[zone].number.value),
        Owner::Zone(zone) => format!("Z{}-{nth}", site.zones[zone].number.value),
        Owner::Bus(bus) => named(&site.buses[bus].name.value),
        Owner::Circuit(circuit) => named(&site.circuits[circuit].name.value),
        Owner::Communicator(line) => named(&site.communicators[line].name.value),
    }
}

/// The wanted label, or the first of `…b`, `…c`, … that nothing else has.
fn free(wanted: &str, taken: &BTreeSet<String>) -> String {
    if !taken.contains(wanted) {
        return wanted.to_owned();
    }
    // One more number than labels there are: one of them is free.
    let numbered = (2..taken.len() + 3).map(|number| format!("{wanted}.{number}"));
    ('b'..='z')
        .map(|letter| format!("{wanted}{letter}"))
        .chain(numbered)
        .find(|label| !taken.contains(label))
        .unwrap_or_else(|| wanted.to_owned())
}
