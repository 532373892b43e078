//! Choices that are known to breed false alarms: each with where it is on this site, the reason, and what helps.
//!
//! All of it is common practice. Only what the spec says can be found; what it does not say is a line of the template.

use std::collections::BTreeSet;

use serde::Serialize;

use crate::base::Id;
use crate::calc::timing;
use crate::compiled::Compiled;
use crate::model::{Area, Device, OpeningKind, Room, Site, Zone};
use crate::profiles::detectors::unsuited_to_smoke_detectors;
use crate::terms::{LoopWiring, RoomKind, Senses, ZoneType};
use crate::views::accepted::accepted;
use crate::words::Paper;

/// A cause that the site has.
#[derive(Serialize)]
pub(super) struct Row {
    here: Vec<String>,
    why: &'static str,
    cure: &'static str,
}

/// Where a cause is.
struct Here {
    /// "zone 11 Gear room motion".
    said: String,
    /// The zone number or name by which a spec accepts a finding about it.
    subject: String,
}

struct Cause {
    finds: fn(&Site) -> Vec<Here>,
    /// The rules that find the same, which a spec may accept.
    rules: &'static [&'static str],
    why: &'static str,
    cure: &'static str,
}

static CAUSES: &[Cause] = &[
    Cause {
        finds: little_time,
        rules: &["entry-shorter-than-walk", "exit-shorter-than-walk"],
        why: "Little time is left to reach the keypad or the door: on a dark evening with full hands it is too little.",
        cure: "Lengthen the delay within its range, or put a keypad nearer to the door.",
    },
    Cause {
        finds: no_abort,
        rules: &["delay-outside-range"],
        why: "An alarm is sent at once: nobody can stop one that was a mistake.",
        cure: "Set an abort window, and tell everybody how an alarm is stopped.",
    },
    Cause {
        finds: no_shutdown,
        rules: &[],
        why: "A contact that rattles is an alarm each time.",
        cure: "Set after how many alarms a zone is shut out.",
    },
    Cause {
        finds: faces_what_moves,
        rules: &["motion-misled"],
        why: "Motion detector that looks at sun, a heater, a stair or a curtain, as the spec says.",
        cure: "Turn it, or mask that part of its lens, and try it for a week.",
    },
    Cause {
        finds: motion_and_windows,
        rules: &[],
        why: "Motion detector in a room with windows: sun, headlights and curtains move there.",
        cure: "Turn it away from the glass. Try it on a bright day and on a windy one.",
    },
    Cause {
        finds: |site| motion_in(site, &[RoomKind::Stair]),
        rules: &[],
        why: "Motion detector at a stair: warm air rises past it, and people on another floor cross it.",
        cure: "Turn it across the stair, not up or down. Arm it only when nobody stays in.",
    },
    Cause {
        finds: |site| motion_in(site, &[RoomKind::Kitchen, RoomKind::Utility]),
        rules: &[],
        why: "Motion detector beside boilers, ranges or machines: warm air moves when they start.",
        cure: "Turn it away from them. Try it while they run.",
    },
    Cause {
        finds: |site| {
            motion_in(
                site,
                &[RoomKind::Garage, RoomKind::Workshop, RoomKind::Attic, RoomKind::Cellar, RoomKind::Crawlspace],
            )
        },
        rules: &[],
        why: "Motion detector in a room without heating: draughts, insects, mice, engines that cool.",
        cure: "Close draughts, keep its cover shut and clean; one made for such rooms; let a second zone confirm it.",
    },
    Cause {
        finds: |site| sensing(site, Senses::Glass),
        rules: &[],
        why: "A detector of breaking glass also hears dishes, keys, hail and barking.",
        cure: "Try it by the sheet with all the room's own noises. Where the opening moves, a contact is needed as well.",
    },
    Cause {
        finds: |site| sensing(site, Senses::Vibration),
        rules: &[],
        why: "A vibration detector also feels doors that slam, work next door and heavy traffic.",
        cure: "Fix it hard to what it watches, set it by trial, and slam the doors near it while the zone is watched.",
    },
    Cause {
        finds: |site| sensing(site, Senses::Step),
        rules: &[],
        why: "A floor mat feels large pets and furniture too, and wears where it is folded or trodden most.",
        cure: "Flat under its carpet, clear of furniture. Nobody crosses it while its zone is armed.",
    },
    Cause {
        finds: outdoors,
        rules: &[],
        why: "Outdoors: wind moves gates, water gets in, animals pass.",
        cure: "A wide-gap contact and a latch that holds; or let it not call anybody by itself.",
    },
    Cause {
        finds: hatches,
        rules: &[],
        why: "Hatches, double doors and roller doors have play: they move in the wind, and swell.",
        cure: "A contact with a wide gap, at the end that moves least. Shake it while the zone is watched.",
    },
    Cause {
        finds: plain_pairs,
        rules: &["loop-unsupervised", "fire-loop-unsupervised"],
        why: "No resistor: a fault of the cable or of a joint reads like an alarm, and nothing tells it from one.",
        cure: "Wire it with a resistor at the far end. Until then look at the joints each year.",
    },
    Cause {
        finds: old_pairs,
        rules: &["existing-cable-unsupervised", "fire-loop-unsupervised"],
        why: "Cable that was in the wall before: old joints let go with heat and cold, for a moment at a time.",
        cure: "Measure it in summer and in winter; make its joints anew where it drifts.",
    },
    Cause {
        finds: far_transmitters,
        rules: &[],
        why: "Wireless on another level than its receiver: the signal is at its weakest, and a missing one is a trouble.",
        cure: "Read the signal with doors shut and cars parked. Move the receiver if it is under half.",
    },
    Cause {
        finds: panic_buttons,
        rules: &[],
        why: "Panic button that one push sets off: a sleeve, a child, a duster.",
        cure: "One with a cover or two pushes, out of the way of children. Show everybody what it does.",
    },
    Cause {
        finds: emergency_keys,
        rules: &[],
        why: "Emergency keys of a keypad: children play with them, cleaners wipe over them.",
        cure: "Have the board want two keys together or a long push. Leave on only those that are wanted.",
    },
    Cause {
        finds: smoke_places,
        rules: &["smoke-detector-unsuited"],
        why: "Smoke detector where steam, cooking, dust, exhaust or cold belong to the day.",
        cure: "A heat detector there, and the smoke detector outside its door.",
    },
];

