//! Boards: whatever has terminals that conductors land on.

use crate::base::{Id, Span, Spanned};
use crate::quantity::colour::Hue;
use crate::quantity::{AmpereHours, Amperes, Celsius, Colour, Metres, Seconds, VoltAmperes, Volts, WireSize};
use crate::terms::{Bank, BoardPart, EmergencyKey, Joining};

use super::device::OutputRef;
use super::part::Part;
use super::place::Room;
use super::plan::Hung;
use super::run::{Bus, Run};

/// A panel, power supply, keypad, module, receiver, strip or joint box.
#[derive(Clone, Debug, PartialEq)]
pub struct Board {
    /// The name that others refer to.
    pub name: Spanned<String>,
    /// Name for people; the name where none is given.
    pub title: String,
    /// The part it is; `None` for a strip and a joint box, and where that was reported.
    pub part: Option<Id<Part>>,
    /// Where the spec names the part.
    pub(crate) part_span: Span,
    /// Where it is.
    pub room: Option<Id<Room>>,
    /// True where it was there before: it is neither bought nor mounted.
    pub existing: bool,
    /// What kind of board.
    pub kind: BoardKind,
    /// Address on the bus.
    pub address: Option<Spanned<u32>>,
    /// Height above the floor.
    pub mount: Option<Metres>,
    /// Where it hangs on the plan, where the spec says so.
    pub hung: Option<Hung>,
    /// Its own standby battery.
    pub battery: Option<Battery>,
    /// Its own mains transformer: with it the board takes no supply from its bus.
    pub transformer: Option<Transformer>,
    /// Its earth conductor.
    pub earth: Option<Earth>,
    /// True where the terminator that its bus port has built in is taken off.
    pub terminator_off: bool,
    /// The emergency keys of a keypad that are in use.
    pub emergency_keys: Vec<KeyInUse>,
    /// The bus it hangs on, and the run that brings it.
    pub bus: Option<(Id<Bus>, Id<Run>)>,
}

/// What kind of board.
#[derive(Clone, Debug, PartialEq)]
pub enum BoardKind {
    /// A control panel.
    Panel,
    /// A power supply that stands alone, on no bus.
    PowerSupply,
    /// A keypad.
    Keypad {
        /// The number by which the panel knows its first input.
        inputs_from: Option<u32>,
    },
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
    /// A box in which cables are joined.
    JointBox {
        /// How; `None` where that was reported.
        joined: Option<Joining>,
    },
}

/// What a kind of board is and can do. Nowhere else is that told from the kind, so that a new kind is decided about here.
impl BoardKind {
    /// The noun in messages and on paper.
    pub(crate) fn noun(&self) -> &'static str {
        match self {
            Self::Panel => "panel",
            Self::PowerSupply => "power supply",
            Self::Keypad { .. } => "keypad",
            Self::Module { .. } => "module",
            Self::Receiver => "receiver",
            Self::Strip { .. } => "strip",
            Self::JointBox { .. } => "joint box",
        }
    }

    /// What its part must be; `None` where it has none.
    pub(crate) fn part(&self) -> Option<BoardPart> {
        match self {
            Self::Panel => Some(BoardPart::Panel),
            Self::PowerSupply => Some(BoardPart::PowerSupply),
            Self::Keypad { .. } => Some(BoardPart::Keypad),
            Self::Module { .. } => Some(BoardPart::Module),
            Self::Receiver => Some(BoardPart::Receiver),
            Self::Strip { .. } | Self::JointBox { .. } => None,
        }
    }

    /// True for a panel: it reports, and its outputs may feed what is on the way to the monitoring service.
    pub(crate) fn is_panel(&self) -> bool {
        matches!(self, Self::Panel)
    }

    /// True for a strip: terminals without a part that multiply an output.
    pub(crate) fn is_strip(&self) -> bool {
        matches!(self, Self::Strip { .. })
    }

    /// True where nothing of its own starts: a strip or a joint box, which have no part.
    pub(crate) fn offers_nothing(&self) -> bool {
        match self {
            Self::Strip { .. } | Self::JointBox { .. } => true,
            Self::Panel | Self::PowerSupply | Self::Keypad { .. } | Self::Module { .. } | Self::Receiver => false,
        }
    }

    /// The output that feeds it, where it is a strip.
    pub(crate) fn feed(&self) -> Option<OutputRef> {
        match self {
            Self::Strip { feed, .. } => *feed,
            Self::Panel
            | Self::PowerSupply
            | Self::Keypad { .. }
            | Self::Module { .. }
            | Self::Receiver
            | Self::JointBox { .. } => None,
        }
    }

    /// How conductors are joined in it, where it is a joint box.
    pub(crate) fn joined(&self) -> Option<Joining> {
        match self {
            Self::JointBox { joined, .. } => *joined,
            Self::Panel
            | Self::PowerSupply
            | Self::Keypad { .. }
            | Self::Module { .. }
            | Self::Receiver
            | Self::Strip { .. } => None,
        }
    }

    /// True where it hangs on a bus, with an address.
    pub(crate) fn hangs_on_bus(&self) -> bool {
        match self {
            Self::Keypad { .. } | Self::Module { .. } | Self::Receiver => true,
            Self::Panel | Self::PowerSupply | Self::Strip { .. } | Self::JointBox { .. } => false,
        }
    }

    /// True where it has a supply of its own always: a panel, and a power supply that stands alone.
    pub(crate) fn is_a_supply(&self) -> bool {
        match self {
            Self::Panel | Self::PowerSupply => true,
            Self::Keypad { .. } | Self::Module { .. } | Self::Receiver | Self::Strip { .. } | Self::JointBox { .. } => {
                false
            }
        }
    }

    /// True for a keypad.
    pub(crate) fn is_keypad(&self) -> bool {
        matches!(self, Self::Keypad { .. })
    }

    /// True where it may take its supply from a transformer of its own instead of from its bus.
    pub(crate) fn takes_transformer(&self) -> bool {
        matches!(self, Self::Module { .. })
    }

    /// The number by which the panel knows its first input, where it is not the board's own.
    pub(crate) fn inputs_from(&self) -> Option<u32> {
        match self {
            Self::Module { inputs_from } | Self::Keypad { inputs_from } => *inputs_from,
            Self::Panel | Self::PowerSupply | Self::Receiver | Self::Strip { .. } | Self::JointBox { .. } => None,
        }
    }
}

