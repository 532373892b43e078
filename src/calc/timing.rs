//! From each door with an entry delay to the keypad, and back: how far it is, how long it takes, which rooms lie there.
//!
//! Terms: a *door* is a door or hatch that a zone with an entry delay watches, also one from a garage. Its *way* is as the spec
//! gives it, to a keypad of its panel; else the straight line on the plan to the nearest keypad of its panel, and a share for corners.
//! A keypad in a room that another area watches is that area's: people go to it where there is no other, by a way that nobody knows.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::Id;
use crate::model::{Area, Board, Device, Opening, OpeningKind, Room, Site, Walk, Zone};
use crate::profiles::timing::{AT_DOOR_AND_KEYPAD, DETOUR, WALKING_SPEED};
use crate::quantity::{Metres, Seconds};
use crate::terms::{Senses, ZoneType};

/// A door with an entry delay.
#[derive(Clone, Debug, PartialEq)]
pub struct Door {
    /// The door or hatch.
    pub opening: Id<Opening>,
    /// The zone that watches it.
    pub zone: Id<Zone>,
    /// The area whose delays hold.
    pub area: Id<Area>,
    /// The keypad that people go to; `None` where none is known to be on the way.
    pub keypad: Option<Id<Board>>,
    /// The way there; `None` where nothing is measured.
    pub way: Option<Way>,
    /// The rooms that people walk through, those of door and keypad included.
    pub rooms: Vec<Id<Room>>,
}

/// How far or how long a way is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Way {
    /// As long as the spec says.
    Timed(Seconds),
    /// As far as the spec says.
    Measured(Metres),
    /// As far as the plan has it, with the share for corners.
    Plan(Metres),
}

impl Way {
    /// The time that it takes.
    pub fn walking(self) -> Seconds {
        match self {
            Self::Timed(time) => time,
            Self::Measured(length) | Self::Plan(length) => Seconds(length.0 / WALKING_SPEED.value),
        }
    }

    /// Its length, where it is known.
    pub fn length(self) -> Option<Metres> {
        match self {
            Self::Timed(_) => None,
            Self::Measured(length) | Self::Plan(length) => Some(length),
        }
    }

    /// What a delay must give: the walk, the door and the keys.
    pub fn needed(self) -> Seconds {
        self.walking() + AT_DOOR_AND_KEYPAD.time()
    }
}

/// The doors of a site, each once for each of its areas, by zone.
pub fn doors(site: &Site) -> Vec<Door> {
    let keypads: Vec<(Id<Board>, Id<Room>)> = keypads(site).collect();
    let mut known = BTreeSet::new();
    let mut doors: Vec<Door> = Vec::new();
    for (zone, item) in site.zones_in_use() {
        let entry = item.is_of(ZoneType::EntryExit);
        let Some(area) = site.arms_with(item).filter(|_| entry) else { continue };
        for (_, device) in site.devices_of(zone) {
            let Some(opening) = device.opening.as_ref().map(|opening| opening.value) else { continue };
            let of = &site.openings[opening];
            let walked = matches!(of.kind, OpeningKind::Door | OpeningKind::Hatch);
            if walked && known.insert((opening, area)) {
                doors.push(door(site, &keypads, opening, zone, area));
            }
        }
    }
    doors
}

/// True where a keypad arms and disarms a zone: both are of one panel, as far as the panels of both are known.
pub(crate) fn is_armed_at(site: &Site, zone: &Zone, keypad: Id<Board>) -> bool {
    let panels = site.panel_of_zone(zone).zip(site.panel_of(Some(keypad)));
    panels.is_none_or(|(of_zone, of_keypad)| of_zone == of_keypad)
}

/// True where somebody arms and disarms a zone: at a keypad of its panel, or by a key that is a zone of it.
pub(crate) fn is_armed(site: &Site, zone: &Zone) -> bool {
    site.keypads().any(|(keypad, _)| is_armed_at(site, zone, keypad)) || is_armed_by_key(site, zone)
}

