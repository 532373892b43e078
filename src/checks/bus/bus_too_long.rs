//! A bus that is too long for its rate.

use crate::calc::bus::formulas;
use crate::checks::Context;
use crate::checks::bus::bus_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::bus::{LENGTH_TIMES_RATE, LONGEST};
use crate::quantity::{Metres, print};
use crate::words;

check!(
    "bus-too-long",
    Basis::Published("annex of TIA/EIA-422-B, TSB-89, quoted"),
    "a bus that is too long for its rate"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    for (id, figures) in context.buses {
        let bus = &context.site.buses[*id];
        let length = figures.layout.length();
        let longest = match &bus.rate {
            Some(rate) => formulas::longest(rate.value),
            None => Metres(LONGEST.value),
        };
        if length.0 <= longest.0 || !bus.differential {
            continue;
        }
        let unit = context.site.lengths;
        let (said, most) = print::lengths_apart(length, words::rounded_down(longest, unit), unit);
        let at = bus.rate.as_ref().map(|rate| format!(" at {}", rate.value)).unwrap_or_default();
        let title = format!("bus `{}` is {said} long, and {most} work{at}", bus.name.value);
        let span = bus.rate.as_ref().map_or(bus.name.span, |rate| rate.span);
        let slower = formulas::fastest(length).map(bus_words::rate);
        let help = match slower {
            Some(rate) if bus.rate.is_some() => format!(
                "This length works up to {rate}: set the board to that or less, or bring the cable down to {most}."
            ),
            _ => format!("No rate works over this length. Bring the cable down to {most}, or put a repeater in it."),
        };
        let finding = Diagnostic::new(&RULE, span, title)
            .here(format!("{most} at most"))
            .also(bus.name.span, format!("{said} between its ends"))
            .why("A cable rounds the edges of a signal, and a longer one more. What arrives must still be as long as one bit, or bits run into each other.")
            .figure(format!("length × rate: {:.0e} m·bit/s at most, a rule of thumb ({})", LENGTH_TIMES_RATE.value, LENGTH_TIMES_RATE.source()))
            .figure(format!("at any rate: {} at most ({})", bus_words::length(context, Metres(LONGEST.value)), LONGEST.source()))
            .help(help);
        sink.push(bus_words::about(finding, bus));
    }
}
