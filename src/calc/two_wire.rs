//! A loop that feeds its detectors: the volts at the board's terminals and at each detector.
//!
//! At rest a two-wire detector takes a current, whatever its volts; in alarm it holds its volts, whatever its current.
//! So what is behind a place takes a current that follows the volts there in a straight line, or holds them, and lines
//! add up: the result is exact. Out of scope: what detectors draw while the loop has too few volts for them.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::Id;
use crate::model::{Board, Device, LoopFed, Owner, Run, Sensing, Site, Zone};
use crate::quantity::Amperes;

use super::conductor::LEAKAGE;
use super::contacts::{self, Contact};
use super::fault::Fault;
use super::network::{self, Element, Network, Which};
use super::spread::Spread;
use super::state::{Damage, State};

/// What is behind two terminals.
#[derive(Clone, Copy)]
enum Behind {
    /// It takes slope · volts + current.
    Line { slope: f64, current: f64 },
    /// It holds these volts.
    Held(f64),
}

const NOTHING: Behind = Behind::Line { slope: 0.0, current: 0.0 };

impl Behind {
    fn ohms(ohms: f64) -> Self {
        if ohms <= 0.0 { Self::Held(0.0) } else { Self::Line { slope: 1.0 / ohms, current: 0.0 } }
    }

    /// The same behind a resistance.
    fn after(self, ohms: f64) -> Self {
        match self {
            _ if ohms.is_infinite() => NOTHING,
            _ if ohms <= 0.0 => self,
            Self::Held(volts) => Self::Line { slope: 1.0 / ohms, current: -volts / ohms },
            Self::Line { slope, current } => {
                let share = 1.0 + slope * ohms;
                Self::Line { slope: slope / share, current: current / share }
            }
        }
    }

    /// The volts at it, where those before a resistance are known.
    fn past(self, volts: f64, ohms: f64) -> f64 {
        match self {
            _ if ohms.is_infinite() => 0.0,
            Self::Held(held) => held,
            Self::Line { slope, current } => (volts - current * ohms) / (1.0 + slope * ohms),
        }
    }

    /// The two side by side; of two that hold their volts the lower one wins.
    fn beside(self, other: Self) -> Self {
        match (self, other) {
            (Self::Held(one), Self::Held(other)) => Self::Held(one.min(other)),
            (Self::Held(volts), Self::Line { .. }) | (Self::Line { .. }, Self::Held(volts)) => Self::Held(volts),
            (Self::Line { slope: a, current: b }, Self::Line { slope: c, current: d }) => {
                Self::Line { slope: a + c, current: b + d }
            }
        }
    }

    /// The volts at the terminals of a source behind its own resistance.
    fn volts(self, supply: f64, pull_up: f64) -> f64 {
        let volts = match self {
            Self::Held(volts) => volts,
            Self::Line { slope, current } => (supply / pull_up - current) / (1.0 / pull_up + slope),
        };
        volts.clamp(0.0, supply)
    }
}

/// Which end of every spread is taken.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Corner {
    Least,
    Nominal,
    Greatest,
}

impl Corner {
    fn of(self, spread: Spread) -> f64 {
        match self {
            Self::Least => spread.least,
            Self::Nominal => spread.nominal,
            Self::Greatest => spread.greatest,
        }
    }

    /// The end at which a quantity leaves fewer volts.
    fn against(self, spread: Spread) -> f64 {
        match self {
            Self::Least => spread.greatest,
            Self::Nominal => spread.nominal,
            Self::Greatest => spread.least,
        }
    }
}

/// A loop in one state at one corner.
struct Loop<'s> {
    site: &'s Site,
    moved: &'s BTreeSet<Contact>,
    state: State,
    corner: Corner,
    /// The detectors in alarm that hold their volts.
    holding: &'s BTreeSet<Id<Device>>,
    /// The end of their spreads that all cables are at.
    wires: Corner,
}

/// What is behind each run.
type Known = BTreeMap<Id<Run>, Behind>;

