//! A loop that is not normal at rest, and no resistor helps.

use crate::base::wording::a;
use crate::checks::Context;
use crate::checks::loops::loop_known::{judged_by, resistors};
use crate::checks::loops::loop_remedy;
use crate::checks::loops::loop_verdict::{Cause, found};
use crate::checks::loops::loop_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::Resistance;
use crate::terms::LoopWiring;
use crate::words;

check!("loop-not-normal", Basis::Contradiction, "a loop that its board does not take for normal at rest");

fn run(context: Context<'_>, sink: &mut Sink) {
    for (readings, known, _) in found(context, |cause| *cause == Cause::NotNormal) {
        let (Some(rest), number) = (readings.states.first(), known.zone.number.value) else { continue };
        let (reads, wiring) = (words::reads(rest.reading), known.wiring.word());
        let value = judged_by(&known)
            .filter(|_| !known.wiring.is_supervised())
            .and_then(|sensing| loop_remedy::resistor(context.site, readings, LoopWiring::EndOfLine, sensing))
            .and_then(|change| change.resistors);
        let help = match value.and_then(Resistance::marking) {
            Some(value) => format!("The board's bands are for a loop with a resistor: wire it \"end-of-line\" with `resistor \"{value}\"` at the last place. If this input can be set for a plain loop, give the part a `sensing wiring=\"{wiring}\"` with the bands of that setting."),
            None if resistors(context.site, readings.zone).len() > 1 => "No preferred value in place of its resistors makes every state of this loop certain. Put one resistor alone at its last place, copy the bands again from the board's sheet, or sense the loop by another board.".to_owned(),
            None if known.wiring == LoopWiring::DoubleEndOfLine => "No preferred value makes every state of this loop certain, of those that were tried for the resistor, for the shunts and for both: at rest normal, and every alarm and cable fault within one band. Copy the bands again from the board's sheet, or sense the loop by another board.".to_owned(),
            None if known.wiring.is_supervised() => "No preferred value makes every state of this loop certain: at rest normal, and every alarm and cable fault within one band. Copy the bands again from the board's sheet, or sense the loop by another board.".to_owned(),
            None => "No resistor at its end makes every state of this loop certain. Copy the bands again from the board's sheet, or sense the loop by another board.".to_owned(),
        };
        let finding = Diagnostic::new(&RULE, known.wired.place.span, format!("the loop of zone {number} reads {reads} at rest"))
            .here(a(&format!("{wiring} loop")))
            .also(known.part.name.span, "the board's bands")
            .why("The board takes the loop for disturbed although nothing is: the zone cannot be armed, or is bypassed and forgotten.")
            .help(help)
            .about(number);
        let finding = loop_words::figures(context, finding, &[rest]);
        sink.push(loop_words::bands(finding, known.sensing, &[]));
    }
}
