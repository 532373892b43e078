//! An area that nobody can enter once it is armed: its keypad is inside, and no door gives time to reach it.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::Id;
use crate::base::wording::list;
use crate::calc::timing::{is_armed_at, is_armed_by_key, keypads};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Area, Room, Site};
use crate::terms::ZoneType;
use crate::words::Screen;

check!("area-not-enterable", Basis::Intent, "an area that nobody can enter once it is armed");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if !site.sound {
        return;
    }
    let all: Vec<_> = keypads(site).collect();
    let (watched, doors) = zones_by_area(site);
    for (id, area) in site.areas.entries() {
        let Some(rooms) = watched.get(&id).filter(|_| !doors.contains(&id)) else { continue };
        let of_area = || site.zones_in_use().map(|(_, zone)| zone).filter(|zone| zone.area == Some(id));
        if of_area().any(|zone| is_armed_by_key(site, zone)) {
            continue;
        }
        let arms = |keypad| of_area().any(|zone| is_armed_at(site, zone, keypad));
        let keypads: Vec<_> = all.iter().filter(|(keypad, _)| arms(*keypad)).collect();
        // A keypad in a room that this area does not watch is reached without entering it.
        let outside = keypads.iter().any(|(_, room)| !rooms.contains(room));
        if outside || keypads.is_empty() {
            continue;
        }
        let name = Screen.name(&area.name.value);
        let inside: Vec<String> = keypads.iter().map(|(keypad, _)| Screen.board(site, *keypad)).collect();
        let finding = Diagnostic::new(&RULE, area.name.span, format!("nobody can enter area {name} once it is armed"))
            .here("no door of it has an entry delay");
        let finding = keypads
            .iter()
            .fold(finding, |finding, (keypad, _)| finding.also(site.boards[*keypad].name.span, "inside the area"));
        sink.push(
            finding
                .why(format!("{} can disarm it, and every way there goes through a zone that alarms at once. No key or button disarms it from outside either.", list(&inside, "and")))
                .help("Give the zone of the door that people use type=\"entry-exit\", or put a keypad or a keyswitch outside the area.")
                .about(&area.name.value),
        );
    }
}

type Rooms = BTreeMap<Id<Area>, BTreeSet<Id<Room>>>;

/// The rooms that each area watches while armed, and the areas that have a zone with an entry delay.
fn zones_by_area(site: &Site) -> (Rooms, BTreeSet<Id<Area>>) {
    let mut rooms = Rooms::new();
    let mut doors = BTreeSet::new();
    for (id, zone) in site.zones_in_use() {
        let (Some(area), Some(kind)) = (zone.area, zone.kind.as_ref()) else { continue };
        if kind.value == ZoneType::EntryExit {
            doors.insert(area);
        }
        if kind.value.may_wait() {
            rooms.entry(area).or_default().extend(site.devices_of(id).filter_map(|(_, device)| device.room));
        }
    }
    (rooms, doors)
}
