//! A door with an entry delay from which no keypad is known to be within reach.

use std::collections::BTreeSet;

use crate::base::Id;
use crate::calc::timing::{Door, is_armed_at, keypads};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Area, Site, Zone};
use crate::terms::ZoneType;
use crate::words::Screen;

check!("door-without-keypad", Basis::Practice, "a door with an entry delay and no keypad within reach");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if !site.sound {
        return;
    }
    // Where no keypad arms the zone at all, that is told of its area.
    let armed = |zone: Id<Zone>| keypads(site).any(|(keypad, _)| is_armed_at(site, &site.zones[zone], keypad));
    let by_key = with_keyswitch(site);
    let without = |door: &&Door| door.keypad.is_none() && !by_key.contains(&door.area) && armed(door.zone);
    for door in context.doors.iter().filter(without) {
        let opening = &site.openings[door.opening];
        let what = Screen.opening(site, door.opening);
        let level = &site.levels[site.rooms[opening.room].level].title;
        let zone = &site.zones[door.zone].number;
        let finding = Diagnostic::new(&RULE, opening.name.span, format!("no keypad is within reach of {what}"))
            .here(format!("{level} has no keypad"))
            .also(zone.span, "gives time to reach one")
            .why("Whoever comes in here has the entry delay to find a keypad on another level. The spec does not say how long that way is, so nobody has held it against the delay.")
            .help(format!(
                "Walk it with a watch, and write walk \"{}\" to=\"…\" time=(s)… into area {}; or make the zone one without a delay.",
                opening.name.value,
                Screen.name(&site.areas[door.area].name.value)
            ))
            .about(&opening.name.value);
        sink.push(finding);
    }
}

/// The areas that a key or button arms and disarms.
pub(super) fn with_keyswitch(site: &Site) -> BTreeSet<Id<Area>> {
    let keys = site.zones_in_use().filter(|(_, zone)| zone.is_of(ZoneType::Keyswitch));
    keys.filter_map(|(_, zone)| zone.area).collect()
}