impl Loop<'_> {
    fn behind(&self, network: &Network, known: &mut Known) -> Behind {
        match network {
            Network::Element(Element::Detector(device), _) => self.detector(*device),
            Network::Element(Element::Contact(device, which), spread) => {
                if self.is_closed(*device, *which) {
                    Behind::ohms(self.corner.of(*spread))
                } else {
                    NOTHING
                }
            }
            Network::Element(_, spread) => Behind::ohms(self.corner.of(*spread)),
            Network::Parallel(parts) => parts.iter().map(|part| self.behind(part, known)).fold(NOTHING, Behind::beside),
            Network::Series(parts) => match parts.split_last() {
                Some((last, before)) => {
                    let last = self.behind(last, known);
                    before.iter().rev().fold(last, |behind, part| behind.after(self.in_series(part)))
                }
                None => Behind::Held(0.0),
            },
            Network::Run(run, wire, inner) => match self.state.damage_of(*run) {
                Some(Damage::Cut) => NOTHING,
                Some(Damage::ShortNear) => Behind::Held(0.0),
                Some(Damage::ShortFar) => Behind::ohms(self.wires.of(*wire)),
                None => {
                    let behind = self.behind(inner, known);
                    known.insert(*run, behind);
                    behind.after(self.wires.of(*wire))
                }
            },
            Network::Joined => Behind::Held(0.0),
            Network::Open => NOTHING,
        }
    }

    /// What stands in one conductor, before what is behind it: contacts and resistors only.
    fn in_series(&self, network: &Network) -> f64 {
        let closed = |device, which| self.is_closed(device, which);
        self.corner.of(network.resistance(&self.state, &closed))
    }

    fn is_closed(&self, device: Id<Device>, which: Which) -> bool {
        contacts::is_closed(self.site, (device, which), self.moved)
    }

    fn detector(&self, device: Id<Device>) -> Behind {
        let Some(sheet) = self.site.loop_fed(device) else { return NOTHING };
        if self.state.is_alarm_of(device) {
            return if self.holding.contains(&device) { Behind::Held(self.corner.of(held(sheet))) } else { NOTHING };
        }
        let idle = Spread { least: 0.0, nominal: sheet.idle.0, greatest: sheet.idle.0 };
        Behind::Line { slope: 0.0, current: self.corner.against(idle) }
    }

    /// The whole loop, with the leakage that new cable may have.
    fn whole(&self, network: &Network, known: &mut Known) -> Behind {
        let loop_ = self.behind(network, known);
        if self.corner == Corner::Least { loop_.beside(Behind::ohms(LEAKAGE)) } else { loop_ }
    }

    /// The volts at every detector, where those at the terminals of what is given are known.
    fn at(&self, network: &Network, volts: f64, known: &Known, found: &mut BTreeMap<Id<Device>, f64>) {
        match network {
            Network::Element(Element::Detector(device), _) => {
                found.insert(*device, volts);
            }
            Network::Element(..) | Network::Joined | Network::Open => {}
            Network::Parallel(parts) => parts.iter().for_each(|part| self.at(part, volts, known, found)),
            Network::Series(parts) => {
                let Some((last, before)) = parts.split_last() else { return };
                let ohms = before.iter().map(|part| self.in_series(part)).sum();
                let behind = self.behind(last, &mut Known::new());
                self.at(last, behind.past(volts, ohms), known, found);
            }
            Network::Run(run, wire, inner) => {
                let behind = known.get(run).copied().unwrap_or(NOTHING);
                self.at(inner, behind.past(volts, self.wires.of(*wire)), known, found);
            }
        }
    }
}

/// The volts that a detector holds in alarm, whatever its current.
fn held(sheet: &LoopFed) -> Spread {
    let (least, most) = (sheet.alarm_volts.0.0, sheet.alarm_volts.1.0);
    Spread { least, nominal: f64::midpoint(least, most), greatest: most }
}

/// True where a network has a detector that it feeds.
pub(crate) fn feeds(network: &Network) -> bool {
    network.has(&|part| matches!(part, Network::Element(Element::Detector(_), _)))
}

/// Supply and pull-up of a board; `None` where its sheet does not say.
fn source(sensing: &Sensing) -> Option<(Spread, Spread)> {
    let supply = Spread::tolerance(sensing.supply?.0, sensing.supply_tolerance.0);
    Some((supply, Spread::tolerance(sensing.pull_up?.0, sensing.tolerance.0)))
}

/// The volts at the board's terminals; `None` where its supply or pull-up is not known.
pub(crate) fn at_terminals(
    site: &Site,
    network: &Network,
    devices: &[Id<Device>],
    sensing: &Sensing,
    state: State,
) -> Option<Spread> {
    let (supply, pull_up) = source(sensing)?;
    let at = volts(site, network, devices, state);
    let at = |corner: Corner| at(corner, corner.of(supply), corner.against(pull_up));
    Some(Spread { least: at(Corner::Least), nominal: at(Corner::Nominal), greatest: at(Corner::Greatest) })
}

/// What would explain volts at the terminals of a loop of which everything is at rest, by nominal values: something across the pair
/// that takes what is too much, or ohms in series that keep off what is missing. `None` where the board's figures are not known.
pub(crate) fn fault(site: &Site, network: &Network, sensing: &Sensing, volts: f64) -> Option<Fault> {
    let (supply, pull_up) = source(sensing)?;
    let (moved, none, corner) = (BTreeSet::new(), BTreeSet::new(), Corner::Nominal);
    let this = Loop { site, moved: &moved, state: State::Normal, corner, holding: &none, wires: corner };
    let Behind::Line { slope, current } = this.behind(network, &mut Known::new()) else { return None };
    let flows = (supply.nominal - volts) / pull_up.nominal;
    let more = flows - (slope * volts + current);
    Some(if more > 0.0 {
        Fault::Leakage(volts / more)
    } else if flows > current && slope > 0.0 {
        Fault::InSeries((volts - (flows - current) / slope) / flows)
    } else {
        Fault::Open
    })
}

