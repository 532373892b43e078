//! Rooms, boards, devices, openings, and what a run belongs to.

use super::Medium::{self, Paper, Screen};
use crate::base::Id;
use crate::model::{Board, Communicator, Device, DeviceKind, Mounted, Opening, Owner, Room, Run, Site};
use crate::quantity::{Metres, print};

/// A room's title, with its level's where another room has the same title; empty where it is not known.
pub fn room(site: &Site, room: Option<Id<Room>>) -> String {
    room.map_or_else(String::new, |room| site.room_title(room))
}

/// A title with its room, unless it says the room already.
pub fn in_room(title: &str, room: &str) -> String {
    let told = room.is_empty() || says(&title.to_lowercase(), &room.to_lowercase());
    if told { title.to_owned() } else { format!("{title} ({room})") }
}

/// True where a text has some words as words of their own: "hall motion" says "hall", "challenge" does not.
pub(crate) fn says(text: &str, words: &str) -> bool {
    let ends = |beside: Option<char>| beside.is_none_or(|letter| !letter.is_alphanumeric());
    text.match_indices(words).any(|(at, found)| {
        let before = text.get(..at).and_then(|before| before.chars().next_back());
        ends(before) && ends(text.get(at + found.len()..).and_then(|behind| behind.chars().next()))
    })
}

/// A device on paper for whoever has to find it: with its room.
pub fn placed(site: &Site, device: Id<Device>) -> String {
    in_room(&Paper.device(site, device), &room(site, site.devices[device].room))
}

/// "7.5 ft above the floor"; empty where the spec gives no height.
pub(crate) fn height(site: &Site, mount: Option<Metres>) -> String {
    mount.map(|mount| format!("{} above the floor", print::height(mount, site.lengths))).unwrap_or_default()
}

/// Where a run starts, on paper: the board, else the place where the run before it ends.
pub fn start(site: &Site, run: Id<Run>) -> String {
    let before = || site.runs[run].upstream.map(|before| end(site, before));
    site.board_at_start(run).map(|board| Paper.board(site, board)).or_else(before).unwrap_or_default()
}

/// Where a run ends, on paper: the first board there, else the enclosure in which it is joined, else the room.
pub fn end(site: &Site, run: Id<Run>) -> String {
    let board = site.runs[run].mounted.iter().find_map(Mounted::board).or_else(|| site.ends_in(run));
    let room = || site.runs[run].room.map_or_else(|| END_NOT_FOUND.to_owned(), |room| site.room_title(room));
    board.map_or_else(room, |board| Paper.board(site, board))
}

/// Where a cable ends of which nobody knows it: it is cut, or lost in a wall.
pub(crate) const END_NOT_FOUND: &str = "far end not found";

/// Where a way leaves the house: "to the street".
pub(crate) fn way_out(way: &Communicator) -> &'static str {
    if way.comes_by_line() { "to the street" } else { "out by radio" }
}

impl Medium {
    /// "panel `main`" on the screen; on paper its title, with its name where another board has the same title.
    pub fn board(self, site: &Site, id: Id<Board>) -> String {
        let board = &site.boards[id];
        let (title, name) = (&board.title, &board.name.value);
        match self {
            Screen => format!("{} {}", board.kind.noun(), self.name(name)),
            Paper if site.shares_title(id) => format!("{title} ({name})"),
            Paper => title.clone(),
        }
    }

    /// A device: on the screen by its name where it has one, else by its title.
    pub(crate) fn device(self, site: &Site, device: Id<Device>) -> String {
        match (self, &site.devices[device].name) {
            (Screen, Some(name)) => self.name(&name.value),
            (Screen, None) | (Paper, _) => title(site, device),
        }
    }

    /// A device as a part of a loop: a contact by the opening that it watches, and by its own title as well where several do.
    pub(crate) fn contact(self, site: &Site, id: Id<Device>) -> String {
        let device = &site.devices[id];
        match &device.opening {
            Some(opening) if device.kind == DeviceKind::Contact && (self == Paper || device.name.is_none()) => {
                let (opening, own) = (opening.value, title(site, id));
                let mut others =
                    site.watching(opening).filter(|other| site.devices[*other].kind == DeviceKind::Contact);
                let several = others.any(|other| title(site, other) != own);
                let watched = site.opening_title(opening);
                if several { in_room(&own, &watched) } else { watched }
            }
            _ => self.device(site, id),
        }
    }

    /// "window `north`" on the screen; its title on paper.
    pub(crate) fn opening(self, site: &Site, opening: Id<Opening>) -> String {
        let of = &site.openings[opening];
        match self {
            Screen => format!("{} {}", of.kind.noun(), self.name(&of.name.value)),
            Paper => site.opening_title(opening),
        }
    }

    /// What a run belongs to: "zone 7", "circuit `sounders`".
    pub fn owner(self, site: &Site, owner: Owner) -> String {
        let (noun, name) = match owner {
            Owner::Zone(zone) => return format!("zone {}", site.zones[zone].number.value),
            Owner::Bus(bus) => ("bus", &site.buses[bus].name),
            Owner::Circuit(circuit) => ("circuit", &site.circuits[circuit].name),
            Owner::Spare(spare) => ("spare cable", &site.spares[spare].name),
            Owner::Communicator(line) => ("communicator", &site.communicators[line].name),
            Owner::Transformer(board) => ("transformer of", &site.boards[board].name),
        };
        format!("{noun} {}", self.name(&name.value))
    }
}

/// A device's title; where another device has the same, with the first of room, opening and name that tells it from
/// all of them.
fn title(site: &Site, id: Id<Device>) -> String {
    let title = &site.devices[id].title;
    site.device_mark(id).map_or_else(|| title.clone(), |mark| in_room(title, &mark))
}
