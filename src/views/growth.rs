//! What is left of what may fill up, and what is kept for later: two tables of the cover.

use serde::Serialize;

use crate::base::wording::count;
use crate::compiled::Compiled;
use crate::model::{Owner, Run, Site};
use crate::quantity::{AmpereHours, Amperes, Metres, print};
use crate::record::figures::growth::{Capacity, Of, What, capacities};
use crate::words::{self, Paper};

/// A line of what is left.
#[derive(Serialize)]
pub(super) struct Line {
    what: String,
    has: String,
    used: String,
    left: String,
}

/// What is kept for later.
#[derive(Serialize)]
pub(super) struct Kept {
    what: String,
    place: String,
    purpose: String,
}

/// What is left of everything of which a limit is known.
pub(super) fn lines(compiled: &Compiled) -> Vec<Line> {
    let site = &compiled.site;
    let line = |capacity: Capacity| {
        let figure = |value: f64| figure(site, capacity.what, value);
        // What is asked of a battery is printed alike on every sheet: up.
        let used = match capacity.what {
            What::BatteryCapacity => words::needed_capacity(AmpereHours(capacity.used)).0,
            What::Inputs
            | What::Switches
            | What::Screws
            | What::Zones
            | What::Characters
            | What::Ways
            | What::Detectors
            | What::Addresses
            | What::UnitLoads
            | What::Length
            | What::RestCurrent
            | What::AlarmCurrent => capacity.used,
        };
        Line {
            what: format!("{}: {}", owner(site, capacity.of), what(capacity.what)),
            has: figure(capacity.has),
            used: figure(used),
            left: if capacity.used > capacity.has { "none".to_owned() } else { figure(capacity.has - used) },
        }
    };
    capacities(compiled).into_iter().map(line).collect()
}

fn owner(site: &Site, of: Of) -> String {
    match of {
        Of::Board(board) => Paper.board(site, board),
        Of::Source(source) => format!("{}, {}", Paper.board(site, source.board()), Paper.outlet(site, source)),
        Of::Bus(bus) => Paper.owner(site, Owner::Bus(bus)),
        Of::Form => "monitoring service's form".to_owned(),
    }
}

fn what(what: What) -> &'static str {
    match what {
        What::Inputs => "inputs",
        What::Switches => "relays and transistors",
        What::Screws => "terminals for loops, supplies, buses and lines",
        What::Zones => "zones",
        What::Characters => "characters of the longest description",
        What::Ways => "ways",
        What::Detectors => "wireless detectors",
        What::Addresses => "addresses",
        What::UnitLoads => "unit loads",
        What::Length => "length",
        What::RestCurrent => "current at rest",
        What::AlarmCurrent => "current in alarm",
        What::BatteryCapacity => "battery, held against what is asked for",
    }
}

fn figure(site: &Site, what: What, value: f64) -> String {
    match what {
        What::Inputs
        | What::Switches
        | What::Screws
        | What::Ways
        | What::Detectors
        | What::Addresses
        | What::Zones
        | What::Characters => format!("{value:.0}"),
        What::UnitLoads => format!("{value:.2}").trim_end_matches('0').trim_end_matches('.').to_owned(),
        What::Length => print::length(words::rounded_down(Metres(value), site.lengths), site.lengths),
        What::RestCurrent | What::AlarmCurrent => Amperes(value).to_string(),
        What::BatteryCapacity => AmpereHours(value).to_string(),
    }
}

/// Zone numbers, cables and conductors that are kept for later.
pub(super) fn kept(compiled: &Compiled) -> Vec<Kept> {
    let Compiled { site, wiring, .. } = compiled;
    let zones = site.zones.iter().filter(|zone| zone.reserved.is_some()).map(|zone| Kept {
        what: format!("zone {}", zone.number.value),
        place: String::new(),
        purpose: zone.description.value.clone(),
    });
    let label = |run| wiring.cable_of(run).map_or_else(String::new, |cable| cable.label.clone());
    let cables = site.spares.entries().flat_map(|(id, spare)| {
        site.runs_of(Owner::Spare(id)).map(move |(run, item)| Kept {
            what: match item.room {
                Some(_) => format!("cable {}, coiled at both ends", label(run)),
                None => format!("cable {}, of which one end was never found", label(run)),
            },
            place: between(site, run, item),
            purpose: spare.title.clone(),
        })
    });
    let conductors = site.runs.entries().flat_map(|(run, item)| {
        item.reserved.iter().map(move |reserve| Kept {
            what: format!("{} of {}", count(reserve.conductors as usize, "conductor", None), label(run)),
            place: between(site, run, item),
            purpose: reserve.name.value.clone(),
        })
    });
    zones.chain(cables).chain(conductors).collect()
}

fn between(site: &Site, run: crate::base::Id<Run>, item: &Run) -> String {
    let length = item.length.as_ref().map(|length| format!(", {}", print::length(length.value, site.lengths)));
    format!("{} to {}{}", words::start(site, run), words::end(site, run), length.unwrap_or_default())
}
