//! What is left: how much more each board, supply and bus can take before something has to be bought.
//!
//! What is wired and what its sheet gives are held against each other; where a sheet says no limit, there is no line.
//! The cover prints the same lines.

use std::collections::BTreeSet;

use schemars::JsonSchema;
use serde::Serialize;

use super::super::names::Names;
use super::super::number::Number;
use crate::base::Id;
use crate::calc::bus::formulas;
use crate::calc::power::Demand;
use crate::calc::power::standby::{self, Bank, Requirement};
use crate::compiled::Compiled;
use crate::model::terminal::terminals;
use crate::model::{Board, BoardKind, Bus, Role, Site, Source, Zone};
use crate::profiles::bus::MOST_UNIT_LOADS;
use crate::profiles::standby as profile;
use crate::terms::When;

/// What there is of something, and how much of it is in use.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Capacity {
    /// Of what.
    pub(crate) of: Of,
    /// Of which kind.
    pub(crate) what: What,
    /// How much there is, in the unit of its kind.
    pub(crate) has: f64,
    /// How much of it is in use.
    pub(crate) used: f64,
}

/// What may fill up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Of {
    /// A board.
    Board(Id<Board>),
    /// An output or bus port.
    Source(Source),
    /// A bus.
    Bus(Id<Bus>),
    /// The form of the monitoring service.
    Form,
}

/// What it may run out of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum What {
    /// Loop inputs.
    Inputs,
    /// Relays and transistors.
    Switches,
    /// Terminals for loops, supplies, buses and lines.
    Screws,
    /// Ways of a strip.
    Ways,
    /// Wireless detectors that a receiver can learn.
    Detectors,
    /// Addresses that the board at the head of a bus knows.
    Addresses,
    /// Unit loads of a bus (TIA-485-A).
    UnitLoads,
    /// Length of a bus at its rate, in metre.
    Length,
    /// Current of a supply with everything at rest, in ampere.
    RestCurrent,
    /// Current of a supply with everything in alarm, in ampere.
    AlarmCurrent,
    /// Zones.
    Zones,
    /// Characters of the longest description.
    Characters,
    /// Rated capacity of a battery against what the profile asks for, in ampere-hour.
    BatteryCapacity,
}

impl What {
    /// The word in the JSON.
    fn word(self) -> &'static str {
        match self {
            Self::Inputs => "inputs",
            Self::Switches => "relays-and-transistors",
            Self::Screws => "screws",
            Self::Ways => "ways",
            Self::Detectors => "wireless-detectors",
            Self::Addresses => "addresses",
            Self::UnitLoads => "unit-loads",
            Self::Length => "metres",
            Self::RestCurrent => "amperes-at-rest",
            Self::AlarmCurrent => "amperes-in-alarm",
            Self::Zones => "zones",
            Self::Characters => "characters",
            Self::BatteryCapacity => "ampere-hours",
        }
    }
}

/// How much of something there is, and how much is left.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) struct Growth {
    /// "board", "output", "bus-port", "bus" or "form" (that of the monitoring service).
    kind: &'static str,
    /// Name of the board; of an output or port, that of its board; of a bus, its own; of the form, that of the site.
    of: String,
    /// Name of the output or port.
    #[serde(skip_serializing_if = "Option::is_none")]
    supply: Option<String>,
    /// "inputs", "relays-and-transistors" and "screws" of a board, "ways" of a strip, "wireless-detectors", "addresses", "unit-loads", "metres" of a bus,
    /// "amperes-at-rest" or "amperes-in-alarm" of a supply, "ampere-hours" of a battery, "zones" and "characters" of the
    /// longest description on the form.
    what: &'static str,
    /// How much there is, in that unit.
    has: Option<Number>,
    /// How much of it is in use; of a battery, what the profile asks for.
    used: Option<Number>,
    /// How much is left; below zero where more is in use than there is.
    left: Option<Number>,
}

/// The lines of a site in the JSON.
pub(crate) fn growth(names: &Names<'_>, compiled: &Compiled) -> Vec<Growth> {
    let line = |Capacity { of, what, has, used }: Capacity| {
        let (kind, of, supply) = match of {
            Of::Board(board) => ("board", names.board(board).text, None),
            Of::Bus(bus) => ("bus", names.bus(bus).text, None),
            Of::Form => ("form", names.site.name.value.clone(), None),
            Of::Source(source) => {
                let (kind, name) = super::power::source(names, source);
                (kind, names.board(source.board()).text, Some(name))
            }
        };
        let (has, used, left) = (Number::of(has), Number::of(used), Number::of(has - used));
        Growth { kind, of, supply, what: what.word(), has, used, left }
    };
    capacities(compiled).into_iter().map(line).collect()
}

/// Everything of which a limit is known: boards by name, their supplies in the order of their parts, buses by name, the
/// service's form.
pub(crate) fn capacities(compiled: &Compiled) -> Vec<Capacity> {
    let site = &compiled.site;
    let in_use = compiled.wiring.in_use();
    let boards = site.boards.entries().flat_map(|(board, _)| of_board(compiled, &in_use, board));
    let buses = site.buses.entries().flat_map(|(bus, of)| of_bus(compiled, bus, of));
    boards.chain(buses).chain(of_form(site)).collect()
}