impl Board {
    /// True where it takes no supply from a bus: a panel, a power supply, and what has a transformer of its own.
    pub(crate) fn has_own_supply(&self) -> bool {
        self.kind.is_a_supply() || self.transformer.is_some()
    }
}

/// An emergency key of a keypad that is in use.
#[derive(Clone, Debug, PartialEq)]
pub struct KeyInUse {
    /// Which one.
    pub key: Spanned<EmergencyKey>,
    /// The number that its report carries, where the spec gives it.
    pub number: Option<Spanned<u32>>,
}

/// A standby battery.
#[derive(Clone, Debug, PartialEq)]
pub struct Battery {
    /// Rated capacity of one.
    pub capacity: Spanned<AmpereHours>,
    /// How many of these.
    pub count: u32,
    /// Further ones that are not like these.
    pub others: Vec<OtherBattery>,
    /// How they are wired to each other, where there are several and the spec says so.
    pub wired: Option<Spanned<Bank>>,
    /// Rated voltage of one, where the spec gives it.
    pub volts: Option<Volts>,
    /// Rating of the fuse in its leads or on the board.
    pub fuse: Option<Spanned<Amperes>>,
    /// The most current that one may be charged with, by its sheet.
    pub max_charge: Option<Spanned<Amperes>>,
    /// Colour of the lead to its positive.
    pub positive: Option<Spanned<Colour>>,
    /// Colour of the lead to its negative.
    pub negative: Option<Spanned<Colour>>,
    /// The coldest at which its sheet lets it be used.
    pub coldest: Option<Celsius>,
    /// Day it was put in.
    pub installed: Option<jiff::civil::Date>,
    /// True where it was there before: it is not bought.
    pub existing: bool,
    /// Where that day, the number and the volts stand, as far as they are written.
    pub(crate) written: BatteryWritten,
    /// How long it serves, by its sheet.
    pub replace_after: Option<Seconds>,
}

/// Where properties of a battery stand in the spec, for the findings about them.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct BatteryWritten {
    /// The day it was put in.
    pub(crate) installed: Option<Spanned<()>>,
    /// How many there are.
    pub(crate) count: Option<Spanned<()>>,
    /// The volts of one.
    pub(crate) volts: Option<Spanned<()>>,
}

impl Battery {
    /// How many in all.
    pub(crate) fn total(&self) -> u32 {
        self.count.max(1) + u32::try_from(self.others.len()).unwrap_or_default()
    }

    /// The place of a property that is written, else that of the capacity.
    pub(crate) fn place(&self, property: impl Fn(&BatteryWritten) -> &Option<Spanned<()>>) -> Span {
        property(&self.written).as_ref().map_or(self.capacity.span, |written| written.span)
    }

    /// The place of the day on which those of `count=` were put in, or of a further one, by its position.
    pub(crate) fn put_in(&self, other: Option<usize>) -> Span {
        match other {
            Some(nth) => self.others.get(nth).map_or(self.capacity.span, |other| other.capacity.span),
            None => self.place(|written| &written.installed),
        }
    }
}

/// A further battery beside those that are alike.
#[derive(Clone, Debug, PartialEq)]
pub struct OtherBattery {
    /// Rated capacity.
    pub capacity: Spanned<AmpereHours>,
    /// Day it was put in.
    pub installed: Option<jiff::civil::Date>,
    /// True where it was there before: it is not bought.
    pub existing: bool,
}

/// An earth conductor.
#[derive(Clone, Debug, PartialEq)]
pub struct Earth {
    /// Size of the conductor.
    pub size: WireSize,
    /// Where it is to be connected.
    pub to: Spanned<String>,
    /// Its colour, where the spec gives it.
    pub colour: Option<Colour>,
    /// The board's terminal, where the spec gives it.
    pub terminal: Option<Spanned<String>>,
    /// True where it was there before.
    pub existing: bool,
}

impl Earth {
    /// Its colour; green and yellow where the spec gives none.
    pub(crate) fn shown_colour(&self) -> Colour {
        self.colour.unwrap_or(Colour::new(Hue::Green, Some(Hue::Yellow)))
    }
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
    /// Where that stands in the spec.
    pub(crate) switched_written: Option<Spanned<()>>,
    /// True where it was there before: it is neither bought nor mounted.
    pub existing: bool,
    /// The cable to it, where the spec has one.
    pub run: Option<Id<Run>>,
    /// Rating of the fuse in its secondary or on the board.
    pub fuse: Option<Spanned<Amperes>>,
}
