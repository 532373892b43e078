//! How supplies, loads and ways are written on the sheet.

use crate::calc::power::{Source, Tree};
use crate::model::Site;
use crate::quantity::{Metres, print};
use crate::register::Wiring;
use crate::views::words;

pub use words::consumer;

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

/// The length of the way to a place.
pub fn length(site: &Site, tree: &Tree, node: usize) -> Metres {
    tree.path(node).into_iter().filter_map(|run| site.runs[run].length.as_ref()).map(|length| length.value).sum()
}

/// The way to a place: "SUPPLY-UP-1 → Z18, 60 ft", or that it is at the board.
pub fn way(site: &Site, wiring: &Wiring, tree: &Tree, node: usize) -> String {
    let labels = wiring.labels(&tree.path(node));
    if labels.is_empty() {
        return "at the board".to_owned();
    }
    format!("{}, {}", labels.join(" → "), print::length(length(site, tree, node), site.lengths))
}
