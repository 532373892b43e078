//! A loop that is not normal at rest because of its resistor's value.

use crate::checks::Context;
use crate::checks::loops::loop_known::resistors;
use crate::checks::loops::loop_remedy;
use crate::checks::loops::loop_verdict::{Cause, found};
use crate::checks::loops::loop_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::terms::BandName;
use crate::words;

check!("loop-resistor-wrong", Basis::Contradiction, "a resistor with which the loop is not normal at rest");

fn run(context: Context<'_>, sink: &mut Sink) {
    for (readings, known, cause) in found(context, |cause| matches!(cause, Cause::ResistorWrong(_))) {
        let (Cause::ResistorWrong(change), Some(rest)) = (cause, readings.states.first()) else { continue };
        let fitted = resistors(context.site, readings.zone);
        let Some(((_, first), others)) = fitted.split_first() else { continue };
        let number = known.zone.number.value;
        let reads = words::reads(rest.reading);
        let title = format!("with {} the loop of zone {number} reads {reads} at rest", first.value);
        let mut finding = Diagnostic::new(&RULE, first.span, title)
            .here(format!("{}", first.value.nominal))
            .also(known.part.name.span, "the board's bands")
            .why("The board takes the loop for disturbed although every door is shut: the zone cannot be armed, or is bypassed and forgotten.")
            .help(loop_remedy::take(context, readings, *change))
            .about(number);
        finding = loop_remedy::edits(context.site, readings.zone, change, finding);
        for (_, other) in others {
            finding = finding.also(other.span, format!("{}", other.value.nominal));
        }
        let finding = loop_words::figures(context, finding, &[rest]);
        sink.push(loop_words::bands(finding, known.sensing, &[BandName::Normal]));
    }
}
