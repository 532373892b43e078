//! What would remedy a branch in which a device gets too little, and an output that gives too much.
//!
//! Every remedy is tried on a copy of the tree and kept only if it works, so that what a help promises is true. A cable
//! is remedied alone where that is enough, the one with the greatest drop first; else all that lead to the devices in
//! trouble. Out of scope: prices, and what a wall allows.

use std::collections::{BTreeMap, BTreeSet};

use super::case::{Demand, Supply, Wire};
use super::feeding::{Power, battery_volts, feeding};
use super::judge::SPARE;
use super::solve::{by_sheet, solve};
use super::suits::suits;
use super::tree::{Consumer, Load, Node, Tree};
use super::trees::joined;
use crate::base::Id;
use crate::calc::conductor::UNKNOWN_SIZE;
use crate::calc::pair::Pair;
use crate::calc::spread::{Spread, border};
use crate::model::{Board, Circuit, Device, DeviceKind, Output, OutputRef, Owner, Run, Site, Source};
use crate::quantity::print::LengthUnit;
use crate::quantity::{Amperes, Metres, Volts, WireSize};
use crate::terms::Senses;

/// Gauges of alarm and power cable from thin to thick: common practice.
const GAUGES: [i32; 7] = [24, 22, 20, 18, 16, 14, 12];
/// The same in mm².
const AREAS: [f64; 6] = [0.22, 0.5, 0.75, 1.0, 1.5, 2.5];
/// Cables that are tried alone before all are tried together.
const ALONE: usize = 3;

/// Heavier conductors for some cables.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Heavier {
    /// Their size.
    pub(crate) size: WireSize,
    /// The cables.
    pub(crate) runs: Vec<Id<Run>>,
}

/// What can be put on another output in one piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Unit {
    /// A detector that is fed through its loop's cable.
    Device(Id<Device>),
    /// A circuit.
    Circuit(Id<Circuit>),
}

/// Another output that can feed something.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Move {
    /// What goes there.
    pub(crate) unit: Unit,
    /// The output.
    pub(crate) to: OutputRef,
    /// What it takes with it, at rest and in alarm.
    pub(crate) takes: (Amperes, Amperes),
    /// What the output then gives in its greater demand.
    pub(crate) gives: Amperes,
    /// Least volts over its minimum that any of its devices then has; `None` where none has one.
    pub(crate) margin: Option<Volts>,
}

/// Volts over the minimum of each load with one, in the worst case; below zero where it gets too little. `None` where
/// the wire cannot carry what is asked.
fn margins(site: &Site, tree: &Tree) -> Option<Vec<(usize, f64)>> {
    let mut margins: Vec<(usize, f64)> = Vec::new();
    for (source, supply) in [(tree.on_mains(), Supply::Mains), (battery_volts(site, tree), Supply::Battery)] {
        let Some(source) = source else { continue };
        for demand in [Demand::Idle, Demand::Alarm] {
            let flow = solve(tree, source, supply, demand, Wire::Hot).ok()?;
            for (node, load) in tree.loads() {
                if let (Some(min), Some(volts)) = (load.min, flow.volts.get(node).copied().flatten()) {
                    margins.push((node, volts.0 - min.0));
                }
            }
        }
    }
    Some(margins)
}

/// True where every load of a tree gets its minimum in every case.
pub(crate) fn works(site: &Site, tree: &Tree) -> bool {
    margins(site, tree).is_some_and(|margins| margins.iter().all(|(_, margin)| *margin >= 0.0))
}

/// The cables whose size nobody knows, where a branch in which something gets too little would work with the heaviest
/// conductors that such a cable may have: the fault is a guess then. Empty where it is none.
pub(crate) fn only_by_guess(site: &Site, branch: &Tree) -> Vec<Id<Run>> {
    let pair = |run: Id<Run>| {
        let pair = Pair::of_run(site, &site.runs[run])?;
        (pair.size.is_none() && pair.sheet.is_none()).then_some(pair)
    };
    let unknown = |(at, node): (usize, &Node)| node.run.and_then(pair).map(|_| at);
    let nodes: Vec<usize> = branch.nodes.iter().enumerate().filter_map(unknown).collect();
    let [heaviest, ..] = UNKNOWN_SIZE;
    let with = |run: Id<Run>| Some(joined(pair(run)?.resized(heaviest), site.runs[run].pairs));
    let is_guess = !nodes.is_empty() && works(site, &changed(branch, &nodes, with));
    if is_guess { runs_of(branch, &nodes) } else { Vec::new() }
}

