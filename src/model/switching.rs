//! Outputs that switch: relays and transistors of a board, and the circuits that they switch.
//!
//! Terms: a *relay* has a common and a make or break contact, or both. Its contact is *dry* where the load has a supply of
//! its own; else it stands in the positive of an output. A *transistor* switches one side of a load that an output feeds.
//! Out of scope: relays that hang on a contact of their own; they are loads.

use crate::base::{Id, Span, Spanned};
use crate::quantity::{Amperes, Seconds, Volts};
use crate::terms::{CurrentKind, DrivenBy, SwitchContact, SwitchedSide, ZoneType};

use super::area::Area;
use super::board::Board;
use super::communicator::HopRef;
use super::device::Device;
use super::run::{Circuit, Mounted, Owner, Run};
use super::site::Site;
use super::terminal::Role;

/// The most that a contact or transistor carries; `None` where its sheet does not say.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Rating {
    /// Most voltage.
    pub volts: Option<Volts>,
    /// Most current.
    pub current: Option<Amperes>,
}

/// A relay or transistor of a board.
#[derive(Clone, Debug, PartialEq)]
pub struct Switch {
    /// The name that `switch=` refers to.
    pub name: Spanned<String>,
    /// Which of the two.
    pub kind: SwitchKind,
    /// The most that it switches in direct current.
    pub direct: Rating,
}

/// A relay or a transistor.
#[derive(Clone, Debug, PartialEq)]
pub enum SwitchKind {
    /// A relay.
    Relay {
        /// Mark of the common.
        common: String,
        /// Mark of the make contact.
        make: Option<String>,
        /// Mark of the break contact.
        breaks: Option<String>,
        /// The most that it switches in alternating current.
        alternating: Rating,
    },
    /// A transistor.
    Transistor {
        /// Its mark.
        mark: String,
        /// The side of the load that it switches.
        side: SwitchedSide,
    },
}

impl Switch {
    /// Its terminals in their order, each with the role that it has.
    pub(crate) fn marks(&self, position: usize) -> Vec<(&String, Role)> {
        match &self.kind {
            SwitchKind::Relay { common, make, breaks, .. } => {
                let mut marks = vec![(common, Role::RelayCommon(position))];
                marks.extend(make.iter().map(|mark| (mark, Role::RelayMake(position))));
                marks.extend(breaks.iter().map(|mark| (mark, Role::RelayBreak(position))));
                marks
            }
            SwitchKind::Transistor { mark, .. } => vec![(mark, Role::Transistor(position))],
        }
    }

    /// The noun in messages and on paper.
    pub(crate) fn noun(&self) -> &'static str {
        match self.kind {
            SwitchKind::Relay { .. } => "relay",
            SwitchKind::Transistor { .. } => "transistor",
        }
    }

    /// The terminal that a contact of it is on; `None` where it has none such. A transistor has one for both.
    pub(crate) fn mark(&self, contact: SwitchContact) -> Option<&str> {
        match (&self.kind, contact) {
            (SwitchKind::Relay { make, .. }, SwitchContact::Make) => make.as_deref(),
            (SwitchKind::Relay { breaks, .. }, SwitchContact::Break) => breaks.as_deref(),
            (SwitchKind::Transistor { mark, .. }, _) => Some(mark),
        }
    }

    /// Mark of a relay's common.
    pub(crate) fn common(&self) -> Option<&str> {
        if let SwitchKind::Relay { common, .. } = &self.kind { Some(common) } else { None }
    }

    /// The side of a load that it switches: a relay's contact stands in the positive.
    pub(crate) fn side(&self) -> SwitchedSide {
        match self.kind {
            SwitchKind::Relay { .. } => SwitchedSide::Plus,
            SwitchKind::Transistor { side, .. } => side,
        }
    }

    /// The most that it switches of a kind of current; a transistor switches no alternating current.
    pub(crate) fn rating(&self, kind: CurrentKind) -> Rating {
        match (kind, &self.kind) {
            (CurrentKind::Direct, _) => self.direct,
            (CurrentKind::Alternating, SwitchKind::Relay { alternating, .. }) => *alternating,
            (CurrentKind::Alternating, SwitchKind::Transistor { .. }) => Rating::default(),
        }
    }
}

