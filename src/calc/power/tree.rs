//! What a supply feeds, as a tree of places with the cables between them.

use std::collections::BTreeSet;
use std::ops::Range;

use super::case::{Demand, Supply, Wire};
use super::switched::{Throw, Toggle};
use crate::base::Id;
use crate::calc::spread::Spread;
use crate::model::{Board, Circuit, Communicator, Device, Output, Run, Site, Source, Take};
use crate::quantity::{Amperes, Volts};
use crate::terms::{Senses, When};

/// What takes current.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Consumer {
    /// A detector or sounder.
    Device(Id<Device>),
    /// A board on a bus.
    Board(Id<Board>),
    /// A powered device on the way to the monitoring service, by its position among the communicator's.
    Hop(Id<Communicator>, usize),
}

/// A consumer with its sheet's figures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// What it is.
    pub consumer: Consumer,
    /// What it takes at rest.
    pub idle: Take,
    /// What it takes in alarm.
    pub alarm: Take,
    /// Least voltage at which it works; `None` where nobody says.
    pub(crate) min: Option<Volts>,
    /// Most voltage that it stands; `None` where nobody says.
    pub(crate) max: Option<Volts>,
}

impl Load {
    /// What it takes in a demand.
    pub(crate) fn takes(&self, demand: Demand) -> Take {
        match demand {
            Demand::Idle => self.idle,
            Demand::Alarm => self.alarm,
        }
    }
}

/// A place of a tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Node {
    /// Position of the place before it; its own for the first.
    pub before: usize,
    /// The cable that brings the supply; `None` at a board.
    pub run: Option<Id<Run>>,
    /// Resistance of both conductors of that cable in ohm, pairs side by side counted: cold, at 20 °C, hot.
    pub ohms: Spread,
    /// A module's output or port of its own that starts here.
    pub(crate) outlet: Option<Source>,
    /// The most that it gives, with its tolerance, where such an output or port starts here.
    pub(crate) most: Option<Spread>,
    /// The most that such an output gives on battery, by its sheet, where it passes on what comes to it.
    pub(crate) most_on_battery: Option<Volts>,
    /// What such an output or port makes of lower volts, where it raises them.
    pub(crate) raised: Option<Raised>,
    /// Volts lost in such an output's fuse or switch, where its board's own supply is lower than what it holds.
    pub(crate) drop: Volts,
    /// The most current that it gives, where such an output or port starts here and the sheet says so.
    pub(crate) limit: Option<Amperes>,
    /// The cases in which nothing goes on from here: an output for alarms only, or a contact that is open.
    pub(crate) off_in: Vec<(Supply, Demand)>,
    /// What must stand one way for this place to be fed; of what needs it one way and the other, the greater counts.
    pub(crate) throw: Option<Throw>,
    /// What takes current here.
    pub(crate) loads: Vec<Load>,
}

/// An output or port whose volts are above those that its board has by more than this factor raises them: ours. Float, tolerances and
/// the name of a supply by its battery (13.8 V of 12 V) make less of a difference.
pub(crate) const RAISED: f64 = 1.2;

/// The volts of an output or port above those of its board's supply, as 24 V on a bus of 12 V: it holds them, however much it gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Raised {
    /// On mains, with its tolerance.
    pub(crate) on_mains: Spread,
    /// The same at the end of the battery.
    pub(crate) on_battery: Spread,
}

impl Raised {
    /// Its volts.
    pub(crate) fn volts(self, supply: Supply, wire: Wire) -> Volts {
        Volts(wire.supply(match supply {
            Supply::Mains => self.on_mains,
            Supply::Battery => self.on_battery,
        }))
    }
}

/// What a supply feeds. The first node is the supply itself; a node stands after the one before it.
#[derive(Clone, Debug, PartialEq)]
pub struct Tree {
    /// Where it starts.
    pub source: Source,
    /// Its volts on mains; `None` where the sheet does not say.
    pub(crate) volts: Option<Volts>,
    /// The most current it gives; `None` where the sheet does not say.
    pub(crate) limit: Option<Amperes>,
    /// The places.
    pub nodes: Vec<Node>,
    /// Consumers of which no sheet says what they take.
    pub(crate) unknown: Vec<Consumer>,
    /// False where a cable, length or part of it was reported: nothing is concluded from its volts.
    pub(crate) whole: bool,
}

impl Load {
    /// What the part of a device senses; `None` for boards and hops.
    pub(crate) fn senses(&self, site: &Site) -> Option<Senses> {
        match self.consumer {
            Consumer::Device(id) => site.senses(id),
            Consumer::Board(_) | Consumer::Hop(..) => None,
        }
    }
}

impl Node {
    /// Takes over what an output gives that starts here.
    pub(crate) fn gives(&mut self, output: &Output) {
        self.most = Some(Spread::tolerance(output.volts.0, output.tolerance.0));
        self.drop = output.drop;
        self.limit = Some(output.limit);
        if output.when == When::Alarm {
            self.off_in = vec![(Supply::Mains, Demand::Idle), (Supply::Battery, Demand::Idle)];
        }
    }
}

impl Tree {
    /// The most volts that it gives on mains, its tolerance counted; `None` where the sheet does not say.
    pub(crate) fn on_mains(&self) -> Option<Volts> {
        self.nodes.first().and_then(|root| root.most).map(|most| Volts(most.greatest))
    }

