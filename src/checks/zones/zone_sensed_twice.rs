//! A zone with a loop and a wireless detector.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};

check!("zone-sensed-twice", Basis::Contradiction, "a zone with a loop and a wireless detector");

fn run(context: Context<'_>, sink: &mut Sink) {
    for zone in &context.site.zones {
        let (Some(wired), Some(wireless)) = (&zone.wired, zone.wireless) else { continue };
        let number = zone.number.value;
        let title = format!("zone {number} has a loop and a wireless detector");
        sink.push(
            Diagnostic::new(&RULE, context.site.devices[wireless].span(), title)
                .here("a wireless detector")
                .also(wired.place.span, "a loop")
                .why("A board learns a zone either from an input or from a transmitter. Of two, one is left without a place in its program.")
                .help("Give one of the two a zone of its own.")
                .about(number),
        );
    }
}
