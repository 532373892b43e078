//! Loop sheet: what a meter shows at the board for every wired zone, in every state and cable fault.
//!
//! Made to be used standing up with the meter in the other hand: a zone is a few lines, and what reads alike is one
//! row. How each figure is computed is not on the sheet: its links lead to the loop figures, and the command `why` prints
//! them for one zone.

mod drawing;
mod rows;
mod schematic;
mod two_wire;

use serde::Serialize;
use serde_json::Value;

use super::{Document, Drawings, Orientation, Shown, Table, View, copper, loop_marks, procedure, value};
use crate::base::Id;
use crate::base::wording::list;
use crate::calc::conductor::LEAKAGE;
use crate::calc::unseen::{self, Unseen};
use crate::calc::{LoopReadings, ambient};
use crate::compiled::Compiled;
use crate::model::{Owner, Zone};
use crate::quantity::Ohms;
use crate::register::Function;
use crate::words::{self, Paper};

use rows::Row;

/// The loop sheet.
pub(crate) static DOCUMENT: Document = Document {
    name: "loop-sheet",
    title: "Loop sheet",
    about: "ohms and volts of every loop, at rest, in alarm and with a cable fault",
    orientation: Orientation::Portrait,
    template: crate::template!("loop-sheet"),
    view: View::Drawn(view),
    table: Some(table),
};

#[derive(Serialize)]
struct Sheet {
    /// True where a monitoring service hears what is done.
    reports: bool,
    ohms_procedure: String,
    volts_procedure: &'static str,
    temperatures: String,
    copper: String,
    leakage: String,
    zones: Vec<ZoneSheet>,
}

#[derive(Serialize)]
struct ZoneSheet {
    mark: String,
    number: String,
    description: String,
    place: String,
    terminals: String,
    cables: String,
    /// The sketches of the loop.
    drawings: Vec<Shown>,
    /// True where the board's sensing is known.
    sensed: bool,
    rows: Vec<Row>,
    /// What the detectors that the loop feeds take and get; empty for every other loop.
    fed: Vec<String>,
    /// What the board does not see, a sentence a cable.
    unseen: Vec<String>,
}

fn view(compiled: &Compiled, drawings: &mut Drawings) -> Value {
    let zones = compiled.site.zones.entries().filter_map(|(id, _)| sheet(compiled, id, drawings)).collect();
    value(&Sheet {
        reports: !compiled.site.communicators.is_empty(),
        ohms_procedure: procedure::told(&compiled.site, procedure::LOOP_OHMS),
        volts_procedure: procedure::LOOP_VOLTS,
        temperatures: format!("{} for the usual reading; {}", ambient::INSIDE.usual, words::temperatures()),
        copper: copper::of(&compiled.site),
        leakage: Ohms(LEAKAGE).to_string(),
        zones,
    })
}

fn sheet(compiled: &Compiled, id: Id<Zone>, drawings: &mut Drawings) -> Option<ZoneSheet> {
    let Compiled { site, wiring, .. } = compiled;
    let zone = &site.zones[id];
    let readings = compiled.loops.get(&id)?;
    let rows = rows::rows(site, wiring, readings);
    Some(ZoneSheet {
        mark: loop_marks::zone(zone.number.value),
        number: zone.number.value.to_string(),
        description: zone.description.value.clone(),
        place: place(compiled, id),
        terminals: words::loop_terminals(site, wiring, id).unwrap_or_default(),
        cables: at_board(compiled, id),
        drawings: drawings.show(drawing::of(compiled, readings, &rows)),
        sensed: readings.states.iter().any(|state| state.volts.is_some()),
        rows,
        fed: two_wire::lines(compiled, readings),
        unseen: unseen(compiled, readings),
    })
}

/// Board and input, and what the input has to be set for where it can be.
fn place(compiled: &Compiled, id: Id<Zone>) -> String {
    let Compiled { site, wiring, .. } = compiled;
    let place = Paper.input(site, wiring, id);
    let wired = site.zones[id].wired.as_ref();
    let part = wired.and_then(|wired| site.part_of(wired.board.as_ref()?.value));
    let set = part.filter(|part| !part.settings.is_empty()).and(wired).and_then(|wired| wired.wiring.as_ref());
    set.map_or_else(|| place.clone(), |wiring| format!("{place}, set for {}", wiring.value.word()))
}

