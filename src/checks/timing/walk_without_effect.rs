//! A way that begins at no door with a delay, or ends at no keypad of its panel.

use crate::base::Id;
use crate::calc::timing::{is_armed, is_armed_at};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Area, OpeningKind, Walk, Zone};
use crate::terms::ZoneType;
use crate::words::Screen;

check!(
    "walk-without-effect",
    Basis::NoEffect,
    "a way that begins at no door with a delay or ends at no keypad of its panel"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if !site.sound {
        return;
    }
    // A door's zone that lacks its area or its loop is the cause where it is the one at the start of the way.
    let unfinished = site.zones.entries().any(|(id, zone)| {
        let empty = site.arms_with(zone).is_none() || site.devices_of(id).next().is_none();
        zone.is_of(ZoneType::EntryExit) && zone.reserved.is_none() && empty
    });
    let doors: Vec<_> = context.doors.iter().map(|door| (door.area, door.opening)).collect();
    for (id, area) in site.areas.entries() {
        // Where no door has a delay, that is the cause, and another rule's.
        let has_door = doors.iter().any(|(of, _)| *of == id);
        for walk in &area.walks {
            let to = &site.boards[walk.to.value];
            let name = Screen.name(&area.name.value);
            let from = Screen.opening(site, walk.from.value);
            let finding = if !to.kind.is_keypad() {
                let title = format!("the way from {from} ends at {}", Screen.board(site, walk.to.value));
                Diagnostic::new(&RULE, walk.to.span, title)
                    .here(format!("a {}", to.kind.noun()))
                    .why(
                        "An area is armed and disarmed at a keypad: the way there is what the delays are held against.",
                    )
                    .help("Name the keypad that people go to.")
            } else if has_door && !unfinished && !doors.contains(&(id, walk.from.value)) {
                let title = format!("area {name} has a way from {from}, which has no entry delay in it");
                Diagnostic::new(&RULE, walk.from.span, title)
                    .here(if is_way(site.openings[walk.from.value].kind) {
                        "watched by no zone of type \"entry-exit\" of this area"
                    } else {
                        "no door: nobody comes in there"
                    })
                    .why("Who opens it has no time to walk anywhere: the zone alarms at once, or no zone watches it.")
                    .help(if is_way(site.openings[walk.from.value].kind) {
                        "Take the way out, or give the zone of it type=\"entry-exit\"."
                    } else {
                        "Name the door at which the way begins, or define this opening as a `door`."
                    })
            } else if let Some(zone) = wrong_panel(context, id, walk) {
                let title = format!(
                    "the way from {from} ends at {}, which disarms nothing of zone {}",
                    Screen.board(site, walk.to.value),
                    zone.number.value
                );
                Diagnostic::new(&RULE, walk.to.span, title)
                    .here("a keypad of another panel")
                    .also(zone.number.span, "belongs to another panel")
                    .why("A keypad arms and disarms the zones of its own panel. Who walks to this one finds the alarm going on, so the way is held against no delay.")
                    .help("Name a keypad of the panel to which that zone belongs.")
            } else {
                continue;
            };
            sink.push(finding.about(&area.name.value));
        }
    }
}

/// The zone at the start of a way that ends at a keypad of another panel, where some keypad or key arms that zone: that none does
/// is told of the area.
pub(super) fn wrong_panel<'s>(context: Context<'s>, area: Id<Area>, walk: &Walk) -> Option<&'s Zone> {
    let site = context.site;
    // Only what has a delay is walked in by.
    context.doors.iter().find(|door| door.area == area && door.opening == walk.from.value)?;
    let watches = |id| {
        site.devices_of(id).any(|(_, device)| device.opening.as_ref().is_some_and(|of| of.value == walk.from.value))
    };
    let zones = site
        .zones
        .entries()
        .filter(|(id, zone)| zone.is_of(ZoneType::EntryExit) && site.is_in(zone, area) && watches(*id));
    let zones: Vec<&Zone> = zones.map(|(_, zone)| zone).collect();
    // Of a door in zones of two panels one way leads to a keypad of each.
    if zones.iter().any(|zone| is_armed_at(site, zone, walk.to.value)) {
        return None;
    }
    zones.into_iter().find(|zone| is_armed(site, zone))
}

/// True for an opening that people come in by.
fn is_way(kind: OpeningKind) -> bool {
    matches!(kind, OpeningKind::Door | OpeningKind::Hatch)
}
