//! Where an end of a cable is in the house: at a board, or in a room.
//!
//! Every end is in one place, so a sheet that goes through all boards and all rooms meets each once.

use crate::base::Id;
use crate::model::{Board, Mounted, Owner, Room, Run, Site};

use super::dead::DeadCable;
use super::wiring::{Cable, ConductorUse, Function, Point};

/// One of the two ends of a cable.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum End {
    /// Towards the board.
    Near,
    /// Away from it.
    Far,
}

impl End {
    /// The other one of the same cable.
    pub(crate) fn other(self) -> Self {
        match self {
            Self::Near => Self::Far,
            Self::Far => Self::Near,
        }
    }
}

/// A place in the house.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Place {
    /// At a board: under its screws, in a joint or socket of its enclosure.
    Board(Id<Board>),
    /// In a room, at devices and joints; `None` where the room is not known.
    Room(Option<Id<Room>>),
}

impl Point {
    /// The terminal that it is: its board and its mark.
    pub(crate) fn terminal(&self) -> Option<(Id<Board>, &String)> {
        match self {
            Point::Terminal(board, mark) => Some((*board, mark)),
            Point::Device(..)
            | Point::Resistor(_)
            | Point::Terminator(_)
            | Point::Cable(_)
            | Point::Joint(..)
            | Point::Socket(_)
            | Point::WayOut(..)
            | Point::Hop(_)
            | Point::Transformer(_) => None,
        }
    }

    /// The board at whose screws, or in whose enclosure, it is.
    pub(crate) fn board(&self) -> Option<Id<Board>> {
        match self {
            Point::Terminal(board, _) | Point::Joint(board, _) | Point::Socket(board) => Some(*board),
            Point::Device(..)
            | Point::Resistor(_)
            | Point::Terminator(_)
            | Point::Cable(_)
            | Point::WayOut(..)
            | Point::Hop(_)
            | Point::Transformer(_) => None,
        }
    }
}

impl End {
    /// The run at whose far end this end of a run is: the one before it, or itself.
    pub(crate) fn run(self, site: &Site, run: Id<Run>) -> Option<Id<Run>> {
        match self {
            Self::Near => site.runs[run].upstream,
            Self::Far => Some(run),
        }
    }
}

impl ConductorUse {
    /// What it meets at an end.
    pub(crate) fn points(&self, end: End) -> &[Point] {
        match end {
            End::Near => &self.near,
            End::Far => &self.far,
        }
    }

    /// Where an end of it is.
    pub(crate) fn place(&self, site: &Site, cable: &Cable, end: End) -> Place {
        let at_board = self.points(end).iter().find_map(Point::board);
        let lies = || match (end, site.runs[self.run].upstream) {
            (End::Far, _) => board_of(site, self.run),
            (End::Near, Some(upstream)) => board_of(site, upstream),
            // A run that shares the cable of another may start at a board of its own.
            (End::Near, None) => site.home(site.runs[self.run].owner),
        };
        at_board.or_else(lies).map_or_else(|| Place::Room(room(site, cable.run, end)), Place::Board)
    }
}

impl ConductorUse {
    /// The enclosure in which this end is joined under no screw and in no socket, and the run at whose far end that is;
    /// `None` where it is not. At a board on a bus that is what goes on past it: the positive, where the board has a supply
    /// of its own.
    pub(crate) fn joined_in(&self, site: &Site, end: End) -> Option<(Id<Board>, Id<Run>)> {
        let held = |point: &Point| matches!(point, Point::Terminal(..) | Point::Joint(..) | Point::Socket(_));
        let run = end.run(site, self.run)?;
        let points = self.points(end);
        let passes = points.iter().any(|point| matches!(point, Point::Cable(_)));
        let past = board_at(site, run).filter(|_| passes);
        let board = past.or_else(|| site.ends_in(run)).filter(|_| !points.iter().any(held))?;
        Some((board, run))
    }

    /// The board with a supply of its own at which the positive of a bus ends: nothing takes it there. `None` for any other
    /// end.
    pub(crate) fn unused_at(&self, site: &Site, end: End) -> Option<Id<Board>> {
        let Owner::Bus(bus) = site.runs[self.run].owner else { return None };
        let ends = self.function == Function::BusPlus && end == End::Far && self.far.is_empty();
        board_at(site, self.run).filter(|board| ends && site.leaves_bus_supply(bus, *board))
    }
}

impl Cable {
    /// Where an end of its unused conductors is.
    pub(crate) fn place(&self, site: &Site, end: End) -> Place {
        let board = match (end, site.runs[self.run].upstream) {
            (End::Near, None) => site.start_board(self.run),
            (End::Near, Some(upstream)) => board_of(site, upstream),
            (End::Far, _) => board_of(site, self.run),
        };
        board.map_or_else(|| Place::Room(room(site, self.run, end)), Place::Board)
    }
}

impl Place {
    /// The room of a place; that of the board where it is at one.
    pub(crate) fn room(self, site: &Site) -> Option<Id<Room>> {
        match self {
            Self::Board(board) => site.boards[board].room,
            Self::Room(room) => room,
        }
    }
}

impl DeadCable {
    /// Where an end of it lies: at the board that it was landed on, unless that is in another room now, else in its room.
    pub(crate) fn place(&self, end: End) -> Place {
        let [from, to] = self.rooms;
        let (board, room) = match end {
            End::Near => (self.near, from),
            End::Far => (self.far, to),
        };
        board.map_or(Place::Room(room), Place::Board)
    }

    /// The room of an end as it was called, where none has that name any more.
    pub(crate) fn called(&self, end: End) -> Option<&str> {
        let [from, to] = &self.called;
        if end == End::Near { from } else { to }.as_deref()
    }
}

/// The first board that hangs where a run ends.
pub(super) fn board_at(site: &Site, run: Id<Run>) -> Option<Id<Board>> {
    site.runs[run].mounted.iter().find_map(Mounted::board)
}

/// The board in whose enclosure a run ends.
fn board_of(site: &Site, run: Id<Run>) -> Option<Id<Board>> {
    board_at(site, run).or_else(|| site.ends_in(run))
}

fn room(site: &Site, run: Id<Run>, end: End) -> Option<Id<Room>> {
    match end {
        End::Near => site.start_room(run),
        End::Far => site.runs[run].room,
    }
}
