//! Records of readings: to fill in, as text or as a table for a spreadsheet, and read back from that table.

use std::collections::{BTreeMap, BTreeSet};

use super::{Outcome, csv, format, read};
use crate::base::wording::list;
use crate::emit::escape::csv_words;
use crate::quantity::meter_text;
use crate::resolve::load::FileSource;
use crate::start::{self, Fault};
use crate::views::fresh_readings::{self, Asked, COLUMNS, Group};

/// A fresh record of readings, with a line for everything there is to measure; `None` where there is no site.
pub fn readings(files: &dyn FileSource, date: jiff::civil::Date) -> (Outcome, Option<String>) {
    match read(files) {
        Ok(made) => {
            let text = fresh_readings::text(&made.compiled, date);
            // With its comments in columns, as `fmt` would leave it.
            let text = format::laid_out(text);
            (made.outcome(), Some(text))
        }
        Err(outcome) => (*outcome, None),
    }
}

/// The same as CSV, with empty columns for ohms and volts.
pub fn readings_table(files: &dyn FileSource) -> (Outcome, Option<String>) {
    match read(files) {
        Ok(made) => {
            let table = fresh_readings::table(&made.compiled);
            (made.outcome(), Some(csv(&table)))
        }
        Err(outcome) => (*outcome, None),
    }
}

/// The record that a filled-in table gives, or what is wrong with its rows; `None` where there is no site.
pub(crate) fn readings_from(
    files: &dyn FileSource,
    date: jiff::civil::Date,
    bytes: &[u8],
) -> (Outcome, Option<Result<String, Vec<Fault>>>) {
    match read(files) {
        Ok(made) => {
            let groups = fresh_readings::groups(&made.compiled);
            let called =
                |group: &Group, asked: &Asked| group.called(asked).split_whitespace().collect::<Vec<_>>().join(" ");
            let all =
                groups.iter().flat_map(|group| group.readings.iter().map(move |asked| (called(group, asked), asked)));
            let asked: Vec<(String, &Asked)> = all.collect();
            let text = record(&asked, bytes).map(|lines| format::laid_out(fresh_readings::filled(date, &lines)));
            (made.outcome(), Some(text))
        }
        Err(outcome) => (*outcome, None),
    }
}

/// The filled-in lines, in the order in which they are asked.
fn record(asked: &[(String, &Asked)], bytes: &[u8]) -> Result<Vec<(String, String)>, Vec<Fault>> {
    let (headings, rows) = start::cells(bytes, &COLUMNS)?;
    let column = |name: &str| headings.iter().position(|heading| heading == name);
    let [_, _, _, _, _, ohms, volts] = COLUMNS;
    if column("zone").is_none() || column(ohms).is_none() && column(volts).is_none() {
        let what = "the first line must have zone, and ohms or volts; state and of tell what was measured".to_owned();
        return Err(vec![Fault { line: Some(1), what }]);
    }
    let (mut lines, mut faults) = (BTreeMap::new(), Vec::new());
    for (line, row) in rows {
        let cell = |name: &str| column(name).and_then(|at| row.get(at)).map(|cell| csv_words(cell)).unwrap_or_default();
        if cell(ohms).is_empty() && cell(volts).is_empty() {
            continue;
        }
        let state = cell("state").to_lowercase();
        let key = [cell("zone"), if state.is_empty() { "rest" } else { &state }, cell("of")].map(str::to_owned);
        let one = one_of(asked, &key, cell("what"));
        let found = one.and_then(|(at, one)| Ok((at, values(one, &key, cell(ohms), cell(volts))?)));
        match found {
            Ok((at, found)) => {
                if let Some((before, _)) = lines.insert(at, (line, found)) {
                    faults
                        .push(Fault { line: Some(line), what: format!("{} is in line {before} already", said(&key)) });
                }
            }
            Err(what) => faults.push(Fault { line: Some(line), what }),
        }
    }
    let lines: Vec<(String, String)> = lines.into_values().map(|(_, found)| found).collect();
    if lines.is_empty() && faults.is_empty() {
        faults.push(Fault { line: None, what: "no row has ohms or volts filled in".to_owned() });
    }
    if faults.is_empty() { Ok(lines) } else { Err(faults) }
}

/// What a row is about, with its place among all that is asked: of several devices without a name, the one that the row calls so.
fn one_of<'a>(asked: &[(String, &'a Asked)], key: &[String; 3], what: &str) -> Result<(usize, &'a Asked), String> {
    let same = || asked.iter().enumerate().filter(|(_, (_, one))| one.key() == *key);
    let all: Vec<(usize, &'a Asked)> = same().map(|(at, (_, one))| (at, *one)).collect();
    let called: Vec<(usize, &'a Asked)> =
        same().filter(|(_, (called, _))| called == what).map(|(at, (_, one))| (at, *one)).collect();
    match (all.as_slice(), called.as_slice()) {
        ([one], _) | (_, [one]) => Ok(*one),
        ([], _) => Err(unknown(asked, key)),
        ([..], _) => Err(format!("{} is several devices: give each a name= in the spec", said(key))),
    }
}

/// The line of the record and its values.
fn values(one: &Asked, key: &[String; 3], ohms: &str, volts: &str) -> Result<(String, String), String> {
    let mut values = Vec::new();
    if !ohms.is_empty() {
        if !one.has("ohms") {
            return Err(format!("{} has volts only", said(key)));
        }
        let ohms = meter_text::ohms(ohms).map_err(|unclear| format!("ohms \"{ohms}\": {unclear}"))?;
        values.push(if ohms.is_infinite() { "open=#true".to_owned() } else { format!("ohms=(ohm){ohms}") });
    }
    if !volts.is_empty() {
        if !one.has("volts") {
            return Err(format!("{} has ohms only: how its board senses is not known", said(key)));
        }
        let volts = meter_text::volts(volts).map_err(|unclear| format!("volts \"{volts}\": {unclear}"))?;
        values.push(format!("volts=(V){volts}"));
    }
    Ok((one.line.clone(), values.join(" ")))
}

/// What a row is about.
fn said([zone, state, of]: &[String; 3]) -> String {
    match (zone.is_empty(), of.is_empty()) {
        (true, true) => state.clone(),
        (true, false) => format!("{state} \"{of}\""),
        (false, true) => format!("zone {zone}, {state}"),
        (false, false) => format!("zone {zone}, {state} of \"{of}\""),
    }
}

/// Why nothing is asked of that.
fn unknown(asked: &[(String, &Asked)], key: &[String; 3]) -> String {
    let [zone, ..] = key;
    let states: BTreeSet<String> = asked
        .iter()
        .map(|(_, one)| one.key())
        .filter(|other| other.first() == Some(zone))
        .map(|other| said(&other))
        .collect();
    if zone.is_empty() || states.is_empty() {
        return format!("nothing is measured of {}: the site has no such loop or supply", said(key));
    }
    let states: Vec<String> = states.into_iter().collect();
    format!("nothing is measured of {}: of it there are {}", said(key), list(&states, "and"))
}
