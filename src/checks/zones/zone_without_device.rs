//! A zone that nothing can trip.

use crate::base::Id;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Site, Zone};

check!("zone-without-device", Basis::Contradiction, "a zone that nothing can trip");

/// True where nothing can trip a zone that is in use.
pub(crate) fn is_idle(site: &Site, id: Id<Zone>) -> bool {
    let zone = &site.zones[id];
    zone.whole && zone.reserved.is_none() && site.devices_of(id).next().is_none()
}

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (_, zone) in site.zones.entries().filter(|(id, _)| is_idle(site, *id)) {
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