/// The causes that the site has, in the order of the table.
pub(super) fn rows(compiled: &Compiled) -> Vec<Row> {
    let row = |cause: &Cause| {
        let words = |Here { said, subject }: Here| {
            let accepted = cause.rules.iter().map(|rule| accepted(compiled, rule, &subject));
            let accepted = accepted.filter(|reason| !reason.is_empty()).map(|reason| format!(" ({reason})"));
            said + &accepted.collect::<String>()
        };
        let here: Vec<String> = (cause.finds)(&compiled.site).into_iter().map(words).collect();
        (!here.is_empty()).then_some(Row { here, why: cause.why, cure: cause.cure })
    };
    CAUSES.iter().filter_map(row).collect()
}

/// "zone 11 Gear room motion".
fn said(site: &Site, zone: Id<Zone>) -> Here {
    let zone = &site.zones[zone];
    let number = zone.number.value;
    Here { said: format!("zone {number} {}", zone.description.value), subject: number.to_string() }
}

fn of_area(area: &Area) -> Here {
    Here { said: format!("area {}", area.title), subject: area.name.value.clone() }
}

/// The zones of which a device is as wanted, each once, by number.
fn zones_with(site: &Site, wanted: impl Fn(&Device, Id<Zone>) -> bool) -> Vec<Here> {
    let zone = |device: &Device| device.zone.filter(|zone| wanted(device, *zone));
    let zones: BTreeSet<Id<Zone>> = site.devices.iter().filter_map(zone).collect();
    zones.into_iter().map(|zone| said(site, zone)).collect()
}

fn senses(site: &Site, device: &Device, what: Senses) -> bool {
    site.senses_of(device) == Some(what)
}

fn kind_of(site: &Site, device: &Device) -> Option<RoomKind> {
    site.rooms[device.room?].kind
}

fn sleeps_unarmed(site: &Site, zone: Id<Zone>) -> bool {
    site.zones[zone].kind.as_ref().is_some_and(|kind| kind.value.sleeps_unarmed())
}

fn is_of(site: &Site, zone: Id<Zone>, kinds: &[ZoneType]) -> bool {
    site.zones[zone].kind.as_ref().is_some_and(|kind| kinds.contains(&kind.value))
}

/// Time that should be left over a way.
const COMFORT_SECONDS: f64 = 5.0;

