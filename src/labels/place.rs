//! What the ends of a cable are at.

use crate::base::Id;
use crate::model::{Communicator, Mounted, Owner, Run, Site};
use crate::terms::Path;
use crate::words::{self, Paper};

/// The end of a cable.
#[derive(Debug)]
pub(super) struct Place {
    /// What it is at.
    pub(super) name: String,
    /// The room that it is in; empty where that is not known.
    pub(super) room: String,
    /// False where nobody knows the end.
    pub(super) found: bool,
}

impl Place {
    /// With its room, unless the name says it.
    pub(super) fn in_room(&self) -> String {
        words::in_room(&self.name, &self.room)
    }
}

/// Where a run starts: its board, else what the run before it ends at.
pub(super) fn start(site: &Site, run: Id<Run>) -> Place {
    let room = words::room(site, site.start_room(run));
    let before = || at_end(site, site.runs[run].upstream?);
    let name = site.board_at_start(run).map(|board| Paper.board(site, board)).or_else(before);
    Place { name: name.unwrap_or_else(|| room.clone()), room, found: true }
}

/// Where a run ends.
pub(super) fn end(site: &Site, run: Id<Run>) -> Place {
    let room = words::room(site, site.runs[run].room);
    let at = at_end(site, run);
    let found = at.is_some() || !room.is_empty();
    let otherwise = || if found { room.clone() } else { words::END_NOT_FOUND.to_owned() };
    Place { name: at.unwrap_or_else(otherwise), room, found }
}

/// The first board at the end of a run, else the enclosure in which it is joined, else the opening or the device that it
/// is pulled to.
fn at_end(site: &Site, run: Id<Run>) -> Option<String> {
    let mounted = &site.runs[run].mounted;
    let board = mounted.iter().find_map(Mounted::board).or_else(|| site.ends_in(run));
    let thing = |item: &Mounted| match item {
        Mounted::Device(device) => Some(Paper.contact(site, *device)),
        Mounted::Feed(device) => Some(Paper.contact(site, device.value)),
        Mounted::Run(_) | Mounted::Resistor(_) | Mounted::Board(_) | Mounted::Terminator(_) | Mounted::Hop(_) => None,
    };
    let hop = || site.hop_at_end(run).and_then(|hop| site.hop(hop)).map(|hop| hop.name.value.clone());
    let by_owner = || match site.runs[run].owner {
        Owner::Transformer(_) => Some("transformer".to_owned()),
        Owner::Communicator(way) => on_way(&site.communicators[way]),
        Owner::Zone(_) | Owner::Bus(_) | Owner::Circuit(_) | Owner::Spare(_) => None,
    };
    board
        .map(|board| Paper.board(site, board))
        .or_else(|| mounted.iter().find_map(thing))
        .or_else(hop)
        .or_else(by_owner)
}

/// What a cable of a way to the monitoring service is pulled to that ends at none of its powered devices.
fn on_way(way: &Communicator) -> Option<String> {
    let over = match way.path.as_ref()?.value {
        Path::Internet => "router",
        Path::Radio => "antenna",
        Path::Telephone => "line jack",
    };
    Some(over.to_owned())
}