/// The supply of its own that a load has and a dry contact switches.
#[derive(Clone, Debug, PartialEq)]
pub struct OwnSupply {
    /// Where it stands in the spec.
    pub(crate) place: Spanned<()>,
    /// Its voltage, across the open contact.
    pub volts: Volts,
    /// The current through the closed contact.
    pub current: Amperes,
    /// Kind of current.
    pub kind: CurrentKind,
    /// Mark at its pair of terminals.
    pub mark: String,
    /// True where the contact switches a coil.
    pub coil: bool,
    /// True where a diode across that coil is built in.
    pub diode: bool,
}

/// A relay or transistor of a board, by its position among the part's.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct SwitchRef {
    /// The board.
    pub(crate) board: Id<Board>,
    /// Position in [`super::Part::switches`].
    pub(crate) switch: usize,
}

/// How a circuit is switched.
#[derive(Clone, Debug, PartialEq)]
pub struct Switching {
    /// By what; `None` where that was reported.
    pub switch: Option<Spanned<SwitchRef>>,
    /// By which contact of a relay.
    pub contact: SwitchContact,
    /// True where nothing of ours feeds the circuit: its load has a supply of its own.
    pub dry: bool,
    /// What drives the relay or transistor, in the order of the text.
    pub drives: Vec<Drive>,
}

/// What takes its current from a circuit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Fed {
    /// A sounder or load that is mounted on it, or a detector that it feeds by name.
    Device(Id<Device>),
    /// A powered device on a way to the monitoring service.
    Hop(HopRef),
}

/// What drives a relay or transistor.
#[derive(Clone, Debug, PartialEq)]
pub struct Drive {
    /// The event.
    pub by: Spanned<DrivenBy>,
    /// Of an alarm, the only type of zone that counts.
    pub kind: Option<ZoneType>,
    /// The only area that counts.
    pub area: Option<Id<Area>>,
    /// How long it then stays driven, where it does not follow the event.
    pub lasts: Option<Seconds>,
}

/// The most that a supply may be away for a reset; ours.
const SOON: Seconds = Seconds(60.0);
/// The most that a load may be on without counting at rest: about a hundredth of a day; ours.
const BRIEF: Seconds = Seconds(15.0 * 60.0);

impl Drive {
    /// True where it may stay driven for long without an alarm: by what lasts, or for a time that is long.
    pub(crate) fn stays(&self) -> bool {
        self.lasts.map_or(self.by.value.lasts(), |lasts| lasts > BRIEF && self.by.value != DrivenBy::Alarm)
    }

    /// True where the relay or transistor is driven for a minute or so at most.
    pub(crate) fn passes_soon(&self) -> bool {
        self.lasts.map_or(self.by.value.passes_soon(), |lasts| lasts <= SOON)
    }

    /// True where a break contact that it opens takes a supply away that must stay. In an alarm what hangs on it is needed, however
    /// soon it is back: a detector would be reset by the alarm that it gave.
    pub(crate) fn takes_away(&self) -> bool {
        self.by.value == DrivenBy::Alarm || !self.passes_soon()
    }
}

impl Circuit {
    /// The board that it starts at; `None` where that was reported.
    pub(crate) fn board(&self) -> Option<Id<Board>> {
        let switch = self.switching.as_ref().and_then(|switching| switching.switch.as_ref());
        self.feed.as_ref().map(|feed| feed.value.board).or(switch.map(|switch| switch.value.board))
    }

    /// What opens its break contact in an alarm, if anything does.
    pub(crate) fn opened_by_alarm(&self) -> Option<&Drive> {
        let switching = self.switching.as_ref().filter(|switching| switching.contact == SwitchContact::Break)?;
        switching.drives.iter().find(|drive| drive.by.value == DrivenBy::Alarm)
    }

