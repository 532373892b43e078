//! The wiring of a site: cables with their conductors, and what is on every terminal.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::Id;
use crate::model::{Board, CableType, Communicator, Device, HopRef, Input, OutputRef, Owner, Run, Site, Zone};
use crate::quantity::{Colour, Ohms, Resistance};
use crate::terms::WireUse;

use super::dead::DeadCable;

/// Labels and landings of a site.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Wiring {
    /// The cables in canonical order: loops by zone, buses, circuits, ways to the monitoring service.
    pub cables: Vec<Cable>,
    /// The cable that each run goes through, by position.
    pub(crate) cable_of: BTreeMap<Id<Run>, usize>,
    /// What is on each terminal: board and mark → conductors and links, in order of landing.
    pub terminals: BTreeMap<(Id<Board>, String), Vec<OnTerminal>>,
    /// Every label that was ever given.
    pub given: BTreeSet<String>,
    /// Cables in the wall that no run is, by label.
    pub dead: Vec<DeadCable>,
    /// What is fitted across two terminals of a board.
    pub fitted: Vec<Fitted>,
    /// The input of each zone's loop, given or proposed.
    pub(crate) inputs: Inputs,
    /// Cables that lack conductors.
    pub too_few: Vec<TooFew>,
    /// Cable and conductor → place under a strip's screw, for those that are not the first.
    pub(crate) under: BTreeMap<(usize, usize), u32>,
}

/// Inputs of zones' loops.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Inputs {
    /// Given by the spec, landed, or proposed.
    pub(crate) of_zone: BTreeMap<Id<Zone>, u32>,
    /// Those that the spec does not give.
    pub(crate) proposed: BTreeSet<Id<Zone>>,
    /// Zones for which the board had no free input.
    pub(crate) without: Vec<Id<Zone>>,
    /// Inputs that dead cables are still on: board and number → label.
    pub(crate) dead: BTreeMap<(Id<Board>, u32), String>,
}

/// A cable as pulled.
#[derive(Clone, Debug, PartialEq)]
pub struct Cable {
    /// The run that it is.
    pub(crate) run: Id<Run>,
    /// Its type.
    pub kind: Id<CableType>,
    /// The text on both ends.
    pub label: String,
    /// The run itself and its guests.
    pub(crate) carries: Vec<Id<Run>>,
    /// Conductors in use.
    pub conductors: Vec<ConductorUse>,
    /// Positions of conductors that are left free, from 0.
    pub(crate) spare: Vec<usize>,
    /// What becomes of its shield at the near and the far end; `None` where it has none.
    pub(crate) shield: Option<[ShieldEnd; 2]>,
}

/// What becomes of a cable's shield at an end; cut back where it is neither landed nor joined.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct ShieldEnd {
    /// Where it is landed.
    pub(crate) landed: Option<ShieldLanding>,
    /// The cables whose shields it is joined to.
    pub(crate) joined: Vec<Id<Run>>,
}

/// Where a shield is landed.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum ShieldLanding {
    /// On a terminal of a board.
    Terminal(Id<Board>, String),
    /// Where no terminal for it is known.
    Unnamed,
}

/// A conductor in use.
#[derive(Clone, Debug, PartialEq)]
pub struct ConductorUse {
    /// Position in the cable, from 0.
    pub(crate) position: usize,
    /// Its colour, where the cable type gives one.
    pub(crate) colour: Option<Colour>,
    /// The run that it serves.
    pub(crate) run: Id<Run>,
    /// What it does.
    pub function: Function,
    /// What it meets at the near end.
    pub(crate) near: Vec<Point>,
    /// What it meets at the far end.
    pub(crate) far: Vec<Point>,
}

