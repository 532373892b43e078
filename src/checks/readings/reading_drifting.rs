//! A reading that fits but has moved since the last time.

use crate::calc::as_built::{self, Verdict};
use crate::calc::diagnose::Measured;
use crate::checks::Context;
use crate::checks::loops::loop_known::known;
use crate::checks::readings::reading_outside::{about, value};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::{Ohms, Volts};
use crate::words::Screen;

check!("reading-drifting", Basis::Practice, "a reading that fits but has moved since the last time");

/// Of more volts than the time before.
const MORE: &str = "Cables and joints only take volts away. Where there are more of them, the supply gives more, or less is drawn from it than was.";

const WHY: &str = "Copper and resistors stay what they are for decades. What moves is a joint, a contact or the jacket of a cable, and it goes on moving until it is a false alarm.";

/// Fewer ohms, or volts, of a loop.
const ACROSS: &str = "It fell, and a joint can only add. Look for what lies across the pair: damp in a box or a contact, a crushed or wet jacket, another resistor. Measure again in a month.";

/// More of them.
const IN_SERIES: &str =
    "It rose. Look at the joints and the contact while the reading is still good, and measure again in a month.";

const ON_THE_WAY: &str = "Look at the joints on the way and at what else is on that supply while the volts are still enough, and measure again in a month.";

const SUPPLY: &str =
    "No joint does that. Measure at the terminals of the supply, and see whether something on it is off or gone.";

fn run(context: Context<'_>, sink: &mut Sink) {
    for judged in as_built::loops(context.site, context.loops) {
        let (Verdict::Drifting, Some((date, before))) = (judged.verdict, judged.before) else { continue };
        // What has moved and moved again is told once, of the last two.
        if !judged.last || judged.zone.is_none_or(|zone| known(context.site, zone).is_none()) {
            continue;
        }
        let number = judged.written.zone.value;
        // The volts of a loop rise and fall with its ohms.
        let fell = as_built::number(judged.value) < before;
        let before = match judged.value {
            Measured::Ohms(_) => Ohms(before).to_string(),
            Measured::Volts(_) => Volts(before).to_string(),
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
        .help(if fell { ACROSS } else { IN_SERIES });
        sink.push(about(finding, judged.written));
    }
    for judged in as_built::supplies(context.site, context.power) {
        let (Verdict::Drifting, Some((date, before))) = (judged.verdict, judged.before) else { continue };
        // A battery's volts follow the weather; only those of a supply must stay.
        if judged.battery || !judged.last {
            continue;
        }
        let more = judged.volts.0 > before;
        let now = judged.volts;
        let title = format!("`{}` had {now} on {} and {} on {date}", judged.name, judged.date, Volts(before));
        sink.push(
            Diagnostic::new(&RULE, judged.span, title)
                .here("moved by more than two readings of one meter differ")
                .why(if more { MORE } else { WHY })
                .help(if more { SUPPLY } else { ON_THE_WAY })
                .about(judged.name),
        );
    }
}
