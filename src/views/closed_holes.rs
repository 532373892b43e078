//! Holes through floors and to the outside, with the cables that go through them.
//!
//! A cable from one level of a house to another passes the floor of every storey between; one whose way is under the roof
//! passes the ceiling at either end. One that ends outdoors, or whose
//! way is outdoors or underground, leaves the house and passes no floor. Out of scope: what the spec itself says to hold back fire or to move air
//! (the safety notes know that).

use std::collections::BTreeMap;

use crate::base::Id;
use crate::base::wording::list;
use crate::compiled::Compiled;
use crate::model::{Level, Room, Site};
use crate::register::Cable;
use crate::terms::{Passage, RoomKind};
use crate::words;

/// The holes of cables that are pulled, a line each: floors from below, then those to the outside.
pub(crate) fn of(compiled: &Compiled) -> Vec<String> {
    let mut lines = floors(compiled);
    lines.extend(roof(compiled));
    lines.extend(outside(compiled));
    lines
}

/// Cables that are pulled, with the rooms of their ends.
fn pulled(compiled: &Compiled) -> impl Iterator<Item = (&Cable, [Option<Id<Room>>; 2])> {
    let Compiled { site, wiring, .. } = compiled;
    let cables = wiring.cables.iter().filter(|cable| !site.runs[cable.run].existing);
    cables.map(|cable| (cable, [site.start_room(cable.run), site.runs[cable.run].room]))
}

/// Through floors: the spec need not say of one that it holds back fire.
fn floors(compiled: &Compiled) -> Vec<String> {
    let site = &compiled.site;
    let storeys = site.storeys();
    // The level below and the one above, by the storey of the one above.
    let mut found: BTreeMap<(i64, [Id<Level>; 2]), Vec<&str>> = BTreeMap::new();
    let is_beside = |level: Id<Level>| storeys.iter().any(|storey| storey.beside.contains(&level));
    for (cable, rooms) in pulled(compiled) {
        let [Some(from), Some(to)] = rooms.map(|room| room.map(|room| site.rooms[room].level)) else { continue };
        let outside = rooms.into_iter().any(|room| is_outdoors(site, room)) || leaves(site, cable).is_some();
        if outside || is_beside(from) != is_beside(to) {
            continue;
        }
        let storey = |level: Id<Level>| site.levels[level].storey;
        let (low, high) = if storey(from) <= storey(to) { (from, to) } else { (to, from) };
        let between = storeys.iter().rev().filter(|one| storey(low) < one.number && one.number < storey(high));
        let mut below = low;
        for above in between.map(|one| one.house).chain((storey(low) < storey(high)).then_some(high)) {
            found.entry((storey(above), [below, above])).or_default().push(&cable.label);
            below = above;
        }
    }
    let line = |((_, levels), labels): ((i64, [Id<Level>; 2]), Vec<&str>)| {
        let [below, above] = levels.map(|level| site.levels[level].title.as_str());
        format!("between {below} and {above}: {}", list(&labels, "and"))
    };
    found.into_iter().map(line).collect()
}

/// Through ceilings under the roof, by cables that pass that space and end below it. Those that end in it are told of by floors.
fn roof(compiled: &Compiled) -> Vec<String> {
    let site = &compiled.site;
    let storeys = site.storeys();
    let is_roof = |level: Id<Level>| {
        let mut rooms = site.rooms.iter().filter(|room| room.level == level);
        rooms.all(|room| room.kind == Some(RoomKind::Attic))
    };
    let mut found: BTreeMap<String, Vec<&str>> = BTreeMap::new();
    for (cable, rooms) in pulled(compiled) {
        if !passes(site, cable, Passage::Attic) {
            continue;
        }
        let is_below = |room: &Id<Room>| site.rooms[*room].kind != Some(RoomKind::Attic);
        let ends = rooms.map(|room| room.filter(is_below).filter(|room| !is_outdoors(site, Some(*room))));
        let named = |room: Id<Room>| {
            let storey = |level: Id<Level>| site.levels[level].storey;
            let over = storeys.iter().filter(|one| one.number > storey(site.rooms[room].level));
            let under = over.map(|one| one.house).any(|level| !is_roof(level));
            let floors = if under { ", through each floor over it" } else { "" };
            format!("{}{floors}", words::room(site, Some(room)))
        };
        let way = match ends {
            [Some(from), Some(to)] if from == to => format!("up under the roof from {} and down again", named(from)),
            [Some(from), Some(to)] => format!("up under the roof from {}; down into {}", named(from), named(to)),
            [Some(end), None] | [None, Some(end)] if rooms.iter().any(|room| is_outdoors(site, *room)) => {
                format!("up under the roof from {}", named(end))
            }
            [Some(_) | None, None] | [None, Some(_)] => continue,
        };
        found.entry(way).or_default().push(&cable.label);
    }
    found.into_iter().map(|(way, labels)| format!("{way}: {}", list(&labels, "and"))).collect()
}

/// True where a cable passes that on its way.
fn passes(site: &Site, cable: &Cable, wanted: Passage) -> bool {
    cable.carries.iter().any(|run| site.runs[*run].passes.as_ref().is_some_and(|passes| passes.value == wanted))
}

fn is_outdoors(site: &Site, room: Option<Id<Room>>) -> bool {
    room.is_some_and(|room| site.rooms[room].is_outdoors())
}

/// How a cable goes where it is outside on its way.
fn leaves(site: &Site, cable: &Cable) -> Option<&'static str> {
    let ways = [(Passage::Underground, ", through the ground"), (Passage::Outdoors, ", through open air")];
    ways.into_iter().find(|(way, _)| passes(site, cable, *way)).map(|(_, words)| words)
}

/// To the outside, by the rooms of their ends, each with its way as the spec has it.
fn outside(compiled: &Compiled) -> Vec<String> {
    let site = &compiled.site;
    let mut found: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for (cable, [from, to]) in pulled(compiled) {
        let by = leaves(site, cable).unwrap_or_default();
        let end = match (is_outdoors(site, from), is_outdoors(site, to)) {
            (true, true) => continue,
            (false, false) if by.is_empty() => continue,
            (true | false, false) => "into",
            (false, true) => "to",
        };
        // The spec has the rooms of both ends and the way in words, and not which wall is passed on it.
        let label = match site.runs[cable.run].route.as_deref() {
            Some(route) => format!("{} ({route})", cable.label),
            None => cable.label.clone(),
        };
        let place = |room: Option<Id<Room>>| match words::room(site, room) {
            room if room.is_empty() => "a room that is not known".to_owned(),
            room => room,
        };
        found.entry(format!("from {}, {end} {}{by}", place(from), place(to))).or_default().push(label);
    }
    found.into_iter().map(|(way, labels)| format!("{way}: {}", list(&labels, "and"))).collect()
}