/// True where a key arms and disarms a zone: both are of one area and of one panel, as far as those of both are known.
pub(crate) fn is_armed_by_key(site: &Site, zone: &Zone) -> bool {
    site.zones_in_use().any(|(_, key)| is_key_of(site, key, zone))
}

/// True for a key that arms and disarms a zone.
pub(crate) fn is_key_of(site: &Site, key: &Zone, zone: &Zone) -> bool {
    let is_its = |(of_zone, of_key)| of_zone == of_key;
    key.is_of(ZoneType::Keyswitch)
        && site.arms_with(zone).is_none_or(|area| site.is_in(key, area))
        && site.panel_of_zone(zone).zip(site.panel_of_zone(key)).is_none_or(is_its)
}

/// The keypads whose room is known. One in open air is reported as that, and is no door's.
pub(crate) fn keypads(site: &Site) -> impl Iterator<Item = (Id<Board>, Id<Room>)> {
    site.keypads().filter_map(|(id, board)| Some((id, board.room.filter(|room| !site.rooms[*room].is_outdoors())?)))
}

fn door(site: &Site, keypads: &[(Id<Board>, Id<Room>)], opening: Id<Opening>, zone: Id<Zone>, area: Id<Area>) -> Door {
    let here = site.openings[opening].room;
    let mut door = Door { opening, zone, area, keypad: None, way: None, rooms: vec![here] };
    let arms = |keypad: Id<Board>| is_armed_at(site, &site.zones[zone], keypad);
    // One to a keypad of another panel ends where nobody disarms.
    let written = site.areas[area].walks.iter().filter(|walk| walk.from.value == opening && arms(walk.to.value));
    if let Some((walk, way)) = written.map(|walk| (walk, way_of(site, walk))).min_by(|(_, one), (_, other)| {
        let time = |way: &Option<Way>| way.map_or(f64::INFINITY, |way| way.walking().0);
        time(one).total_cmp(&time(other))
    }) {
        door.keypad = Some(walk.to.value);
        door.way = way;
        door.rooms.extend(walk.through.iter().copied().chain(site.boards[walk.to.value].room));
        return door;
    }
    let on_plan = |keypad: Id<Board>| site.line_to(opening, keypad).map(|(from, to)| from.to(to).0);
    let level = site.rooms[here].level;
    let near = || keypads.iter().filter(|(keypad, room)| site.rooms[*room].level == level && arms(*keypad));
    let own = |(_, room): &&(Id<Board>, Id<Room>)| !is_of_another(site, *room, area);
    let near: Vec<_> = if near().any(|one| own(&one)) { near().filter(own).collect() } else { near().collect() };
    let far = |(keypad, room): &(Id<Board>, Id<Room>)| match on_plan(*keypad) {
        None if *room == here => 0.0,
        length => length.unwrap_or(f64::INFINITY),
    };
    if let Some((keypad, room)) = near.into_iter().min_by(|one, other| far(one).total_cmp(&far(other))) {
        door.keypad = Some(*keypad);
        if is_of_another(site, *room, area) {
            return door;
        }
        door.way = on_plan(*keypad).map(|straight| Way::Plan(Metres(straight * DETOUR.value)));
        if let Some(line) = site.line_to(opening, *keypad) {
            door.rooms.extend(site.rooms_between(here, line).into_iter().filter(|passed| *passed != here));
        }
        door.rooms.extend(Some(*room).filter(|room| !door.rooms.contains(room)));
    }
    door
}

/// True of a room that other areas watch while they are armed, and this one does not.
fn is_of_another(site: &Site, room: Id<Room>, area: Id<Area>) -> bool {
    let zones = site.devices_in(room).filter_map(|device| device.zone).map(|zone| &site.zones[zone]);
    let armed = zones.filter(|zone| zone.kind.as_ref().is_some_and(|kind| kind.value.sleeps_unarmed()));
    let areas: BTreeSet<Id<Area>> = armed.filter_map(|zone| site.arms_with(zone)).collect();
    !areas.is_empty() && !areas.contains(&area)
}

