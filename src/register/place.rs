//! Where an end of a cable is in the house: at a board, or in a room.
//!
//! Every end is in one place, so a sheet that goes through all boards and all rooms meets each once.

use crate::base::Id;
use crate::model::{Board, Mounted, Room, Run, Site};

use super::dead::DeadCable;
use super::wiring::{Cable, ConductorUse, Point};

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
        let at_board = self.points(end).iter().find_map(|point| match point {
            Point::Terminal(board, _) | Point::Joint(board, _) | Point::Socket(board) => Some(*board),
            Point::Device(..)
            | Point::Resistor(_)
            | Point::Terminator(_)
            | Point::Cable(_)
            | Point::WayOut(..)
            | Point::Hop(_)
            | Point::Transformer(_) => None,
        });
        let lies = || match end {
            End::Near if site.starts_in(self.run).is_some() => site.starts_in(self.run),
            End::Far => site.ends_in(self.run),
            // A run that shares the cable of another may start at a board of its own.
            End::Near if site.runs[self.run].upstream.is_none() => site.home(site.runs[self.run].owner),
            End::Near => None,
        };
        at_board.or_else(lies).map_or_else(|| Place::Room(room(site, cable.run, end)), Place::Board)
    }
}

impl ConductorUse {
    /// The run at whose far end this end is joined in an enclosure, under no screw and in no socket of it; `None` where it
    /// is not.
    pub(crate) fn joined_at(&self, site: &Site, end: End) -> Option<Id<Run>> {
        let held = |point: &Point| matches!(point, Point::Terminal(..) | Point::Joint(..) | Point::Socket(_));
        let run = match end {
            End::Near => site.runs[self.run].upstream?,
            End::Far => self.run,
        };
        site.ends_in(run).filter(|_| !self.points(end).iter().any(held)).map(|_| run)
    }
}

impl Cable {
    /// Where an end of its unused conductors is.
    pub(crate) fn place(&self, site: &Site, end: End) -> Place {
        let board_at = |run: Id<Run>| site.runs[run].mounted.iter().find_map(Mounted::board);
        let board = match (end, site.runs[self.run].upstream) {
            (End::Near, None) => site.start_board(self.run),
            (End::Near, Some(upstream)) => board_at(upstream).or_else(|| site.ends_in(upstream)),
            (End::Far, _) => board_at(self.run).or_else(|| site.ends_in(self.run)),
        };
        board.map_or_else(|| Place::Room(room(site, self.run, end)), Place::Board)
    }
}

impl DeadCable {
    /// Where an end of it lies: at the board that it was landed on, else in its room. A near end that was at no board is
    /// in a room that nobody has written down.
    pub(crate) fn place(&self, end: End) -> Place {
        let (board, room) = match end {
            End::Near => (self.near, None),
            End::Far => (self.far, self.room),
        };
        board.map_or(Place::Room(room), Place::Board)
    }
}

fn room(site: &Site, run: Id<Run>, end: End) -> Option<Id<Room>> {
    match end {
        End::Near => site.start_room(run),
        End::Far => site.runs[run].room,
    }
}
