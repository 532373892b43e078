//! How far the minus of the modules rises above the board's: the current in the bus cable's minus conductor.
//!
//! What a place shifts by is the data pair's common mode there, which the receivers stand within bounds only.

use std::collections::BTreeMap;

use super::layout::Layout;
use crate::base::Id;
use crate::calc::power::{Demand, Feeding, Power, Supply, Wire};
use crate::model::{Bus, Run, Site, Source};
use crate::quantity::Volts;

/// Where runs and ports stand in the trees of supply; a bus's run is in one tree only.
pub(super) struct Index {
    runs: BTreeMap<Id<Run>, (usize, usize)>,
    starts: BTreeMap<Id<Bus>, (usize, usize)>,
}

impl Index {
    pub(super) fn new(site: &Site, power: &Power) -> Self {
        let mut index = Self { runs: BTreeMap::new(), starts: BTreeMap::new() };
        for (position, feeding) in power.feedings.iter().enumerate() {
            for (node, item) in feeding.tree.nodes.iter().enumerate() {
                if let Some(run) = item.run {
                    index.runs.insert(run, (position, node));
                }
                if let Some(Source::Port(board, port)) = item.outlet {
                    index.starts.extend(site.buses_from(board, port).map(|bus| (bus, (position, node))));
                }
            }
        }
        index
    }
}

/// The shift of each place, and where to find its volts.
#[derive(Clone, Debug, Default)]
pub struct Shifts {
    /// By place: the tree of the supply, by its position in [`Power`], and the node.
    pub(crate) nodes: Vec<Option<(usize, usize)>>,
    /// By place, with hot wire: each case that has a solution.
    volts: Vec<BTreeMap<(Supply, Demand), f64>>,
}

impl Shifts {
    /// The shift of a place in a case, with hot wire; `None` where the supply's volts are not known.
    pub(crate) fn at(&self, place: usize, supply: Supply, demand: Demand) -> Option<Volts> {
        self.volts.get(place)?.get(&(supply, demand)).copied().map(Volts)
    }

    /// The greatest shift of a place over all cases.
    pub fn worst(&self, place: usize) -> Option<Volts> {
        self.volts.get(place)?.values().copied().reduce(f64::max).map(Volts)
    }

    /// The supply of a place: its tree and the node.
    pub(crate) fn feeding<'p>(&self, power: &'p Power, place: usize) -> Option<(&'p Feeding, usize)> {
        let (tree, node) = self.nodes.get(place).copied().flatten()?;
        Some((power.feedings.get(tree)?, node))
    }
}

pub(super) fn of(index: &Index, power: &Power, layout: &Layout) -> Shifts {
    let start = index.starts.get(&layout.bus).copied();
    let nodes: Vec<Option<(usize, usize)>> =
        layout.places.iter().map(|place| place.run.map_or(start, |run| index.runs.get(&run).copied())).collect();
    let mut volts: Vec<BTreeMap<(Supply, Demand), f64>> = Vec::new();
    for (place, node) in layout.places.iter().zip(&nodes) {
        let mut here = BTreeMap::new();
        let found = node.and_then(|(tree, node)| Some((power.feedings.get(tree)?, node)));
        if let Some((feeding, node)) = found.filter(|(feeding, _)| feeding.tree.whole) {
            for supply in [Supply::Mains, Supply::Battery] {
                for demand in [Demand::Idle, Demand::Alarm] {
                    let Some(flow) = feeding.flow(supply, demand, Wire::Hot) else { continue };
                    let amperes = flow.amperes.get(node).map_or(0.0, |amperes| amperes.0);
                    // Half of what both conductors of the supply have.
                    let minus = feeding.tree.nodes.get(node).map_or(0.0, |item| Wire::Hot.of(item.ohms) / 2.0);
                    let before = match place.run {
                        None => Some(0.0),
                        Some(_) => volts.get(place.before).and_then(|before| before.get(&(supply, demand)).copied()),
                    };
                    // The board's own place has no cable.
                    let own = if place.run.is_some() { amperes * minus } else { 0.0 };
                    here.extend(before.map(|before| ((supply, demand), before + own)));
                }
            }
        }
        volts.push(here);
    }
    Shifts { nodes, volts }
}