/// The nodes with a cable that lead to a load in trouble, those with the greatest drop first.
fn suspects(site: &Site, tree: &Tree) -> Vec<usize> {
    let troubled: BTreeSet<usize> = match margins(site, tree) {
        Some(margins) => margins.into_iter().filter(|(_, margin)| *margin < 0.0).map(|(node, _)| node).collect(),
        None => tree.loads().map(|(node, _)| node).collect(),
    };
    let on_battery = battery_volts(site, tree).map(|volts| (volts, Supply::Battery));
    let source = on_battery.or_else(|| Some((tree.volts?, Supply::Mains)));
    let flow = source.and_then(|(source, supply)| solve(tree, source, supply, Demand::Alarm, Wire::Hot).ok());
    // Where nothing arrives, by the sheets: what carries most is thinnest there too.
    let amperes = flow.map_or_else(|| by_sheet(tree, Supply::Battery, Demand::Alarm), |flow| flow.amperes);
    let drop = |at: usize, node: &Node| {
        let amperes = amperes.get(at).map_or(1.0, |amperes| amperes.0);
        amperes * node.ohms.greatest
    };
    let on_way: BTreeSet<usize> = troubled.into_iter().flat_map(|node| tree.way(node)).collect();
    let with_cable = on_way
        .into_iter()
        .filter_map(|at| tree.nodes.get(at).filter(|node| node.run.is_some()).map(|node| (at, drop(at, node))));
    let mut found: Vec<(usize, f64)> = with_cable.collect();
    found.sort_by(|(_, one), (_, other)| other.total_cmp(one));
    found.into_iter().map(|(at, _)| at).collect()
}

/// The tree with other resistances in some nodes; as it was where there is none.
fn changed(tree: &Tree, nodes: &[usize], ohms: impl Fn(Id<Run>) -> Option<Spread>) -> Tree {
    let mut changed = tree.clone();
    for at in nodes {
        if let Some(node) = changed.nodes.get_mut(*at)
            && let Some(ohms) = node.run.and_then(&ohms)
        {
            node.ohms = ohms;
        }
    }
    changed
}

fn runs_of(tree: &Tree, nodes: &[usize]) -> Vec<Id<Run>> {
    let mut nodes = nodes.to_vec();
    nodes.sort_unstable();
    nodes.into_iter().filter_map(|at| tree.nodes.get(at)?.run).collect()
}

/// Sets of nodes to be tried: the worst ones alone, then all together.
fn sets(suspects: &[usize]) -> Vec<Vec<usize>> {
    let mut sets: Vec<Vec<usize>> = suspects.iter().take(ALONE).map(|at| vec![*at]).collect();
    if suspects.len() > 1 {
        sets.push(suspects.to_vec());
    }
    sets
}

fn size_of(site: &Site, run: Id<Run>) -> Option<WireSize> {
    Pair::of_run(site, &site.runs[run])?.size
}

/// The next heavier conductors with which a branch works.
pub(crate) fn heavier(site: &Site, branch: &Tree) -> Option<Heavier> {
    let suspects = suspects(site, branch);
    let run = |at: &usize| branch.nodes.get(*at)?.run;
    // Of a cable whose size nobody knows, the sizes that the others of the site are of.
    let own = suspects.iter().find_map(|at| size_of(site, run(at)?));
    let other = || site.runs.iter().find_map(|run| Pair::of_run(site, run)?.size);
    let metric = match (own.or_else(other), site.lengths) {
        (Some(WireSize::Awg(_)), _) | (None, LengthUnit::Feet) => false,
        (Some(WireSize::SquareMillimetres(_)), _) | (None, LengthUnit::Metres) => true,
    };
    let sizes =
        if metric { AREAS.map(WireSize::SquareMillimetres).to_vec() } else { GAUGES.map(WireSize::Awg).to_vec() };
    // What nobody knows is taken at its worst, so any known size may be the better one.
    let thinner = |at: &usize, size: WireSize| {
        let own = run(at).and_then(|run| size_of(site, run));
        own.is_none_or(|own| own.square_millimetres() < size.square_millimetres() * 0.999)
    };
    sizes.into_iter().find_map(|size| {
        let thin: Vec<usize> = suspects.iter().copied().filter(|at| thinner(at, size)).collect();
        let with = |run: Id<Run>| {
            let run = &site.runs[run];
            Some(joined(Pair::of_run(site, run)?.resized(size), run.pairs))
        };
        let set = sets(&thin).into_iter().find(|set| works(site, &changed(branch, set, with)))?;
        Some(Heavier { size, runs: runs_of(branch, &set) })
    })
}

/// The cables in which one more pair for the supply makes a branch work; `spare` tells whether a cable has one free.
pub(crate) fn doubled(site: &Site, branch: &Tree, spare: &dyn Fn(Id<Run>) -> bool) -> Option<Vec<Id<Run>>> {
    let mut suspects = suspects(site, branch);
    suspects.retain(|at| branch.nodes.get(*at).and_then(|node| node.run).is_some_and(spare));
    let with = |run: Id<Run>| {
        let item = &site.runs[run];
        Some(joined(Pair::of_run(site, item)?, item.pairs + 1))
    };
    let set = sets(&suspects).into_iter().find(|set| works(site, &changed(branch, set, with)))?;
    Some(runs_of(branch, &set))
}

