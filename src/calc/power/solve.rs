//! Volts and currents of a tree: every cable carries what lies beyond it (Kirchhoff).
//!
//! An output that raises its volts takes as much more current as it gives less: the power in is at best the power out, as
//! for two-wire loops. Loads of constant current need one pass. Loads of constant power take more current as their volts fall, so currents
//! and volts are found in turns, starting from no drop at all: the volts then only fall, and they come to rest at the
//! highest solution, where the tree works. Where there is none they fall to nothing: the wire cannot carry that power.

use std::collections::BTreeMap;

use super::case::{Demand, Supply, Wire};
use super::tree::{Load, Node, Tree};
use crate::model::Take;
use crate::quantity::{Amperes, Volts};

/// Rounds after which a tree that has not come to rest has no solution: the last ones near the limit creep.
const ROUNDS: usize = 20_000;

/// Change of volts, relative to the supply's, at which a tree is at rest.
const REST: f64 = 1e-13;

/// Volts and currents by node.
#[derive(Clone, Debug, PartialEq)]
pub struct Flow {
    /// Volts at each node; `None` where nothing is on.
    pub volts: Vec<Option<Volts>>,
    /// Current into each node, for all beyond it.
    pub(crate) amperes: Vec<Amperes>,
}

impl Flow {
    /// What the supply gives.
    pub fn total(&self) -> Amperes {
        self.amperes.first().copied().unwrap_or_default()
    }
}

/// No solution: the wire cannot carry what is asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Collapse {
    /// The node whose volts fell to nothing, or lowest.
    pub(crate) node: usize,
}

/// Volts and currents of a tree from a supply of `source` volts, which mains or a battery gives.
pub(crate) fn solve(tree: &Tree, source: Volts, supply: Supply, demand: Demand, wire: Wire) -> Result<Flow, Collapse> {
    let on = on(&tree.nodes, supply, demand);
    let takes = |load: &Load| load.takes(demand);
    let bends = tree.loads().any(|(_, load)| matches!(takes(load), Take::Power(_)))
        || tree.nodes.iter().any(|node| node.raised.is_some());
    let mut volts = without_load(tree, source.0, supply, wire);
    for _ in 0..ROUNDS {
        let amperes = currents(&tree.nodes, &volts, &on, takes);
        let (next, lowest) = drops(&tree.nodes, &amperes, source.0, supply, wire);
        if let Some(node) = lowest {
            return Err(Collapse { node });
        }
        let change = volts.iter().zip(&next).map(|(old, new)| (old - new).abs()).fold(0.0, f64::max);
        volts = next;
        if !bends || change <= source.0 * REST {
            let volts = volts.iter().zip(&on).map(|(volts, on)| on.then_some(Volts(*volts))).collect();
            return Ok(Flow { volts, amperes: amperes.into_iter().map(Amperes).collect() });
        }
    }
    let lowest = volts.iter().enumerate().min_by(|(_, one), (_, other)| one.total_cmp(other));
    Err(Collapse { node: lowest.map_or(0, |(node, _)| node) })
}

/// Current into each node by the sheets of what is on, those of constant power at the supply's volts, or 12 V where they
/// are not known.
pub(crate) fn by_sheet(tree: &Tree, supply: Supply, demand: Demand) -> Vec<Amperes> {
    let source = tree.volts.map_or(12.0, |volts| volts.0);
    let volts = without_load(tree, source, supply, Wire::Usual);
    let amperes = currents(&tree.nodes, &volts, &on(&tree.nodes, supply, demand), |load| load.takes(demand));
    amperes.into_iter().map(Amperes).collect()
}

/// Which nodes have a supply: one behind an output for alarms only, or a contact that is open, has none in some cases.
fn on(nodes: &[Node], supply: Supply, demand: Demand) -> Vec<bool> {
    let mut on: Vec<bool> = Vec::with_capacity(nodes.len());
    for node in nodes {
        let before = on.get(node.before).copied().unwrap_or(true);
        on.push(before && !node.off_in.contains(&(supply, demand)));
    }
    on
}

/// Current into each node; a node stands after the one before it, so backwards everything beyond is known. Of what is fed
/// while a relay is driven and while it is not, the greater goes in.
fn currents(nodes: &[Node], volts: &[f64], on: &[bool], takes: impl Fn(&Load) -> Take) -> Vec<f64> {
    let mut amperes: Vec<f64> = nodes
        .iter()
        .zip(volts)
        .zip(on)
        .map(|((node, volts), on)| match on {
            true => node.loads.iter().map(|load| takes(load).at(Volts(*volts)).0).sum(),
            false => 0.0,
        })
        .collect();
    let mut ways: BTreeMap<_, [f64; 2]> = BTreeMap::new();
    for (at, node) in nodes.iter().enumerate().rev().filter(|(at, node)| node.before != *at) {
        let volts = |at: usize| volts.get(at).copied().unwrap_or_default();
        let factor = if node.raised.is_some() { volts(at) / volts(node.before) } else { 1.0 };
        let mut here = amperes.get(at).copied().unwrap_or_default() * factor.max(1.0);
        if let Some(throw) = node.throw {
            let [off, on] = ways.entry((node.before, throw.by)).or_default();
            let counted = off.max(*on);
            *(if throw.on { &mut *on } else { &mut *off }) += here;
            here = off.max(*on) - counted;
        }
        if let Some(before) = amperes.get_mut(node.before) {
            *before += here;
        }
    }
    amperes
}

