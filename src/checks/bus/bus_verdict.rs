//! The first thing that is wrong with the data pair of each bus, so that one cause gives one finding.
//!
//! A branched bus has no two ends to terminate, and one without terminators has no bias to judge. The causes are
//! therefore looked for in the order of [`Cause`], and the rule of the first speaks alone. Length, addresses and supply
//! are judged by themselves. Out of scope: words.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::Id;
use crate::calc::bus::{BusFigures, Ends, Layout, terminators};
use crate::checks::Context;
use crate::model::{Board, Bus, BusPort, Site};
use crate::profiles::bus::{MOST_UNIT_LOADS, TERMINATOR_LEAST, TERMINATOR_MOST, THRESHOLD};

/// What is wrong with a bus, the first that applies.
#[derive(Clone, Debug, PartialEq)]
pub enum Cause {
    /// Stubs longer than the limit.
    Branched,
    /// Ends without a terminator, and none elsewhere that could be moved there.
    TerminatorMissing(Ends),
    /// Ends without a terminator, and one elsewhere.
    TerminatorMisplaced(Ends),
    /// Terminators besides those at the two ends.
    TerminatorSurplus(Ends),
    /// Terminators, by position, whose value is far from the cable's.
    TerminatorValue(Vec<usize>),
    /// More unit loads than a driver must drive.
    Overloaded,
    /// No figures of a bias.
    BiasUnknown,
    /// Somewhere less bias than a receiver needs.
    BiasLow,
}

/// The first cause of every bus that has one. In a site with errors none is looked for: what is missing may be written
/// wrong.
pub fn of_site(site: &Site, buses: &BTreeMap<Id<Bus>, BusFigures>) -> BTreeMap<Id<Bus>, Cause> {
    let shared: BTreeSet<Id<Bus>> = shared_ports(site).into_iter().flat_map(|(_, buses)| buses).collect();
    buses
        .iter()
        .filter(|(bus, _)| site.sound && site.complete && !shared.contains(bus))
        .filter_map(|(bus, figures)| Some((*bus, first(site, figures)?)))
        .collect()
}

/// The buses with a cause that is wanted.
pub fn found(context: Context<'_>, wanted: fn(&Cause) -> bool) -> impl Iterator<Item = (&Bus, &BusFigures, &Cause)> {
    let causes = context.bus_causes.iter().filter(move |(_, cause)| wanted(cause));
    causes.filter_map(move |(bus, cause)| Some((&context.site.buses[*bus], context.buses.get(bus)?, cause)))
}

/// The boards whose terminals are crowded by what is wrong with their bus: those where branches leave, and those with a
/// terminator that does not belong there; and those that feed each other. Their terminals are mended with the bus. None where such a finding is
/// accepted, for then the terminals must be spoken of.
pub fn crowded(context: Context<'_>) -> BTreeSet<Id<Board>> {
    const RULES: [&str; 3] = ["bus-branched", "bus-terminator-misplaced", "bus-terminator-surplus"];
    if context.site.accepts.iter().any(|accept| RULES.contains(&accept.rule.value.as_str())) {
        return BTreeSet::new();
    }
    let places = |(bus, cause): (&Id<Bus>, &Cause)| -> Vec<Id<Board>> {
        let Some(layout) = context.buses.get(bus).map(|figures| &figures.layout) else { return Vec::new() };
        let places: Vec<usize> = match cause {
            Cause::Branched => layout.long_stubs().into_iter().map(|stub| stub.junction).collect(),
            Cause::TerminatorMisplaced(ends) | Cause::TerminatorSurplus(ends) => {
                let surplus = ends.surplus.iter().filter_map(|one| layout.terminators.get(*one));
                surplus.map(|terminator| terminator.place).collect()
            }
            _ => Vec::new(),
        };
        places.into_iter().filter_map(|at| layout.places.get(at)).flat_map(|place| place.boards.clone()).collect()
    };
    let in_circles = context.power.circles.iter().flatten().copied();
    context.bus_causes.iter().flat_map(places).chain(in_circles).collect()
}

/// The port of the board that a bus starts at.
pub fn own_port<'s>(site: &'s Site, bus: &Bus) -> Option<&'s BusPort> {
    let part = site.part_of(bus.board.as_ref()?.value).filter(|part| part.whole)?;
    part.bus_ports.get(bus.port?)
}

/// The buses that share a port, with its board, each group once: two that start there, or one that hangs there and one
/// that starts.
pub fn shared_ports(site: &Site) -> Vec<(Id<Board>, Vec<Id<Bus>>)> {
    let mut by_port: BTreeMap<(Id<Board>, usize), Vec<Id<Bus>>> = BTreeMap::new();
    for (id, board) in site.boards.entries() {
        if let Some((bus, _)) = board.bus {
            by_port.entry((id, site.hanging_port(id))).or_default().push(bus);
        }
    }
    for (id, bus) in site.buses.entries() {
        if let (Some(board), Some(port)) = (&bus.board, bus.port) {
            by_port.entry((board.value, port)).or_default().push(id);
        }
    }
    by_port.into_iter().map(|((board, _), buses)| (board, buses)).filter(|(_, buses)| buses.len() > 1).collect()
}

fn first(site: &Site, figures: &BusFigures) -> Option<Cause> {
    let layout = &figures.layout;
    if !layout.long_stubs().is_empty() {
        return Some(Cause::Branched);
    }
    if let Some(cause) = terminators::of(layout).and_then(by_ends) {
        return Some(cause);
    }
    let odd = odd_values(layout);
    if !odd.is_empty() {
        Some(Cause::TerminatorValue(odd))
    } else if layout.unit_loads() > MOST_UNIT_LOADS.value {
        Some(Cause::Overloaded)
    } else {
        by_bias(site, figures)
    }
}

fn by_ends(ends: Ends) -> Option<Cause> {
    match (ends.missing.is_empty(), ends.surplus.is_empty()) {
        (true, true) => None,
        (false, true) => Some(Cause::TerminatorMissing(ends)),
        (false, false) => Some(Cause::TerminatorMisplaced(ends)),
        (true, false) => Some(Cause::TerminatorSurplus(ends)),
    }
}

fn odd_values(layout: &Layout) -> Vec<usize> {
    let fits = TERMINATOR_LEAST.value..=TERMINATOR_MOST.value;
    let odd = layout.terminators.iter().enumerate().filter(|(_, terminator)| !fits.contains(&terminator.ohms.0));
    odd.map(|(position, _)| position).collect()
}

fn by_bias(site: &Site, figures: &BusFigures) -> Option<Cause> {
    let port = own_port(site, &site.buses[figures.layout.bus])?;
    let half_known = port.bias.is_some() != port.bias_supply.is_some();
    match &figures.idle {
        Some(idle) if !half_known => (idle.worst().1 < THRESHOLD.value).then_some(Cause::BiasLow),
        _ => Some(Cause::BiasUnknown),
    }
}
