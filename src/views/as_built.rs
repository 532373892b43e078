//! As-built record: the readings that were taken, held against the calculation and against the ones before them.

use serde::Serialize;
use serde_json::Value;

use super::{Document, Orientation, Table, View, diagnosis, value};
use crate::base::wording::list;
use crate::base::{Id, Span};
use crate::calc::State;
use crate::calc::as_built::{self, JudgedLoop, JudgedSupply, Verdict};
use crate::calc::meter::meter_words;
use crate::compiled::Compiled;
use crate::model::{Site, Zone};
use crate::quantity::Volts;
use crate::terms::Seen;
use crate::words::{self, Paper};

/// The as-built record.
pub(crate) static DOCUMENT: Document = Document {
    name: "as-built",
    title: "As-built record",
    about: "the readings taken so far, each beside what was expected and what it was before",
    orientation: Orientation::Portrait,
    template: crate::template!("as-built"),
    view: View::Plain(view),
    table: Some(table),
};

#[derive(Serialize)]
struct Record {
    days: Vec<Day>,
    last: String,
    /// Zones that were never measured at rest.
    missing: String,
    /// Zones that were measured, with what was never measured in alarm.
    unworked: String,
    meter: String,
}

#[derive(Serialize)]
struct Day {
    date: String,
    meter: String,
    loops: Vec<LoopRow>,
    supplies: Vec<Row>,
}

#[derive(Serialize)]
struct Row {
    what: String,
    state: String,
    measured: String,
    expected: String,
    before: String,
    verdict: String,
    good: bool,
    suggests: String,
}

/// A value with what was expected and what it was before; empty where it was not taken.
#[derive(Default, Serialize)]
struct Cell {
    measured: String,
    expected: String,
    before: String,
}

/// One line of the record: its ohms and its volts.
#[derive(Serialize)]
struct LoopRow {
    zone: String,
    state: String,
    ohms: Cell,
    volts: Cell,
    verdict: String,
    good: bool,
    suggests: String,
}

fn view(compiled: &Compiled) -> Value {
    let site = &compiled.site;
    let loops = as_built::loops(site, &compiled.loops);
    let supplies = as_built::supplies(site, &compiled.power);
    let days = site.measured.iter().rev().map(|measured| {
        let date = measured.date.value;
        let that_day = site.measured.iter().filter(|other| other.date.value == date);
        let mut meters: Vec<String> = that_day.filter_map(|other| other.meter.clone()).collect();
        meters.dedup();
        Day {
            date: date.to_string(),
            meter: list(&meters, "and"),
            loops: loop_rows(compiled, loops.iter().filter(|judged| judged.date == date)),
            supplies: supplies
                .iter()
                .filter(|judged| judged.date == date)
                .map(|judged| of_supply(site, judged))
                .collect(),
        }
    });
    let mut days: Vec<Day> = days.collect();
    days.dedup_by(|one, other| one.date == other.date);
    let at_rest = |judged: &&JudgedLoop<'_>| judged.written.state == Seen::Rest;
    let measured = |number: u32| loops.iter().filter(at_rest).any(|judged| judged.written.zone.value == number);
    let missing = site.zones.iter().filter(|zone| zone.wired.is_some() && !measured(zone.number.value));
    value(&Record {
        days,
        last: site.measured.last().map(|measured| measured.date.value.to_string()).unwrap_or_default(),
        missing: missing.map(|zone| zone.number.value.to_string()).collect::<Vec<_>>().join(", "),
        unworked: unworked(compiled, &loops),
        meter: meter_words(),
    })
}

/// "3 (Back door, Kitchen window)": the zones of which there are readings, with what was not measured in
/// alarm where only some of it was.
fn unworked(compiled: &Compiled, loops: &[JudgedLoop<'_>]) -> String {
    let site = &compiled.site;
    let of_zone = |(id, zone): (Id<Zone>, &Zone)| {
        let mut taken = loops.iter().filter(|judged| judged.zone == Some(id)).peekable();
        taken.peek()?;
        let alarms: Vec<_> = taken.filter(|judged| judged.written.state == Seen::Alarm).collect();
        let states = &compiled.loops.get(&id)?.states;
        let missing: Vec<String> = states
            .iter()
            .filter_map(|reading| if let State::Alarm(device) = reading.state { Some(device) } else { None })
            .filter(|device| !alarms.iter().any(|judged| as_built::is_about(site, judged.written, *device)))
            .map(|device| Paper.contact(site, device))
            .collect();
        let number = zone.number.value;
        match missing.as_slice() {
            [] => None,
            // Nothing of it was worked.
            _ if alarms.is_empty() => Some(number.to_string()),
            some => Some(format!("{number} ({})", some.join("; "))),
        }
    };
    site.zones.entries().filter_map(of_zone).collect::<Vec<_>>().join(", ")
}

/// Joins the ohms and volts that were taken in one line; what fits less speaks for both.
fn loop_rows<'j>(compiled: &Compiled, judged: impl Iterator<Item = &'j JudgedLoop<'j>>) -> Vec<LoopRow> {
    let mut rows: Vec<(Span, Verdict, LoopRow)> = Vec::new();
    for judged in judged {
        let row = of_loop(compiled, judged);
        let in_ohms = as_built::ohms(judged.value).is_some();
        let line = judged.written.zone.span;
        if rows.last().is_none_or(|(span, ..)| *span != line) {
            let (zone, state) = (judged.written.zone.value.to_string(), row.state.clone());
            let empty = String::new();
            let fresh = LoopRow {
                zone,
                state,
                ohms: Cell::default(),
                volts: Cell::default(),
                verdict: String::new(),
                good: true,
                suggests: empty,
            };
            rows.push((line, Verdict::Within, fresh));
        }
        let Some((_, worst, joined)) = rows.last_mut() else { continue };
        if joined.verdict.is_empty() || severity(judged.verdict) > severity(*worst) {
            *worst = judged.verdict;
            (joined.verdict, joined.good) = (row.verdict.clone(), row.good);
        }
        if joined.suggests.is_empty() {
            joined.suggests.clone_from(&row.suggests);
        }
        *(if in_ohms { &mut joined.ohms } else { &mut joined.volts }) =
            Cell { measured: row.measured, expected: row.expected, before: row.before };
    }
    rows.into_iter().map(|(.., row)| row).collect()
}