fn way_of(site: &Site, walk: &Walk) -> Option<Way> {
    if let Some(time) = &walk.time {
        return Some(Way::Timed(time.value));
    }
    if let Some(length) = &walk.length {
        return Some(Way::Measured(length.value));
    }
    let (from, to) = site.line_to(walk.from.value, walk.to.value)?;
    Some(Way::Plan(Metres(from.to(to).0 * DETOUR.value)))
}

/// The most that a delay of an area must give: for the door with the longest way.
pub(crate) fn needed(doors: &[Door], area: Id<Area>) -> Option<(&Door, Seconds)> {
    let known = doors.iter().filter(|door| door.area == area).filter_map(|door| Some((door, door.way?.needed())));
    known.max_by(|(_, one), (_, other)| one.0.total_cmp(&other.0))
}

/// The motion detectors and floor mats on the way from a door to its keypad that alarm while the door's delay runs, each with
/// its zone and its room.
pub(crate) fn alarm_on_way<'s>(
    site: &'s Site,
    door: &'s Door,
) -> impl Iterator<Item = (&'s Device, Id<Zone>, Id<Room>)> + 's {
    door.rooms.iter().flat_map(move |room| {
        site.devices_in(*room).filter_map(move |device| {
            let senses = site.senses_of(device);
            let zone = device.zone.filter(|_| matches!(senses, Some(Senses::Motion | Senses::Step)))?;
            let of = &site.zones[zone];
            let at_once = of.whole && !of.follows && of.kind.as_ref().is_some_and(|kind| kind.value.may_wait());
            (at_once && site.is_in(of, door.area)).then_some((device, zone, *room))
        })
    })
}

/// The rooms that each area watches while it is armed.
pub(crate) fn watched_rooms(site: &Site) -> BTreeMap<Id<Area>, BTreeSet<Id<Room>>> {
    let mut rooms: BTreeMap<Id<Area>, BTreeSet<Id<Room>>> = BTreeMap::new();
    for (id, zone) in site.zones_in_use() {
        let (Some(area), Some(kind)) = (site.arms_with(zone), zone.kind.as_ref()) else { continue };
        if kind.value.may_wait() {
            rooms.entry(area).or_default().extend(site.devices_of(id).filter_map(|(_, device)| device.room));
        }
    }
    rooms
}

/// The keypads and key switches that arm and disarm some zones, each with its room.
pub(crate) fn disarms<'s>(
    site: &'s Site,
    zones: &'s [&'s Zone],
) -> impl Iterator<Item = (Disarms, Option<Id<Room>>)> + 's {
    let keypads = site.keypads().filter(|(id, _)| zones.iter().any(|zone| is_armed_at(site, zone, *id)));
    let keys = site.zones_in_use().filter(|(_, key)| key.is_of(ZoneType::Keyswitch));
    let keys = keys.filter(|(_, key)| zones.iter().any(|zone| is_key_of(site, key, zone)));
    let keys = keys.flat_map(|(zone, _)| site.devices_of(zone));
    let keypads = keypads.map(|(id, board)| (Disarms::Keypad(id), board.room));
    keypads.chain(keys.map(|(id, device)| (Disarms::Key(id), device.room)))
}

/// What arms and disarms.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Disarms {
    /// A keypad.
    Keypad(Id<Board>),
    /// A key switch.
    Key(Id<Device>),
}

/// True where one comes to a room without passing what an area watches: it is outdoors, or not among the watched rooms.
pub(crate) fn is_outside(site: &Site, watched: &BTreeSet<Id<Room>>, room: Option<Id<Room>>) -> bool {
    room.is_none_or(|room| site.rooms[room].is_outdoors() || !watched.contains(&room))
}
