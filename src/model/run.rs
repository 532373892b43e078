//! Runs of cable, and the buses and circuits made of them.

use crate::base::{Id, Span, Spanned};
use crate::quantity::{BitsPerSecond, Metres, Ohms, Resistance};
use crate::terms::{Joining, Passage, ShieldEnds};

use super::board::Board;
use super::cable::CableType;
use super::communicator::{Communicator, HopRef};
use super::device::{Device, OutputRef};
use super::place::Room;
use super::plan::Point;
use super::switching::Switching;
use super::zone::Zone;

/// What a run belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Owner {
    /// A zone's loop.
    Zone(Id<Zone>),
    /// A bus.
    Bus(Id<Bus>),
    /// A powered circuit.
    Circuit(Id<Circuit>),
    /// A cable pulled for later.
    Spare(Id<Spare>),
    /// A way to the monitoring service.
    Communicator(Id<Communicator>),
    /// The transformer of a board.
    Transformer(Id<Board>),
}

/// What stands in a chain or at the far end of a run, in order.
#[derive(Clone, Debug, PartialEq)]
pub enum Mounted {
    /// A cable on from here: the next of the chain at the top, a branch inside a run.
    Run(Id<Run>),
    /// A contact, detector or sounder.
    Device(Id<Device>),
    /// A loop's resistor.
    Resistor(Spanned<Resistance>),
    /// A board on a bus.
    Board(Id<Board>),
    /// A bus terminator.
    Terminator(Spanned<Ohms>),
    /// A detector that a circuit feeds here.
    Feed(Spanned<Id<Device>>),
    /// A powered device on a way to the monitoring service that a circuit feeds here.
    Hop(Spanned<HopRef>),
}

impl Mounted {
    /// The cable on from here.
    pub(crate) fn run(&self) -> Option<Id<Run>> {
        if let Self::Run(run) = self { Some(*run) } else { None }
    }

    /// The contact, detector or sounder.
    pub(crate) fn device(&self) -> Option<Id<Device>> {
        if let Self::Device(device) = self { Some(*device) } else { None }
    }

    /// The loop's resistor.
    pub(crate) fn resistor(&self) -> Option<&Spanned<Resistance>> {
        if let Self::Resistor(value) = self { Some(value) } else { None }
    }

    /// The board on a bus.
    pub(crate) fn board(&self) -> Option<Id<Board>> {
        if let Self::Board(board) = self { Some(*board) } else { None }
    }

    /// The bus terminator.
    pub(crate) fn terminator(&self) -> Option<&Spanned<Ohms>> {
        if let Self::Terminator(value) = self { Some(value) } else { None }
    }

    /// The detector that a circuit feeds here.
    pub(crate) fn feed(&self) -> Option<&Spanned<Id<Device>>> {
        if let Self::Feed(device) = self { Some(device) } else { None }
    }

    /// The device that stands there, or that is fed there.
    pub(crate) fn device_or_fed(&self) -> Option<Id<Device>> {
        self.device().or(self.feed().map(|of| of.value))
    }
}

/// A cable from one place to the next.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// What it belongs to.
    pub owner: Owner,
    /// The run at whose far end it starts; `None` at the board.
    pub upstream: Option<Id<Run>>,
    /// The runs that start at its far end, in order.
    pub(crate) after: Vec<Id<Run>>,
    /// True for a run inside a run.
    pub branch: bool,
    /// Position among the runs of its owner, from 1, in the order of the text.
    pub order: u32,
    /// Its name, for `along=`.
    pub name: Option<Spanned<String>>,
    /// Type of cable; `None` where that was reported.
    pub cable: Option<Spanned<Id<CableType>>>,
    /// Length, slack included; `None` where that was reported.
    pub length: Option<Spanned<Metres>>,
    /// Where it ends; `None` where that was reported.
    pub room: Option<Id<Room>>,
    /// The joint box or the board in whose enclosure it ends, where the spec says so.
    pub into: Option<Spanned<Id<Board>>>,
    /// How its conductors are joined there, where that is not said of the joint box.
    pub joined: Option<Joining>,
    /// The label that the spec gives it.
    pub label: Option<Spanned<String>>,
    /// True where its cable was in the wall before.
    pub existing: bool,
    /// The run whose cable it shares.
    pub along: Option<Spanned<Id<Run>>>,
    /// True where `along=` was written, even if it could not be resolved.
    pub(crate) along_written: bool,
    /// Conductor pairs side by side for each supply that it carries; at least 1.
    pub pairs: u32,
    /// Where its shield is landed, where the spec says so.
    pub shield: Option<Spanned<ShieldEnds>>,
    /// The hardest thing it passes.
    pub passes: Option<Spanned<Passage>>,
    /// The way it takes, for the person who pulls it.
    pub route: Option<String>,
    /// That way as points on the plan of the level on which it ends; empty where the spec gives none.
    pub way: Vec<Point>,
    /// Conductors that are kept for later.
    pub reserved: Vec<Reserve>,
    /// What is at its far end, in order.
    pub mounted: Vec<Mounted>,
    /// The node's name in the spec.
    pub(crate) place: Spanned<()>,
}

/// Conductors of a run that are kept for later.
#[derive(Clone, Debug, PartialEq)]
pub struct Reserve {
    /// What for.
    pub name: Spanned<String>,
    /// How many.
    pub conductors: u32,
}

impl Run {
    /// Where it stands in the spec.
    pub(crate) fn span(&self) -> Span {
        self.place.span
    }
}

/// A data bus.
#[derive(Clone, Debug, PartialEq)]
pub struct Bus {
    /// The name that others refer to.
    pub name: Spanned<String>,
    /// The board it starts at; `None` where that was reported.
    pub board: Option<Spanned<Id<Board>>>,
    /// Position among the bus ports of that board's part; `None` where that was reported.
    pub port: Option<usize>,
    /// Signalling rate.
    pub rate: Option<Spanned<BitsPerSecond>>,
    /// True where the terminator that the board's port has built in is taken off.
    pub terminator_off: bool,
    /// False where it is no bus as by TIA-485-A: no terminator belongs on it, and no figure of that standard holds.
    pub differential: bool,
    /// The chain, from the board on; what is not a run is at the board.
    pub chain: Vec<Mounted>,
}

/// A powered circuit.
#[derive(Clone, Debug, PartialEq)]
pub struct Circuit {
    /// The name that others refer to.
    pub name: Spanned<String>,
    /// Name for people; the name where none is given.
    pub title: String,
    /// What feeds it; `None` where that was reported, and where a dry contact switches what has a supply of its own.
    pub feed: Option<Spanned<OutputRef>>,
    /// How a relay or transistor switches it.
    pub switching: Option<Switching>,
    /// The chain, from the board on.
    pub chain: Vec<Mounted>,
}

/// A cable that was pulled for later: nothing is connected to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Spare {
    /// The name that others refer to.
    pub name: Spanned<String>,
    /// What it is kept for; the name where none is given.
    pub title: String,
    /// The board in whose enclosure it starts; `None` where that was reported.
    pub board: Option<Spanned<Id<Board>>>,
    /// The chain, from the board on.
    pub chain: Vec<Mounted>,
}