fn severity(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::Within => 0,
        Verdict::Unknown => 1,
        Verdict::History(_) => 2,
        Verdict::Drifting => 3,
        Verdict::Outside => 4,
    }
}

fn of_loop(compiled: &Compiled, judged: &JudgedLoop<'_>) -> Row {
    let print = if as_built::ohms(judged.value).is_some() { words::ohms } else { words::volts };
    let suggests = if judged.verdict == Verdict::Outside {
        let mut explanations = diagnosis::explanations(compiled, judged);
        explanations.truncate(2);
        explanations.join("; or ")
    } else {
        String::new()
    };
    Row {
        what: format!("zone {}", judged.written.zone.value),
        state: Paper.seen(&compiled.site, judged.zone, judged.written),
        measured: print(as_built::number(judged.value)),
        expected: words::ranges(&judged.expected, print),
        before: judged.before.map(|(date, before)| format!("{} ({date})", print(before))).unwrap_or_default(),
        verdict: format!("{}{}", word(judged.verdict, judged.date), taken_before(&compiled.site, judged)),
        good: matches!(judged.verdict, Verdict::Within | Verdict::History(_)),
        suggests,
    }
}

/// Of a reading that does not fit: whether it is from before the spec's last revision, when its loop may have been another.
fn taken_before(site: &Site, judged: &JudgedLoop<'_>) -> String {
    let revision = site.revision.as_ref().filter(|_| judged.verdict == Verdict::Outside);
    let later = revision.filter(|revision| revision.date.is_some_and(|day| judged.date < day.value));
    later.map(|revision| format!(", taken before revision {}", revision.mark)).unwrap_or_default()
}

fn of_supply(site: &Site, judged: &JudgedSupply<'_>) -> Row {
    let range = |(least, greatest): (Volts, Volts)| words::range(least.0, greatest.0, words::volts);
    Row {
        what: supply(site, judged),
        state: if judged.battery { "on charge".into() } else { "on mains".into() },
        measured: judged.volts.to_string(),
        expected: judged.expected.map(range).unwrap_or_default(),
        before: judged.before.map(|(date, before)| format!("{} ({date})", Volts(before))).unwrap_or_default(),
        verdict: word(judged.verdict, judged.date),
        good: matches!(judged.verdict, Verdict::Within | Verdict::History(_))
            || (judged.battery && judged.verdict == Verdict::Drifting),
        suggests: String::new(),
    }
}

/// What was measured, by its title; what is gone goes by its name in the record.
fn supply(site: &Site, judged: &JudgedSupply<'_>) -> String {
    let device = site.device_named(judged.name);
    let board = site.board_named(judged.name);
    let device = device.filter(|_| !judged.battery).map(|(id, _)| words::placed(site, id));
    let what = device.or(board.map(|(id, _)| Paper.board(site, id))).unwrap_or_else(|| judged.name.to_owned());
    if judged.battery { format!("battery of {what}") } else { what }
}

fn word(verdict: Verdict, of: jiff::civil::Date) -> String {
    match verdict {
        Verdict::Within => "fits".to_owned(),
        Verdict::Drifting => "fits, but has moved".to_owned(),
        Verdict::Outside => "does not fit".to_owned(),
        Verdict::History(date) if date == of => "history: a later one of that day fits".to_owned(),
        Verdict::History(date) => format!("history: that of {date} fits"),
        Verdict::Unknown => "nothing expected".to_owned(),
    }
}

fn table(compiled: &Compiled) -> Table {
    let columns = vec!["date", "what", "state", "measured", "expected", "before", "verdict"];
    let mut rows = Vec::new();
    for judged in as_built::loops(&compiled.site, &compiled.loops) {
        let row = of_loop(compiled, &judged);
        rows.push(cells(judged.date, row));
    }
    for judged in as_built::supplies(&compiled.site, &compiled.power) {
        rows.push(cells(judged.date, of_supply(&compiled.site, &judged)));
    }
    rows.sort();
    Table { columns, rows }
}

fn cells(date: jiff::civil::Date, row: Row) -> Vec<String> {
    vec![date.to_string(), row.what, row.state, row.measured, row.expected, row.before, row.verdict]
}
