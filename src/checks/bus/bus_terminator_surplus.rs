//! More terminators than the two ends of a bus take.

use crate::base::wording::count;
use crate::calc::bus::formulas;
use crate::checks::Context;
use crate::checks::bus::bus_verdict::{Cause, found};
use crate::checks::bus::bus_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::Ohms;

check!(
    "bus-terminator-surplus",
    Basis::Published("application notes on TIA-485-A, quoted"),
    "more terminators than the two ends of a bus take"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    for (bus, figures, cause) in found(context, |cause| matches!(cause, Cause::TerminatorSurplus(_))) {
        let Cause::TerminatorSurplus(ends) = cause else { continue };
        let layout = &figures.layout;
        let all = layout.terminators.len();
        let (name, fitted) = (&bus.name.value, count(all, "terminator", None));
        let title = if bus.differential {
            format!("bus `{name}` has {fitted}, and two ends")
        } else {
            format!("bus `{name}` has {fitted}, and is not differential")
        };
        let steps: Vec<String> = ends.surplus.iter().map(|one| bus_words::take_off(context, layout, *one)).collect();
        let values: Vec<Ohms> = layout.terminators.iter().map(|terminator| terminator.ohms).collect();
        let place = |one: usize| bus_words::terminator_span(context, layout, one);
        let Some((first, others)) = ends.surplus.split_first() else { continue };
        let mut finding = Diagnostic::new(&RULE, place(*first), title)
            .here("one too many")
            .also(bus.name.span, format!("{} of cable", bus_words::length(context, layout.length())))
            .help(bus_words::sentence(&steps));
        finding = if bus.differential {
            finding
                .why("Each terminator takes its share of what the drivers can give, and of the bias: with a third the signal is weak, and the far boards drop out first.")
                .figure(bus_words::terminator_limit())
                .figure(format!("all of them side by side: {}; two of 120 Ω: 60 Ω", formulas::across(&values, 0.0)))
        } else {
            finding.why(
                "Where data goes against minus, a terminator loads the line or joins two of them, and nothing answers.",
            )
        };
        for one in others {
            finding = finding.also(place(*one), "one too many");
        }
        sink.push(bus_words::about(bus_words::order(context, figures, finding), bus));
    }
}
