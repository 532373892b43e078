//! Which values would remedy a loop, and how that is told.
//!
//! A value is named only where every state is right with it: at rest normal, every alarm certain and not normal, every
//! cable fault certain, and with shunts no alarm like a cut cable. Where none is, one is named with which a cable fault
//! reads normal, for that is a matter of where the resistor stands and has a rule of its own.

use crate::base::wording::count;
use crate::calc::remedy::{self, Change};
use crate::calc::{LoopReadings, State, StateReading, Verdict};
use crate::model::{Sensing, Site};
use crate::quantity::Resistance;
use crate::terms::LoopWiring;

use crate::checks::Context;
use crate::checks::loops::loop_verdict::{Known, is_alarm, is_normal, is_supervised, is_unclear, judged_by, resistors};

/// The values with which a loop is right in every state.
pub(crate) fn change(site: &Site, readings: &LoopReadings, wiring: LoopWiring, sensing: &Sensing) -> Option<Change> {
    either(|strict| remedy::best(site, sensing, readings, &|one, cut| fits(wiring, strict, one, cut)))
}

/// The resistor, put where a loop without one ends, with which it is right in every state as `wiring`.
pub(crate) fn resistor(site: &Site, readings: &LoopReadings, wiring: LoopWiring, sensing: &Sensing) -> Option<Change> {
    either(|strict| remedy::with_resistor(site, sensing, readings, &|one, cut| fits(wiring, strict, one, cut)))
}

fn either(find: impl Fn(bool) -> Option<Change>) -> Option<Change> {
    find(true).or_else(|| find(false))
}

fn fits(wiring: LoopWiring, strict: bool, reading: &StateReading, cut: Option<Verdict>) -> bool {
    let like_a_cut = || {
        let contact = matches!(reading.state, State::Alarm(_) | State::Alarms(_) | State::AllAlarms);
        contact && wiring == LoopWiring::DoubleEndOfLine && cut == Some(reading.reading.verdict)
    };
    if reading.state == State::Normal {
        is_normal(reading)
    } else if is_alarm(reading) {
        !is_normal(reading) && !is_unclear(reading) && !like_a_cut()
    } else {
        let unseen = strict && is_supervised(wiring) && is_normal(reading);
        !is_unclear(reading) && !unseen
    }
}

/// What to take for the resistors and shunts of a loop that lacks neither; `otherwise` where no value is right in every state.
pub(crate) fn help(context: Context<'_>, readings: &LoopReadings, known: &Known<'_>, otherwise: &str) -> String {
    judged_by(known.part)
        .and_then(|sensing| change(context.site, readings, known.wiring, sensing))
        .map_or_else(|| otherwise.to_owned(), |change| take(context, readings, change))
}

/// A change in words: "Take 2.2 kΩ ±5 % ("2k2") for the resistor and for each of the 2 shunts, …".
pub(crate) fn take(context: Context<'_>, readings: &LoopReadings, change: Change) -> String {
    let number = resistors(context.site, readings.zone).len();
    let mut places = Vec::new();
    if change.resistors.is_some() {
        places.push(if number == 1 { "for the resistor".to_owned() } else { each(number, "resistor") });
    }
    if change.shunts.is_some() {
        places.push(for_shunts(context, readings));
    }
    let value = change.resistors.or(change.shunts).map(named).unwrap_or_default();
    format!(
        "Take {value} {}: of the preferred values it has most margin over all states. The board's sheet may ask for another.",
        places.join(" and ")
    )
}

/// "for the shunt", "for each of the 3 shunts".
pub(crate) fn for_shunts(context: Context<'_>, readings: &LoopReadings) -> String {
    let devices = crate::calc::network::devices(context.site, readings.zone);
    match devices.filter(|device| context.site.devices[*device].shunt.is_some()).count() {
        1 => "for the shunt".to_owned(),
        many => each(many, "shunt"),
    }
}

fn each(number: usize, what: &str) -> String {
    format!("for each of the {}", count(number, what, None))
}

fn named(value: Resistance) -> String {
    value.marking().map_or_else(|| value.to_string(), |marking| format!("{value} (\"{marking}\")"))
}
