//! What is wrong with the data pair of each bus: every cause that is true and cannot be read off another.
//!
//! A branched bus has no two ends to terminate, so its terminators are judged only where the branches are accepted, or
//! where it has none at all. A bias that is low is told of unless it is enough once everything is remedied that is reported and not accepted: the
//! terminators that are too many or too small, and the boards that are too many. A bus that is not differential has no
//! terminators, and nothing else is judged of its pair. Length, addresses and supply are
//! judged by themselves. Out of scope: words.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::Id;
use crate::calc::bus::{BusFigures, Ends, Idle, Layout, Terminator, idle, terminators};
use crate::checks::{Context, accept};
use crate::model::{Board, Bus, BusPort, Site};
use crate::profiles::bus::{MOST_UNIT_LOADS, TERMINATOR, TERMINATOR_LEAST, TERMINATOR_MOST, THRESHOLD};
use crate::quantity::Ohms;

/// What is wrong with a bus.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Cause {
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
    /// Somewhere less bias than a receiver needs, and nothing else that is reported explains it.
    BiasLow,
}

impl Cause {
    /// The rule that reports it.
    fn rule(&self) -> &'static str {
        match self {
            Self::Branched => "bus-branched",
            Self::TerminatorMissing(_) => "bus-terminator-missing",
            Self::TerminatorMisplaced(_) => "bus-terminator-misplaced",
            Self::TerminatorSurplus(_) => "bus-terminator-surplus",
            Self::TerminatorValue(_) => "bus-terminator-value",
            Self::Overloaded => "bus-overloaded",
            Self::BiasUnknown => "bus-bias-unknown",
            Self::BiasLow => "bus-bias-low",
        }
    }

    /// True where the spec accepts what is reported of it.
    pub(crate) fn is_accepted(&self, site: &Site, bus: Id<Bus>) -> bool {
        accept::is_accepted(site, self.rule(), &site.buses[bus].name.value)
    }
}

/// The causes of every bus that has some. In a site with errors none is looked for: what is missing may be written wrong.
pub(crate) fn of_site(site: &Site, buses: &BTreeMap<Id<Bus>, BusFigures>) -> BTreeMap<Id<Bus>, Vec<Cause>> {
    let shared: BTreeSet<Id<Bus>> = shared_ports(site).into_iter().flat_map(|(_, buses)| buses).collect();
    buses
        .iter()
        .filter(|(bus, _)| site.sound && site.complete && !shared.contains(bus))
        .map(|(bus, figures)| (*bus, causes(site, figures)))
        .filter(|(_, causes)| !causes.is_empty())
        .collect()
}

/// The buses with a cause that is wanted.
pub(crate) fn found(
    context: Context<'_>,
    wanted: fn(&Cause) -> bool,
) -> impl Iterator<Item = (&Bus, &BusFigures, &Cause)> {
    let causes = each(context).filter(move |(_, cause)| wanted(cause));
    causes.filter_map(move |(bus, cause)| Some((&context.site.buses[bus], context.buses.get(&bus)?, cause)))
}

fn each(context: Context<'_>) -> impl Iterator<Item = (Id<Bus>, &Cause)> {
    context.bus_causes.iter().flat_map(|(bus, causes)| causes.iter().map(move |cause| (*bus, cause)))
}

/// The port of the board that a bus starts at.
pub(crate) fn own_port<'s>(site: &'s Site, bus: &Bus) -> Option<&'s BusPort> {
    let part = site.part_of(bus.board.as_ref()?.value).filter(|part| part.whole)?;
    part.bus_ports.get(bus.port?)
}

/// The buses that share a port, with its board, each group once: two that start there, or one that hangs there and one
/// that starts.
pub(crate) fn shared_ports(site: &Site) -> Vec<(Id<Board>, Vec<Id<Bus>>)> {
    let hang = site.boards.entries().filter_map(|(id, board)| Some((board.bus?.0, id)));
    let start = site.buses.entries().filter_map(|(id, bus)| Some((id, bus.board.as_ref()?.value)));
    let mut by_port: BTreeMap<(Id<Board>, usize), Vec<Id<Bus>>> = BTreeMap::new();
    for (bus, board) in hang.chain(start) {
        if let Some(port) = site.port_position(bus, board) {
            by_port.entry((board, port)).or_default().push(bus);
        }
    }
    by_port.into_iter().map(|((board, _), buses)| (board, buses)).filter(|(_, buses)| buses.len() > 1).collect()
}

