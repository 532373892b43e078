//! The table for what connects next, such as home automation: areas, zones and outputs with identifiers that stay.
//!
//! An identifier is made of our word for the thing and of its number or name in the spec, as in `site.json`: it
//! changes only where the spec renumbers or renames the thing.

use crate::base::Id;
use crate::compiled::Compiled;
use crate::model::{Board, Device, Site};
use crate::views::Table;
use crate::words;

pub(super) fn table(compiled: &Compiled) -> Table {
    let columns =
        vec!["identifier", "kind", "number", "title", "type", "area", "room", "board", "input or output", "wireless"];
    let mut rows = Vec::new();
    let Compiled { site, wiring, .. } = compiled;
    let board = |id: Id<Board>| site.boards[id].name.value.clone();
    let blank = String::new;
    for area in &site.areas {
        let (title, number) = (area.title.clone(), area.number.to_string());
        rows.push(vec![
            area.identifier(),
            "area".into(),
            number,
            title,
            blank(),
            blank(),
            blank(),
            blank(),
            blank(),
            blank(),
        ]);
    }
    for (id, zone) in site.zones_in_use() {
        let number = zone.number.value.to_string();
        let at = zone.wired.as_ref().and_then(|wired| wired.board.as_ref()).map(|at| at.value);
        let hears = zone.wireless.and_then(|device| site.devices[device].receiver.as_ref()).map(|at| at.value);
        rows.push(vec![
            zone.identifier(),
            "zone".into(),
            number,
            zone.description.value.clone(),
            zone.kind.as_ref().map_or("", |kind| kind.value.word()).to_owned(),
            zone.area.map(|area| site.areas[area].identifier()).unwrap_or_default(),
            rooms(site, site.devices_of(id).map(|(_, device)| device)),
            at.or(hears).map(board).unwrap_or_default(),
            wiring.inputs.of_zone.get(&id).map(ToString::to_string).unwrap_or_default(),
            if zone.wireless.is_some() { "yes" } else { "no" }.to_owned(),
        ]);
    }
    for (id, circuit) in site.circuits.entries() {
        let switched = site.switched_by(circuit).map(|(of, switch, _)| (of.board, switch.name.value.clone()));
        let fed = circuit
            .feed
            .as_ref()
            .and_then(|feed| Some((feed.value.board, site.output(feed.value)?.name.value.clone())));
        let of = switched.or(fed);
        let places = rooms(site, site.devices_on(id).map(|(_, device)| device));
        if places.is_empty() {
            // It feeds detectors, which are zones: nothing to switch or to show.
            continue;
        }
        rows.push(vec![
            circuit.identifier(),
            "output".into(),
            blank(),
            circuit.title.clone(),
            blank(),
            blank(),
            places,
            of.as_ref().map(|(at, _)| board(*at)).unwrap_or_default(),
            of.map(|(_, name)| name).unwrap_or_default(),
            "no".into(),
        ]);
    }
    Table { columns, rows }
}

/// The rooms of devices, each once.
fn rooms<'d>(site: &Site, devices: impl Iterator<Item = &'d Device>) -> String {
    let mut rooms: Vec<String> = Vec::new();
    for room in devices.map(|device| words::room(site, device.room)) {
        if !room.is_empty() && !rooms.contains(&room) {
            rooms.push(room);
        }
    }
    rooms.join("; ")
}
