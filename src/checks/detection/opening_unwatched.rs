//! An outside opening within reach that no zone watches.

use std::collections::BTreeSet;

use crate::base::Id;
use crate::base::wording::list;
use crate::checks::Context;
use crate::checks::detection::opening_claimed_twice;
use crate::checks::zones::{contact_in_other_room, zone_without_device};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{OpeningKind, Room, Site};
use crate::terms::Senses;
use crate::words::Screen;

check!(
    "opening-unwatched",
    Basis::Published("UL 1641-2015 18.1, quoted: accessible openings"),
    "an opening within reach from outside that no zone watches"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    // A zone without a device, and one of two on the same opening, is told; it may be the one for this opening.
    let to_come = site.zones.entries().any(|(id, _)| zone_without_device::is_idle(site, id))
        || site.openings.entries().any(|(id, _)| opening_claimed_twice::claims(site, id).len() > 1);
    if !site.sound || site.zones.is_empty() || to_come {
        return;
    }
    let astray: BTreeSet<Id<Room>> = contact_in_other_room::astray(site).map(|(_, room, _)| room).collect();
    for (id, opening) in site.openings.entries() {
        if site.is_guarded(id) || !site.is_within_reach(opening) {
            continue;
        }
        // A contact whose cable ends in this room and that names an opening elsewhere is mostly for the only one left out.
        let is_told = astray.contains(&opening.room) && contact_in_other_room::left_out(site, opening.room).len() == 1;
        if is_told {
            continue;
        }
        let finding = Diagnostic::new(&RULE, opening.name.span, format!("no zone watches {}", Screen.opening(site, id)))
            .here(match opening.kind {
                _ if opening.reachable.is_some() => "within reach, as it says",
                OpeningKind::Door if site.levels[site.rooms[opening.room].level].storey > 0 => "a door: people walk through it",
                OpeningKind::Door | OpeningKind::Window | OpeningKind::Hatch => "within reach from the ground",
            })
            .why(paragraph(site, opening.room))
            .help(format!("Put a contact on it (on=\"{0}\"), say reachable=#false if nobody can get to it, or accept it with the reason.", opening.name.value))
            .about(&opening.name.value);
        sink.push(finding);
    }
}

fn paragraph(site: &Site, room: Id<Room>) -> String {
    let mut text = "Whoever wants to come in looks for the one opening that is left out. The standard counts an opening as accessible up to 12 ft above a roof or another level surface that a person can stand on.".to_owned();
    let inside: Vec<String> = site
        .devices_in(room)
        .filter_map(|device| {
            let number = site.zones[device.zone?].number.value;
            match site.senses_of(device)? {
                Senses::Motion => Some(format!("the motion detector of zone {number}")),
                Senses::Glass => Some(format!("the glass-break detector of zone {number}")),
                Senses::Vibration => Some(format!("the vibration detector of zone {number}")),
                Senses::Step => Some(format!("the floor mat of zone {number}")),
                Senses::Opening
                | Senses::Smoke
                | Senses::Heat
                | Senses::CarbonMonoxide
                | Senses::Gas
                | Senses::Water
                | Senses::Temperature
                | Senses::Button
                | Senses::Tamper
                | Senses::Supply => None,
            }
        })
        .collect();
    if !inside.is_empty() {
        text += " In the same room there is ";
        text += &list(&inside, "and");
        text += ", which does not notice that it is opened from outside.";
    }
    text
}