/// The greatest length of one cable with which a branch works: of the last one, else of the one with the greatest drop. One
/// that is in the wall already has the length that it has.
pub(crate) fn shorter(site: &Site, branch: &Tree) -> Option<(Id<Run>, Metres)> {
    let mut suspects = suspects(site, branch);
    suspects.retain(|at| branch.nodes.get(*at).and_then(|node| node.run).is_some_and(|run| !site.is_existing(run)));
    let last = suspects.iter().copied().max();
    last.into_iter().chain(suspects.first().copied()).find_map(|at| {
        let id = branch.nodes.get(at)?.run?;
        let run = &site.runs[id];
        let pair = Pair::of_run(site, run)?;
        let fits = |share: f64| {
            let ohms = joined(Pair { length: pair.length * share, ..pair }, run.pairs);
            works(site, &changed(branch, &[at], |_| Some(ohms)))
        };
        if !fits(0.0) {
            return None;
        }
        Some((id, pair.length * border(0.0, 1.0, fits)))
    })
}

/// True for a relay that watches a supply, and for detectors of which one does: none of them moves to another output by itself.
fn is_watched(site: &Site, device: Id<Device>) -> bool {
    let mut with = site.devices[device].zone.into_iter().flat_map(|zone| site.devices_of(zone));
    with.any(|(id, _)| site.senses(id) == Some(Senses::Supply))
}

/// What can be put on another output, of what a tree's supply feeds directly, with the loads in it: detectors by
/// themselves, and circuits.
pub(crate) fn units<'t>(site: &Site, tree: &'t Tree) -> BTreeMap<Unit, Vec<&'t Load>> {
    let mut units: BTreeMap<Unit, Vec<&Load>> = BTreeMap::new();
    let Source::Output(output) = tree.source else { return units };
    for (node, load) in tree.loads() {
        let by_itself = match load.consumer {
            Consumer::Device(id) if is_watched(site, id) => None,
            Consumer::Device(id) if site.devices[id].supply.as_ref().is_some_and(|supply| supply.value == output) => {
                Some(Unit::Device(id))
            }
            Consumer::Device(_) | Consumer::Board(_) | Consumer::Hop(..) => None,
        };
        let unit = by_itself.or_else(|| match site.runs[*tree.path(node).first()?].owner {
            Owner::Circuit(circuit) => Some(Unit::Circuit(circuit)),
            Owner::Zone(_) | Owner::Bus(_) | Owner::Spare(_) | Owner::Communicator(_) | Owner::Transformer(_) => None,
        });
        if let Some(unit) = unit {
            units.entry(unit).or_default().push(load);
        }
    }
    units
}

/// A unit of a tree as a tree of its own, and the tree that is left.
fn apart(site: &Site, tree: &Tree, unit: Unit) -> Option<(Tree, Tree)> {
    match unit {
        Unit::Circuit(circuit) => {
            let own = |branch: &std::ops::Range<usize>| {
                let run = tree.nodes.get(branch.start).and_then(|node| node.run);
                run.is_some_and(|run| site.runs[run].owner == Owner::Circuit(circuit))
            };
            let (own, other): (Vec<_>, Vec<_>) = tree.branches().into_iter().partition(own);
            (!own.is_empty()).then(|| (tree.only(&own), tree.only(&other)))
        }
        Unit::Device(device) => {
            let (node, load) = tree.loads().find(|(_, load)| load.consumer == Consumer::Device(device))?;
            let mut left = tree.clone();
            left.nodes.get_mut(node)?.loads.retain(|other| other.consumer != load.consumer);
            let mut alone = Tree { nodes: Vec::new(), unknown: Vec::new(), ..*tree };
            for (at, place) in tree.way(node).into_iter().enumerate() {
                let place = tree.nodes.get(place)?;
                alone.nodes.push(Node { before: at.saturating_sub(1), loads: Vec::new(), ..place.clone() });
            }
            alone.nodes.last_mut()?.loads.push(*load);
            Some((alone, left))
        }
    }
}

/// True where an output is made for what a unit holds. A load that is on in alarms stays on in alarms only.
fn all_suited(site: &Site, unit: &Tree, from: &Output, output: &Output) -> bool {
    unit.loads().all(|(_, load)| match load.consumer {
        Consumer::Device(id) if site.devices[id].kind == DeviceKind::Load => {
            (output.when, output.form, output.switched) == (from.when, from.form, false)
        }
        Consumer::Device(_) | Consumer::Board(_) | Consumer::Hop(..) => suits(site, load.consumer, output),
    })
}