/// Volts at each node while nothing flows.
pub(super) fn without_load(tree: &Tree, source: f64, supply: Supply, wire: Wire) -> Vec<f64> {
    drops(&tree.nodes, &vec![0.0; tree.nodes.len()], source, supply, wire).0
}

/// Volts at each node, and the first that is left with none.
fn drops(nodes: &[Node], amperes: &[f64], source: f64, supply: Supply, wire: Wire) -> (Vec<f64>, Option<usize>) {
    let mut volts: Vec<f64> = Vec::with_capacity(nodes.len());
    for (node, amperes) in nodes.iter().zip(amperes) {
        let before = volts.get(node.before).copied().unwrap_or(source);
        // The supply's own volts are given behind its drop.
        let own = if volts.is_empty() { 0.0 } else { node.drop.0 };
        let here = before - amperes * wire.of(node.ohms) - own;
        volts.push(match node.raised {
            // What comes to it is gone: so is what it makes of that.
            Some(_) if before <= 0.0 => before,
            Some(raised) => raised.volts(supply, wire).0,
            None => {
                let on_battery = node.most_on_battery.filter(|_| supply == Supply::Battery);
                let caps = node.most.map(|most| wire.supply(most)).into_iter().chain(on_battery.map(|volts| volts.0));
                caps.fold(here, f64::min)
            }
        });
    }
    let lowest = volts.iter().position(|volts| *volts <= 0.0);
    (volts, lowest)
}

#[cfg(test)]
mod tests {
    use super::super::tree::Consumer;
    use super::*;
    use crate::base::Arena;
    use crate::calc::Spread;
    use crate::model::Source;
    use crate::model::{Device, OutputRef};
    use crate::quantity::Watts;

    /// A chain of places, each with the ohms of its cable and one load.
    fn chain(places: &[(f64, Take)]) -> Tree {
        let (board, device) = ids();
        let node = |before, ohms, loads| Node {
            before,
            run: None,
            ohms: Spread::exact(ohms),
            outlet: None,
            most: None,
            most_on_battery: None,
            raised: None,
            drop: Volts(0.0),
            limit: None,
            off_in: Vec::new(),
            throw: None,
            loads,
        };
        let load = |take| Load { consumer: Consumer::Device(device), idle: take, alarm: take, min: None, max: None };
        let mut nodes = vec![node(0, 0.0, Vec::new())];
        nodes.extend(places.iter().enumerate().map(|(before, (ohms, take))| node(before, *ohms, vec![load(*take)])));
        let source = Source::Output(OutputRef { board, output: 0 });
        Tree { source, volts: None, limit: None, nodes, unknown: Vec::new(), whole: true }
    }

    /// Ids that are never looked up.
    fn ids() -> (crate::base::Id<crate::model::Board>, crate::base::Id<Device>) {
        (Arena::default().next_id(), Arena::default().next_id())
    }

    fn at(tree: &Tree, source: f64) -> Result<Vec<f64>, Collapse> {
        let flow = solve(tree, Volts(source), Supply::Mains, Demand::Alarm, Wire::Hot)?;
        Ok(flow.volts.into_iter().map(|volts| volts.unwrap().0).collect())
    }

    /// 14 AWG at 75 °C (NEC chapter 9 table 8: 3.07 Ω/kft), 25, 50 and 50 ft, 0.75, 1.05 and 0.75 A: the inputs of a
    /// training article on voltage drop. The drops follow from Kirchhoff's laws by hand.
    #[test]
    fn the_ladder_of_a_training_article() {
        let ohms = |feet: f64| 2.0 * feet * 3.07 / 1000.0;
        let take = |amperes| Take::Current(Amperes(amperes));
        let tree = chain(&[(ohms(25.0), take(0.75)), (ohms(50.0), take(1.05)), (ohms(50.0), take(0.75))]);
        let volts = at(&tree, 24.0).unwrap();
        for (volts, drop) in volts.iter().zip([0.0, 0.391, 0.944, 1.174]) {
            assert!((24.0 - volts - drop).abs() < 6e-4, "{volts} {drop}");
        }
        let lumped = chain(&[(ohms(125.0), take(2.55))]);
        assert!((24.0 - at(&lumped, 24.0).unwrap()[1] - 1.957).abs() < 6e-4);
    }

    /// P = V·I through R: V = (V0 + √(V0² − 4·P·R)) / 2, and nothing beyond V0²/4R.
    #[test]
    fn constant_power_finds_the_upper_solution_or_none() {
        let one = |watts| chain(&[(10.0, Take::Power(Watts(watts)))]);
        for watts in [0.1, 1.0, 3.0, 3.59, 3.5999] {
            let expected = f64::midpoint(12.0, (144.0_f64 - 40.0 * watts).sqrt());
            let found = at(&one(watts), 12.0).unwrap()[1];
            assert!((found / expected - 1.0).abs() < 1e-9, "{watts} W: {found} against {expected}");
        }
        for watts in [3.61, 4.0, 40.0] {
            assert_eq!(at(&one(watts), 12.0), Err(Collapse { node: 1 }), "{watts} W");
        }
    }

    #[test]
    fn a_current_that_leaves_nothing_is_no_solution() {
        let take = Take::Current(Amperes(1.0));
        assert_eq!(at(&chain(&[(5.0, take), (3.0, take)]), 12.0), Err(Collapse { node: 2 }));
    }
}