    /// Its loads, each with the position of its node.
    pub fn loads(&self) -> impl Iterator<Item = (usize, &Load)> {
        self.nodes.iter().enumerate().flat_map(|(at, node)| node.loads.iter().map(move |load| (at, load)))
    }

    /// For each of [`Tree::loads`], whether a relay watches its supply: one that stands behind it at its place, or one
    /// beyond that on the same cables. A relay behind a module's output watches that output only.
    pub(crate) fn watched(&self, site: &Site) -> Vec<bool> {
        let relay = |load: &Load| load.senses(site) == Some(Senses::Supply);
        let mut beyond = vec![false; self.nodes.len()];
        for (at, node) in self.nodes.iter().enumerate().rev() {
            let here = beyond.get(at).copied().unwrap_or_default() || node.loads.iter().any(relay);
            if let Some(before) = beyond.get_mut(node.before).filter(|_| node.before != at && node.outlet.is_none()) {
                *before |= here;
            }
        }
        let behind = |(node, beyond): (&Node, &bool)| {
            // At a board the zones stand beside each other, and not behind.
            let at_board = node.run.is_none() && node.loads.iter().any(relay);
            let last = node.loads.iter().rposition(relay);
            let watched = *beyond || at_board;
            (0..node.loads.len()).map(|at| watched || last.is_some_and(|last| at < last)).collect::<Vec<_>>()
        };
        self.nodes.iter().zip(&beyond).flat_map(behind).collect()
    }

    /// The circuit whose cable brings the supply to a node.
    pub(crate) fn circuit_of<'s>(&self, site: &'s Site, node: usize) -> Option<&'s Circuit> {
        site.circuit_of(self.nodes.get(node)?.run?)
    }

    /// The cables from the supply to a node, from the supply on.
    pub(crate) fn path(&self, node: usize) -> Vec<Id<Run>> {
        self.way(node).into_iter().filter_map(|at| self.nodes.get(at)?.run).collect()
    }

    /// The places from the supply to a node, from the supply on.
    pub(crate) fn way(&self, node: usize) -> Vec<usize> {
        let mut places = vec![node];
        let mut at = node;
        while let Some(item) = self.nodes.get(at).filter(|item| item.before != at) {
            at = item.before;
            places.push(at);
        }
        places.reverse();
        places
    }

    /// The place of the output or port that a node is fed by.
    pub(crate) fn outlet_node(&self, node: usize) -> usize {
        let starts = |at: &usize| self.nodes.get(*at).is_some_and(|place| place.outlet.is_some());
        self.way(node).into_iter().rev().find(starts).unwrap_or_default()
    }

    /// True where one place is fed while something stands one way, and another while it stands the other way.
    pub(crate) fn has_either_or(&self) -> bool {
        let throws = || self.nodes.iter().filter_map(|node| node.throw);
        let on: BTreeSet<Toggle> = throws().filter(|throw| throw.on).map(|throw| throw.by).collect();
        throws().any(|throw| !throw.on && on.contains(&throw.by))
    }

    /// True where a node has its supply in a case.
    pub(crate) fn is_on(&self, node: usize, supply: Supply, demand: Demand) -> bool {
        let off = |at: &usize| self.nodes.get(*at).is_some_and(|place| place.off_in.contains(&(supply, demand)));
        !self.way(node).iter().any(off)
    }

    /// The output or port that a node is fed by: the last that starts on the way to it.
    pub(crate) fn outlet_of(&self, node: usize) -> Source {
        self.outlets_to(node).next().unwrap_or(self.source)
    }

    /// The outputs and ports on the way to a node, from it back to the supply's own.
    pub(crate) fn outlets_to(&self, node: usize) -> impl Iterator<Item = Source> {
        let outlets = self.way(node).into_iter().rev().filter_map(|at| self.nodes.get(at)?.outlet);
        outlets.chain(std::iter::once(self.source))
    }

    /// What hangs on the supply by a cable of its own: the positions of each such part, in order. What stands at the
    /// supply itself is a part too. No part changes the volts of another.
    pub(crate) fn branches(&self) -> Vec<Range<usize>> {
        let mut starts: Vec<usize> =
            self.nodes.iter().enumerate().filter(|(at, node)| *at == 0 || node.before == 0).map(|(at, _)| at).collect();
        starts.push(self.nodes.len());
        starts.iter().zip(starts.iter().skip(1)).map(|(start, end)| *start..*end).collect()
    }

    /// The tree with some of its branches only, which are given in their order.
    #[must_use]
    pub(crate) fn only(&self, branches: &[Range<usize>]) -> Self {
        let mut nodes: Vec<Node> = self.nodes.iter().take(1).cloned().collect();
        if let Some(root) = nodes.first_mut().filter(|_| branches.iter().all(|branch| branch.start > 0)) {
            root.loads.clear();
        }
        for branch in branches.iter().filter(|branch| branch.start > 0) {
            let shift = branch.start.saturating_sub(nodes.len());
            let kept = self.nodes.get(branch.clone()).unwrap_or_default().iter().cloned();
            let before = |node: &Node| if node.before == 0 { 0 } else { node.before.saturating_sub(shift) };
            nodes.extend(kept.map(|node| Node { before: before(&node), ..node }));
        }
        Self { nodes, unknown: Vec::new(), ..*self }
    }
}
