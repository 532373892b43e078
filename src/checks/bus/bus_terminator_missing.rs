//! An end of a bus without a terminator.

use crate::checks::Context;
use crate::checks::bus::bus_verdict::{Cause, found};
use crate::checks::bus::bus_words;
use crate::diag::{Basis, Diagnostic, Sink};

check!(
    "bus-terminator-missing",
    Basis::Published("application notes on TIA-485-A, quoted"),
    "an end of a bus without a terminator"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    for (bus, figures, cause) in found(context, |cause| matches!(cause, Cause::TerminatorMissing(_))) {
        let Cause::TerminatorMissing(ends) = cause else { continue };
        let layout = &figures.layout;
        let name = &bus.name.value;
        let title = match ends.missing.as_slice() {
            [one] => format!("bus `{name}` has no terminator at {}", bus_words::place(context, layout, *one)),
            _ => format!("bus `{name}` has no terminator at either end"),
        };
        let steps: Vec<String> = ends.missing.iter().map(|at| bus_words::put(context, layout, *at)).collect();
        let mut finding = Diagnostic::new(&RULE, bus.name.span, title)
            .here(format!("{} of cable", bus_words::length(context, layout.length())))
            .why("A signal that arrives at an open end comes back and falls into the next bit. It may work on the bench and fail on a damp night.")
            .figure(bus_words::terminator_limit())
            .help(format!(
                "{} Only where the boards' sheets tell of a differential bus, as by TIA-485-A: on another kind, as one data line against minus, a terminator silences it. Of such a bus write differential=#false in place of it.",
                bus_words::sentence(&steps)
            ));
        for at in &ends.missing {
            finding = finding.also(bus_words::place_span(context, layout, *at), "an end without a terminator");
        }
        sink.push(bus_words::about(bus_words::order(context, figures, finding), bus));
    }
}
