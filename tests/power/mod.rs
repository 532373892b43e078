//! Supplies: against an outside solver, against laws of circuits, and remedies that do what the help says.

mod alder_mill;
mod given;
mod laws;
mod ngspice;
pub mod plan;
mod remedies;
mod switching;

use loopwright::base::Id;
use loopwright::calc::power::{Consumer, Feeding, Power, of_site};
use loopwright::model::{Board, Site};

use plan::{Plan, spec};

/// The site of some plans, with its supplies.
fn solved(plans: &[Plan]) -> (Site, Power) {
    let site = crate::loops::site(&spec(plans));
    let power = of_site(&site);
    (site, power)
}

/// The tree of each plan, in their order.
fn trees<'p>(site: &Site, power: &'p Power, plans: &[Plan]) -> Vec<&'p Feeding> {
    let panel = |number: usize| -> Id<Board> {
        let name = format!("p{number}");
        site.boards.entries().find(|(_, board)| board.name.value == name).unwrap().0
    };
    let of = |number: usize| {
        let board = panel(number);
        let mut found = power.feedings.iter().filter(|feeding| feeding.tree.source.board() == board);
        found.find(|feeding| feeding.tree.nodes.len() > 1).unwrap()
    };
    (0..plans.len()).map(of).collect()
}

/// The node of a tree at each place of its plan. Both are known by what the plan's text says in order.
fn nodes(site: &Site, feeding: &Feeding, plan: &Plan, number: usize) -> Vec<usize> {
    let tree = &feeding.tree;
    let mut found = vec![usize::MAX; plan.places.len()];
    let mut next_child = vec![Vec::new(); tree.nodes.len()];
    for (at, node) in tree.nodes.iter().enumerate().filter(|(at, node)| node.before != *at) {
        next_child[node.before].push(at);
    }
    // What starts at a node by cable, seen through the outlets of a module.
    fn cables(tree: &loopwright::calc::power::Tree, next: &[Vec<usize>], at: usize) -> Vec<usize> {
        let own = |child: &usize| match tree.nodes[*child].run {
            Some(_) => vec![*child],
            None => cables(tree, next, *child),
        };
        next[at].iter().flat_map(own).collect()
    }
    for place in 0..plan.places.len() {
        let start = plan.places[place].before.map_or(0, |before| found[before]);
        let siblings: Vec<usize> =
            (0..plan.places.len()).filter(|at| plan.places[*at].before == plan.places[place].before).collect();
        let of_bus = |at: &usize| *at < plan.modules;
        // A module's circuits come in the order of their names.
        let rank = |at: usize| format!("c{number}-{at}");
        let circuit = plan.places[place].before.is_none_or(|before| before < plan.modules);
        let mut same: Vec<usize> = siblings.iter().copied().filter(|at| of_bus(at) == of_bus(&place)).collect();
        if circuit {
            same.sort_by_key(|at| rank(*at));
        }
        let position = same.iter().position(|at| *at == place).unwrap();
        let on_bus =
            |at: &usize| matches!(site.runs[tree.nodes[*at].run.unwrap()].owner, loopwright::model::Owner::Bus(_));
        let here: Vec<usize> =
            cables(tree, &next_child, start).into_iter().filter(|at| on_bus(at) == of_bus(&place)).collect();
        found[place] = here[position];
    }
    found
}

/// How many times a consumer stands in the supplies of a site.
fn times(power: &Power, consumer: Consumer) -> usize {
    power.feedings.iter().flat_map(|feeding| feeding.tree.loads()).filter(|(_, load)| load.consumer == consumer).count()
}