/// What a conductor does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Function {
    /// Positive supply of an output.
    SupplyPositive(OutputRef),
    /// Negative supply of an output.
    SupplyNegative(OutputRef),
    /// A zone's loop, on the sensed side.
    LoopOut(Id<Zone>),
    /// A zone's loop, on the return side.
    LoopBack(Id<Zone>),
    /// Positive supply of a bus.
    BusPlus,
    /// Negative supply of a bus.
    BusMinus,
    /// Data conductor A.
    BusA,
    /// Data conductor B.
    BusB,
    /// Line from the street, tip.
    LineInTip,
    /// Line from the street, ring.
    LineInRing,
    /// On to the house phones, tip.
    LineOutTip,
    /// On to the house phones, ring.
    LineOutRing,
    /// A pin of a network cable, from 1.
    Network(u8),
    /// The core of an antenna cable.
    AntennaCore,
    /// The screen of an antenna cable.
    AntennaScreen,
    /// One side of the transformer.
    AcA,
    /// The other side of the transformer.
    AcB,
    /// The common of a dry contact.
    ContactCommon,
    /// The switched side of a dry contact.
    ContactSwitched,
    /// Kept for later: position among what the run reserves.
    Reserved(usize),
}

impl Function {
    /// What it does, whatever it is of.
    pub(crate) fn wire_use(self) -> WireUse {
        match self {
            Self::SupplyPositive(_) => WireUse::SupplyPositive,
            Self::SupplyNegative(_) => WireUse::SupplyNegative,
            Self::LoopOut(_) => WireUse::LoopOut,
            Self::LoopBack(_) => WireUse::LoopBack,
            Self::BusPlus => WireUse::BusPlus,
            Self::BusMinus => WireUse::BusMinus,
            Self::BusA => WireUse::BusA,
            Self::BusB => WireUse::BusB,
            Self::LineInTip => WireUse::LineInTip,
            Self::LineInRing => WireUse::LineInRing,
            Self::LineOutTip => WireUse::LineOutTip,
            Self::LineOutRing => WireUse::LineOutRing,
            Self::Network(_) => WireUse::Network,
            Self::AntennaCore => WireUse::AntennaCore,
            Self::AntennaScreen => WireUse::AntennaScreen,
            Self::AcA => WireUse::AcA,
            Self::AcB => WireUse::AcB,
            Self::ContactCommon => WireUse::ContactCommon,
            Self::ContactSwitched => WireUse::ContactSwitched,
            Self::Reserved(_) => WireUse::Reserved,
        }
    }

    /// The zone whose loop it is in.
    pub(crate) fn zone(self) -> Option<Id<Zone>> {
        if let Self::LoopOut(zone) | Self::LoopBack(zone) = self { Some(zone) } else { None }
    }

    /// The other side of the same loop; any other function is its own.
    pub(crate) fn other_side(self) -> Self {
        if let Self::LoopOut(zone) = self {
            Self::LoopBack(zone)
        } else if let Self::LoopBack(zone) = self {
            Self::LoopOut(zone)
        } else {
            self
        }
    }

    /// The pin of a network cable.
    pub(crate) fn pin(self) -> Option<u8> {
        if let Self::Network(pin) = self { Some(pin) } else { None }
    }

    /// The output whose supply it carries.
    pub(crate) fn output(self) -> Option<OutputRef> {
        if let Self::SupplyPositive(output) | Self::SupplyNegative(output) = self { Some(output) } else { None }
    }

    /// What a reserved conductor of a run is kept for.
    pub(crate) fn kept_for(self, site: &Site, run: Id<Run>) -> Option<String> {
        let Self::Reserved(nth) = self else { return None };
        site.runs[run].reserved.get(nth).map(|reserve| reserve.name.value.clone())
    }

    /// The name of that output, as the register writes it.
    pub(crate) fn output_name(self, site: &Site) -> Option<String> {
        Some(site.output(self.output()?)?.name.value.clone())
    }
}

