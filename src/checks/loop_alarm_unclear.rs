//! An alarm whose reading lies between the board's bands, or in two of them.

use crate::checks::loop_verdict::{Cause, found, is_alarm, is_unclear};
use crate::checks::{Check, Context, loop_words};
use crate::diag::{Basis, Diagnostic, Rule, Sink};
use crate::rule;

static RULE: Rule =
    rule!("loop-alarm-unclear", Basis::Contradiction, "an alarm whose reading lies between the board's bands");

/// The check.
pub static CHECK: Check = Check { rule: &RULE, run };

fn run(context: Context<'_>, sink: &mut Sink) {
    for (readings, known, _) in found(context, |cause| *cause == Cause::AlarmUnclear) {
        let number = known.zone.number.value;
        let states = loop_words::states(readings, |state| is_alarm(state) && is_unclear(state));
        let Some(first) = states.first() else { continue };
        let title = format!(
            "zone {number} reads {} with {}",
            loop_words::reads(first),
            loop_words::state(context, first.state)
        );
        let finding = Diagnostic::new(&RULE, known.wired.place.span, title)
            .here("no band holds all of it")
            .why("What the board makes of a reading between its bands is left to its maker, and changes with temperature and from one resistor to the next. It may be nothing.")
            .help("Change the shunt or the resistor so that the whole reading lies in one band, or move what adds the resistance to a loop of its own.")
            .about(number);
        let finding = loop_words::figures(context, finding, &states);
        sink.push(loop_words::bands(finding, known.part.sensing.as_ref(), &[]));
    }
}
