//! End-of-line loops on a board that has a band for an alarm, which no contact of the loop reaches.

use crate::calc::{LoopReadings, State, StateReading};
use crate::checks::Context;
use crate::checks::loops::loop_known::Known;
use crate::checks::loops::loop_verdict::{Cause, found, misses_alarm_band};
use crate::checks::loops::loop_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::{self, Screen};

check!(
    "loop-alarm-band-missed",
    Basis::Works,
    "an end-of-line loop whose contacts never reach the board's band for an alarm"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    for (readings, known, _) in found(context, |cause| *cause == Cause::AlarmBandMissed) {
        sink.extend(finding(context, readings, &known));
    }
}

fn finding(context: Context<'_>, readings: &LoopReadings, known: &Known<'_>) -> Option<Diagnostic> {
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
        .help("Wire the loop \"double-end-of-line\" with contacts that are closed at rest, and a shunt across each. If the board's sheet reads end-of-line loops by other bands, write those in the part as `sensing wiring=\"end-of-line\"`.")
        .about(number);
    states.push(cut);
    Some(loop_words::bands(loop_words::figures(context, finding, &states), known.sensing, &[]))
}
