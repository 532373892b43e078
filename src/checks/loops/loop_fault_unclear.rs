//! A cut or short whose reading lies between the board's bands, or in two of them, none of which is normal.

use crate::calc::{LoopReadings, State, StateReading};
use crate::checks::Context;
use crate::checks::loops::loop_known::{Known, is_unclear_fault};
use crate::checks::loops::loop_verdict::{Cause, found};
use crate::checks::loops::loop_words;
use crate::diag::{Basis, Sink};

check!("loop-fault-unclear", Basis::Practice, "a cut or short that reads as nothing certain, but not as normal");

fn run(context: Context<'_>, sink: &mut Sink) {
    for (readings, known, _) in found(context, |cause| *cause == Cause::FaultUnclear) {
        let states = loop_words::states(readings, is_unclear_fault);
        sink.extend(loop_words::unclear(context, &RULE, &known, &states, |finding| {
            finding
            .here("a fault that is not named for certain")
            .why("What the board makes of a reading between its bands is left to its maker. Such a fault is shown on one day and not on another.")
            .help(help(context, readings, &known, &states))
        }));
    }
}

/// What makes the fault certain: where the resistor has to go, another input, or a heavier cable.
fn help(context: Context<'_>, readings: &LoopReadings, known: &Known<'_>, states: &[&StateReading]) -> String {
    let cut = states.iter().any(|state| matches!(state.state, State::Cut(_)));
    if let Some(blind) = loop_words::short_unread(known).filter(|_| !cut) {
        return blind.to_owned();
    }
    loop_words::resistor_to_last(context, readings).unwrap_or_else(|| {
        "The resistor stands at the last place already. Take a heavier or shorter cable; where the cable adds little, hold the bands against the board's sheet, or accept this.".to_owned()
    })
}
