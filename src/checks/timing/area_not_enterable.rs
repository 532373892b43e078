//! An area that nobody can enter once it is armed: its keypad is inside, and no door gives time to reach it.

use std::collections::BTreeSet;

use crate::base::Id;
use crate::base::wording::list;
use crate::calc::timing::{self, is_armed_at, is_armed_by_key, keypads};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Area;
use crate::terms::ZoneType;
use crate::words::Screen;

check!("area-not-enterable", Basis::Intent, "an area that nobody can enter once it is armed");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if !site.sound {
        return;
    }
    let all: Vec<_> = keypads(site).collect();
    let watched = timing::watched_rooms(site);
    let entries = site.zones_in_use().filter(|(_, zone)| zone.is_of(ZoneType::EntryExit));
    let doors: BTreeSet<Id<Area>> = entries.filter_map(|(_, zone)| zone.area).collect();
    for (id, area) in site.areas.entries() {
        let Some(rooms) = watched.get(&id).filter(|_| !doors.contains(&id)) else { continue };
        let of_area = || site.zones_in_use().map(|(_, zone)| zone).filter(|zone| zone.area == Some(id));
        let keys: Vec<_> = if of_area().any(|zone| is_armed_by_key(site, zone)) {
            timing::keys(site, id).collect()
        } else {
            Vec::new()
        };
        let arms = |keypad| of_area().any(|zone| is_armed_at(site, zone, keypad));
        let keypads: Vec<_> = all.iter().filter(|(keypad, _)| arms(*keypad)).collect();
        // A keypad in a room that this area does not watch is reached without entering it.
        let outside = keypads.iter().any(|(_, room)| !rooms.contains(room))
            || keys.iter().any(|(_, room)| timing::is_outside(site, rooms, *room));
        if outside || keypads.is_empty() && keys.is_empty() {
            continue;
        }
        let name = Screen.name(&area.name.value);
        let inside = keypads.iter().map(|(keypad, _)| Screen.board(site, *keypad));
        let inside: Vec<String> = inside.chain(keys.iter().map(|(key, _)| Screen.device(site, *key))).collect();
        let finding = Diagnostic::new(&RULE, area.name.span, format!("nobody can enter area {name} once it is armed"))
            .here("no door of it has an entry delay");
        let finding = keypads
            .iter()
            .fold(finding, |finding, (keypad, _)| finding.also(site.boards[*keypad].name.span, "inside the area"));
        let finding =
            keys.iter().fold(finding, |finding, (key, _)| finding.also(site.devices[*key].span(), "inside the area"));
        sink.push(
            finding
                .why(format!("{} can disarm it, and every way there goes through a zone that alarms at once. Nothing disarms it from outside.", list(&inside, "and")))
                .help("Give the zone of the door that people use type=\"entry-exit\", or put a keypad or a keyswitch outside the area.")
                .about(&area.name.value),
        );
    }
}
