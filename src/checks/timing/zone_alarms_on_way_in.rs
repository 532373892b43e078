//! A motion detector or floor mat on the way from a door to the keypad whose zone does not wait for the entry delay.

use std::collections::BTreeSet;

use crate::base::Id;
use crate::calc::timing;
use crate::checks::Context;
use crate::diag::{Basis, Certainty, Diagnostic, Sink};
use crate::model::Zone;
use crate::words::Screen;

check!(
    "zone-alarms-on-way-in",
    Basis::Works,
    "a motion detector or floor mat on the way to the keypad that does not wait for the entry delay"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let mut told: BTreeSet<Id<Zone>> = BTreeSet::new();
    for door in context.doors {
        for (device, zone, room) in timing::alarm_on_way(site, door) {
            let of = &site.zones[zone];
            if !told.insert(zone) {
                continue;
            }
            let number = of.number.value;
            let what = Screen.opening(site, door.opening);
            let entry = &site.zones[door.zone];
            let title =
                format!("zone {number} notices whoever comes in by {what}, and does not wait for the entry delay");
            let finding = Diagnostic::new(&RULE, device.span(), title)
                .here(format!("on the way: {}", site.room_title(room)))
                .also(of.number.span, "alarms at once while armed")
                .also(entry.number.span, format!("zone {} gives time to reach the keypad", entry.number.value))
                .why("The door gives its people time, and this detector takes it away again: every coming home is an alarm.")
                .help("Add follows=#true to the zone, and set the board so: it then waits while a delay runs, and alarms at once without one.")
                .about(number);
            sink.push(finding.edit(Certainty::House, of.description.span.behind(), " follows=#true"));
        }
    }
}
