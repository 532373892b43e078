//! A bus without its rate.

use crate::calc::bus::formulas;
use crate::checks::Context;
use crate::checks::bus::bus_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::bus::LENGTH_TIMES_RATE;

check!("bus-rate-missing", Basis::Practice, "a bus without its rate");

fn run(context: Context<'_>, sink: &mut Sink) {
    for (id, figures) in context.buses {
        let bus = &context.site.buses[*id];
        let length = figures.layout.length();
        // A bus that is too long for any rate is reported as that.
        let Some(fastest) =
            formulas::fastest(length).filter(|_| bus.differential && bus.rate.is_none() && context.site.sound)
        else {
            continue;
        };
        let said = bus_words::length(context, length);
        let fastest = bus_words::rate(fastest);
        let finding = Diagnostic::new(&RULE, bus.name.span, format!("bus `{}` has no rate", bus.name.value))
            .here(format!("{said} long"))
            .why("How long a bus may be depends on its rate: without it nothing can be said about its length but that it works at some rate.")
            .figure(format!("{said} work up to {fastest}, by the rule of 10⁸ m·bit/s ({})", LENGTH_TIMES_RATE.source()))
            .help("Look in the board's sheet for the rate of its bus, in baud or bit/s, and write it: rate=(baud)19200, for example.");
        sink.push(bus_words::about(finding, bus));
    }
}
