//! Dead cables: in the wall, on paper, and no run of the spec.
//!
//! What is known of one is what the register kept: its label, its type, the room where it ends, its conductors and the
//! terminals that they were on. Where its near end is, it tells by the room that it started in, where that was known, else by
//! those terminals: a board moves to another room, and a dead cable does not.

use crate::base::Id;
use crate::model::{Board, Room, Site};
use crate::quantity::Colour;
use crate::terms::WireUse;

use super::entry::{CableEntry, Landing, Register, State, Wire};
use super::owner::OwnerName;
use super::place::{End, Place};
use super::wiring::Wiring;

/// A cable in the wall that no run is.
#[derive(Clone, Debug, PartialEq)]
pub struct DeadCable {
    /// The text on its two ends.
    pub(crate) label: String,
    /// What it belonged to: "zone 7".
    pub(crate) of: String,
    /// Why it is dead.
    pub(crate) because: String,
    /// True where its conductors are off their terminals: then both ends are capped.
    pub(crate) off: bool,
    /// The name of its type.
    pub(crate) kind: String,
    /// The board at which it starts, where that is known and still there.
    pub(crate) near: Option<Id<Board>>,
    /// The board at which it ends, likewise.
    pub(crate) far: Option<Id<Board>>,
    /// The rooms in which it starts and ends, as they were called when it was in use.
    pub(crate) called: [Option<String>; 2],
    /// The same rooms, where they are still there under that name.
    pub(crate) rooms: [Option<Id<Room>>; 2],
    /// Its conductors that were in use.
    pub(crate) conductors: Vec<DeadConductor>,
}

/// A conductor of a dead cable.
#[derive(Clone, Debug, PartialEq)]
pub struct DeadConductor {
    /// Position in the cable, from 1.
    pub(crate) position: u32,
    /// Its colour.
    pub(crate) colour: Option<Colour>,
    /// What it did.
    pub(crate) did: WireUse,
    /// The terminal that its near end is on still, of a board that is still there.
    pub(crate) near: Option<(Id<Board>, String)>,
    /// The same of its far end.
    pub(crate) far: Option<(Id<Board>, String)>,
}

impl DeadCable {
    /// Whether this is the cable that has a label in another wiring: under its own label, or under that which another cable took
    /// from it and gave back, because it was never pulled (`undone`). No label is forgotten otherwise.
    pub(crate) fn is_again(&self, label: &str, wiring: &Wiring) -> bool {
        self.label == label || !self.off && self.because == replaced(label) && !wiring.given.contains(&self.label)
    }

    /// False where nobody knows where that end is.
    pub(crate) fn is_written_down(&self, end: End) -> bool {
        self.place(end) != Place::Room(None) || self.called(end).is_some()
    }

    /// The conductors that are still on a terminal.
    pub(crate) fn on<'c>(&'c self, board: Id<Board>, mark: &'c str) -> impl Iterator<Item = &'c DeadConductor> {
        let here =
            move |end: &Option<(Id<Board>, String)>| end.as_ref().is_some_and(|(on, at)| *on == board && at == mark);
        self.conductors.iter().filter(move |conductor| here(&conductor.near) || here(&conductor.far))
    }
}

/// Why a cable is dead whose label another one has now.
pub(crate) fn replaced(label: &str) -> String {
    format!("replaced by another cable, which has its label {label}")
}

/// Why a cable of something is dead that no run is any more, while that is still there, and when it is not.
pub(crate) fn unused(of: &OwnerName, is_there: bool) -> String {
    if is_there { format!("no run of {of} is this cable any more") } else { format!("{of} is gone") }
}

/// True for a reason that the program gives, and for none that people write.
pub(crate) fn is_by_the_program(because: &str, of: &OwnerName) -> bool {
    because.starts_with(&replaced("")) || [true, false].iter().any(|is_there| because == unused(of, *is_there))
}

/// The dead cables of a register, by label.
pub(crate) fn of(site: &Site, register: &Register) -> Vec<DeadCable> {
    register.cables.iter().filter_map(|entry| cable(site, entry)).collect()
}

fn cable(site: &Site, entry: &CableEntry) -> Option<DeadCable> {
    let State::Dead { because, off } = &entry.state else { return None };
    let board = |landing: &Landing| site.board_named(&landing.board).map(|(id, _)| id);
    let terminal = |landing: &Option<Landing>| {
        let landing = landing.as_ref().filter(|_| !off)?;
        Some((board(landing)?, landing.mark.clone()))
    };
    let conductor = |wire: &Wire| DeadConductor {
        position: wire.position,
        colour: wire.colour,
        did: wire.does,
        near: terminal(&wire.near),
        far: terminal(&wire.far),
    };
    let called = [entry.from.clone(), entry.room.clone()];
    let rooms = called.each_ref().map(|name| name.as_ref().and_then(|name| site.room_named(name)).map(|(id, _)| id));
    let [from, to] = rooms;
    let stays = |board: &Id<Board>, room: Option<Id<Room>>| room.is_none() || site.boards[*board].room == room;
    let near = first(site, entry.wires.iter().filter_map(|wire| board(wire.near.as_ref()?)));
    let far = first(site, entry.wires.iter().filter_map(|wire| board(wire.far.as_ref()?)));
    Some(DeadCable {
        label: entry.label.clone(),
        of: entry.of.to_string(),
        because: because.clone(),
        off: *off,
        kind: entry.kind.clone(),
        near: near.filter(|board| stays(board, from)),
        far: far.filter(|board| stays(board, to)),
        called,
        rooms,
        conductors: entry.wires.iter().map(conductor).collect(),
    })
}

/// Of the boards that a cable's conductors were on, the one that it led to: not the strip beside it.
fn first(site: &Site, boards: impl Iterator<Item = Id<Board>>) -> Option<Id<Board>> {
    boards.min_by_key(|board| (site.boards[*board].kind.is_strip(), *board))
}
