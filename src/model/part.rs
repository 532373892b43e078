//! Parts: what a data sheet says.

use std::fmt;

use super::two_wire::{LoopFed, LoopFeed, Setting};
use crate::base::Spanned;
use crate::quantity::{Amperes, Celsius, Decibels, Metres, OfQuantity, Ohms, Quantity, Ratio, Seconds, Volts, Watts};
use crate::terms::{
    BandName, Basis, BoardPart, Connect, ContactForm, Fails, MountingBox, Radio, Senses, SupplyForm, SwitchedSide,
    When, Works,
};

use super::switching::{OwnSupply, Switch};

/// A part.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// The name that others refer to.
    pub name: Spanned<String>,
    /// Name for people; the name where none is given.
    pub title: String,
    /// What it detects.
    pub senses: Option<Senses>,
    /// What it is as a board.
    pub board: Option<BoardPart>,
    /// What it is as a load.
    pub works: Option<Works>,
    /// What it does without current, as a lock.
    pub fails: Option<Fails>,
    /// The temperature at which a heat detector trips.
    pub rating: Option<Spanned<Celsius>>,
    /// Age at which it is replaced, from the day on which it was made.
    pub replace_after: Option<Seconds>,
    /// The box that it is mounted on.
    pub mounting_box: Option<MountingBox>,
    /// Diameter of the hole that it is set into.
    pub hole: Option<Metres>,
    /// What its figures rest on; `None` where that was reported.
    pub basis: Option<Basis>,
    /// Which sheet.
    pub reference: Option<String>,
    /// True where it is defined in the shared parts folder.
    pub(crate) shared: bool,
    /// False where something in it was reported: nothing is concluded from what it lacks.
    pub(crate) whole: bool,
    /// Alarm contacts.
    pub contacts: Vec<ContactData>,
    /// Cover contact.
    pub tamper: Option<ContactData>,
    /// What its sheet says of a two-wire detector.
    pub loop_fed: Option<LoopFed>,
    /// The contact of a board that tells a fault of it.
    pub fault: Option<FaultContact>,
    /// The supply it needs.
    pub supply: Option<SupplyNeed>,
    /// The supply of its own that a dry contact switches.
    pub own_supply: Option<OwnSupply>,
    /// How loud it is, of a sounder.
    pub sound: Option<Sound>,
    /// What it covers, of a motion or glass-break detector.
    pub coverage: Option<Coverage>,
    /// Marks of the terminals in their order on the board; empty where the sheet's order is not given.
    pub terminals: Vec<Spanned<String>>,
    /// The terminals for its transformer.
    pub ac_port: Option<AcPort>,
    /// The terminals for its battery.
    pub battery_port: Option<BatteryPort>,
    /// Mark of the terminal for its earth conductor.
    pub earth: Option<Spanned<String>>,
    /// Terminals of any other purpose, by mark.
    pub others: Vec<OtherTerminal>,
    /// Loop inputs, by number.
    pub inputs: Vec<Input>,
    /// How it reads a loop.
    pub sensing: Option<Sensing>,
    /// Where it says that a second time.
    pub(crate) sensing_again: Option<Spanned<()>>,
    /// The marks of its terminals where the spec writes them, but for those of `terminals`, in the order of the text.
    pub(crate) marks: Vec<MarkWritten>,
    /// How it reads one when an input is set for a wiring, in the order of the text.
    pub settings: Vec<Setting>,
    /// Supplies that it gives, by name.
    pub outputs: Vec<Output>,
    /// Its relays and transistors, by name.
    pub switches: Vec<Switch>,
    /// Bus connections, by name.
    pub bus_ports: Vec<BusPort>,
    /// Telephone line connections, by name.
    pub line_ports: Vec<LinePort>,
    /// What it takes itself.
    pub draw: Option<Draw>,
    /// Its battery charger.
    pub charger: Option<Charger>,
    /// Conductors that one terminal takes; `None` where the sheet does not say.
    pub wires_per_terminal: Option<u32>,
    /// Its wireless side.
    pub radio: Option<RadioData>,
}

