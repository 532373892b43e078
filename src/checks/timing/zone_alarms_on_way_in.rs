//! A motion detector or floor mat on the way from a door to the keypad whose zone does not wait for the entry delay.

use std::collections::BTreeSet;

use crate::base::Id;
use crate::checks::Context;
use crate::diag::{Basis, Certainty, Diagnostic, Sink};
use crate::model::{Site, Zone};
use crate::terms::Senses;
use crate::words::Screen;

check!(
    "zone-alarms-on-way-in",
    Basis::Intent,
    "a motion detector or floor mat on the way to the keypad that does not wait for the entry delay"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let mut told: BTreeSet<Id<Zone>> = BTreeSet::new();
    for door in context.doors {
        for room in &door.rooms {
            for device in site.devices_in(*room) {
                let senses = device.part.and_then(|part| site.parts[part].senses);
                let notices = matches!(senses, Some(Senses::Motion | Senses::Step));
                let Some(zone) = device.zone.filter(|zone| notices && alarms_at_once(site, *zone)) else { continue };
                let of = &site.zones[zone];
                if of.area != Some(door.area) || !told.insert(zone) {
                    continue;
                }
                let number = of.number.value;
                let what = Screen.opening(site, door.opening);
                let entry = &site.zones[door.zone];
                let title =
                    format!("zone {number} notices whoever comes in by {what}, and does not wait for the entry delay");
                let finding = Diagnostic::new(&RULE, device.span(), title)
                    .here(format!("on the way: {}", site.room_title(*room)))
                    .also(of.number.span, "alarms at once while armed")
                    .also(entry.number.span, format!("zone {} gives time to reach the keypad", entry.number.value))
                    .why("The door gives its people time, and this detector takes it away again: every coming home is an alarm.")
                    .help("Add follows=#true to the zone, and set the board so: it then waits while a delay runs, and alarms at once without one.")
                    .about(number);
                sink.push(finding.edit(Certainty::House, of.description.span.behind(), " follows=#true"));
            }
        }
    }
}

/// True for a zone that sleeps while its area is not armed, and neither has a delay nor waits for one.
fn alarms_at_once(site: &Site, zone: Id<Zone>) -> bool {
    let zone = &site.zones[zone];
    zone.whole && !zone.follows && zone.kind.as_ref().is_some_and(|kind| kind.value.may_wait())
}
