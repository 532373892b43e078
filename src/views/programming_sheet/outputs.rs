//! Outputs, relays and transistors: what hangs there, and what the board is to switch them by.

use serde::Serialize;

use crate::base::Id;
use crate::base::wording::list;
use crate::compiled::Compiled;
use crate::model::{Circuit, OutputRef, Site};
use crate::terms::When;
use crate::words::{self, Paper};

/// An output that is programmed: what is on all the time, and never taken away, is not.
#[derive(Serialize)]
pub(super) struct Row {
    output: String,
    feeds: String,
    by: String,
}

/// The outputs that something hangs on, then the relays and transistors, by circuit.
pub(super) fn rows(Compiled { site, .. }: &Compiled) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for (board, _) in site.boards.entries() {
        let outputs = site.part_of(board).map_or(0, |part| part.outputs.len());
        rows.extend((0..outputs).filter_map(|output| of_output(site, OutputRef { board, output })));
    }
    rows.extend(site.circuits.entries().filter_map(|(id, circuit)| switched(site, id, circuit)));
    rows
}

fn of_output(site: &Site, of: OutputRef) -> Option<Row> {
    let output = site.output(of)?;
    let by = match (output.when, output.switched) {
        (When::Alarm, _) => "an alarm; how long: see the area",
        (When::Always, true) => "always on, taken away for a moment to reset the detectors",
        (When::Always, false) => return None,
    };
    let fed = site.circuits.entries().filter(|(_, circuit)| circuit.feed.as_ref().is_some_and(|feed| feed.value == of));
    let circuits = fed.map(|(_, circuit)| circuit.title.clone());
    let detectors =
        site.devices.entries().filter(|(_, device)| device.supply.as_ref().is_some_and(|at| at.value == of));
    let detectors = detectors.map(|(id, _)| words::placed(site, id));
    let feeds: Vec<String> = circuits.chain(detectors).collect();
    (!feeds.is_empty()).then(|| Row {
        output: format!("{}: output {}", Paper.board(site, of.board), output.name.value),
        feeds: list(&feeds, "and"),
        by: by.to_owned(),
    })
}

fn switched(site: &Site, id: Id<Circuit>, circuit: &Circuit) -> Option<Row> {
    let (of, switch, switching) = site.switched_by(circuit)?;
    Some(Row {
        output: format!("{}: {}", Paper.board(site, of.board), words::contact(switch, switching)),
        feeds: words::hung(site, id),
        by: words::drives(site, switching),
    })
}