impl Part {
    /// True where it has a radio that hears detectors.
    pub(crate) fn hears(&self) -> bool {
        self.radio.as_ref().is_some_and(|radio| radio.role == Radio::Receiver)
    }

    /// True where something of a board is in it: terminals, inputs, outputs, ports, a charger or a radio that hears.
    pub(crate) fn is_a_board(&self) -> bool {
        let device =
            !self.contacts.is_empty() || self.supply.is_some() || self.loop_fed.is_some() || self.sound.is_some();
        let board = !self.inputs.is_empty()
            || !self.outputs.is_empty()
            || !self.switches.is_empty()
            || !self.bus_ports.is_empty()
            || !self.line_ports.is_empty()
            || self.draw.is_some()
            || self.charger.is_some();
        board || self.hears() || !device
    }

    /// True where it may be mounted as that kind of board: by what it says that it is, else by what it has. What it
    /// lacks for that is told by a check.
    pub(crate) fn may_be(&self, board: BoardPart) -> bool {
        if let Some(is) = self.board {
            return is == board;
        }
        let own_supply = self.charger.is_some() || self.ac_port.is_some() || self.battery_port.is_some();
        let offers = !self.inputs.is_empty() || !self.outputs.is_empty() || !self.switches.is_empty();
        match board {
            BoardPart::Panel => {
                // The least volts of a draw are those that a bus brings.
                let fed = !self.bus_ports.is_empty() && self.draw.as_ref().is_some_and(|draw| draw.min.is_some());
                let on_bus_alone = fed && !offers && !own_supply && self.line_ports.is_empty();
                self.is_a_board() && !on_bus_alone
            }
            BoardPart::Keypad | BoardPart::Receiver => !own_supply && self.line_ports.is_empty(),
            BoardPart::PowerSupply | BoardPart::Module => true,
        }
    }
}

/// A terminal's mark where the spec writes it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct MarkWritten {
    /// The node that it is in, by its position in the part's braces.
    pub(crate) of: usize,
    /// The kind of that node: `output`.
    pub(crate) node: &'static str,
    /// The name or number of that node: `aux`.
    pub(crate) name: Option<String>,
    /// Its field: `positive`.
    pub(crate) field: &'static str,
    /// The mark.
    pub(crate) mark: Spanned<String>,
}

/// A contact by its sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct ContactData {
    /// State at rest.
    pub form: ContactForm,
    /// Most resistance when closed.
    pub resistance: Ohms,
    /// Mark at its pair of terminals.
    pub mark: String,
}

/// The contact of a board that tells a fault of it, as of its mains or battery.
#[derive(Clone, Debug, PartialEq)]
pub struct FaultContact {
    /// The contact, in its state without a fault.
    pub contact: ContactData,
    /// Mark of the one terminal.
    pub a: Spanned<String>,
    /// Mark of the other.
    pub b: Spanned<String>,
}

/// What a consumer takes from its supply.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Take {
    /// The same current at any voltage.
    Current(Amperes),
    /// The same power at any voltage, as behind a switching regulator: the current grows as the voltage falls.
    Power(Watts),
}

impl Take {
    /// Its current in ampere at a voltage above zero.
    pub fn at(self, volts: Volts) -> Amperes {
        match self {
            Self::Current(current) => current,
            Self::Power(power) => Amperes(power.0 / volts.0),
        }
    }

    /// With a current more, which behind a switching regulator is a power at some voltage.
    #[must_use]
    pub(crate) fn and(self, more: Amperes, volts: Volts) -> Self {
        match self {
            Self::Current(current) => Self::Current(current + more),
            Self::Power(power) => Self::Power(Watts(power.0 + more.0 * volts.0)),
        }
    }
}

/// As printed: "12 mA", "1.5 W".
impl fmt::Display for Take {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Current(current) => current.fmt(f),
            Self::Power(power) => power.fmt(f),
        }
    }
}

impl OfQuantity for Take {
    fn of(quantity: &Quantity) -> Option<Self> {
        Watts::of(quantity).map(Self::Power).or_else(|| Amperes::of(quantity).map(Self::Current))
    }
}

