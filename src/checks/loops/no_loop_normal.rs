//! Figures of a board by which none of its loops is normal at rest: what they have in common is wrong, and told once.

use std::collections::BTreeMap;

use crate::base::Span;
use crate::base::wording::count;
use crate::calc::LoopReadings;
use crate::calc::remedy::Change;
use crate::checks::Context;
use crate::checks::loops::loop_known::Known;
use crate::checks::loops::loop_verdict::{Cause, found};
use crate::checks::loops::{loop_remedy, loop_words};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words;

check!("no-loop-normal", Basis::Contradiction, "figures of a board by which none of its loops is normal at rest");

/// How many loops a finding points at.
const LISTED: usize = 20;

/// A loop, and what would set it right by itself.
type Loop<'c> = (&'c LoopReadings, Known<'c>, Option<Change>);

fn run(context: Context<'_>, sink: &mut Sink) {
    let mut by_sensing: BTreeMap<Span, Vec<Loop<'_>>> = BTreeMap::new();
    for (readings, known, cause) in found(context, |cause| matches!(cause, Cause::NoneNormal(_))) {
        let (Cause::NoneNormal(change), Some(sensing)) = (cause, known.sensing) else { continue };
        by_sensing.entry(sensing.place.span).or_default().push((readings, known, *change));
    }
    for (span, loops) in by_sensing {
        let Some((first, known, change)) = loops.first() else { continue };
        let part = &known.part.name;
        let alike =
            loops.iter().all(|(.., other)| other.map(|other| other.resistors) == change.map(|change| change.resistors));
        let otherwise = match change.filter(|_| alike) {
            Some(change) => {
                format!("the resistors of all these loops are wrong. {}", loop_remedy::take(context, first, change))
            }
            None => "set one of these loops right by its resistor: what is wrong with the others is then told of each."
                .to_owned(),
        };
        let many = count(loops.len(), "loop", None);
        let mut finding = Diagnostic::new(&RULE, span, format!("none of the {many} that part `{}` reads is normal at rest", part.value))
            .here("by these figures")
            .why("A board takes its loops for disturbed although nothing is. One loop has a slip of its own; where all of them are wrong, the reason is mostly what they have in common: a pull-up, a voltage or a band that was copied wrong.")
            .help(format!("Hold supply=, pull-up= and the bands against the board's sheet, figure by figure. If they are as it has them, {otherwise}"))
            .about(&part.value);
        for (readings, known, _) in loops.iter().take(LISTED) {
            let reads = readings.states.first().map(|rest| words::reads(rest.reading)).unwrap_or_default();
            finding = finding.also(known.wired.place.span, format!("zone {} reads {reads}", known.zone.number.value));
        }
        if loops.len() > LISTED {
            finding = finding.figure(format!("and {} more", count(loops.len() - LISTED, "loop", None)));
        }
        let rest: Vec<_> = first.states.first().into_iter().collect();
        sink.push(loop_words::bands(loop_words::figures(context, finding, &rest), known.sensing, &[]));
    }
}
