//! Supplies, what they feed, and the cases in which they are judged.

use super::Medium::{self, Paper};
use super::{cable, placed, rated};
use crate::base::Id;
use crate::calc::power::own_supply;
use crate::calc::power::{Case, Consumer, Demand, Supply, Tree};
use crate::model::{Board, HopRef, Site, Source};
use crate::quantity::{Metres, print};
use crate::register::Wiring;

/// "at rest" or "in alarm".
pub(crate) fn demand(demand: Demand) -> &'static str {
    match demand {
        Demand::Idle => "at rest",
        Demand::Alarm => "in alarm",
    }
}

/// "on mains" or "on battery".
pub(crate) fn supply(supply: Supply) -> &'static str {
    match supply {
        Supply::Mains => "on mains",
        Supply::Battery => "on battery",
    }
}

/// What a figure leaves out that holds what goes into a board for volts above its own supply: a sheet of such a board
/// seldom gives its losses.
pub(crate) const LOSSLESS: &str = "as if nothing were lost in the conversion, which is the best case";

/// What the two-wire loops of a board take from its battery: "two-wire detectors and their resistors, × 1.27: from 10.4 V
/// of battery to 13.2 V of loop, as if nothing …".
pub(crate) fn two_wire_loops(site: &Site, board: Id<Board>) -> String {
    let raised = own_supply::raised(site, board, Supply::Battery).map(|(battery, loops)| {
        let [from, to] = [battery, loops].map(rated);
        format!(", × {:.2}: from {from} of battery to {to} of loop, {LOSSLESS}", loops.0 / battery.0)
    });
    format!("two-wire detectors and their resistors{}", raised.unwrap_or_default())
}

/// How an output or port of a module counts that makes more volts of its bus's: "an output or port of a module that raises its volts takes
/// as much more current, as if …"; `None` where no supply of these goes through one.
pub(crate) fn raising(tree: &Tree) -> Option<String> {
    let raises = tree.nodes.iter().any(|node| node.raised.is_some());
    raises
        .then(|| format!("an output or port of a module that raises its volts takes as much more current, {LOSSLESS}"))
}

/// A case: "in alarm on battery".
pub(crate) fn case(case: Case) -> String {
    format!("{} {}", demand(case.demand), supply(case.supply))
}

impl Medium {
    /// An output or bus port, without its board: "output `aux`", "bus port data".
    pub(crate) fn outlet(self, site: &Site, source: Source) -> String {
        let noun = match source {
            Source::Output(_) => "output",
            Source::Port(..) => "bus port",
        };
        format!("{noun} {}", self.name(site.source_name(source).map_or("", |name| name.value.as_str())))
    }

    /// An output or bus port with its board: "output `aux` of panel `main`".
    pub fn source(self, site: &Site, source: Source) -> String {
        format!("{} of {}", self.outlet(site, source), self.board(site, source.board()))
    }

    /// What takes current: "`hall-motion`", "Keypad in the hall". On paper a device stands with its room.
    pub(crate) fn consumer(self, site: &Site, consumer: Consumer) -> String {
        match consumer {
            Consumer::Device(id) if self == Paper => placed(site, id),
            Consumer::Device(id) => self.device(site, id),
            Consumer::Board(id) => self.board(site, id),
            Consumer::Hop(line, hop) => {
                let hop = site.communicators[line].hops.get(hop);
                hop.map_or_else(String::new, |hop| self.name(&hop.name.value))
            }
        }
    }
}

/// The labels of the cables from a supply to a place, from the supply on; runs of one cable together once.
pub(crate) fn labels(wiring: &Wiring, tree: &Tree, node: usize) -> Vec<String> {
    let mut labels: Vec<String> = tree.path(node).into_iter().map(|run| cable(wiring, run).to_owned()).collect();
    labels.retain(|label| !label.is_empty());
    labels.dedup();
    labels
}

/// True for a powered device on a way to the monitoring service that an output feeds by a cable that is not in the spec.
pub(crate) fn is_by_no_cable(site: &Site, tree: &Tree, node: usize, consumer: Consumer) -> bool {
    match consumer {
        Consumer::Hop(line, hop) => {
            let from = site.hop(HopRef { line, hop }).and_then(|hop| hop.from.as_ref());
            from.is_none() && tree.path(node).is_empty()
        }
        Consumer::Device(_) | Consumer::Board(_) => false,
    }
}

/// The length of the way to a place.
pub(crate) fn length(site: &Site, tree: &Tree, node: usize) -> Metres {
    tree.path(node).into_iter().filter_map(|run| site.runs[run].length.as_ref()).map(|length| length.value).sum()
}

/// The way to what takes current at a place: "SUPPLY-UP-1 → Z18, 60 ft", that it is at the board, or that nobody knows.
pub(crate) fn way(site: &Site, wiring: &Wiring, tree: &Tree, node: usize, consumer: Consumer) -> String {
    if is_by_no_cable(site, tree, node, consumer) {
        return "a cable that is not in the spec; volts at the output".to_owned();
    }
    if let Consumer::Hop(line, hop) = consumer
        && let Some(feeder) = site.hop(HopRef { line, hop }).and_then(|hop| site.hop(hop.from.as_ref()?.value))
    {
        return format!("through {}", feeder.name.value);
    }
    let labels = labels(wiring, tree, node);
    if labels.is_empty() {
        return "at the board".to_owned();
    }
    format!("{}, {}", labels.join(" → "), print::length(length(site, tree, node), site.lengths))
}
