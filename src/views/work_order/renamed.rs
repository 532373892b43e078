//! The old revision in the words of the new one: what is only called otherwise is keyed in nowhere.

use super::Sides;
use crate::diff::{Kind, Subject};
use crate::model::Site;

/// The old site in which boards, rooms, openings, devices, circuits and buses that are there still have their new titles. Those of
/// areas and of zones are keyed in.
pub(super) fn site(sides: &Sides<'_>) -> Site {
    let (old, new) = (&sides.old.site, &sides.new.site);
    let now = |kind: Kind, name: &str| sides.found.diff.now(Subject::new(kind, name)).key;
    let mut site = old.clone();
    for (id, board) in old.boards.entries() {
        if let Some((_, is)) = new.board_named(&now(Kind::Board, &board.name.value)) {
            site.boards[id].title.clone_from(&is.title);
        }
    }
    for (id, room) in old.rooms.entries() {
        if let Some((_, is)) = new.room_named(&now(Kind::Room, &room.name.value)) {
            site.rooms[id].title.clone_from(&is.title);
        }
    }
    for (id, opening) in old.openings.entries() {
        let name = now(Kind::Opening, &opening.name.value);
        if let Some(is) = new.openings.iter().find(|is| is.name.value == name) {
            site.openings[id].title.clone_from(&is.title);
        }
    }
    for (id, circuit) in old.circuits.entries() {
        if let Some((_, is)) = new.circuit_named(&now(Kind::Circuit, &circuit.name.value)) {
            site.circuits[id].title.clone_from(&is.title);
        }
    }
    for (id, bus) in old.buses.entries() {
        if let Some((_, is)) = new.bus_named(&now(Kind::Bus, &bus.name.value)) {
            site.buses[id].name.value.clone_from(&is.name.value);
        }
    }
    for (key, id) in &sides.old_keys.devices {
        if let Some(is) = sides.new_keys.devices.get(&now(Kind::Device, key)) {
            site.devices[*id].title.clone_from(&new.devices[*is].title);
        }
    }
    site
}
