//! The figures of a bus beside their limits, each with what the limit rests on.

use serde::Serialize;

use super::measure::millivolts;
use super::places;
use crate::base::wording::list;
use crate::calc::bus::{BusFigures, formulas};
use crate::calc::power::Demand;
use crate::compiled::Compiled;
use crate::model::{Bus, Source};
use crate::profiles::bus::{
    COMMON_MODE_BELOW, LENGTH_TIMES_RATE, LONGEST, MOST_UNIT_LOADS, STUB, TERMINATOR, THRESHOLD, UNIT_LOAD,
    UNIT_LOAD_MEANS, stub_assumptions,
};
use crate::quantity::{Metres, Ohms, Volts, print};
use crate::words;

/// A row: what, here, the limit, its basis.
#[derive(Debug, Serialize)]
pub(crate) struct Figure {
    pub(crate) what: &'static str,
    pub(crate) here: String,
    pub(crate) limit: String,
    pub(crate) margin: String,
    pub(crate) basis: String,
}

/// The rows of a bus.
pub(crate) fn of(compiled: &Compiled, bus: &Bus, figures: &BusFigures) -> Vec<Figure> {
    let site = &compiled.site;
    let layout = &figures.layout;
    let length = |metres: Metres| print::length(metres, site.lengths);
    let mut rows = Vec::new();
    if !bus.differential {
        rows.push(Figure {
            what: "length between the ends",
            here: length(layout.length()),
            limit: BY_SHEET.to_owned(),
            margin: String::new(),
            basis: "the boards' sheets".to_owned(),
        });
        rows.extend(shift(figures).map(|shift| Figure {
            what: "minus of a module above the board's",
            here: Volts(shift).to_string(),
            limit: BY_SHEET.to_owned(),
            margin: String::new(),
            basis: "data against minus: what lifts the minus of a module shifts what it reads".to_owned(),
        }));
        rows.extend(current(compiled, bus));
        return rows;
    }

    let longest = bus.rate.as_ref().map_or(Metres(LONGEST.value), |rate| formulas::longest(rate.value));
    let at = bus.rate.as_ref().map_or_else(|| "any rate".to_owned(), |rate| rate.value.to_string());
    rows.push(Figure {
        what: "length between the ends",
        here: length(layout.length()),
        // Rounded down, as in the finding: what is printed still works.
        limit: format!("at most {} at {at}", length(words::rounded_down(longest, site.lengths))),
        margin: margin(longest.0 - layout.length().0, |left| length(Metres(left))),
        basis: format!("10⁸ m·bit/s, and 1200 m; rule of thumb: {}", LENGTH_TIMES_RATE.source()),
    });
    let most = words::tenths_down(Metres(STUB.value), site.lengths);
    let stub = layout.stubs().iter().map(|stub| stub.length.0).reduce(f64::max);
    rows.push(Figure {
        what: "longest stub",
        here: stub.map_or_else(|| "none".to_owned(), |stub| length(Metres(stub))),
        limit: format!("at most {}", length(most)),
        margin: stub.map_or_else(String::new, |stub| margin(most.0 - stub, |left| length(Metres(left)))),
        basis: format!(
            "a tenth of a rise time times the speed in the cable ({}); assumed are {}",
            STUB.source(),
            stub_assumptions()
        ),
    });
    let fitted: Vec<String> = layout
        .terminators
        .iter()
        .map(|one| format!("{} at {}", one.ohms, places::title(compiled, figures, one.place)))
        .collect();
    rows.push(Figure {
        what: "terminators",
        here: if fitted.is_empty() { "none".to_owned() } else { list(&fitted, "and") },
        limit: format!("{}, one at each end", Ohms(TERMINATOR.value)),
        margin: String::new(),
        basis: TERMINATOR.source(),
    });
    rows.push(Figure {
        what: "unit loads",
        here: places::number(layout.unit_loads()),
        limit: format!("at most {:.0} of {}", MOST_UNIT_LOADS.value, Ohms(UNIT_LOAD.value)),
        margin: margin(MOST_UNIT_LOADS.value - layout.unit_loads(), places::number),
        basis: format!("{}; {UNIT_LOAD_MEANS} ({})", MOST_UNIT_LOADS.source(), UNIT_LOAD.source()),
    });
    rows.push(bias(compiled, figures));
    if let Some(shift) = shift(figures) {
        rows.push(Figure {
            what: "minus of a module above the board's",
            here: Volts(shift).to_string(),
            limit: format!("at most {}", Volts(COMMON_MODE_BELOW.value)),
            margin: margin(COMMON_MODE_BELOW.value - shift, |left| Volts(left).to_string()),
            basis: format!("common mode of −7 to +12 V: {}", COMMON_MODE_BELOW.source()),
        });
    }
    rows.extend(current(compiled, bus));
    rows
}

/// The limit of a bus that is not differential.
const BY_SHEET: &str = "by the boards' sheets";

/// The most that the minus of a module stands above the board's, in volt.
fn shift(figures: &BusFigures) -> Option<f64> {
    let places = 0..figures.layout.places.len();
    places.filter_map(|at| figures.shifts.worst(at)).map(|volts| volts.0).reduce(f64::max)
}

fn margin(left: f64, print: impl Fn(f64) -> String) -> String {
    if left >= 0.0 { print(left) } else { "none".to_owned() }
}

fn bias(compiled: &Compiled, figures: &BusFigures) -> Figure {
    let (here, left) = match &figures.idle {
        Some(idle) => {
            let (worst, least) = idle.worst();
            let there = places::title(compiled, figures, worst);
            let left = margin(least - THRESHOLD.value, millivolts);
            (format!("{} at {there}, worst case", millivolts(least)), left)
        }
        None => ("not known: no board gives its bias resistors".to_owned(), String::new()),
    };
    Figure {
        what: "between A and B when nobody sends",
        here,
        limit: format!("at least {}", millivolts(THRESHOLD.value)),
        margin: left,
        basis: THRESHOLD.source(),
    }
}

/// What the port gives in alarm, where it belongs to a board with a supply of its own.
fn current(compiled: &Compiled, bus: &Bus) -> Option<Figure> {
    let feeding = compiled.power.of(Source::Port(bus.board.as_ref()?.value, bus.port?))?;
    let most = feeding.current(Demand::Alarm);
    let limit = feeding.tree.limit;
    Some(Figure {
        what: "current to the modules, all in alarm",
        here: format!("{most} (at rest {})", feeding.current(Demand::Idle)),
        limit: limit.map_or_else(|| "not known".to_owned(), |limit| format!("at most {limit}")),
        margin: limit.map_or_else(String::new, |limit| {
            margin(limit.0 - most.0, |left| crate::quantity::Amperes(left).to_string())
        }),
        basis: ["the board's sheet".to_owned()]
            .into_iter()
            .chain(words::raising(&feeding.tree))
            .collect::<Vec<_>>()
            .join("; "),
    })
}
