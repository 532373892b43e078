//! Words that several sheets share: places, boards, devices, conductors, and what a conductor does.

use crate::base::Id;
use crate::calc::ambient::{self, Ambient};
use crate::calc::power::{Consumer, Source};
use crate::model::{Battery, Board, Device, OutputRef, Owner, Room, Run, Site};
use crate::quantity::{Colour, Ohms, Resistance, bands};
use crate::register::{Cable, ConductorUse, Function, Wiring};

/// A room's title, with its level's where another room has the same title.
pub fn room(site: &Site, room: Option<Id<Room>>) -> String {
    let Some(room) = room.map(|room| &site.rooms[room]) else { return String::new() };
    let twins = site.rooms.iter().filter(|other| other.title == room.title).count();
    if twins > 1 { format!("{} ({})", room.title, site.levels[room.level].title) } else { room.title.clone() }
}

/// A board's title, with its name where another board has the same title.
pub fn board(site: &Site, board: Id<Board>) -> String {
    let board = &site.boards[board];
    let twins = site.boards.iter().filter(|other| other.title == board.title).count();
    if twins > 1 { format!("{} ({})", board.title, board.name.value) } else { board.title.clone() }
}

/// A device's title, with its room where the title does not end in it.
pub fn device(site: &Site, device: Id<Device>) -> String {
    let device = &site.devices[device];
    let room = room(site, device.room);
    let told = room.is_empty() || device.title.to_lowercase().contains(&room.to_lowercase());
    if told { device.title.clone() } else { format!("{} ({room})", device.title) }
}

/// "RD red", or "no. 3" where the cable type gives no colours.
pub fn conductor(site: &Site, cable: &Cable, position: usize) -> String {
    let colour = site.cables[cable.kind].conductors.get(position).map(|conductor| conductor.colour.value);
    colour.map_or_else(|| format!("no. {}", position + 1), |colour| format!("{} {}", colour.code(), colour.name()))
}

/// "RD", or "no. 3": the conductor in the middle of a sentence.
pub fn conductor_mark(site: &Site, cable: &Cable, position: usize) -> String {
    let colour = site.cables[cable.kind].conductors.get(position).map(|conductor| conductor.colour.value);
    colour.map_or_else(|| format!("no. {}", position + 1), Colour::code)
}

/// A conductor in use with its cable's label: "Z7: RD red".
pub fn labelled(site: &Site, cable: &Cable, used: &ConductorUse) -> String {
    format!("{}: {}", cable.label, conductor(site, cable, used.position))
}

/// A value with its colour bands in words: "2.2 kΩ ±5 % (red red red gold)".
pub fn resistor(value: &Resistance) -> String {
    match value.bands() {
        Some(hues) => format!("{value} ({})", bands::names(&hues)),
        None => value.to_string(),
    }
}

/// A terminator with its colour bands in words.
pub fn terminator(value: Ohms) -> String {
    resistor(&Resistance::new(value))
}

/// The name of an output.
pub fn output(site: &Site, output: OutputRef) -> String {
    let found = site.part_of(output.board).and_then(|part| part.outputs.get(output.output));
    found.map(|output| output.name.value.clone()).unwrap_or_default()
}

/// An output or bus port with its board.
pub fn source(site: &Site, source: Source) -> String {
    match source {
        Source::Output(found) => output(site, found),
        Source::Port(id, port) => {
            let port = site.part_of(id).and_then(|part| part.bus_ports.get(port));
            let name = port.map_or("bus", |port| port.name.value.as_str());
            format!("bus port {name} of {}", board(site, id))
        }
    }
}

/// A battery, or several side by side: "18 Ah", "2 × 7 Ah".
pub fn battery(battery: &Battery) -> String {
    match battery.count {
        0 | 1 => battery.capacity.value.to_string(),
        count => format!("{count} × {}", battery.capacity.value),
    }
}

/// How cold and how hot the cables are taken to get, by where they lie.
pub fn temperatures() -> String {
    let places = [
        ("in the house", ambient::INSIDE),
        ("under the roof", ambient::ATTIC),
        ("outdoors", ambient::OUTDOORS),
        ("in the ground", ambient::UNDERGROUND),
    ];
    let said = |(place, Ambient { cold, hot, .. }): (&str, Ambient)| format!("{} to {hot} {place}", cold.0);
    places.map(said).join(", ").replace('-', "−")
}

/// What takes current: "Motion, hall", "Keypad in the hall", "router".
pub fn consumer(site: &Site, consumer: Consumer) -> String {
    match consumer {
        Consumer::Device(id) => device(site, id),
        Consumer::Board(id) => board(site, id),
        Consumer::Hop(line, hop) => {
            let hop = site.communicators[line].hops.get(hop);
            hop.map(|hop| hop.name.value.clone()).unwrap_or_default()
        }
    }
}

/// What a conductor of a run does: "zone 7 loop, out", "supply + from aux", "bus data A".
pub fn function(site: &Site, run: Id<Run>, function: Function) -> String {
    let bus = match site.runs[run].owner {
        Owner::Bus(bus) if site.buses.len() > 1 => format!("bus {}", site.buses[bus].name.value),
        _ => "bus".to_owned(),
    };
    let zone = |zone| site.zones[zone].number.value;
    match function {
        Function::SupplyPositive(from) => format!("supply + from {}", output(site, from)),
        Function::SupplyNegative(from) => format!("supply − from {}", output(site, from)),
        Function::LoopOut(id) => format!("zone {} loop, out", zone(id)),
        Function::LoopBack(id) => format!("zone {} loop, back", zone(id)),
        Function::BusPlus => format!("{bus} supply +"),
        Function::BusMinus => format!("{bus} supply −"),
        Function::BusA => format!("{bus} data A"),
        Function::BusB => format!("{bus} data B"),
        Function::LineInTip => "line from the street, tip".into(),
        Function::LineInRing => "line from the street, ring".into(),
        Function::LineOutTip => "on to the house phones, tip".into(),
        Function::LineOutRing => "on to the house phones, ring".into(),
    }
}

/// The board at which a run starts; `None` for one that starts where another ends.
pub fn home(site: &Site, run: Id<Run>) -> Option<Id<Board>> {
    match site.runs[run].owner {
        Owner::Zone(zone) => site.zones[zone].wired.as_ref()?.board.as_ref().map(|board| board.value),
        Owner::Bus(bus) => site.buses[bus].board.as_ref().map(|board| board.value),
        Owner::Circuit(circuit) => site.circuits[circuit].feed.as_ref().map(|feed| feed.value.board),
        Owner::Communicator(line) => site.communicators[line].port.map(|(board, _)| board),
    }
}

/// The room in which a cable starts.
pub fn near_room(site: &Site, run: Id<Run>) -> Option<Id<Room>> {
    match site.runs[run].upstream {
        Some(upstream) => site.runs[upstream].room,
        None => home(site, run).and_then(|board| site.boards[board].room),
    }
}

/// The conductor that does something in a run, with its cable.
pub fn conductor_for(wiring: &Wiring, run: Id<Run>, function: Function) -> Option<(&Cable, &ConductorUse)> {
    let cable = wiring.cable_of(run)?;
    cable.conductors.iter().find(|used| used.run == run && used.function == function).map(|used| (cable, used))
}

/// The conductors of a cable that are left free: "YE yellow, BU blue".
pub fn spare(site: &Site, cable: &Cable) -> String {
    cable.spare.iter().map(|position| conductor(site, cable, *position)).collect::<Vec<_>>().join(", ")
}
