//! Alarms that a loop does not tell from a cut cable, where its wiring is there to tell them apart.

use crate::calc::State;
use crate::checks::Context;
use crate::checks::loops::loop_remedy;
use crate::checks::loops::loop_verdict::{Cause, found, indistinct};
use crate::checks::loops::loop_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::{self, Screen};

check!("loop-alarms-indistinct", Basis::Contradiction, "alarms that a loop does not tell from a cut cable");

fn run(context: Context<'_>, sink: &mut Sink) {
    for (readings, known, _) in found(context, |cause| *cause == Cause::Indistinct) {
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
