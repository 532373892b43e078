//! A reading that fits but has moved since the last time.

use crate::calc::as_built::{self, Verdict};
use crate::checks::Context;
use crate::checks::loops::loop_verdict::known;
use crate::checks::readings::reading_outside::value;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::{Ohms, Volts};
use crate::words::Screen;

check!("reading-drifting", Basis::Practice, "a reading that fits but has moved since the last time");

const WHY: &str = "Copper and resistors stay what they are for decades. What moves is a joint, a contact or the jacket of a cable, and it goes on moving until it is a false alarm.";

fn run(context: Context<'_>, sink: &mut Sink) {
    for judged in as_built::loops(context.site, context.loops) {
        let (Verdict::Drifting, Some((date, before))) = (judged.verdict, judged.before) else { continue };
        if judged.zone.is_none_or(|zone| known(context.site, zone).is_none()) {
            continue;
        }
        let number = judged.written.zone.value;
        let before = match as_built::ohms(judged.value) {
            Some(_) => Ohms(before).to_string(),
            None => Volts(before).to_string(),
        };
        let now = value(&judged);
        let state = Screen.seen(context.site, judged.zone, judged.written);
        let finding = Diagnostic::new(
            &RULE,
            judged.span,
            format!("zone {number}, {state}, read {now} on {} and {before} on {date}", judged.date),
        )
        .here("moved by more than two readings of one meter differ")
        .why(WHY)
        .help("Look at the joints and the contact while the reading is still good, and measure again in a month.")
        .about(number);
        sink.push(finding);
    }
    for judged in as_built::supplies(context.site, context.power) {
        let (Verdict::Drifting, Some((date, before))) = (judged.verdict, judged.before) else { continue };
        // A battery's volts follow the weather; only those of a supply must stay.
        if judged.battery {
            continue;
        }
        let now = judged.volts;
        let title = format!("`{}` had {now} on {} and {} on {date}", judged.name, judged.date, Volts(before));
        sink.push(
            Diagnostic::new(&RULE, judged.span, title)
                .here("moved by more than two readings of one meter differ")
                .why(WHY)
                .help("Look at the joints on the way while the volts are still enough, and measure again in a month.")
                .about(judged.name),
        );
    }
}