/// The volts at the terminals of a source, by the corner of the loop, its supply and its pull-up.
fn volts(site: &Site, network: &Network, devices: &[Id<Device>], state: State) -> impl Fn(Corner, f64, f64) -> f64 {
    let moved = contacts::moved(site, network, devices, state);
    move |corner, supply, pull_up| {
        let in_alarm = devices.iter().filter(|device| state.is_alarm_of(**device));
        let mut in_alarm: Vec<(f64, Id<Device>)> =
            in_alarm.filter_map(|device| Some((corner.of(held(site.loop_fed(*device)?)), *device))).collect();
        in_alarm.sort_by(|(one, _), (other, _)| one.total_cmp(other));
        let mut holding = BTreeSet::new();
        let solved = |holding: &BTreeSet<Id<Device>>| {
            let this = Loop { site, moved: &moved, state, corner, holding, wires: corner };
            let (mut known, mut found) = (Known::new(), BTreeMap::new());
            let volts = this.whole(network, &mut known).volts(supply, pull_up);
            this.at(network, volts, &known, &mut found);
            (volts, found)
        };
        // A detector pulls its volts down, never up: where a closed contact, or another detector, has done so, it holds nothing. So
        // those that hold fewest come first, and of them the one that has most to pull down.
        let mut now = solved(&holding);
        for alike in in_alarm.chunk_by(|(one, _), (other, _)| one.total_cmp(other).is_eq()) {
            let most = |at: &BTreeMap<Id<Device>, f64>| {
                let volts = alike.iter().filter_map(|(held, device)| Some((*at.get(device)?, *held, *device)));
                let over = volts.filter(|(volts, held, _)| volts > held);
                over.max_by(|(one, ..), (other, ..)| one.total_cmp(other)).map(|(.., device)| device)
            };
            while most(&now.1).is_some_and(|device| holding.insert(device)) {
                now = solved(&holding);
            }
        }
        now.0
    }
}

/// The volts at every detector at rest, with all cables at one end of their spreads or all at the other; empty where the
/// board's figures are not known.
pub(crate) fn at_detectors(site: &Site, network: &Network, sensing: &Sensing) -> BTreeMap<Id<Device>, Spread> {
    let Some((supply, pull_up)) = source(sensing) else { return BTreeMap::new() };
    let (moved, none) = (BTreeSet::new(), BTreeSet::new());
    let at = |corner: Corner, wires: Corner| {
        let this = Loop { site, moved: &moved, state: State::Normal, corner, holding: &none, wires };
        let (mut known, mut found) = (Known::new(), BTreeMap::new());
        let volts = this.whole(network, &mut known).volts(corner.of(supply), corner.against(pull_up));
        this.at(network, volts, &known, &mut found);
        found
    };
    let [least, greatest] = [Corner::Least, Corner::Greatest]
        .map(|corner| [Corner::Least, Corner::Greatest].map(|wires| at(corner, wires)));
    let of = |volts: &[BTreeMap<Id<Device>, f64>; 2], device: Id<Device>| {
        volts.each_ref().map(|all| all.get(&device).copied().unwrap_or_default())
    };
    let spread = |(device, nominal)| {
        let [[a, b], [c, d]] = [of(&least, device), of(&greatest, device)];
        (device, Spread { least: a.min(b), nominal, greatest: c.max(d) })
    };
    at(Corner::Nominal, Corner::Nominal).into_iter().map(spread).collect()
}

/// The most current that the two-wire loops of a board take: at rest, and with every detector in alarm.
pub(crate) fn currents(site: &Site, board: Id<Board>) -> (Amperes, Amperes) {
    let fed = |zone: &Id<Zone>| site.home(Owner::Zone(*zone)) == Some(board) && site.loop_feed(*zone).is_some();
    let zones = site.zones.entries().map(|(zone, _)| zone).filter(fed);
    zones.fold((Amperes(0.0), Amperes(0.0)), |(idle, alarm), zone| {
        let taken = |state| taken(site, zone, state).unwrap_or_default();
        (idle + taken(State::Normal), alarm + taken(State::AllAlarms))
    })
}

/// The most current that a loop takes in a state.
pub(crate) fn taken(site: &Site, zone: Id<Zone>, state: State) -> Option<Amperes> {
    let sensing = site.sensing_of(zone)?;
    let (supply, pull_up) = source(sensing)?;
    let network = network::of_zone(site, zone)?;
    let devices: Vec<Id<Device>> = network::devices(site, zone).collect();
    // Most flows through the least resistance: of the pull-up as of the loop.
    let (supply, pull_up) = (supply.greatest, pull_up.least);
    let at_board = volts(site, &network, &devices, state)(Corner::Least, supply, pull_up);
    Some(Amperes((supply - at_board).max(0.0) / pull_up))
}