/// The supply that a part needs.
#[derive(Clone, Debug, PartialEq)]
pub struct SupplyNeed {
    /// Least voltage at which it works.
    pub min: Volts,
    /// Most voltage that it stands.
    pub max: Option<Volts>,
    /// What it takes at rest.
    pub idle: Take,
    /// What it takes in alarm.
    pub alarm: Take,
    /// Whether the supply must be steady, pulsed or a tone.
    pub form: SupplyForm,
    /// The side that is joined to others or to the housing, so that only the other may be switched.
    pub common: Option<SwitchedSide>,
    /// True where it has a coil.
    pub coil: bool,
    /// True where a diode across that coil is built in.
    pub diode: bool,
    /// Mark of the positive terminal.
    pub positive: String,
    /// Mark of the negative terminal.
    pub negative: String,
}

impl SupplyNeed {
    /// The least and the most volts; none where the least is more than the most, which is told of the part.
    pub(crate) fn volts(&self) -> (Option<Volts>, Option<Volts>) {
        if self.max.is_some_and(|max| self.min > max) { (None, None) } else { (Some(self.min), self.max) }
    }
}

/// The terminals for a transformer.
#[derive(Clone, Debug, PartialEq)]
pub struct AcPort {
    /// Mark of the one.
    pub a: Spanned<String>,
    /// Mark of the other.
    pub b: Spanned<String>,
    /// Least alternating voltage there.
    pub min: Option<Volts>,
    /// Most alternating voltage there.
    pub max: Option<Volts>,
}

impl AcPort {
    /// True where no volts lie between the least and the most.
    pub(crate) fn is_reversed(&self) -> bool {
        self.min.zip(self.max).is_some_and(|(min, max)| min > max)
    }
}

/// The terminals for a battery.
#[derive(Clone, Debug, PartialEq)]
pub struct BatteryPort {
    /// Mark of the positive.
    pub positive: Spanned<String>,
    /// Mark of the negative.
    pub negative: Spanned<String>,
    /// When it is connected, where the sheet says so.
    pub connect: Option<Connect>,
}

/// A terminal that is for anything else.
#[derive(Clone, Debug, PartialEq)]
pub struct OtherTerminal {
    /// Its mark.
    pub mark: Spanned<String>,
    /// Its purpose.
    pub purpose: String,
}

/// A loop input.
#[derive(Clone, Debug, PartialEq)]
pub struct Input {
    /// The number printed on the board.
    pub number: Spanned<u32>,
    /// Mark of the sensed terminal.
    pub signal: String,
    /// Mark of the return.
    pub back: String,
    /// Whether it can be set to feed two-wire detectors.
    pub two_wire: bool,
}

/// How a board reads a loop: V = supply × R / (R + pull-up).
#[derive(Clone, Debug, PartialEq)]
pub struct Sensing {
    /// Where it stands in the spec.
    pub(crate) place: Spanned<()>,
    /// The voltage behind the pull-up.
    pub supply: Option<Volts>,
    /// The pull-up.
    pub pull_up: Option<Ohms>,
    /// Its tolerance.
    pub tolerance: Ratio,
    /// Tolerance of the voltage, where the bands do not follow it.
    pub supply_tolerance: Ratio,
    /// The bands, as written.
    pub bands: Vec<Band>,
    /// What it says of two-wire detectors.
    pub feed: Option<LoopFeed>,
}

/// A range of readings with one meaning.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// What the board makes of it.
    pub reads: Spanned<BandName>,
    /// Its edges.
    pub edges: BandEdges,
}

/// The edges of a band; `None` is open-ended.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BandEdges {
    /// In volts at the terminals.
    Volts(Option<Volts>, Option<Volts>),
    /// In ohms of the loop.
    Ohms(Option<Ohms>, Option<Ohms>),
}

