//! A reading of something that is not there, or that nothing is expected of.

use crate::calc::as_built::{self, Verdict};
use crate::calc::diagnose::Measured;
use crate::checks::Context;
use crate::checks::loops::sensing_missing;
use crate::diag::{Basis, Diagnostic, Sink};

check!("reading-unknown", Basis::Practice, "a reading of which nothing is expected");

const HISTORY: &str = "The record is kept for years, and what it names may be gone.";

fn run(context: Context<'_>, sink: &mut Sink) {
    if !context.site.sound {
        return;
    }
    for judged in as_built::loops(context.site, context.loops).iter().filter(|j| j.verdict == Verdict::Unknown) {
        let in_volts = matches!(judged.value, Measured::Volts(_));
        if in_volts && judged.zone.is_some_and(|zone| sensing_missing::is_told(context.site, zone)) {
            continue;
        }
        let number = judged.written.zone.value;
        let state = judged.written.state.word();
        let (title, help) = match (judged.zone, &judged.written.of) {
            (None, _) => (
                format!("there is no zone {number} any more"),
                "Leave it as history and accept this, or correct the number.".to_owned(),
            ),
            // Neither `why` nor `readings` knows of it.
            (Some(zone), _) if !context.loops.contains_key(&zone) => {
                let wireless = context.site.zones[zone].wireless.is_some();
                let why = if wireless { "it is wireless" } else { "no loop of it is in the spec" };
                (
                    format!("zone {number} has no loop that could be read: {why}"),
                    "Leave it as history and accept this, or correct the number.".to_owned(),
                )
            }
            (Some(_), Some(of)) => (
                format!("in the loop of zone {number}, `{}` has no state {state}", of.value),
                "Name the opening or detector as the spec does, or leave of= out.".to_owned(),
            ),
            (Some(_), None) => (
                format!("nothing is expected of zone {number} in state {state}"),
                format!(
                    "Take a state that the loop has: `loopwright why` with zone={number} lists them. For volts the board must say how it senses."
                ),
            ),
        };
        let finding = Diagnostic::new(&RULE, judged.written.zone.span, title);
        sink.push(finding.here(format!("read on {}", judged.date)).why(HISTORY).help(help).about(number));
    }
    let is_board = |name: &str| context.site.board_named(name).is_some();
    for judged in as_built::supplies(context.site, context.power).iter().filter(|j| j.verdict == Verdict::Unknown) {
        // A battery that is gone from its board is history of its own kind.
        if judged.battery && is_board(judged.name) {
            continue;
        }
        let what = if judged.battery { "no board with a battery" } else { "nothing with a supply" };
        let finding = Diagnostic::new(&RULE, judged.span, format!("{what} is called `{}`", judged.name));
        sink.push(
            finding
                .here(format!("read on {}", judged.date))
                .why(HISTORY)
                .help("Leave it as history and accept this, or correct the name.")
                .about(judged.name),
        );
    }
}
