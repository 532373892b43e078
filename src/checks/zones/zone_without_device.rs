//! A zone that nothing can trip.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};

check!("zone-without-device", Basis::Contradiction, "a zone that nothing can trip");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, zone) in site.zones.entries() {
        if !zone.whole || zone.reserved.is_some() || site.devices_of(id).next().is_some() {
            continue;
        }
        let number = zone.number.value;
        let finding = Diagnostic::new(&RULE, zone.number.span, format!("nothing can trip zone {number}"))
            .why("The zone is programmed, listed on the service's form, and never heard of. Nobody finds out before it is needed.")
            .about(number);
        sink.push(match &zone.wired {
            Some(wired) => finding
                .here("this zone")
                .also(wired.place.span, "no contact or detector on this loop")
                .help("Mount a contact or detector at the end of a run, or remove the zone."),
            None => finding
                .here("neither a loop nor a wireless detector")
                .help("Add its loop or its wireless detector, or remove the zone."),
        });
    }
}