/// What a conductor meets at an end.
#[derive(Clone, Debug, PartialEq)]
pub enum Point {
    /// A terminal of a board.
    Terminal(Id<Board>, String),
    /// A device, at the terminals of that mark.
    Device(Id<Device>, String),
    /// A loop's resistor.
    Resistor(Resistance),
    /// A bus terminator.
    Terminator(Ohms),
    /// A cable that goes on from here.
    Cable(Id<Run>),
    /// A joint inside a board's enclosure, with that run's cable.
    Joint(Id<Board>, Id<Run>),
    /// A socket of a board, for a network or an antenna: no screw of it.
    Socket(Id<Board>),
    /// What a cable of a way to the monitoring service ends at, by its position among these cables: the line's jack,
    /// the powered device of that position, the antenna. None of them is a node with terminals.
    WayOut(Id<Communicator>, u32),
    /// The supply of a powered device on a way to the monitoring service.
    Hop(HopRef),
    /// The transformer of a board.
    Transformer(Id<Board>),
}

/// What is on a terminal.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OnTerminal {
    /// A conductor: position of its cable in [`Wiring::cables`], and of the conductor in it.
    Conductor(usize, usize),
    /// A link to another terminal.
    Link(Id<Board>, String),
    /// The shield of a cable: its position in [`Wiring::cables`].
    Shield(usize),
    /// A lead that powers or earths the board and is no cable of the spec.
    Lead(Lead),
}

/// A lead that powers or earths a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Lead {
    /// One side of the transformer.
    AcA,
    /// The other side of the transformer.
    AcB,
    /// To the battery's positive.
    BatteryPositive,
    /// To the battery's negative.
    BatteryNegative,
    /// The earth conductor.
    Earth,
}

/// Something fitted across two terminals of a board.
#[derive(Clone, Debug, PartialEq)]
pub struct Fitted {
    /// The board.
    pub(crate) board: Id<Board>,
    /// The two marks.
    pub(crate) across: (String, String),
    /// What it is.
    pub kind: FittedKind,
}

/// What is fitted across two terminals.
#[derive(Clone, Debug, PartialEq)]
pub enum FittedKind {
    /// The resistor of a loop.
    Resistor {
        /// Its value.
        value: Resistance,
        /// The zone whose loop it is in.
        zone: Id<Zone>,
        /// True where it stands between the first terminal and the cable's conductor instead of across the two.
        in_series: bool,
    },
    /// The terminator of a bus.
    Terminator(Ohms),
}

impl Fitted {
    /// True where it stands between the first terminal and the cable's conductor instead of across the two.
    pub fn in_series(&self) -> bool {
        matches!(self.kind, FittedKind::Resistor { in_series: true, .. })
    }

    /// True where one of its leads is under that terminal beside the conductors. A resistor in series takes the place
    /// of the cable's conductor there and adds none.
    pub(crate) fn has_lead_at(&self, board: Id<Board>, mark: &str) -> bool {
        self.board == board && !self.in_series() && (self.across.0 == mark || self.across.1 == mark)
    }
}

/// A cable that lacks conductors for what it carries.
#[derive(Clone, Debug, PartialEq)]
pub struct TooFew {
    /// Position in [`Wiring::cables`].
    pub(crate) cable: usize,
    /// What it must carry: a function for each conductor, with the run that needs it.
    pub needs: Vec<(Id<Run>, Function)>,
    /// How many it has.
    pub has: usize,
}

impl Wiring {
    /// True for a loop's conductor that is on the free lead of a resistor in series and not under its terminal.
    pub(crate) fn is_behind_resistor(&self, does: Function, board: Id<Board>, mark: &str) -> bool {
        self.in_series_at(board, mark).any(|(zone, _)| does.zone() == Some(zone))
    }

    /// The resistors between a terminal and the cable's conductor, one behind the other, each with the zone of its loop.
    pub(crate) fn in_series_at(&self, board: Id<Board>, mark: &str) -> impl Iterator<Item = (Id<Zone>, Resistance)> {
        self.fitted.iter().filter(move |fitted| fitted.board == board && fitted.across.0 == mark).filter_map(|fitted| {
            match fitted.kind {
                FittedKind::Resistor { value, zone, in_series: true } => Some((zone, value)),
                FittedKind::Resistor { in_series: false, .. } | FittedKind::Terminator(_) => None,
            }
        })
    }

