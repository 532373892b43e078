//! Where a run starts.

use crate::base::Id;
use crate::model::{Board, Owner, Room, Run, Site};

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
