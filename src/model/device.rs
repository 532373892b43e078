//! Contacts, detectors, sounders, loads and wireless detectors, each where it is mounted.

use crate::base::{Id, Span, Spanned};
use crate::quantity::{Metres, Resistance};
use crate::terms::{Faces, Nearby};

use super::board::Board;
use super::part::Part;
use super::place::{Opening, Room};
use super::plan::Hung;
use super::run::{Circuit, Run};
use super::zone::Zone;

/// What kind of device.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum DeviceKind {
    /// A contact.
    Contact,
    /// A wired detector.
    Detector,
    /// A sounder.
    Sounder,
    /// A load: what is switched and neither senses nor sounds.
    Load,
    /// A wireless detector.
    Wireless,
    /// The fault contact of a board, in a loop of another.
    Fault,
}

impl DeviceKind {
    /// The noun in messages and on paper.
    pub(crate) fn noun(self) -> &'static str {
        match self {
            Self::Contact => "contact",
            Self::Detector => "detector",
            Self::Sounder => "sounder",
            Self::Load => "load",
            Self::Wireless => "wireless detector",
            Self::Fault => "fault contact",
        }
    }
}

/// An output of a board, by its position among the board's part's outputs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct OutputRef {
    /// The board.
    pub(crate) board: Id<Board>,
    /// Position in [`Part::outputs`].
    pub(crate) output: usize,
}

/// A device where it is mounted.
#[derive(Clone, Debug, PartialEq)]
pub struct Device {
    /// What kind.
    pub(crate) kind: DeviceKind,
    /// A name of its own.
    pub name: Option<Spanned<String>>,
    /// Name for people; the part's title with the opening's or room's where none is given.
    pub title: String,
    /// The part it is, of a fault contact its board's; `None` where that was reported.
    pub part: Option<Id<Part>>,
    /// The board whose fault contact it is; `None` of every other kind.
    pub board: Option<Spanned<Id<Board>>>,
    /// The opening it watches.
    pub opening: Option<Spanned<Id<Opening>>>,
    /// Where it is.
    pub room: Option<Id<Room>>,
    /// Height above the floor.
    pub mount: Option<Metres>,
    /// Where it hangs on the plan, where the spec says so.
    pub hung: Option<Hung>,
    /// The zone it belongs to; `None` for sounders and loads.
    pub zone: Option<Id<Zone>>,
    /// The run at whose far end it is; `None` at the board, and for wireless.
    pub(crate) run: Option<Id<Run>>,
    /// The output that feeds it through its own cable.
    pub supply: Option<Spanned<OutputRef>>,
    /// True where `supply=` was written, even if it could not be resolved.
    pub(crate) supply_written: bool,
    /// Circuits that feed it by name.
    pub(crate) fed_by: Vec<Id<Circuit>>,
    /// The resistor across its contact.
    pub shunt: Option<Spanned<Resistance>>,
    /// Whether a diode is fitted across its coil.
    pub diode: bool,
    /// Whether its cover contact is in the loop.
    pub tamper_in_loop: bool,
    /// True where it is there and cannot be moved or exchanged.
    pub fixed: bool,
    /// True where it was there before.
    pub existing: bool,
    /// That its opening is watched by another zone too is meant.
    pub shares: bool,
    /// The receiver that hears it, for wireless.
    pub receiver: Option<Spanned<Id<Board>>>,
    /// True where `receiver=` was written, even if it could not be resolved.
    pub(crate) receiver_written: bool,
    /// Day its own battery was put in: of what is wireless, and of a siren or lock that has one.
    pub battery: Option<jiff::civil::Date>,
    /// Day on which it was made, of a detector.
    pub made: Option<jiff::civil::Date>,
    /// What it looks at that may mislead it, of a motion detector.
    pub faces: Option<Spanned<Faces>>,
    /// How far it is from what the spec names.
    pub near: Vec<Near>,
    /// The node.
    pub(crate) place: Spanned<()>,
}

/// How far a detector is from something.
#[derive(Clone, Debug, PartialEq)]
pub struct Near {
    /// From what.
    pub what: Spanned<Nearby>,
    /// How far.
    pub distance: Metres,
}

impl Device {
    /// True for one that was there before: it is neither bought nor mounted.
    pub(crate) fn was_there(&self) -> bool {
        self.fixed || self.existing
    }

    /// Day the battery of a siren, lock or other wired device was put in, where it has one of its own.
    pub(crate) fn own_battery(&self) -> Option<jiff::civil::Date> {
        self.battery.filter(|_| self.kind != DeviceKind::Wireless)
    }

    /// Where it stands in the spec.
    pub(crate) fn span(&self) -> Span {
        self.place.span
    }
}
