//! What a meter shows: ohms between A and B with nothing powered, volts with everything on.

use serde::Serialize;

use super::places;
use crate::calc::Spread;
use crate::calc::bus::{BusFigures, Layout, idle};
use crate::calc::power::{Demand, Supply};
use crate::compiled::Compiled;
use crate::model::Bus;
use crate::profiles::bus::TERMINATOR;
use crate::quantity::{Ohms, Volts};
use crate::words::{Paper, ohms, range};

/// A row of resistances: what is right or wrong, and what the meter finds at either end.
#[derive(Debug, Serialize)]
pub(crate) struct Fault {
    what: String,
    right: bool,
    at_first: String,
    at_last: String,
}

/// A row of volts: what the meter shows at a place.
#[derive(Debug, Serialize)]
pub(crate) struct Meter {
    position: String,
    board: String,
    /// Marks of the terminals to measure at: "BA, BB" and "B+, B−".
    data: String,
    supply: String,
    idle: String,
    idle_range: String,
    mains: String,
    battery: String,
    shift: String,
}

/// The resistances with everything as drawn, and with one thing wrong.
pub(crate) fn faults(compiled: &Compiled, figures: &BusFigures) -> Vec<Fault> {
    let layout = &figures.layout;
    let (first, last) = layout.ends();
    let mut faults = vec![Fault {
        what: "everything as drawn".into(),
        right: true,
        at_first: resistance(layout, first),
        at_last: resistance(layout, last),
    }];
    for (position, terminator) in layout.terminators.iter().enumerate() {
        let of = |place| said(idle::resistance_without(layout, place, position));
        faults.push(Fault {
            what: format!("no terminator at {}", places::title(compiled, figures, terminator.place)),
            right: false,
            at_first: of(first),
            at_last: of(last),
        });
    }
    let one_more = |place| said(idle::resistance_with(layout, place, (place, Ohms(TERMINATOR.value))));
    faults.push(Fault {
        what: format!("one of {} too many where you measure", Ohms(TERMINATOR.value)),
        right: false,
        at_first: one_more(first),
        at_last: one_more(last),
    });
    let short = |place, at| said(idle::resistance_shorted(layout, place, at));
    faults.push(Fault {
        what: "A and B touch at the other end".into(),
        right: false,
        at_first: short(first, last),
        at_last: short(last, first),
    });
    faults
}

/// What a meter shows from A to B at a place, in short: ohms at the two ends, volts everywhere; nothing of a bus that is not
/// differential.
pub(crate) fn shown_at(bus: &Bus, figures: &BusFigures, at: usize) -> String {
    if !bus.differential {
        return String::new();
    }
    let layout = &figures.layout;
    let (first, last) = layout.ends();
    let ohms = [first, last].contains(&at).then(|| format!("off {}", resistance(layout, at)));
    let idle = figures.idle.as_ref().and_then(|idle| idle.volts.get(at));
    let volts = idle.map(|volts| format!("on {} mV", range(volts.least, volts.greatest, whole)));
    ohms.into_iter().chain(volts).collect::<Vec<_>>().join("; ")
}

/// What a meter shows at a place with everything as drawn.
fn resistance(layout: &Layout, place: usize) -> String {
    said(idle::resistance(layout, place))
}

fn said(spread: Spread) -> String {
    range(spread.least, spread.greatest, ohms)
}

/// The volts place by place.
pub(crate) fn meter(compiled: &Compiled, figures: &BusFigures) -> Vec<Meter> {
    let site = &compiled.site;
    let layout = &figures.layout;
    let rows = layout.in_order().into_iter().filter_map(|(at, position)| {
        let place = layout.places.get(at)?;
        let landed = place.boards.iter().find(|board| figures.takes_supply(site, **board));
        let board = landed.or(place.boards.first()).copied();
        let port = board.and_then(|board| site.bus_port(layout.bus, board));
        let fed = figures.is_landed(site, at);
        let volts = |supply, demand| figures.supply_volts(site, &compiled.power, at, (supply, demand));
        let least = |supply, demand| volts(supply, demand).map(|volts| volts.0);
        let pair = |supply| match (least(supply, Demand::Idle), least(supply, Demand::Alarm)) {
            (Some(rest), Some(alarm)) => format!("{rest:.2}, {alarm:.2}"),
            _ if !fed && supply == Supply::Mains => "own supply".to_owned(),
            _ => String::new(),
        };
        let idle = figures.idle.as_ref().and_then(|idle| idle.volts.get(at));
        Some(Meter {
            position,
            board: board.map_or_else(|| places::title(compiled, figures, at), |board| Paper.board(site, board)),
            data: port.map(|port| format!("{}, {}", port.a, port.b)).unwrap_or_default(),
            supply: port.filter(|_| fed).map(|port| format!("{}, {}", port.plus, port.minus)).unwrap_or_default(),
            idle: idle.map(|volts| whole(volts.nominal)).unwrap_or_default(),
            idle_range: idle.map(|volts| range(volts.least, volts.greatest, whole)).unwrap_or_default(),
            mains: pair(Supply::Mains),
            battery: pair(Supply::Battery),
            shift: figures.shifts.worst(at).map(|volts: Volts| volts.to_string()).unwrap_or_default(),
        })
    });
    rows.collect()
}

/// Whole millivolts without unit, for a column whose foot names it.
fn whole(volts: f64) -> String {
    format!("{:.0}", volts * 1e3)
}

/// Whole millivolts.
pub(crate) fn millivolts(volts: f64) -> String {
    format!("{:.0} mV", volts * 1e3)
}