/// True for a circuit whose relay switches another one too: its common holds both on one output.
fn shares_a_common(site: &Site, unit: Unit) -> bool {
    let Unit::Circuit(circuit) = unit else { return false };
    let by = site.switched_by(&site.circuits[circuit]).filter(|(_, switch, _)| switch.common().is_some());
    by.is_some_and(|(of, ..)| site.circuits_by(of).nth(1).is_some())
}

/// The other outputs of the same board that can carry a unit so that it works, and what is left works within the limit;
/// `second` tells whether a cable has a pair free for a second supply.
pub(crate) fn moves(
    site: &Site,
    power: &Power,
    tree: &Tree,
    unit: Unit,
    second: &dyn Fn(Id<Run>) -> bool,
) -> Vec<Move> {
    let (Some((alone, left)), Source::Output(from)) = (apart(site, tree, unit), tree.source) else { return Vec::new() };
    // A cable that goes on carrying the old supply must have a pair for the new one.
    let still: BTreeSet<Id<Run>> = left.loads().flat_map(|(node, _)| left.path(node)).collect();
    let crowded = alone.nodes.iter().filter_map(|node| node.run).any(|run| still.contains(&run) && !second(run));
    let remedied = if over(site, tree) { !over(site, &left) } else { works(site, &left) };
    let Some(now) = site.output(from).filter(|_| !crowded && remedied && !shares_a_common(site, unit)) else {
        return Vec::new();
    };
    let others = site.outputs(from.board).filter(|(to, output)| *to != from && all_suited(site, &alone, now, output));
    others
        .filter_map(|(to, output)| {
            let source = Source::Output(to);
            let mut there = Tree { source, volts: Some(output.volts), limit: Some(output.limit), ..alone.clone() };
            if let Some(root) = there.nodes.first_mut() {
                root.outlet = Some(source);
                root.gives(output);
            }
            let margins = margins(site, &there)?;
            let least = margins.iter().map(|(_, margin)| *margin).reduce(f64::min);
            if least.is_some_and(|least| least < 0.0) || too_much(site, &there) {
                return None;
            }
            let moved = feeding(site, there);
            let takes = (moved.current(Demand::Idle), moved.current(Demand::Alarm));
            let has = power.of(source);
            let sum = |demand, more: Amperes| has.map_or(Amperes(0.0), |has| has.current(demand)) + more;
            let gives = Amperes(sum(Demand::Idle, takes.0).0.max(sum(Demand::Alarm, takes.1).0));
            let fits = gives.0 <= output.limit.0 * (1.0 - SPARE);
            fits.then_some(Move { unit, to, takes, gives, margin: least.map(Volts) })
        })
        .collect()
}

/// True where a supply gives more than its limit.
fn over(site: &Site, tree: &Tree) -> bool {
    feeding(site, tree.clone()).overloads().next().is_some()
}

/// True where a load would get more than it stands.
fn too_much(site: &Site, tree: &Tree) -> bool {
    !feeding(site, tree.clone()).flooded().is_empty()
}

/// The module that, fed by a transformer of its own, brings a supply under its limit: the one that takes least.
pub(crate) fn own_supply(site: &Site, tree: &Tree) -> Option<Id<Board>> {
    let boards = tree.loads().filter_map(|(node, load)| match load.consumer {
        Consumer::Board(id) if site.boards[id].kind.takes_transformer() => Some((node, id)),
        Consumer::Board(_) | Consumer::Device(_) | Consumer::Hop(..) => None,
    });
    // The boards through whose outputs the supply of each place comes.
    let through = |at: usize| {
        let outlets = tree.way(at).into_iter().filter_map(|at| tree.nodes.get(at)?.outlet);
        outlets.map(Source::board).collect::<Vec<_>>()
    };
    let through: Vec<Vec<Id<Board>>> = (0..tree.nodes.len()).map(through).collect();
    let without = |node: usize, board: Id<Board>| {
        let mut left = tree.clone();
        for (at, (place, through)) in left.nodes.iter_mut().zip(&through).enumerate() {
            let behind = through.contains(&board);
            if behind || at == node {
                place.loads.retain(|load| !behind && load.consumer != Consumer::Board(board));
            }
        }
        left
    };
    let current = |tree: &Tree| {
        let feeding = feeding(site, tree.clone());
        feeding.current(Demand::Idle).0.max(feeding.current(Demand::Alarm).0)
    };
    let mut fitting: Vec<(f64, Id<Board>)> = boards
        .map(|(node, board)| (current(&without(node, board)), board))
        .filter(|(left, _)| tree.limit.is_some_and(|limit| *left <= limit.0))
        .collect();
    fitting.sort_by(|(one, _), (other, _)| other.total_cmp(one));
    fitting.first().map(|(_, board)| *board)
}
