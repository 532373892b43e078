//! An area that nobody can enter once it is armed: its keypad is inside, and no door gives time to reach it.

use std::collections::BTreeSet;

use crate::base::Id;
use crate::base::wording::list;
use crate::calc::timing::{self, Disarms};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Area, Zone};
use crate::terms::ZoneType;
use crate::words::Screen;

check!("area-not-enterable", Basis::Works, "an area that nobody can enter once it is armed");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if !site.sound {
        return;
    }
    let watched = timing::watched_rooms(site);
    let entries = site.zones_in_use().filter(|(_, zone)| zone.is_of(ZoneType::EntryExit));
    let doors: BTreeSet<Id<Area>> = entries.filter_map(|(_, zone)| site.arms_with(zone)).collect();
    for (id, area) in site.areas.entries() {
        let Some(rooms) = watched.get(&id).filter(|_| !doors.contains(&id)) else { continue };
        let asleep = site.zones_in_use().map(|(_, zone)| zone).filter(|zone| site.is_in(zone, id));
        let asleep: Vec<&Zone> =
            asleep.filter(|zone| zone.kind.as_ref().is_some_and(|of| of.value.may_wait())).collect();
        let (outside, inside): (Vec<_>, Vec<_>) =
            timing::disarms(site, &asleep).partition(|(_, room)| timing::is_outside(site, rooms, *room));
        if !outside.is_empty() || inside.is_empty() {
            continue;
        }
        let name = Screen.name(&area.name.value);
        let finding = Diagnostic::new(&RULE, area.name.span, format!("nobody can enter area {name} once it is armed"))
            .here("no door of it has an entry delay");
        let named = |by: Disarms| match by {
            Disarms::Keypad(keypad) => (site.boards[keypad].name.span, Screen.board(site, keypad)),
            Disarms::Key(key) => (site.devices[key].span(), Screen.device(site, key)),
        };
        let named: Vec<_> = inside.into_iter().map(|(by, _)| named(by)).collect();
        let finding = named.iter().fold(finding, |finding, (span, _)| finding.also(*span, "inside the area"));
        let inside: Vec<String> = named.into_iter().map(|(_, name)| name).collect();
        sink.push(
            finding
                .why(format!("{} can disarm it, and every way there goes through a zone that alarms at once. Nothing disarms it from outside.", list(&inside, "and")))
                .help("Give the zone of the door that people use type=\"entry-exit\", or put a keypad or a keyswitch outside the area.")
                .about(&area.name.value),
        );
    }
}
