//! A zone that is told to wait for a delay, and is of a type that never does.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::terms::ZoneType;

check!("zone-cannot-wait", Basis::NoEffect, "a zone that follows a delay and is of a type that never waits");

fn run(context: Context<'_>, sink: &mut Sink) {
    for zone in context.site.zones.iter().filter(|zone| zone.follows) {
        let Some(kind) = zone.kind.as_ref().filter(|kind| !kind.value.may_wait()) else { continue };
        let number = zone.number.value;
        let (label, why) = if kind.value == ZoneType::EntryExit {
            (
                "starts the delay itself",
                "A zone that waits is one behind the door. This one is the door: it has the delay already.",
            )
        } else {
            (
                "alarms whether armed or not",
                "A delay runs while people arm or disarm. This zone alarms at any time, and must not be kept back.",
            )
        };
        sink.push(
            Diagnostic::new(
                &RULE,
                zone.number.span,
                format!("zone {number} follows the entry delay, and is of type {}", kind.value.word()),
            )
            .here("follows=#true")
            .also(kind.span, label)
            .why(why)
            .help("Take follows= away, or change the type.")
            .about(number),
        );
    }
}
