//! What is wrong with a supply: too little or too much at a load, too much taken from it, a great drop.

use std::ops::Range;

use super::case::{CASES, Case, Demand, Supply, Wire};
use super::feeding::Feeding;
use super::solve::Flow;
use super::tree::Load;
use crate::quantity::{Amperes, Volts};

/// The share of a supply's limit that is left free: common practice.
pub(crate) const SPARE: f64 = 0.1;

/// The share of a supply's volts that is lost at most at its last device: common practice.
pub(crate) const DROP: f64 = 0.1;

/// A load with volts that it cannot work with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Unfit {
    /// Where it is in the tree.
    pub(crate) node: usize,
    /// The load.
    pub(crate) load: Load,
    /// The worst case.
    pub(crate) case: Case,
    /// What it gets then.
    pub(crate) volts: Volts,
    /// The least or most that it works with.
    pub(crate) edge: Volts,
}

/// What is lost on the way to a load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Drop {
    /// Where it is in the tree.
    pub(crate) node: usize,
    /// The load.
    pub(crate) load: Load,
    /// When.
    pub(crate) demand: Demand,
    /// Volts of the supply that it is lost of.
    pub(crate) supply: Volts,
    /// Volts lost.
    pub(crate) lost: Volts,
}

/// A supply that gives more than it can.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Overload {
    /// Where it starts: the first node, or that of a module's own output or port.
    pub(crate) node: usize,
    /// When.
    pub(crate) demand: Demand,
    /// What it gives.
    pub(crate) current: Amperes,
    /// What it can.
    pub(crate) limit: Amperes,
}

impl Feeding {
    /// The loads between some positions that get less than their minimum, each in its worst case; the one that lacks
    /// most first.
    pub(crate) fn starved(&self, among: Range<usize>) -> Vec<Unfit> {
        let mut found = self.unfit(among, |load| load.min, |volts, min| min.0 - volts.0);
        found.sort_by(|one, other| (other.edge.0 - other.volts.0).total_cmp(&(one.edge.0 - one.volts.0)));
        found
    }

    /// The loads that get more than they stand, each in its worst case.
    pub(crate) fn flooded(&self) -> Vec<Unfit> {
        self.unfit(0..self.tree.nodes.len(), |load| load.max, |volts, max| volts.0 - max.0)
    }

    fn unfit(
        &self,
        among: Range<usize>,
        edge: impl Fn(&Load) -> Option<Volts>,
        excess: impl Fn(Volts, Volts) -> f64,
    ) -> Vec<Unfit> {
        let loads = self.tree.loads().filter(|(node, _)| among.contains(node));
        loads
            .filter_map(|(node, load)| {
                let edge = edge(load)?;
                let cases = CASES.iter().filter_map(|case| {
                    let flow = self.flows.get(case)?.as_ref().ok()?;
                    Some((*case, flow.volts.get(node).copied().flatten()?))
                });
                // Of cases that are as bad, the first: what fails at rest is not told of as an alarm's.
                let worst = |one: (Case, Volts), other: (Case, Volts)| {
                    if excess(other.1, edge) > excess(one.1, edge) { other } else { one }
                };
                let (case, volts) = cases.reduce(worst)?;
                (excess(volts, edge) > 0.0).then_some(Unfit { node, load: *load, case, volts, edge })
            })
            .collect()
    }

    /// The supplies that give more than their limit, each in its greater demand: the tree's own, then the outputs and
    /// ports of modules in it.
    pub(crate) fn overloads(&self) -> impl Iterator<Item = Overload> {
        self.limits().filter_map(|(node, limit)| {
            let of = |demand| Overload { node, demand, current: self.current_at(node, demand), limit };
            let (idle, alarm) = (of(Demand::Idle), of(Demand::Alarm));
            let worst = if alarm.current >= idle.current { alarm } else { idle };
            // What prints as the limit is the limit.
            (worst.current.0 > limit.0 * (1.0 + 1e-9)).then_some(worst)
        })
    }

    /// The outputs and ports that give their supply here, each by its node and limit, where the sheet gives one: the
    /// tree's own, then those of modules in it.
    pub(crate) fn limits(&self) -> impl Iterator<Item = (usize, Amperes)> {
        self.tree
            .nodes
            .iter()
            .enumerate()
            .filter_map(|(node, place)| Some((node, if node == 0 { self.tree.limit? } else { place.limit? })))
    }

    /// The share of the limit that an output or port leaves in the greater demand; below zero where it is exceeded.
    pub(crate) fn spare(&self, node: usize, limit: Amperes) -> f64 {
        1.0 - self.current_at(node, Demand::Idle).0.max(self.current_at(node, Demand::Alarm).0) / limit.0
    }

    /// The load between some positions that loses the greatest share of its supply on mains in the heat.
    pub(crate) fn greatest_drop(&self, among: Range<usize>) -> Option<Drop> {
        let loads = self.tree.loads().filter(|(node, _)| among.contains(node));
        let all = loads.flat_map(|(node, load)| {
            [Demand::Idle, Demand::Alarm].into_iter().filter_map(move |demand| {
                let flow = self.flow(Supply::Mains, demand, Wire::Hot)?;
                let supply = self.supply_of(flow, node)?;
                let volts = flow.volts.get(node).copied().flatten()?;
                Some(Drop { node, load: *load, demand, supply, lost: Volts(supply.0 - volts.0) })
            })
        });
        // Of drops that are as great, the first.
        all.reduce(|one, other| if other.share() > one.share() { other } else { one })
    }

    /// The volts at the start of what is lost on the way to a node: those of the tree's supply, or of the last output or
    /// port on the way that holds its own volts, before which a loss does not count.
    fn supply_of(&self, flow: &Flow, node: usize) -> Option<Volts> {
        let volts = |at: usize| flow.volts.get(at).copied().flatten();
        let holds = |at: &usize| {
            let most = self.tree.nodes.get(*at).and_then(|place| place.most);
            most.zip(volts(*at)).is_some_and(|(most, volts)| volts.0 >= most.least)
        };
        volts(self.tree.way(node).into_iter().rev().find(holds).unwrap_or(0))
    }
}

impl Drop {
    /// The share of the supply that is lost.
    pub(crate) fn share(&self) -> f64 {
        self.lost.0 / self.supply.0
    }
}
