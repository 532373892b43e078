//! An alarm whose reading lies between the board's bands, or in two of them.

use crate::checks::Context;
use crate::checks::loops::loop_known::{is_alarm, is_unclear};
use crate::checks::loops::loop_remedy;
use crate::checks::loops::loop_verdict::{Cause, found};
use crate::checks::loops::loop_words;
use crate::diag::{Basis, Sink};

check!("loop-alarm-unclear", Basis::Contradiction, "an alarm whose reading lies between the board's bands");

fn run(context: Context<'_>, sink: &mut Sink) {
    for (readings, known, _) in found(context, |cause| *cause == Cause::AlarmUnclear) {
        let states = loop_words::states(readings, |state| is_alarm(state) && is_unclear(state));
        sink.extend(loop_words::unclear(context, &RULE, &known, &states, |finding| {
            finding
            .here("no band holds all of it")
            .why("What the board makes of a reading between its bands is left to its maker, and changes with temperature and from one resistor to the next. It may be nothing.")
            .help(loop_words::alarm_unread(&known, &states).unwrap_or_else(|| loop_remedy::help(context, readings, &known, "Change the shunt or the resistor so that the whole reading lies in one band, or move what adds the resistance to a loop of its own.")))
        }));
    }
}
