//! What is where along the cable, as rows of the sheet and of the CSV file.

use serde::Serialize;

use super::super::Table;
use crate::base::Id;
use crate::calc::bus::{BusFigures, Layout, layout};
use crate::calc::power::{Demand, Supply};
use crate::compiled::Compiled;
use crate::draw::Link;
use crate::model::{Board, Bus, Site};
use crate::quantity::{Metres, print};
use crate::words::{self, Paper};

/// A row of the first table.
#[derive(Debug, Serialize)]
pub(crate) struct Place {
    /// Its place on the page, and that of its box in the drawing.
    mark: String,
    drawn: String,
    /// "1", "2"; of a place on a stub that of its junction with a letter: "2a".
    pub(crate) position: String,
    /// Label of the cable that comes here.
    pub(crate) cable: String,
    /// Its length, without unit.
    pub(crate) length: String,
    /// Way from the first end, without unit.
    pub(crate) distance: String,
    /// The boards here.
    pub(crate) board: String,
    /// Their addresses.
    pub(crate) address: String,
    pub(crate) room: String,
    pub(crate) terminator: String,
    unit_load: String,
}

/// The place of a row, by the positions of the bus and of the place on it: "bus-1-p3".
fn mark(site: &Site, bus: Id<Bus>, at: usize) -> String {
    format!("bus-{}-p{}", number_of(site, bus), at + 1)
}

/// The place of a box in the drawing: "bus-1-p3-drawn".
fn drawn_mark(site: &Site, bus: Id<Bus>, at: usize) -> String {
    format!("{}-drawn", mark(site, bus, at))
}

/// From elsewhere to the row of a place.
pub(crate) fn row_link(site: &Site, bus: Id<Bus>, at: usize) -> Link {
    Link { to: format!("bus-sheet.html#{}", mark(site, bus, at)), id: String::new() }
}

/// From a box in the drawing to its row, and the place of that box.
pub(super) fn box_link(site: &Site, bus: Id<Bus>, at: usize) -> Link {
    Link { id: drawn_mark(site, bus, at), ..row_link(site, bus, at) }
}

/// The position of a bus among those of the site, from 1.
pub(super) fn number_of(site: &Site, bus: Id<Bus>) -> usize {
    site.buses.entries().take_while(|(other, _)| *other != bus).count() + 1
}

/// The boards of a place by title; where there is none, the end of its cable.
pub(crate) fn title(compiled: &Compiled, figures: &BusFigures, at: usize) -> String {
    let Some(place) = figures.layout.places.get(at) else { return String::new() };
    let boards: Vec<String> = place.boards.iter().map(|board| Paper.board(&compiled.site, *board)).collect();
    match place.run {
        Some(run) if boards.is_empty() => match &compiled.site.runs[run].into {
            Some(into) => Paper.board(&compiled.site, into.value),
            None => format!("end of {}", words::cable(&compiled.wiring, run)),
        },
        _ => boards.join(", "),
    }
}

/// The room of a place.
pub(crate) fn room(compiled: &Compiled, place: &layout::Place) -> String {
    let site = &compiled.site;
    let first = place.boards.first().map(|board| &site.boards[*board]);
    let room = place.run.map_or(first.and_then(|board| board.room), |run| site.runs[run].room);
    words::room(site, room)
}

/// The terminators of a place: "120 Ω built in", "120 Ω (brown red brown gold)".
pub(crate) fn terminators(layout: &Layout, at: usize) -> String {
    use crate::calc::bus::Fitting;
    let here = layout.terminators.iter().filter(|terminator| terminator.place == at);
    let said: Vec<String> = here
        .map(|terminator| match terminator.fitting {
            Fitting::BuiltIn(_) => format!("{} built in", terminator.ohms),
            Fitting::Written(..) => words::terminator(terminator.ohms),
        })
        .collect();
    said.join(", ")
}

