//! The supplies of a site, solved in every case.

use std::collections::BTreeMap;

use super::case::{CASES, Case, Demand, Supply, Wire};
use super::own_supply;
use super::solve::{self, Collapse, Flow, solve};
use super::tree::{Consumer, Tree};
use super::trees::{self, Circle};
use crate::base::Id;
use crate::model::{Board, Site, Source};
use crate::quantity::{Amperes, Volts};

/// A tree with its solution in every case that can occur.
#[derive(Clone, Debug)]
pub struct Feeding {
    /// What is fed.
    pub tree: Tree,
    /// Volts of the supply at the end of the battery; `None` where there is no battery.
    pub battery_volts: Option<Volts>,
    /// How many times its current flows in the board's own supply, on mains and on battery.
    pub(crate) times: (f64, f64),
    /// The solutions; a case is absent where the volts of the supply are not known or there is no battery.
    pub flows: BTreeMap<Case, Result<Flow, Collapse>>,
}

impl Feeding {
    /// The solution of a case.
    pub(crate) fn flow(&self, supply: Supply, demand: Demand, wire: Wire) -> Option<&Flow> {
        self.flows.get(&Case { supply, demand, wire })?.as_ref().ok()
    }

    /// The most that the supply gives in a demand, over all cases; sums of the sheets where no volts are known.
    pub(crate) fn current(&self, demand: Demand) -> Amperes {
        self.current_at(0, demand)
    }

    /// The most that goes into a node in a demand, over all cases; for the first, what the supply gives.
    pub(crate) fn current_at(&self, node: usize, demand: Demand) -> Amperes {
        let by_sheet = || {
            let [mains, battery] = [Supply::Mains, Supply::Battery].map(|supply| self.by_sheet(node, supply, demand));
            Amperes(mains.0.max(battery.0))
        };
        self.most(node, |case| case.demand == demand).unwrap_or_else(by_sheet)
    }

    /// Volts at a node in a case while nothing flows: the most that any cable could bring there. `None` where the volts of the
    /// supply are not known.
    pub(crate) fn unloaded(&self, node: usize, case: Case) -> Option<Volts> {
        let source = source_volts(&self.tree, self.battery_volts, case.supply)?;
        solve::without_load(&self.tree, source.0, case.supply, case.wire).get(node).copied().map(Volts)
    }

    /// What goes into a node for each ampere that another takes, in the case of a demand in which the most goes in: more
    /// than one where an output between them raises its volts.
    pub(crate) fn factor(&self, into: usize, node: usize, demand: Demand) -> f64 {
        let flows =
            self.flows.iter().filter(|(case, _)| case.demand == demand).filter_map(|(_, flow)| flow.as_ref().ok());
        let amperes = |flow: &Flow| flow.amperes.get(into).map_or(0.0, |amperes| amperes.0);
        let Some(flow) = flows.max_by(|one, other| amperes(one).total_cmp(&amperes(other))) else { return 1.0 };
        let volts = |at: usize| flow.volts.get(at).copied().flatten().map(|volts| volts.0);
        let between = self.tree.way(node).into_iter().skip_while(|at| *at != into).skip(1);
        let raised = between
            .filter_map(|at| self.tree.nodes.get(at).filter(|node| node.raised.is_some()).map(|node| (at, node)));
        raised
            .map(|(at, node)| volts(at).zip(volts(node.before)).map_or(1.0, |(to, from)| (to / from).max(1.0)))
            .product()
    }

    /// The most that the board's own supply gives for this one in a demand, on mains or on the battery; sums of the sheets where
    /// no volts are known.
    pub(crate) fn current_on(&self, supply: Supply, demand: Demand) -> Amperes {
        let most = self.most(0, |case| case.demand == demand && case.supply == supply);
        let times = match supply {
            Supply::Mains => self.times.0,
            Supply::Battery => self.times.1,
        };
        Amperes(most.unwrap_or_else(|| self.by_sheet(0, supply, demand)).0 * times)
    }

    /// Where no volts are known, or no cable carries what is asked.
    fn by_sheet(&self, node: usize, supply: Supply, demand: Demand) -> Amperes {
        solve::by_sheet(&self.tree, supply, demand).get(node).copied().unwrap_or_default()
    }

