//! How supplies, loads and ways are written on the sheet.

use crate::base::Id;
use crate::calc::power::{Consumer, Source, Tree};
use crate::model::{Run, Site};
use crate::quantity::{Metres, print};
use crate::register::Wiring;
use crate::views::words;

/// A load, as on the other sheets.
pub fn consumer(site: &Site, consumer: Consumer) -> String {
    match consumer {
        Consumer::Device(id) => words::device(site, id),
        Consumer::Board(id) => words::board(site, id),
        Consumer::Hop(line, hop) => {
            site.communicators[line].hops.get(hop).map(|hop| hop.name.value.clone()).unwrap_or_default()
        }
    }
}

/// "output aux", "bus port data".
pub fn source(site: &Site, source: Source) -> String {
    match source {
        Source::Output(output) => format!("output {}", words::output(site, output)),
        Source::Port(board, port) => {
            let port = site.part_of(board).and_then(|part| part.bus_ports.get(port));
            format!("bus port {}", port.map(|port| port.name.value.as_str()).unwrap_or_default())
        }
    }
}

/// The labels of the cables from a supply to a place, from the supply on, each once.
pub fn labels(wiring: &Wiring, tree: &Tree, node: usize) -> Vec<String> {
    let mut labels: Vec<String> = Vec::new();
    for label in tree.path(node).into_iter().filter_map(|run: Id<Run>| wiring.cable_of(run)).map(|cable| &cable.label) {
        if labels.last() != Some(label) {
            labels.push(label.clone());
        }
    }
    labels
}

/// The length of the way to a place.
pub fn length(site: &Site, tree: &Tree, node: usize) -> Metres {
    tree.path(node).into_iter().filter_map(|run| site.runs[run].length.as_ref()).map(|length| length.value).sum()
}

/// The way to a place: "SUPPLY-UP-1 → Z18, 60 ft", or that it is at the board.
pub fn way(site: &Site, wiring: &Wiring, tree: &Tree, node: usize) -> String {
    let labels = labels(wiring, tree, node);
    if labels.is_empty() {
        return "at the board".to_owned();
    }
    format!("{}, {}", labels.join(" → "), print::length(length(site, tree, node), site.lengths))
}
