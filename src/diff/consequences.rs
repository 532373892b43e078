//! What follows from a diff: readings, landings. The figures are those of the calculations of both sides.

use std::collections::BTreeMap;

use super::facts::Kind;
use super::{Diff, Side, What};
use crate::base::Id;
use crate::calc::{LoopReadings, State};
use crate::model::{Site, Zone};

/// One thing that follows.
#[derive(Clone, Debug, PartialEq)]
pub enum Consequence {
    /// A loop that is in both sites reads otherwise at rest.
    Reads {
        /// The zone's number in the new site.
        zone: u32,
        /// Before.
        old: AtRest,
        /// Now.
        new: AtRest,
    },
    /// A conductor of a cable that stays lands elsewhere, or does something else.
    Lands {
        /// The cable's label.
        cable: String,
        /// Position of the change in [`Diff::changes`].
        change: usize,
    },
}

/// A loop's nominal readings at rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AtRest {
    /// Ohms at the leads; infinite for no connection.
    pub ohms: f64,
    /// Volts at the terminals, where the board's sensing is known.
    pub volts: Option<f64>,
}

/// Ohms that differ by less than this cannot be told apart with a meter.
const TELLING_OHMS: f64 = 0.05;
/// The same in volts.
const TELLING_VOLTS: f64 = 0.005;

/// Everything that follows from a diff.
pub fn of(diff: &Diff, old: &Side<'_>, new: &Side<'_>) -> Vec<Consequence> {
    let mut found = Vec::new();
    let before = by_number(old.site, old.loops);
    let after = by_number(new.site, new.loops);
    let renumbered: BTreeMap<&str, &str> = diff
        .renamed
        .iter()
        .filter(|(subject, _)| subject.kind == Kind::Zone)
        .map(|(old, new)| (old.key.as_str(), new.key.as_str()))
        .collect();
    for (number, was) in before {
        let key = number.to_string();
        let number = renumbered.get(key.as_str()).and_then(|key| key.parse().ok()).unwrap_or(number);
        let Some(is) = after.get(&number) else { continue };
        if differs(was, *is) {
            found.push(Consequence::Reads { zone: number, old: was, new: *is });
        }
    }
    for (position, change) in diff.changes.iter().enumerate() {
        let Some(subject) = change.subject().filter(|subject| subject.kind == Kind::Conductor) else { continue };
        let landing = ["near end", "far end", "does"].iter().any(|field| change.field(field).is_some());
        if landing && matches!(change.what(), What::Changed | What::Moved) {
            let cable = change.thing().and_then(|thing| thing.of.as_ref()).map_or(&subject.key, |cable| &cable.key);
            found.push(Consequence::Lands { cable: cable.clone(), change: position });
        }
    }
    found
}

fn by_number(site: &Site, loops: &BTreeMap<Id<Zone>, LoopReadings>) -> BTreeMap<u32, AtRest> {
    loops.iter().filter_map(|(id, readings)| Some((site.zones[*id].number.value, at_rest(readings)?))).collect()
}

/// The nominal readings of a loop at rest.
pub fn at_rest(readings: &LoopReadings) -> Option<AtRest> {
    let rest = readings.states.iter().find(|reading| reading.state == State::Normal)?;
    Some(AtRest { ohms: rest.ohms.nominal, volts: rest.volts.map(|volts| volts.nominal) })
}

fn differs(old: AtRest, new: AtRest) -> bool {
    let apart =
        |a: f64, b: f64, least: f64| if a.is_infinite() || b.is_infinite() { a != b } else { (a - b).abs() >= least };
    let volts = match (old.volts, new.volts) {
        (Some(a), Some(b)) => apart(a, b, TELLING_VOLTS),
        (a, b) => a.is_some() != b.is_some(),
    };
    volts || apart(old.ohms, new.ohms, TELLING_OHMS)
}