/// The faults of cables that read normal, each with what it hides: "Z1-2 shorted: Bay window can be opened unseen".
fn unseen(compiled: &Compiled, readings: &LoopReadings) -> Vec<String> {
    let Compiled { site, wiring, .. } = compiled;
    let one = |unseen: Unseen| {
        let faults: Vec<&str> = [(unseen.cut, "cut"), (unseen.shorted, "shorted")]
            .into_iter()
            .filter_map(|(is, what)| is.then_some(what))
            .collect();
        let hidden: Vec<String> = unseen.hidden.iter().map(|device| Paper.contact(site, *device)).collect();
        let hides = if hidden.is_empty() { String::new() } else { format!(" hides {}", list(&hidden, "and")) };
        format!("{} {}{hides}", words::cable(wiring, unseen.run), list(&faults, "or"))
    };
    unseen::of(readings).into_iter().map(one).collect()
}

/// The cables to measure at: those of the loop that start at the board, with the colours of their pair.
fn at_board(compiled: &Compiled, zone: Id<Zone>) -> String {
    let Compiled { site, wiring, .. } = compiled;
    let home = site.runs_of(Owner::Zone(zone)).filter(|(_, run)| run.upstream.is_none());
    let pair = |run| {
        let marks = [Function::LoopOut(zone), Function::LoopBack(zone)].map(|function| {
            wiring
                .conductor_for(run, function)
                .map_or_else(String::new, |(cable, used)| words::conductor_mark(site, cable, used.position))
        });
        format!("{} ({})", words::cable(wiring, run), marks.join(", "))
    };
    let mut said: Vec<String> = home.map(|(run, _)| pair(run)).collect();
    match site.mounted(Owner::Zone(zone), None).iter().filter(|item| item.resistor().is_some()).count() {
        0 => {}
        1 => said.push("with the resistor at the board".into()),
        _ => said.push("with the resistors at the board".into()),
    }
    said.join(", ")
}

fn table(compiled: &Compiled) -> Table {
    let Compiled { site, wiring, .. } = compiled;
    let mut table = Table {
        columns: vec![
            "zone",
            "description",
            "board",
            "input",
            "signal",
            "return",
            "state",
            "ohms least",
            "ohms usual",
            "ohms most",
            "volts least",
            "volts usual",
            "volts most",
            "board reads",
            "margin",
        ],
        rows: Vec::new(),
    };
    for (id, zone) in site.zones.entries() {
        let Some(readings) = compiled.loops.get(&id) else { continue };
        let (board, number, signal, back) = match wiring.input_of(site, id) {
            Some((board, input)) => {
                (Paper.board(site, board), input.number.value.to_string(), input.signal.clone(), input.back.clone())
            }
            None => Default::default(),
        };
        for state in &readings.states {
            let number_or = |value: f64, digits: usize| {
                if value.is_infinite() { "open".to_owned() } else { format!("{:.digits$}", value + 0.0) }
            };
            let mut row = vec![zone.number.value.to_string(), zone.description.value.clone(), board.clone()];
            row.extend([number.clone(), signal.clone(), back.clone()]);
            row.push(Paper.state(site, wiring, state.state));
            let ohms = state.ohms_with_leads_off(site, id).map(|ohms| [ohms.least, ohms.nominal, ohms.greatest]);
            row.extend(ohms.map_or_else(Default::default, |ohms| ohms.map(|ohms| number_or(ohms, 1))));
            let volts = state.volts.map(|volts| [volts.least, volts.nominal, volts.greatest]);
            row.extend(volts.map_or_else(Default::default, |volts| volts.map(|volts| number_or(volts, 3))));
            row.extend([words::reads(state.reading), words::margin(state.reading)]);
            table.rows.push(row);
        }
    }
    table
}