    fn most(&self, node: usize, when: impl Fn(&Case) -> bool) -> Option<Amperes> {
        let flows = self.flows.iter().filter(|(case, _)| when(case)).filter_map(|(_, flow)| flow.as_ref().ok());
        flows.filter_map(|flow| flow.amperes.get(node)).map(|amperes| amperes.0).reduce(f64::max).map(Amperes)
    }

    /// The first case without a solution, with the node that it fails at.
    pub(crate) fn collapse(&self) -> Option<(Case, Collapse)> {
        self.flows.iter().find_map(|(case, flow)| flow.as_ref().err().map(|collapse| (*case, *collapse)))
    }

    /// Volts at a node over the cases of a supply and demand: hot wire, cold wire; `None` where it is off or not known.
    pub(crate) fn volts(&self, node: usize, supply: Supply, demand: Demand) -> Option<(Volts, Volts)> {
        let at = |wire| self.flow(supply, demand, wire)?.volts.get(node).copied().flatten();
        Some((at(Wire::Hot)?, at(Wire::Cold)?))
    }
}

/// The supplies of a site, solved.
#[derive(Clone, Debug, Default)]
pub struct Power {
    /// By board: its outputs, then its bus ports.
    pub feedings: Vec<Feeding>,
    /// Boards that feed each other.
    pub(crate) circles: Vec<Circle>,
}

impl Power {
    /// The tree of a source that stands at a board with a supply of its own.
    pub(crate) fn of(&self, source: Source) -> Option<&Feeding> {
        self.feedings.iter().find(|feeding| feeding.tree.source == source)
    }

    /// The trees of a board, its outputs first.
    pub(crate) fn of_board(&self, board: Id<Board>) -> impl Iterator<Item = &Feeding> {
        self.feedings.iter().filter(move |feeding| feeding.tree.source.board() == board)
    }

    /// Where a consumer is fed: tree and node. A consumer that is fed twice is found where it comes first.
    pub(crate) fn place_of(&self, consumer: Consumer) -> Option<(&Feeding, usize)> {
        self.feedings.iter().find_map(|feeding| {
            let found = feeding.tree.loads().find(|(_, load)| load.consumer == consumer);
            found.map(|(node, _)| (feeding, node))
        })
    }
}

/// Solves every supply of a site in every case.
pub fn of_site(site: &Site) -> Power {
    let (trees, circles) = trees::of_site(site);
    let feedings = trees.into_iter().map(|tree| feeding(site, tree)).collect();
    Power { feedings, circles }
}

/// Volts of a tree's supply at the end of the battery; `None` where there is none.
pub(crate) fn battery_volts(site: &Site, tree: &Tree) -> Option<Volts> {
    let (board, volts) = (tree.source.board(), tree.volts?);
    let part = site.part_of(board)?;
    let output = match tree.source {
        Source::Output(output) => site.output(output),
        Source::Port(..) => None,
    };
    let end = own_supply::end_of_battery(part) - own_supply::own_drop(part);
    let end = output.map_or(end, |output| output.least.unwrap_or(end - output.drop));
    site.boards[board].battery.is_some().then_some(Volts(end.0.clamp(0.0, volts.0.max(0.0))))
}

/// The volts that a tree is solved from.
fn source_volts(tree: &Tree, battery: Option<Volts>, supply: Supply) -> Option<Volts> {
    match supply {
        Supply::Mains => tree.on_mains(),
        Supply::Battery => battery,
    }
}

/// Solves one tree in every case.
pub(crate) fn feeding(site: &Site, tree: Tree) -> Feeding {
    let battery_volts = battery_volts(site, &tree);
    let flows = CASES
        .into_iter()
        .filter_map(|case| {
            let volts = source_volts(&tree, battery_volts, case.supply)?;
            Some((case, solve(&tree, volts, case.supply, case.demand, case.wire)))
        })
        .collect();
    let times = |supply, volts: Option<Volts>| {
        let part = site.part_of(tree.source.board());
        part.zip(volts).map_or(1.0, |(part, volts)| own_supply::takes_times(part, supply, volts))
    };
    let times = (times(Supply::Mains, tree.volts), times(Supply::Battery, battery_volts));
    Feeding { tree, battery_volts, times, flows }
}