fn causes(site: &Site, figures: &BusFigures) -> Vec<Cause> {
    let layout = &figures.layout;
    if !site.buses[layout.bus].differential {
        let surplus: Vec<usize> = (0..layout.terminators.len()).collect();
        let ends = Ends { missing: Vec::new(), surplus, right: Vec::new() };
        return if ends.surplus.is_empty() { Vec::new() } else { vec![Cause::TerminatorSurplus(ends)] };
    }
    let mut causes = Vec::new();
    if !layout.long_stubs().is_empty() {
        causes.push(Cause::Branched);
    }
    // Where there is none at all, that is a fault whatever becomes of the branches.
    if layout.terminators.is_empty() || !told(site, layout, &causes, |cause| *cause == Cause::Branched) {
        causes.extend(by_ends(terminators::of(layout)));
    }
    let odd = odd_values(layout);
    if !odd.is_empty() {
        causes.push(Cause::TerminatorValue(odd));
    }
    if layout.unit_loads() > MOST_UNIT_LOADS.value {
        causes.push(Cause::Overloaded);
    }
    let remedied = remedied(site, layout, &causes);
    causes.extend(by_bias(site, figures, &remedied));
    causes
}

/// Whether a cause that is wanted is reported, and not accepted.
fn told(site: &Site, layout: &Layout, causes: &[Cause], wanted: fn(&Cause) -> bool) -> bool {
    causes.iter().any(|cause| wanted(cause) && !cause.is_accepted(site, layout.bus))
}

/// A bus without what is reported of it besides its bias.
pub(crate) fn remedied(site: &Site, layout: &Layout, causes: &[Cause]) -> Layout {
    let mut remedied = layout.clone();
    if told(site, layout, causes, |cause| matches!(cause, Cause::TerminatorValue(_))) {
        usual_values(&mut remedied);
    }
    if told(site, layout, causes, |cause| !matches!(cause, Cause::TerminatorValue(_) | Cause::Overloaded)) {
        two_at_most(&mut remedied);
    }
    if told(site, layout, causes, |cause| *cause == Cause::Overloaded) {
        let share = MOST_UNIT_LOADS.value / layout.unit_loads();
        remedied.ports.iter_mut().for_each(|port| port.unit_load *= share);
    }
    remedied
}

/// The terminators that are far from the cable's value, replaced.
fn usual_values(layout: &mut Layout) {
    for position in odd_values(layout) {
        if let Some(terminator) = layout.terminators.get_mut(position) {
            terminator.ohms = Ohms(TERMINATOR.value);
        }
    }
}

/// No more terminators than two ends take: those that stand right, then what can be moved to an end that lacks one.
fn two_at_most(layout: &mut Layout) {
    let Ends { missing, surplus, right } = terminators::of(layout);
    let moved = surplus.iter().zip(&missing).filter_map(|(position, place)| {
        layout.terminators.get(*position).map(|terminator| Terminator { place: *place, ..*terminator })
    });
    layout.terminators =
        right.iter().filter_map(|position| layout.terminators.get(*position).copied()).chain(moved).collect();
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

/// What is wrong with the bias, `remedied` being the bus without what else is reported.
fn by_bias(site: &Site, figures: &BusFigures, remedied: &Layout) -> Option<Cause> {
    let port = own_port(site, &site.buses[figures.layout.bus])?;
    let half_known = port.bias.is_some() != port.bias_supply.is_some();
    let is_low = |idle: &Idle| idle.worst().1 < THRESHOLD.value;
    match &figures.idle {
        Some(idle) if !half_known => {
            let low =
                is_low(idle) && (*remedied == figures.layout || idle::of(remedied).is_some_and(|idle| is_low(&idle)));
            low.then_some(Cause::BiasLow)
        }
        _ => Some(Cause::BiasUnknown),
    }
}
