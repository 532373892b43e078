//! A loop that reads close to the edge of a band.

use crate::checks::Context;
use crate::checks::loops::loop_verdict::{Cause, found, is_fault, judged_by, margin_is_small};
use crate::checks::loops::loop_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::limits;
use crate::quantity::{Ohms, Volts};
use crate::words::{self, Screen};

check!("loop-margin-small", Basis::Practice, "a loop that reads close to the edge of a band");

fn run(context: Context<'_>, sink: &mut Sink) {
    for (readings, known, _) in found(context, |cause| *cause == Cause::MarginSmall) {
        let Some(sensing) = judged_by(&known) else { continue };
        let number = known.zone.number.value;
        let states = loop_words::states(readings, |state| !is_fault(state) && margin_is_small(sensing, &state.reading));
        let Some(first) = states.first() else { continue };
        let margin = first.reading.margin.unwrap_or_default();
        let margin = if first.reading.in_ohms { Ohms(margin).to_string() } else { Volts(margin).to_string() };
        let state = Screen.state(context.site, context.wiring, first.state);
        let title = format!("zone {number} reads {} with {margin} to spare, {state}", words::reads(first.reading));
        let finding = Diagnostic::new(&RULE, known.wired.place.span, title)
            .here("close to the edge of its band")
            .why("The tolerances of resistors, board and cable are counted in already. What is left is for corroded joints, damp and age, and it is soon used up: then come alarms that nobody can explain.")
            .help("Take a resistor or shunt that lies nearer to the middle of the band, of a closer tolerance, or a heavier cable.")
            .about(number);
        let finding = limits::LOOPS
            .iter()
            .take(2)
            .fold(loop_words::figures(context, finding, &states), |finding, limit| finding.figure(limit.cited()));
        sink.push(loop_words::bands(finding, Some(sensing), &[]));
    }
}
