//! Boards: whatever has terminals that conductors land on.

use crate::base::{Id, Span, Spanned};
use crate::quantity::{AmpereHours, Metres, VoltAmperes, Volts};

use super::device::OutputRef;
use super::part::Part;
use super::place::Room;
use super::run::{Bus, Run};

/// A panel, keypad, module, receiver or strip.
#[derive(Clone, Debug, PartialEq)]
pub struct Board {
    /// The name that others refer to.
    pub name: Spanned<String>,
    /// Name for people; the name where none is given.
    pub title: String,
    /// The part it is; `None` for a strip, and where that was reported.
    pub part: Option<Id<Part>>,
    /// Where the spec names the part.
    pub part_span: Span,
    /// Where it is.
    pub room: Option<Id<Room>>,
    /// What kind of board.
    pub kind: BoardKind,
    /// Address on the bus.
    pub address: Option<Spanned<u32>>,
    /// Height above the floor.
    pub mount: Option<Metres>,
    /// Its own standby battery.
    pub battery: Option<Battery>,
    /// Its own mains transformer: with it the board takes no supply from its bus.
    pub transformer: Option<Transformer>,
    /// The bus it hangs on, and the run that brings it (`None`: at the bus's own board).
    pub bus: Option<(Id<Bus>, Option<Id<Run>>)>,
}

/// What kind of board.
#[derive(Clone, Debug, PartialEq)]
pub enum BoardKind {
    /// A control panel.
    Panel,
    /// A keypad.
    Keypad,
    /// An expander or another module.
    Module {
        /// The number by which the panel knows its first input.
        inputs_from: Option<u32>,
    },
    /// A wireless receiver.
    Receiver,
    /// A terminal strip.
    Strip {
        /// What feeds it; `None` where that was reported.
        feed: Option<OutputRef>,
        /// Pairs of terminals.
        ways: u32,
        /// Conductors that one terminal takes.
        wires: u32,
    },
}

impl BoardKind {
    /// The noun in messages and on paper.
    pub fn noun(&self) -> &'static str {
        match self {
            Self::Panel => "panel",
            Self::Keypad => "keypad",
            Self::Module { .. } => "module",
            Self::Receiver => "receiver",
            Self::Strip { .. } => "strip",
        }
    }
}

/// A standby battery.
#[derive(Clone, Debug, PartialEq)]
pub struct Battery {
    /// Rated capacity of one.
    pub capacity: Spanned<AmpereHours>,
    /// Batteries in parallel.
    pub count: u32,
    /// Day it was put in.
    pub installed: Option<jiff::civil::Date>,
}

/// A mains transformer.
#[derive(Clone, Debug, PartialEq)]
pub struct Transformer {
    /// Secondary voltage.
    pub volts: Spanned<Volts>,
    /// Apparent power.
    pub rating: Spanned<VoltAmperes>,
    /// Which outlet it is on.
    pub outlet: Option<String>,
    /// Whether that outlet can be switched off.
    pub switched: bool,
}