/// Unit loads of a place: "1", "0.25".
fn unit_load(layout: &Layout, at: usize) -> f64 {
    layout.ports.iter().filter(|port| port.place == at).map(|port| port.unit_load).sum()
}

/// A number with three decimals at most.
pub(crate) fn number(value: f64) -> String {
    // The sum of nothing is minus zero.
    let said = format!("{:.3}", value + 0.0);
    said.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// The address of each board of a place that has one.
fn addresses(compiled: &Compiled, boards: &[Id<Board>]) -> String {
    let site = &compiled.site;
    let of = |board: &Id<Board>| site.boards[*board].address.as_ref().map(|address| address.value.to_string());
    boards.iter().filter_map(of).collect::<Vec<_>>().join(", ")
}

/// The rows of a bus.
pub(crate) fn of(compiled: &Compiled, figures: &BusFigures) -> Vec<Place> {
    let site = &compiled.site;
    let layout = &figures.layout;
    let from = layout.distances(layout.ends().0);
    let row = |(at, position): (usize, String)| {
        let place = layout.places.get(at)?;
        Some(Place {
            mark: mark(site, layout.bus, at),
            drawn: drawn_mark(site, layout.bus, at),
            position,
            cable: place.run.map(|run| words::cable(&compiled.wiring, run).to_owned()).unwrap_or_default(),
            length: if place.run.is_some() { site.lengths.number(place.length) } else { String::new() },
            distance: from.get(at).map(|length| site.lengths.number(*length)).unwrap_or_default(),
            board: title(compiled, figures, at),
            address: addresses(compiled, &place.boards),
            room: room(compiled, place),
            terminator: terminators(layout, at),
            unit_load: if site.buses[layout.bus].differential { number(unit_load(layout, at)) } else { String::new() },
        })
    };
    layout.in_order().into_iter().filter_map(row).collect()
}

/// One row for each place of each bus.
pub(crate) fn table(compiled: &Compiled) -> Table {
    let mut table = Table {
        columns: vec![
            "bus",
            "position",
            "board",
            "address",
            "room",
            "cable",
            "cable length",
            "from first end",
            "terminator",
            "unit loads",
            "idle V least",
            "idle V usual",
            "idle V most",
            "supply V mains idle",
            "supply V mains alarm",
            "supply V battery idle",
            "supply V battery alarm",
            "minus shift V most",
        ],
        rows: Vec::new(),
    };
    let in_words =
        |length: Option<Metres>| length.map_or_else(String::new, |length| print::length(length, compiled.site.lengths));
    for (id, figures) in &compiled.buses {
        let layout = &figures.layout;
        let from = layout.distances(layout.ends().0);
        let three = |value: Option<f64>| value.map_or_else(String::new, |value| format!("{:.3}", value + 0.0));
        for ((at, _), row) in layout.in_order().into_iter().zip(of(compiled, figures)) {
            let length = layout.places.get(at).filter(|place| place.run.is_some()).map(|place| place.length);
            let idle = figures.idle.as_ref().and_then(|idle| idle.volts.get(at));
            let volts = |from, demand| {
                three(figures.supply_volts(&compiled.site, &compiled.power, at, (from, demand)).map(|volts| volts.0))
            };
            table.rows.push(vec![
                compiled.site.buses[*id].name.value.clone(),
                row.position,
                row.board,
                row.address,
                row.room,
                row.cable,
                in_words(length),
                in_words(from.get(at).copied()),
                row.terminator,
                row.unit_load,
                three(idle.map(|volts| volts.least)),
                three(idle.map(|volts| volts.nominal)),
                three(idle.map(|volts| volts.greatest)),
                volts(Supply::Mains, Demand::Idle),
                volts(Supply::Mains, Demand::Alarm),
                volts(Supply::Battery, Demand::Idle),
                volts(Supply::Battery, Demand::Alarm),
                three(figures.shifts.worst(at).map(|volts| volts.0)),
            ]);
        }
    }
    table
}