/// A supply that a board gives.
#[derive(Clone, Debug, PartialEq)]
pub struct Output {
    /// The name that `supply=` and `output=` refer to.
    pub name: Spanned<String>,
    /// Mark of the positive terminal.
    pub positive: String,
    /// Mark of the negative terminal.
    pub negative: String,
    /// Voltage on mains.
    pub volts: Volts,
    /// By how much that may be off, up and down.
    pub tolerance: Ratio,
    /// Volts lost between the battery and this output, beside those of the charger: its fuse or switch.
    pub drop: Volts,
    /// Least volts on battery, by the sheet.
    pub least: Option<Volts>,
    /// Most current.
    pub limit: Amperes,
    /// Whether the board takes it away to reset detectors.
    pub switched: bool,
    /// When it is on.
    pub when: When,
    /// What it gives while it is on.
    pub form: SupplyForm,
}

impl Output {
    /// The most volts that it gives on mains.
    pub(crate) fn most(&self) -> Volts {
        Volts(self.volts.0 * (1.0 + self.tolerance.0))
    }
}

/// The connection of a data bus.
#[derive(Clone, Debug, PartialEq)]
pub struct BusPort {
    /// The name that `port=` refers to.
    pub(crate) name: Spanned<String>,
    /// Mark of the positive supply.
    pub plus: String,
    /// Mark of the negative supply.
    pub minus: String,
    /// Mark of data conductor A.
    pub a: String,
    /// Mark of data conductor B.
    pub b: String,
    /// Mark for the shield of the bus's cable.
    pub shield: Option<Spanned<String>>,
    /// Whether the sheet wants that shield landed at both ends of the bus.
    pub shield_at_both_ends: bool,
    /// The terminator that is built in.
    pub terminator: Option<Ohms>,
    /// Bias resistor in each leg.
    pub bias: Option<Ohms>,
    /// Voltage behind the bias resistors.
    pub bias_supply: Option<Volts>,
    /// By how much that may be off, up and down.
    pub bias_tolerance: Ratio,
    /// Load in unit loads (1 is 12 kΩ, TIA-485-A); 1 where the sheet does not say.
    pub unit_load: Ratio,
    /// Most current for modules.
    pub limit: Option<Amperes>,
    /// Supply voltage for modules.
    pub volts: Option<Volts>,
    /// First and last address that the board knows; `None` where its sheet does not say.
    pub addresses: Option<(u32, u32)>,
}

/// The connection of a telephone line.
#[derive(Clone, Debug, PartialEq)]
pub struct LinePort {
    /// The name that `port=` refers to.
    pub(crate) name: Spanned<String>,
    /// In from the street, tip.
    pub in_tip: String,
    /// In from the street, ring.
    pub in_ring: String,
    /// On to the house phones, tip.
    pub out_tip: Option<String>,
    /// On to the house phones, ring.
    pub(crate) out_ring: Option<String>,
}

/// What a board takes itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Draw {
    /// At rest.
    pub idle: Take,
    /// In alarm.
    pub alarm: Take,
    /// Least voltage at which it works.
    pub min: Option<Volts>,
    /// Most voltage that it stands.
    pub max: Option<Volts>,
}

impl Draw {
    /// The least and the most volts; none where the least is more than the most, which is told of the part.
    pub(crate) fn volts(&self) -> (Option<Volts>, Option<Volts>) {
        if self.max.zip(self.min).is_some_and(|(max, min)| min > max) { (None, None) } else { (self.min, self.max) }
    }
}

/// A battery charger.
#[derive(Clone, Debug, PartialEq)]
pub struct Charger {
    /// Charging current.
    pub current: Amperes,
    /// Battery voltage at which the board lets go.
    pub cut_off: Option<Volts>,
    /// Volts lost in the board between battery and outputs, in its fuse and switches.
    pub drop: Option<Volts>,
}

/// How loud a sounder is, by its sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sound {
    /// Its level.
    pub level: Decibels,
    /// The distance at which it has that level.
    pub at: Metres,
}

/// What a detector covers, by its sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coverage {
    /// How far.
    pub range: Metres,
    /// How wide, in degrees; 360 is all around.
    pub angle: u32,
}

/// The wireless side of a part.
#[derive(Clone, Debug, PartialEq)]
pub struct RadioData {
    /// Hears or sends.
    pub role: Radio,
    /// Transmitters that a receiver can learn.
    pub capacity: Option<u32>,
    /// How long a transmitter's battery lasts.
    pub battery_life: Option<Seconds>,
}
