//! Alarms that a loop does not tell from a cut cable, where its wiring or its board is there to tell them apart.

use crate::calc::{LoopReadings, State, StateReading};
use crate::checks::Context;
use crate::checks::loops::loop_remedy;
use crate::checks::loops::loop_verdict::{Cause, Known, found, indistinct, misses_alarm_band};
use crate::checks::loops::loop_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::terms::LoopWiring;
use crate::words::{self, Screen};

check!("loop-alarms-indistinct", Basis::Contradiction, "alarms that a loop does not tell from a cut cable");

const OWN_BANDS: &str = "If the board's sheet reads end-of-line loops by other bands, write those in the part as `sensing wiring=\"end-of-line\"`.";

fn run(context: Context<'_>, sink: &mut Sink) {
    for (readings, known, _) in found(context, |cause| *cause == Cause::Indistinct) {
        if known.wiring == LoopWiring::EndOfLine {
            sink.extend(of_one_resistor(context, readings, &known));
            continue;
        }
        let number = known.zone.number.value;
        let mut states = indistinct(readings);
        let Some(first) = states.first().copied() else { continue };
        let title = format!(
            "zone {number} reads {} with {}",
            words::reads(first.reading),
            Screen.state(context.site, context.wiring, first.state)
        );
        let several = !matches!(first.state, State::Alarm(_));
        states.extend(readings.states.iter().find(|state| matches!(state.state, State::Cut(_))));
        let finding = Diagnostic::new(&RULE, known.wired.place.span, title)
            .here("alarm, or cut cable?")
            .why(if several {
                "Every contact in alarm adds its shunt. With more of them at once than the board's bands have room for, an intruder reads as a fault of the cable."
            } else {
                "The shunts are there to tell an alarm from a cut cable. As they are, an alarm reads as a cut."
            })
            .help(loop_remedy::help(context, readings, &known, if several {
                "Take smaller shunts, as far as one alone still reads alarm, or give each detector its own zone."
            } else {
                "Take smaller shunts, or wire the loop \"end-of-line\" if the board has no band for an alarm."
            }))
            .about(number);
        let finding = loop_words::figures(context, finding, &states);
        sink.push(loop_words::bands(finding, known.sensing, &[]));
    }
}

/// An end-of-line loop on a board that has a band for an alarm, which no contact of the loop reaches.
fn of_one_resistor(context: Context<'_>, readings: &LoopReadings, known: &Known<'_>) -> Option<Diagnostic> {
    let (site, number) = (context.site, known.zone.number.value);
    let mut states = misses_alarm_band(readings, known);
    let first = states.first().copied()?;
    let is_cut = |one: &&StateReading| matches!(one.state, State::Cut(_));
    let cut = readings.states.iter().filter(is_cut).find(|one| one.reading.verdict == first.reading.verdict)?;
    let title = format!(
        "zone {number} reads {} with {}, as with a cut cable",
        words::reads(first.reading),
        Screen.state(site, context.wiring, first.state)
    );
    let finding = Diagnostic::new(&RULE, known.wired.place.span, title)
        .here("alarm, or cut cable?")
        .why("The board has a band for an alarm and another for an open loop. With one resistor the loop is at rest, shorted or open: no contact of it ever reads alarm.")
        .help(format!("Wire the loop \"double-end-of-line\" with contacts that are closed at rest, and a shunt across each. {OWN_BANDS}"))
        .about(number);
    states.push(cut);
    Some(loop_words::bands(loop_words::figures(context, finding, &states), known.sensing, &[]))
}