fn little_time(site: &Site) -> Vec<Here> {
    let tight = |door: &timing::Door| {
        let area = &site.areas[door.area];
        let needed = door.way?.needed().0;
        let mut delays = [&area.entry, &area.exit].into_iter().flatten();
        let tight = delays.any(|delay| delay.value.0 - needed < COMFORT_SECONDS);
        let (said, subject) = (Paper.opening(site, door.opening), area.name.value.clone());
        tight.then_some(Here { said, subject })
    };
    timing::doors(site).iter().filter_map(tight).collect()
}

fn no_abort(site: &Site) -> Vec<Here> {
    let areas = site.areas.iter().filter(|area| area.abort.as_ref().is_some_and(|abort| abort.value.0 <= 0.0));
    areas.map(of_area).collect()
}

fn no_shutdown(site: &Site) -> Vec<Here> {
    let areas = site.areas.iter().filter(|area| area.swinger_shutdown.is_none());
    areas.map(of_area).collect()
}

fn motion_and_windows(site: &Site) -> Vec<Here> {
    let windows = site.openings.iter().filter(|opening| opening.kind == OpeningKind::Window && !opening.inside);
    let rooms: BTreeSet<Id<Room>> = windows.map(|opening| opening.room).collect();
    zones_with(site, |device, _| {
        senses(site, device, Senses::Motion) && device.room.is_some_and(|room| rooms.contains(&room))
    })
}

fn motion_in(site: &Site, kinds: &[RoomKind]) -> Vec<Here> {
    zones_with(site, |device, _| {
        senses(site, device, Senses::Motion) && kind_of(site, device).is_some_and(|kind| kinds.contains(&kind))
    })
}

fn sensing(site: &Site, what: Senses) -> Vec<Here> {
    zones_with(site, |device, _| senses(site, device, what))
}

fn outdoors(site: &Site) -> Vec<Here> {
    zones_with(site, |device, zone| kind_of(site, device) == Some(RoomKind::Outdoors) && sleeps_unarmed(site, zone))
}

fn hatches(site: &Site) -> Vec<Here> {
    zones_with(site, |device, _| {
        let opening = device.opening.as_ref().map(|opening| &site.openings[opening.value]);
        let indoors = kind_of(site, device) != Some(RoomKind::Outdoors);
        opening.is_some_and(|opening| opening.kind == OpeningKind::Hatch && indoors)
    })
}

fn plain_pairs(site: &Site) -> Vec<Here> {
    let plain = |zone: &Zone| {
        let wiring = zone.wired.as_ref().and_then(|wired| wired.wiring.as_ref()).map(|wiring| wiring.value);
        matches!(wiring, Some(LoopWiring::NormallyClosed | LoopWiring::NormallyOpen))
    };
    site.zones.entries().filter(|(_, zone)| plain(zone)).map(|(id, _)| said(site, id)).collect()
}

fn old_pairs(site: &Site) -> Vec<Here> {
    let old = |zone: Id<Zone>| site.runs_of(crate::model::Owner::Zone(zone)).any(|(id, _)| site.is_existing(id));
    site.zones.entries().filter(|(id, _)| old(*id)).map(|(id, _)| said(site, id)).collect()
}

fn far_transmitters(site: &Site) -> Vec<Here> {
    zones_with(site, |device, _| {
        let level = |room: Option<Id<Room>>| room.map(|room| site.rooms[room].level);
        let receiver = device.receiver.as_ref().and_then(|receiver| level(site.boards[receiver.value].room));
        level(device.room).zip(receiver).is_some_and(|(here, there)| here != there)
    })
}

fn panic_buttons(site: &Site) -> Vec<Here> {
    let panic = &[ZoneType::PanicAudible, ZoneType::PanicSilent];
    zones_with(site, |device, zone| senses(site, device, Senses::Button) && is_of(site, zone, panic))
}

fn emergency_keys(site: &Site) -> Vec<Here> {
    let keypads = site.boards.entries().filter(|(_, board)| !board.emergency_keys.is_empty());
    keypads.map(|(id, board)| Here { said: Paper.board(site, id), subject: board.name.value.clone() }).collect()
}

fn smoke_places(site: &Site) -> Vec<Here> {
    zones_with(site, |device, _| {
        senses(site, device, Senses::Smoke)
            && kind_of(site, device).is_some_and(|kind| unsuited_to_smoke_detectors(kind).is_some())
    })
}

fn faces_what_moves(site: &Site) -> Vec<Here> {
    zones_with(site, |device, _| senses(site, device, Senses::Motion) && device.faces.is_some())
}
