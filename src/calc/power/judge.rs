//! What is wrong with a supply: too little or too much at a load, too much taken from it, a great drop.

use std::ops::Range;

use super::cases::{CASES, Case, Demand, Feeding, Supply};
use super::tree::Load;
use crate::quantity::{Amperes, Volts};

/// The share of a supply's limit that is left free: common practice.
pub const SPARE: f64 = 0.1;

/// The share of a supply's volts that is lost at most at its last device: common practice.
pub const DROP: f64 = 0.1;

/// A load with volts that it cannot work with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unfit {
    /// Where it is in the tree.
    pub node: usize,
    /// The load.
    pub load: Load,
    /// The worst case.
    pub case: Case,
    /// What it gets then.
    pub volts: Volts,
    /// The least or most that it works with.
    pub edge: Volts,
}

/// A supply that gives more than it can.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Overload {
    /// When.
    pub demand: Demand,
    /// What it gives.
    pub current: Amperes,
    /// What it can.
    pub limit: Amperes,
}

impl Feeding {
    /// The loads between some positions that get less than their minimum, each in its worst case; the one that lacks
    /// most first.
    pub fn starved(&self, among: Range<usize>) -> Vec<Unfit> {
        let mut found = self.unfit(among, |load| load.min, |volts, min| min.0 - volts.0);
        found.sort_by(|one, other| (other.edge.0 - other.volts.0).total_cmp(&(one.edge.0 - one.volts.0)));
        found
    }

    /// The loads that get more than they stand, each in its worst case.
    pub fn flooded(&self) -> Vec<Unfit> {
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

    /// The demand in which the supply gives more than its limit; the greater where both do.
    pub fn overload(&self) -> Option<Overload> {
        let limit = self.tree.limit?;
        let of = |demand| Overload { demand, current: self.current(demand), limit };
        let worst = [of(Demand::Idle), of(Demand::Alarm)]
            .into_iter()
            .reduce(|idle, alarm| if alarm.current >= idle.current { alarm } else { idle });
        // What prints as the limit is the limit.
        worst.filter(|worst| worst.current.0 > limit.0 * (1.0 + 1e-9))
    }

    /// The share of the limit that is left in the greater demand; below zero where it is exceeded.
    pub fn spare(&self) -> Option<f64> {
        let most = self.current(Demand::Idle).0.max(self.current(Demand::Alarm).0);
        Some(1.0 - most / self.tree.limit?.0)
    }

    /// The load between some positions with the greatest drop on mains in the heat, with its node, volts and demand.
    pub fn greatest_drop(&self, among: Range<usize>) -> Option<(usize, Load, Demand, Volts)> {
        let loads = self.tree.loads().filter(|(node, _)| among.contains(node));
        let all = loads.flat_map(|(node, load)| {
            [Demand::Idle, Demand::Alarm].into_iter().filter_map(move |demand| {
                let (hot, _) = self.volts(node, Supply::Mains, demand)?;
                Some((node, *load, demand, hot))
            })
        });
        all.min_by(|(.., one), (.., other)| one.0.total_cmp(&other.0))
    }
}
