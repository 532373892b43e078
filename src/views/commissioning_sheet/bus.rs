//! Buses with everything on: supply and idle volts at every board, as a meter may show them.

use serde::Serialize;

use crate::base::Id;
use crate::calc::as_built::at_rest;
use crate::calc::bus::BusFigures;
use crate::calc::meter::{shown_in_millivolts, volts_shown_by_a_meter};
use crate::calc::power::Consumer;
use crate::compiled::Compiled;
use crate::model::{Board, Bus};
use crate::views::bus_sheet::measure::millivolts;
use crate::words::{self, Paper};

/// A bus.
#[derive(Debug, Serialize)]
pub(crate) struct Rows {
    name: String,
    rows: Vec<Row>,
}

/// A board on it.
#[derive(Debug, Serialize)]
pub(crate) struct Row {
    board: String,
    address: String,
    /// Marks of the terminals, empty where they are not known.
    supply_at: String,
    volts: String,
    /// A dash where there is nothing to measure.
    reading: &'static str,
    data_at: String,
    idle: String,
}

/// The buses of which all is known, by name.
pub(crate) fn rows(compiled: &Compiled) -> Vec<Rows> {
    let of = |(id, bus): (Id<Bus>, &Bus)| {
        let figures = compiled.buses.get(&id)?;
        let boards = figures.layout.in_order().into_iter().flat_map(|(at, _)| {
            let boards = figures.layout.places.get(at).map(|place| place.boards.clone()).unwrap_or_default();
            boards.into_iter().map(move |board| (at, board))
        });
        let rows = boards.map(|(at, board)| row(compiled, id, figures, at, board)).collect();
        Some(Rows { name: bus.name.value.clone(), rows })
    };
    compiled.site.buses.entries().filter_map(of).collect()
}

fn row(compiled: &Compiled, bus: Id<Bus>, figures: &BusFigures, at: usize, id: Id<Board>) -> Row {
    let Compiled { site, power, .. } = compiled;
    let port = site.bus_port(bus, id);
    let fed = power.place_of(Consumer::Board(id)).and_then(|(feeding, node)| at_rest(feeding, node));
    let volts = fed.map(volts_shown_by_a_meter).map(|(least, most)| words::range(least.0, most.0, words::volts));
    let idle = figures.idle.as_ref().and_then(|idle| idle.volts.get(at)).map(|volts| shown_in_millivolts(*volts));
    Row {
        board: Paper.board(site, id),
        address: site.boards[id].address.as_ref().map(|address| address.value.to_string()).unwrap_or_default(),
        supply_at: port.map(|port| format!("{}, {}", port.plus, port.minus)).unwrap_or_default(),
        reading: if volts.is_some() { "" } else { "–" },
        volts: volts.unwrap_or_else(|| "–".to_owned()),
        data_at: port
            .filter(|_| site.buses[bus].differential)
            .map(|port| format!("{}, {}", port.a, port.b))
            .unwrap_or_default(),
        idle: idle.map(|volts| words::range(volts.least, volts.greatest, millivolts)).unwrap_or_default(),
    }
}
