//! A terminator that does not stand at an end, and an end without one.

use crate::checks::Context;
use crate::checks::bus::bus_verdict::{Cause, found};
use crate::checks::bus::bus_words;
use crate::diag::{Basis, Diagnostic, Sink};

check!(
    "bus-terminator-misplaced",
    Basis::Published("application notes on TIA-485-A, quoted"),
    "a terminator that does not stand at an end of its bus"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    for (bus, figures, cause) in found(context, |cause| matches!(cause, Cause::TerminatorMisplaced(_))) {
        let Cause::TerminatorMisplaced(ends) = cause else { continue };
        let layout = &figures.layout;
        let first = ends.surplus.first().map(|one| bus_words::terminator(context, layout, *one)).unwrap_or_default();
        let title = format!(
            "bus `{}` ends at {}, and {first} stands elsewhere",
            bus.name.value,
            bus_words::places(context, layout, &ends.missing),
        );
        let off = ends.surplus.iter().map(|one| bus_words::take_off(context, layout, *one));
        let on = ends.missing.iter().map(|at| bus_words::put(context, layout, *at));
        let steps: Vec<String> = off.chain(on).collect();
        let place = |one: usize| bus_words::terminator_span(context, layout, one);
        let Some((first, others)) = ends.surplus.split_first() else { continue };
        let mut finding = Diagnostic::new(&RULE, place(*first), title)
            .here("not at an end of its own")
            .also(bus.name.span, format!("{} of cable", bus_words::length(context, layout.length())))
            .why("A terminator takes up what arrives at the end of a cable. In the middle it only loads the drivers, and the end without one throws the signal back.")
            .figure(bus_words::terminator_limit())
            .help(bus_words::sentence(&steps));
        for one in others {
            finding = finding.also(place(*one), "not at an end of its own either");
        }
        for at in &ends.missing {
            finding = finding.also(bus_words::place_span(context, layout, *at), "an end without a terminator");
        }
        sink.push(bus_words::about(bus_words::order(context, figures, finding), bus));
    }
}