    /// How many conductors, links and leads are under each terminal that has any.
    pub(crate) fn loads(&self) -> BTreeMap<(Id<Board>, &str), usize> {
        let mut loads: BTreeMap<(Id<Board>, &str), usize> =
            self.terminals.iter().map(|((board, mark), here)| ((*board, mark.as_str()), here.len())).collect();
        for fitted in self.fitted.iter().filter(|fitted| !fitted.in_series()) {
            for mark in BTreeSet::from([fitted.across.0.as_str(), fitted.across.1.as_str()]) {
                *loads.entry((fitted.board, mark)).or_default() += 1;
            }
        }
        loads
    }

    /// The terminals that have something under them: a conductor, also of a dead cable, a link or a lead.
    pub(crate) fn in_use(&self) -> BTreeSet<(Id<Board>, &str)> {
        let landed = self.terminals.iter().filter(|(_, here)| !here.is_empty());
        let landed = landed.map(|((board, mark), _)| (*board, mark.as_str()));
        let fitted = self.fitted.iter().flat_map(|fitted| {
            let (one, other) = &fitted.across;
            let other = Some(other).filter(|_| !fitted.in_series());
            std::iter::once(one).chain(other).map(|mark| (fitted.board, mark.as_str()))
        });
        let conductors = self.dead.iter().flat_map(|cable| &cable.conductors);
        let dead = conductors.flat_map(|conductor| conductor.near.iter().chain(&conductor.far));
        landed.chain(fitted).chain(dead.map(|(board, mark)| (*board, mark.as_str()))).collect()
    }

    /// The input that a zone's loop is on, with its board.
    pub(crate) fn input_of<'s>(&self, site: &'s Site, zone: Id<Zone>) -> Option<(Id<Board>, &'s Input)> {
        let board = site.home(Owner::Zone(zone))?;
        Some((board, site.input(board, *self.inputs.of_zone.get(&zone)?)?))
    }

    /// How many inputs of a board no zone is on, and no dead cable.
    pub(crate) fn free_inputs(&self, site: &Site, board: Id<Board>) -> usize {
        let all = site.part_of(board).map_or(0, |part| part.inputs.len());
        all.saturating_sub(self.used_inputs(site, board).len())
    }

    /// The inputs of a board that a zone is on, or a dead cable.
    pub(crate) fn used_inputs(&self, site: &Site, board: Id<Board>) -> BTreeSet<u32> {
        let here = |zone: &Id<Zone>| site.home(Owner::Zone(*zone)) == Some(board);
        let live = self.inputs.of_zone.iter().filter(|(zone, _)| here(zone)).map(|(_, input)| *input);
        let dead = self.inputs.dead.keys().filter(|(at, _)| *at == board).map(|(_, input)| *input);
        live.chain(dead).collect()
    }

    /// The cable that a run goes through: its own, or its host's.
    pub(crate) fn cable_of(&self, run: Id<Run>) -> Option<&Cable> {
        self.cables.get(*self.cable_of.get(&run)?)
    }

    /// The conductor that does something in a run, with its cable.
    pub(crate) fn conductor_for(&self, run: Id<Run>, function: Function) -> Option<(&Cable, &ConductorUse)> {
        let cable = self.cable_of(run)?;
        cable.conductors.iter().find(|used| used.run == run && used.function == function).map(|used| (cable, used))
    }

    /// All conductors that do something in a run between the same two ends, with their cable: several where it has pairs side by
    /// side.
    pub(crate) fn conductors_for(&self, run: Id<Run>, function: Function) -> Option<(&Cable, Vec<&ConductorUse>)> {
        let (cable, first) = self.conductor_for(run, function)?;
        Some((cable, cable.conductors.iter().filter(|used| used.is_beside(first)).collect()))
    }
}

impl ConductorUse {
    /// True for one that does the same between the same two ends, as in a pair side by side with its own, and for itself.
    pub(crate) fn is_beside(&self, other: &Self) -> bool {
        let ends = |used: &Self| (used.run, used.function);
        ends(self) == ends(other) && self.near == other.near && self.far == other.far
    }
}

impl Cable {
    /// How many conductors its type has.
    pub(crate) fn size(&self, site: &Site) -> usize {
        site.cables[self.kind].size()
    }
}
