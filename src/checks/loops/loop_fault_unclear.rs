//! A cut or short whose reading lies between the board's bands, or in two of them, none of which is normal.

use crate::checks::Context;
use crate::checks::loops::loop_verdict::{Cause, found, is_unclear_fault};
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
            .help("Put the whole resistor at the last place; where the cable itself adds too much, take a heavier one.")
        }));
    }
}
