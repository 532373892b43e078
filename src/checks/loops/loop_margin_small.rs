//! A loop that reads close to the edge of a band.

use crate::base::Id;
use crate::calc::{State, StateReading};
use crate::checks::Context;
use crate::checks::loops::loop_known::{held, held_between, is_fault, judged_by, margin_is_small};
use crate::checks::loops::loop_verdict::{Cause, found};
use crate::checks::loops::loop_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Sensing, Site, Zone};
use crate::profiles::limits;
use crate::quantity::{Ohms, Volts};
use crate::words::{self, Screen};

check!("loop-margin-small", Basis::Practice, "a loop that reads close to the edge of a band");

fn run(context: Context<'_>, sink: &mut Sink) {
    for (readings, known, _) in found(context, |cause| *cause == Cause::MarginSmall) {
        let Some(sensing) = judged_by(&known) else { continue };
        let number = known.zone.number.value;
        let states = loop_words::states(readings, |state| !is_fault(state) && margin_is_small(sensing, state));
        let Some(first) = states.first() else { continue };
        let margin = first.reading.margin.unwrap_or_default();
        let margin = if first.reading.in_ohms { Ohms(margin).to_string() } else { Volts(margin).to_string() };
        let state = Screen.state(context.site, context.wiring, first.state);
        let title = format!("zone {number} reads {} with {margin} to spare, {state}", words::reads(first.reading));
        let finding = Diagnostic::new(&RULE, known.wired.place.span, title)
            .here("close to the edge of its band")
            .why("The tolerances of resistors, board and cable are counted in already. What is left is for corroded joints, damp and age, and it is soon used up: then come alarms that nobody can explain.")
            .help(help(context.site, readings.zone, sensing, first))
            .about(number);
        let finding = loop_words::figures(context, finding, &states);
        let in_volts = (!first.reading.in_ohms).then_some(limits::LOOP_MARGIN_VOLTS);
        let cited = in_volts.into_iter().chain([limits::LOOP_MARGIN_WIDTH]);
        let finding = cited.fold(finding, |finding, limit| finding.figure(limit.cited()));
        sink.push(loop_words::bands(finding, Some(sensing), &[]));
    }
}

/// What leaves more to spare. The resistor of a two-wire loop is its board's, so there only the cable and the detectors are
/// left to choose, each where it moves the reading away from the edge.
fn help(site: &Site, zone: Id<Zone>, sensing: &Sensing, worst: &StateReading) -> &'static str {
    if site.loop_feed(zone).is_none_or(|feed| feed.resistor.is_none()) {
        return "Take a resistor or shunt that lies nearer to the middle of the band, of a closer tolerance, or a heavier cable.";
    }
    match (worst.state, is_near_top(sensing, worst)) {
        (_, true) => {
            "The resistor is the one of the board's sheet, so leave it. A shorter or heavier cable leaves a little more; if that is not to be had, accept this."
        }
        (State::Normal, false) => {
            "The resistor is the one of the board's sheet, so leave it. Fewer detectors on the loop leave more; if they are all needed, accept this."
        }
        (_, false) => {
            "The resistor is the one of the board's sheet, and the volts in alarm are the detector's: nothing is to be changed in the loop. Hold both against the sheets, and accept this."
        }
    }
}

/// True where a reading is nearer to the upper edge of its band.
fn is_near_top(sensing: &Sensing, one: &StateReading) -> bool {
    let edges = held(one).zip(held_between(sensing, one));
    edges.is_some_and(|(value, (low, high))| high - value.greatest < value.least - low)
}