/// What the service's form has room for.
fn of_form(site: &Site) -> Vec<Capacity> {
    let Some(form) = &site.monitoring else { return Vec::new() };
    let listed: Vec<&Zone> = site.zones.iter().filter(|zone| zone.reserved.is_none()).collect();
    let longest = listed.iter().map(|zone| zone.description.value.chars().count()).max().unwrap_or_default();
    let line = |what, has: u32, used| Capacity { of: Of::Form, what, has: f64::from(has), used: count(used) };
    let zones = form.zones.as_ref().map(|zones| line(What::Zones, zones.value, listed.len()));
    zones.into_iter().chain([line(What::Characters, form.description_width.value, longest)]).collect()
}

fn of_board(compiled: &Compiled, in_use: &BTreeSet<(Id<Board>, &str)>, board: Id<Board>) -> Vec<Capacity> {
    let Compiled { site, wiring, .. } = compiled;
    let mut found = Vec::new();
    let mut add = |of, what, has, used| found.push(Capacity { of, what, has, used });
    if let BoardKind::Strip { ways, .. } = &site.boards[board].kind {
        let way =
            |role: &Role| if let Role::WayPositive(way) | Role::WayNegative(way) = role { Some(*way) } else { None };
        let landed = terminals(site, board).into_iter().filter(|at| in_use.contains(&(board, at.mark.as_str())));
        let used: BTreeSet<u32> =
            landed.filter_map(|at| at.roles.iter().find_map(way)).filter(|way| *way > 0).collect();
        add(Of::Board(board), What::Ways, f64::from(*ways), count(used.len()));
    }
    // A keypad's or an adapter's few are all taken from the start.
    if site.part_of(board).is_some_and(|part| !part.inputs.is_empty() || !part.outputs.is_empty()) {
        let wired = terminals(site, board).into_iter().filter(|at| at.roles.iter().any(|role| role.is_wired_by_spec()));
        let (used, free): (Vec<_>, Vec<_>) = wired.partition(|at| in_use.contains(&(board, at.mark.as_str())));
        if !used.is_empty() || !free.is_empty() {
            add(Of::Board(board), What::Screws, count(used.len() + free.len()), count(used.len()));
        }
    }
    if let Some(part) = site.part_of(board) {
        if !part.inputs.is_empty() {
            let used = wiring.used_inputs(site, board);
            add(Of::Board(board), What::Inputs, count(part.inputs.len()), count(used.len()));
        }
        if !part.switches.is_empty() {
            let used = site.switches(board).filter(|(of, _)| site.circuits_by(*of).next().is_some()).count();
            add(Of::Board(board), What::Switches, count(part.switches.len()), count(used));
        }
        if let Some(most) = part.radio.as_ref().and_then(|radio| radio.capacity) {
            let heard =
                site.devices.iter().filter(|device| device.receiver.as_ref().is_some_and(|of| of.value == board));
            add(Of::Board(board), What::Detectors, f64::from(most), count(heard.count()));
        }
    }
    for feeding in compiled.power.of_board(board) {
        for (node, limit) in feeding.limits() {
            let source = feeding.tree.outlet_of(node);
            let of = Of::Source(source);
            if !is_off_at_rest(site, source) {
                add(of, What::RestCurrent, limit.0, feeding.current_at(node, Demand::Idle).0);
            }
            add(of, What::AlarmCurrent, limit.0, feeding.current_at(node, Demand::Alarm).0);
        }
    }
    let is_known = site.boards[board].has_own_supply() && standby::is_counted(site, board);
    if let Some(bank) = Bank::of(site, board).filter(|_| is_known) {
        let currents = standby::currents(site, &compiled.power, board);
        let asked = Requirement::from(profile::of_site(site)).asked(currents);
        add(Of::Board(board), What::BatteryCapacity, bank.capacity.0, asked.0);
    }
    found
}

/// True for an output that is on in alarm only.
fn is_off_at_rest(site: &Site, source: Source) -> bool {
    let Source::Output(output) = source else { return false };
    site.output(output).is_some_and(|output| output.when == When::Alarm)
}

fn of_bus(compiled: &Compiled, id: Id<Bus>, bus: &Bus) -> Vec<Capacity> {
    let site = &compiled.site;
    let mut found = Vec::new();
    let mut add = |what, has, used| found.push(Capacity { of: Of::Bus(id), what, has, used });
    let port = bus.board.as_ref().and_then(|board| site.bus_port(id, board.value));
    if let Some((first, last)) = port.and_then(|port| port.addresses) {
        let taken = site.boards_on(id).filter_map(|(_, board)| board.address.as_ref());
        let taken: BTreeSet<u32> = taken.map(|address| address.value).collect();
        let taken = taken.range(first..=last).count();
        add(What::Addresses, f64::from(last) - f64::from(first) + 1.0, count(taken));
    }
    if let Some(figures) = compiled.buses.get(&id).filter(|_| bus.differential) {
        add(What::UnitLoads, MOST_UNIT_LOADS.value, figures.layout.unit_loads());
        if let Some(rate) = &bus.rate {
            add(What::Length, formulas::longest(rate.value).0, figures.layout.length().0);
        }
    }
    found
}

#[allow(clippy::cast_precision_loss)] // a board has no 2^52 inputs
fn count(number: usize) -> f64 {
    number as f64
}