    /// What turns on what hangs on it for as long as an area is armed, or is not, if anything does.
    pub(crate) fn on_by_arming(&self) -> Option<&Drive> {
        let switching = self.switching.as_ref().filter(|switching| switching.contact == SwitchContact::Make)?;
        let by_arming = |by: DrivenBy| matches!(by, DrivenBy::Armed | DrivenBy::Disarmed);
        switching.drives.iter().find(|drive| by_arming(drive.by.value) && !drive.passes_soon())
    }

    /// True where something that may last turns on what hangs on it.
    pub(crate) fn turns_on_for_long(&self) -> bool {
        self.switching.as_ref().is_some_and(|switching| {
            switching.contact == SwitchContact::Make && switching.drives.iter().any(Drive::stays)
        })
    }

    /// True where what switches it takes its supply away for long: a make contact or a transistor whenever nothing drives
    /// it, a break contact while something drives it that does not soon pass.
    pub(crate) fn is_off_for_long(&self) -> bool {
        self.switching.as_ref().is_some_and(|switching| match switching.contact {
            SwitchContact::Make => !switching.drives.is_empty(),
            SwitchContact::Break => switching.drives.iter().any(Drive::takes_away),
        })
    }
}

impl Site {
    /// A relay or transistor, where its board's part is known.
    pub(crate) fn switch(&self, of: SwitchRef) -> Option<&Switch> {
        self.part_of(of.board)?.switches.get(of.switch)
    }

    /// The relays and transistors of a board, in the order of its part.
    pub(crate) fn switches(&self, board: Id<Board>) -> impl Iterator<Item = (SwitchRef, &Switch)> {
        let switches = self.part_of(board).into_iter().flat_map(|part| part.switches.iter().enumerate());
        switches.map(move |(switch, found)| (SwitchRef { board, switch }, found))
    }

    /// What switches a circuit, where it is known.
    pub(crate) fn switched_by<'s>(&'s self, circuit: &'s Circuit) -> Option<(SwitchRef, &'s Switch, &'s Switching)> {
        let switching = circuit.switching.as_ref()?;
        let of = switching.switch.as_ref()?.value;
        Some((of, self.switch(of)?, switching))
    }

    /// The circuit that a run belongs to.
    pub(crate) fn circuit_of(&self, run: Id<Run>) -> Option<&Circuit> {
        if let Owner::Circuit(circuit) = self.runs[run].owner { Some(&self.circuits[circuit]) } else { None }
    }

    /// The circuits that a relay or transistor switches, by name.
    pub(crate) fn circuits_by(&self, switch: SwitchRef) -> impl Iterator<Item = (Id<Circuit>, &Circuit)> {
        let by = move |circuit: &Circuit| self.switched_by(circuit).is_some_and(|(of, ..)| of == switch);
        self.circuits.entries().filter(move |(_, circuit)| by(circuit))
    }

    /// All that takes its current from a circuit, with the place where the circuit says so, in the order of the text.
    pub(crate) fn consumers_on(&self, circuit: Id<Circuit>) -> impl Iterator<Item = (Fed, Span)> {
        self.all_mounted(Owner::Circuit(circuit)).filter_map(|(_, item)| match item {
            Mounted::Device(id) => Some((Fed::Device(*id), self.devices[*id].span())),
            Mounted::Feed(fed) => Some((Fed::Device(fed.value), fed.span)),
            Mounted::Hop(fed) => Some((Fed::Hop(fed.value), fed.span)),
            Mounted::Run(_) | Mounted::Resistor(_) | Mounted::Board(_) | Mounted::Terminator(_) => None,
        })
    }

    /// The sounders and loads that a circuit's cables end at, in the order of the text.
    pub(crate) fn devices_on(&self, circuit: Id<Circuit>) -> impl Iterator<Item = (Id<Device>, &Device)> {
        let mounted = self.all_mounted(Owner::Circuit(circuit)).filter_map(|(_, item)| item.device());
        mounted.map(|device| (device, &self.devices[device]))
    }
}
