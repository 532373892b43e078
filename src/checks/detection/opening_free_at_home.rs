//! An opening within reach that is watched by inside detection alone.

use std::collections::BTreeSet;

use crate::base::Id;
use crate::base::wording;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Device, Site, Zone};
use crate::terms::{RoomKind, Senses, ZoneType};
use crate::words::Screen;

check!(
    "opening-free-at-home",
    Basis::Works,
    "an opening within reach that nothing watches while people are at home with the house armed"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, opening) in site.openings.entries().filter(|(_, opening)| site.sound && site.is_within_reach(opening)) {
        let watchers: Vec<_> = site.watchers(id).filter(|(device, _)| site.notices(device)).collect();
        // A contact in such a zone is told by `zone-type-unlikely`.
        let is_inside = |(device, zone): &(&Device, Id<Zone>)| {
            site.zones[*zone].is_of(ZoneType::Interior) && site.senses_of(device) != Some(Senses::Opening)
        };
        if watchers.is_empty() || !watchers.iter().all(is_inside) {
            continue;
        }
        if !watchers.iter().any(|(_, zone)| is_lived_in(site, *zone)) {
            continue;
        }
        let numbers: BTreeSet<u32> = watchers.iter().map(|(_, zone)| site.zones[*zone].number.value).collect();
        let numbers: Vec<u32> = numbers.into_iter().collect();
        let what = Screen.opening(site, id);
        let zones = if numbers.len() == 1 { "zone" } else { "zones" };
        let title = format!("{what} is watched by inside detection alone: {zones} {}", wording::numbers(&numbers));
        let finding = Diagnostic::new(&RULE, opening.name.span, title)
            .here("is free while people are at home")
            .why("Inside detection is left out when the house is armed with people in it. At night, with everybody asleep, nothing tells that somebody comes in here.")
            .help(format!("Put a contact on it too, in a zone of type \"perimeter\" (on=\"{}\" shares=#true). Where nobody ever stays in, accept this.", opening.name.value))
            .about(&opening.name.value);
        let finding = watchers.iter().fold(finding, |finding, (device, _)| finding.also(device.span(), "sleeps then"));
        sink.push(finding);
    }
}

/// True where people may be at home in what is armed with a zone: some room of it is lived in, as far as that is known. A garage that
/// is an area of its own is armed when nobody is in it.
fn is_lived_in(site: &Site, zone: Id<Zone>) -> bool {
    let Some(area) = site.arms_with(&site.zones[zone]).filter(|_| site.areas.len() > 1) else { return true };
    let zones = site.zones_in_use().filter(|(_, other)| site.is_in(other, area));
    let mut rooms = zones.flat_map(|(id, _)| site.devices_of(id)).filter_map(|(_, device)| device.room);
    rooms.any(|room| site.rooms[room].kind.is_none_or(RoomKind::is_lived_in))
}
