//! A cut or short whose reading lies between the board's bands, or in two of them.

use crate::checks::loop_verdict::{Cause, found, is_fault, is_unclear};
use crate::checks::{Check, Context, loop_words};
use crate::diag::{Basis, Diagnostic, Rule, Sink};
use crate::rule;

static RULE: Rule =
    rule!("loop-fault-unclear", Basis::Practice, "a cut or short whose reading lies between the board's bands");

/// The check.
pub static CHECK: Check = Check { rule: &RULE, run };

fn run(context: Context<'_>, sink: &mut Sink) {
    for (readings, known, _) in found(context, |cause| *cause == Cause::FaultUnclear) {
        let number = known.zone.number.value;
        let states = loop_words::states(readings, |state| is_fault(state) && is_unclear(state));
        let Some(first) = states.first() else { continue };
        let title = format!(
            "zone {number} reads {} with {}",
            loop_words::reads(first),
            loop_words::state(context, first.state)
        );
        let finding = Diagnostic::new(&RULE, known.wired.place.span, title)
            .here("a fault that may go unseen")
            .why("What the board makes of a reading between its bands is left to its maker. Such a fault is shown on one day and not on another.")
            .help("Put the whole resistor at the last place; where the cable itself adds too much, take a heavier one.")
            .about(number);
        let finding = loop_words::figures(context, finding, &states);
        sink.push(loop_words::bands(finding, known.part.sensing.as_ref(), &[]));
    }
}
