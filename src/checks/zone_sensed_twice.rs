//! A zone with a loop and a wireless detector.

use crate::checks::{Check, Context};
use crate::diag::{Basis, Diagnostic, Rule, Sink};
use crate::rule;

static RULE: Rule = rule!("zone-sensed-twice", Basis::Contradiction, "a zone with a loop and a wireless detector");

/// The check.
pub static CHECK: Check = Check { rule: &RULE, run };

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
