//! A table of a spreadsheet → its rows; whatever is wrong with it, by lines.
//!
//! The first line has the headings, in any order and case. Lengths of cables, what is in the wall already, resistors and inputs of
//! the panel are read where every cell of their column can be; other columns are named and left out. Cells are parted by commas,
//! semicolons or tabs, as spreadsheets write them.

use std::collections::BTreeMap;

use super::kind::{self, KINDS, Kind, Watch};
use crate::base::wording::{capital, is_control, list};
use crate::base::{line_starts, unseen};
use crate::quantity::{Resistance, meter_text};

/// What must stand in the first line.
const HEADINGS: [&str; 4] = ["zone", "room", "opening", "kind"];

/// What is read as well where it is there: how long the cable to a thing is, with the unit behind the number or in the heading,
/// and whether it is in the wall already; the resistor at the end of its loop, and the input of the panel that the loop is on.
const LENGTH: &str = "length";
const EXISTING: &str = "existing";
const RESISTOR: &str = "resistor";
const INPUT: &str = "input";

/// Inputs of the panel.
pub(super) const PANEL: usize = 16;

/// The least that an end-of-line resistor has: a smaller number in its column counts something else.
const LEAST_OHMS: f64 = 100.0;

/// How many characters a title may have.
const LONGEST_TITLE: usize = 200;

/// How many characters the description of a zone may have.
pub(super) const LONGEST_DESCRIPTION: usize = 60;

/// How many zones there may be: inputs of the panel and of expanders on its bus.
const MOST_ZONES: usize = PANEL + 12 * 14;

/// What parts cells.
const MARKS: [char; 3] = [',', ';', '\t'];

/// A last line, put behind the text: within a quotation mark that nothing closes, it is no row of its own.
const END: &str = "end";

/// Something that is wrong with a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Fault {
    /// The line, from 1; `None` for the table as a whole.
    pub(crate) line: Option<u64>,
    pub(crate) what: String,
}

/// A table that is sound.
#[derive(Debug)]
pub(crate) struct Table {
    pub(super) rows: Vec<Row>,
    pub(super) zones: BTreeMap<u32, Zone>,
    /// Headings of columns that hold something and are not read.
    pub(crate) left_out: Vec<String>,
}

/// A thing that is watched, or could be.
#[derive(Debug)]
pub(super) struct Row {
    /// Where it stands in the table.
    line: u64,
    pub(super) room: String,
    pub(super) opening: String,
    pub(super) kind: &'static Kind,
    pub(super) cable: Cable,
}

/// What a table says of the cable to a thing, and of the loop that it is in.
#[derive(Clone, Debug, Default)]
pub(super) struct Cable {
    /// As a spec has it: `(ft)38`.
    pub(super) length: Option<String>,
    pub(super) existing: bool,
    /// As a spec has it: `"2k2"`.
    pub(super) resistor: Option<String>,
    /// Of the panel.
    pub(super) input: Option<u32>,
}

/// A zone, and its rows in order.
#[derive(Debug, Default)]
pub(super) struct Zone {
    /// What it is called in the table, if it is.
    pub(super) description: Option<String>,
    pub(super) rows: Vec<usize>,
}

/// A line, from 1, with its cells.
pub(crate) type Line = (u64, Vec<String>);

/// The cells of a spreadsheet's CSV file: headings in small letters, and each row with its line, from 1; blanks in cells
/// are one blank each, and rows without a word are left out. No two columns have a heading that is `used`.
///
/// # Errors
/// What keeps it from being read.
pub(crate) fn cells(bytes: &[u8], used: &[&str]) -> Result<(Vec<String>, Vec<Line>), Vec<Fault>> {
    let whole = |what: &str| vec![Fault { line: None, what: what.to_owned() }];
    let text = std::str::from_utf8(bytes)
        .map_err(|_| whole("it is not UTF-8 text: save it as CSV in UTF-8, and not as a workbook"))?;
    let text = text.trim_start_matches('\u{feff}');
    let first = text.split(['\r', '\n']).find(|line| !line.trim().is_empty()).unwrap_or_default();
    // Some spreadsheets say before the headings what parts the cells.
    let said = first.strip_prefix("sep=").and_then(|said| MARKS.into_iter().find(|mark| said.starts_with(*mark)));
    let most = || MARKS.into_iter().max_by_key(|mark| (first.split(*mark).count(), *mark == ','));
    let mark = said.or_else(most).unwrap_or(',');
    let delimiter = u8::try_from(mark).unwrap_or(b',');
    let ended = format!("{text}\n{END}");
    let mut reader =
        csv::ReaderBuilder::new().has_headers(false).delimiter(delimiter).flexible(true).from_reader(ended.as_bytes());
    let mut records = Vec::new();
    for record in reader.records() {
        records.push(record.map_err(|error| whole(&error.to_string()))?);
    }
    let starts = line_starts(text);
    let line_of = |record: &csv::StringRecord| {
        // csv's own count passes over blank lines only after it has told the place.
        let at = record.position().and_then(|place| usize::try_from(place.byte()).ok()).unwrap_or_default();
        let blank = text.get(at..).map_or(0, |rest| rest.len() - rest.trim_start_matches(['\r', '\n']).len());
        starts.partition_point(|start| *start <= at + blank) as u64
    };
    if let Some(last) = records.pop().filter(|last| last.iter().ne([END])) {
        let what = "a cell begins with a quotation mark, and no other one closes it".to_owned();
        return Err(vec![Fault { line: Some(line_of(&last)), what }]);
    }
    let mut records = records.into_iter().skip(usize::from(said.is_some()));
    let headings: Vec<String> =
        records.next().unwrap_or_default().iter().map(|heading| heading.trim().to_lowercase()).collect();
    let (mut rows, mut faults) = (Vec::new(), Vec::new());
    for record in records {
        let line = line_of(&record);
        let cells: Vec<String> =
            record.iter().map(|cell| cell.split_whitespace().collect::<Vec<_>>().join(" ")).collect();
        let filled = cells.iter().rposition(|cell| !cell.is_empty()).map_or(0, |last| last + 1);
        if filled > 0 && cells.len() > headings.len() {
            // A comma within a cell, mostly: what stands behind it would be in a wrong column, and the last may be empty.
            faults.push(Fault {
                line: Some(line),
                what: format!(
                    "it has {} cells and the first line has {}: put a cell in quotes that holds a {}",
                    cells.len(),
                    headings.len(),
                    match mark {
                        ';' => "semicolon",
                        '\t' => "tab",
                        _ => "comma",
                    }
                ),
            });
        }
        if filled > 0 {
            rows.push((line, cells));
        }
    }
    for (at, heading) in headings.iter().enumerate() {
        if used.contains(&heading.as_str()) && headings.get(..at).is_some_and(|before| before.contains(heading)) {
            faults.push(Fault { line: Some(1), what: format!("two columns are headed {heading}") });
        }
    }
    if faults.is_empty() { Ok((headings, rows)) } else { Err(faults) }
}

/// Reads a table.
///
/// # Errors
/// Everything that is wrong with it.
pub(crate) fn read(bytes: &[u8]) -> Result<Table, Vec<Fault>> {
    let (headings, rows) = cells(bytes, &[HEADINGS.as_slice(), &[LENGTH, EXISTING, RESISTOR, INPUT]].concat())?;
    let columns = HEADINGS.map(|wanted| headings.iter().position(|heading| heading == wanted));
    let [Some(zone), Some(room), Some(opening), Some(kind)] = columns else {
        let missing: Vec<&str> = HEADINGS
            .into_iter()
            .zip(columns)
            .filter(|(_, column)| column.is_none())
            .map(|(heading, _)| heading)
            .collect();
        let what = format!(
            "no column is headed {}; the first line must have zone, room, opening and kind, in any order",
            list(&missing, "or")
        );
        return Err(vec![Fault { line: Some(1), what }]);
    };
    let is_filled = |at: usize| rows.iter().any(|(_, row)| row.get(at).is_some_and(|cell| !cell.is_empty()));
    let cell = |row: &[String], at: usize| row.get(at).cloned().unwrap_or_default();
    // A column of which one cell is not understood is none of ours.
    let reads = |at: usize, is_read: &dyn Fn(&str) -> bool| rows.iter().all(|(_, row)| is_read(&cell(row, at)));
    let length = headings.iter().enumerate().find_map(|(at, heading)| {
        let unit = heading.strip_prefix(LENGTH)?.trim_matches([' ', '(', ')', ',', '[', ']']);
        let is_one = unit.is_empty() || unit_of(unit).is_some();
        (is_one && reads(at, &|cell| cell.is_empty() || length_of(cell, unit).is_some())).then_some((at, unit))
    });
    let existing = headings.iter().position(|heading| heading == EXISTING);
    let existing = existing.filter(|at| reads(*at, &|cell| is_yes(cell).is_some()));
    let column = |wanted: &str, is_read: &dyn Fn(&str) -> bool| {
        let at = headings.iter().position(|heading| heading == wanted)?;
        reads(at, &|cell| cell.is_empty() || is_read(cell)).then_some(at)
    };
    let resistor = column(RESISTOR, &|cell| resistor_of(cell).is_some());
    let input = column(INPUT, &|cell| input_of(cell).is_some());
    let read = [length.map(|(at, _)| at), existing, resistor, input];
    let left_out = headings
        .iter()
        .enumerate()
        .filter(|(at, _)| !columns.contains(&Some(*at)) && !read.contains(&Some(*at)) && is_filled(*at));
    let left_out = left_out.map(|(_, heading)| heading.clone()).collect();
    let mut reading = Reading { left_out, ..Reading::default() };
    for (line, row) in &rows {
        let cells = [zone, room, opening, kind].map(|column| cell(row, column));
        if cells.iter().any(|cell| !cell.is_empty()) {
            let length = length.and_then(|(at, unit)| length_of(&cell(row, at), unit));
            let existing = existing.and_then(|at| is_yes(&cell(row, at))).unwrap_or_default();
            let resistor = resistor.and_then(|at| resistor_of(&cell(row, at)));
            let input = input.and_then(|at| input_of(&cell(row, at)));
            reading.row(*line, cells, Cable { length, existing, resistor, input });
        }
    }
    reading.end()
}

/// The unit of a length as a spec has it.
fn unit_of(word: &str) -> Option<&'static str> {
    match word {
        "ft" | "ft." | "feet" | "foot" | "'" => Some("ft"),
        "m" | "metre" | "metres" | "meter" | "meters" => Some("m"),
        _ => None,
    }
}

/// "38 ft", or "38" under a heading with a unit, as a spec has it. A comma before three digits may part thousands: then it is none.
fn length_of(cell: &str, unit: &str) -> Option<String> {
    let thousands = |(_, behind): (&str, &str)| behind.chars().take_while(char::is_ascii_digit).count() == 3;
    if cell.split_once(',').is_some_and(thousands) {
        return None;
    }
    let lower = cell.to_lowercase().replace(',', ".");
    let digits = lower.len() - lower.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.').len();
    let (number, behind) = lower.split_at_checked(digits)?;
    let unit = unit_of(if behind.trim().is_empty() { unit } else { behind.trim() })?;
    let value: f64 = number.parse().ok().filter(|value| *value > 0.0)?;
    Some(format!("({unit}){value}"))
}

/// "2k2", "2.2 k", "2200 ohm", as a spec has it.
fn resistor_of(cell: &str) -> Option<String> {
    let ohms = meter_text::ohms(cell).ok().filter(|ohms| ohms.is_finite() && *ohms >= LEAST_OHMS)?;
    Some(if cell.parse::<Resistance>().is_ok() { format!("\"{cell}\"") } else { format!("(ohm){ohms}") })
}

/// "7" and "7.0", as a spreadsheet gives a whole number.
fn input_of(cell: &str) -> Option<u32> {
    let whole =
        cell.split_once('.').filter(|(_, rest)| rest.bytes().all(|byte| byte == b'0')).map_or(cell, |(one, _)| one);
    whole.parse().ok().filter(|input| (1..=PANEL).contains(&(*input as usize)))
}

/// Whether a cell says yes; an empty one says no.
fn is_yes(cell: &str) -> Option<bool> {
    match cell.to_lowercase().as_str() {
        "yes" | "y" | "x" | "true" | "1" | "existing" => Some(true),
        "" | "no" | "n" | "false" | "0" | "new" | "-" => Some(false),
        _ => None,
    }
}

#[derive(Default)]
struct Reading {
    rows: Vec<Row>,
    /// Zones that have a number.
    zones: BTreeMap<u32, Zone>,
    /// Zones that are only called something, by that in small letters, in order.
    called: Vec<(String, Zone)>,
    faults: Vec<Fault>,
    left_out: Vec<String>,
}

impl Reading {
    fn fault(&mut self, line: u64, what: String) {
        self.faults.push(Fault { line: Some(line), what });
    }

    fn row(&mut self, line: u64, [zone, room, opening, written]: [String; 4], cable: Cable) {
        let before = self.faults.len();
        let kind = kind::of(&written);
        // What hangs in a room has no opening in most tables.
        let hung = kind.filter(|kind| !matches!(kind.watch, Watch::Opening { .. }) && !room.is_empty());
        let opening = match hung.and_then(|kind| kind.words.first()) {
            Some(word) if opening.is_empty() => {
                capital(&format!("{word}, {room}")).chars().take(LONGEST_TITLE).collect()
            }
            Some(_) | None => opening,
        };
        for (heading, cell) in [("room", &room), ("opening", &opening)] {
            let length = cell.chars().count();
            if length == 0 {
                self.fault(line, format!("the {heading} is empty"));
            } else if length > LONGEST_TITLE {
                self.fault(line, format!("the {heading} has {length} characters, and at most {LONGEST_TITLE} fit"));
            }
        }
        if [&zone, &room, &opening]
            .iter()
            .any(|cell| cell.chars().any(is_control) || unseen::misleading(cell).is_some())
        {
            self.fault(line, "a cell holds a character that cannot be seen: write it again by hand".to_owned());
        }
        if kind.is_none() {
            let known: Vec<&str> = KINDS.iter().filter_map(|kind| kind.words.first().copied()).collect();
            let is = if written.is_empty() {
                "the kind is empty".to_owned()
            } else {
                format!("\"{written}\" is no kind that is known")
            };
            self.fault(line, format!("{is}: write {}", list(&known, "or")));
        }
        let Some(kind) = kind.filter(|_| self.faults.len() == before) else { return };
        // "Hall" and "hall" are one room, as they are one zone: as it is written first.
        let same = self.rows.iter().find(|row| row.room.to_lowercase() == room.to_lowercase());
        let room = same.map_or(room, |row| row.room.clone());
        let at = self.rows.len();
        self.rows.push(Row { line, room, opening, kind, cable });
        self.watch(line, &zone, at);
    }

    /// Puts a row into its zone: "7", "zone 7", "7 Kitchen", "Kitchen"; none where nothing stands there.
    fn watch(&mut self, line: u64, written: &str, row: usize) {
        let behind = |word: &str| {
            let begins = written.get(..word.len()).is_some_and(|start| start.eq_ignore_ascii_case(word));
            written.get(word.len()..).filter(|_| begins)
        };
        let named = ["zone", "z"]
            .into_iter()
            .find_map(behind)
            .filter(|rest| rest.trim_start().starts_with(|c: char| c.is_ascii_digit()));
        let rest = named.unwrap_or(written).trim();
        let digits = rest.len() - rest.trim_start_matches(|c: char| c.is_ascii_digit()).len();
        let (number, words) = rest.split_at_checked(digits).unwrap_or(("", rest));
        // As a spreadsheet gives a whole number.
        let words = if words.starts_with('.') && words.trim_start_matches(['.', '0']).is_empty() { "" } else { words };
        let apart = words.is_empty() || words.starts_with([' ', ':', '.', ',', '-']);
        let (number, words) =
            if apart { (number, words.trim_start_matches([' ', ':', '.', ',', '-'])) } else { ("", rest) };
        if !rest.is_empty() && if words.is_empty() { number.is_empty() } else { !words.contains(char::is_alphabetic) } {
            return self.fault(line, format!("\"{rest}\" is neither a zone's number nor what it is called"));
        }
        let length = words.chars().count();
        if length > LONGEST_DESCRIPTION {
            return self.fault(
                line,
                format!("the zone's description has {length} characters, and at most {LONGEST_DESCRIPTION} fit"),
            );
        }
        let zone = if !number.is_empty() {
            match number.parse() {
                Ok(number @ 1..=999) => self.zones.entry(number).or_default(),
                _ => return self.fault(line, format!("{number} is no number of a zone: they go from 1 to 999")),
            }
        } else if words.is_empty() {
            return;
        } else {
            let key = words.to_lowercase();
            let known = self.called.iter().position(|(called, _)| *called == key);
            let at = known.unwrap_or(self.called.len());
            if known.is_none() {
                self.called.push((key, Zone::default()));
            }
            let Some((_, zone)) = self.called.get_mut(at) else { return };
            zone
        };
        zone.rows.push(row);
        if words.is_empty() {
            return;
        }
        let called = zone.description.get_or_insert_with(|| words.to_owned());
        if called.to_lowercase() != words.to_lowercase() {
            let what = format!("zone {number} is called \"{called}\" above and \"{words}\" here: call it one of them");
            self.fault(line, what);
        }
    }

    /// A loop has one resistor and one input, and an input one loop.
    fn loops(&mut self) {
        let mut taken: BTreeMap<u32, u32> = BTreeMap::new();
        let mut faults = Vec::new();
        for (number, zone) in &self.zones {
            let rows = || zone.rows.iter().filter_map(|row| self.rows.get(*row));
            let resistor = rows().find_map(|row| row.cable.resistor.as_ref());
            let input = rows().find_map(|row| row.cable.input);
            for row in rows() {
                let fault = |what: String| Fault { line: Some(row.line), what };
                if let Some(other) = row.cable.resistor.as_ref().filter(|other| Some(*other) != resistor) {
                    faults.push(fault(format!(
                        "zone {number} has another resistor above, and {other} here: a loop has one"
                    )));
                }
                if let Some(other) = row.cable.input.filter(|other| Some(*other) != input) {
                    faults.push(fault(format!(
                        "zone {number} is on another input above, and on {other} here: a loop is on one"
                    )));
                }
            }
            if let Some(input) = input
                && let Some(other) = taken.insert(input, *number)
            {
                let line = rows().find(|row| row.cable.input.is_some()).map(|row| row.line);
                let what = format!("zones {other} and {number} are both on input {input}: each has its own");
                faults.push(Fault { line, what });
            }
        }
        self.faults.append(&mut faults);
    }

    fn end(mut self) -> Result<Table, Vec<Fault>> {
        for (_, zone) in std::mem::take(&mut self.called) {
            let free = (1..=999).find(|number| !self.zones.contains_key(number));
            // Where there is none, there are too many zones anyhow.
            let Some(free) = free else { break };
            self.zones.insert(free, zone);
        }
        // A loop reports one thing; a door makes all of it wait.
        let burglary = |kind: &Kind| matches!(kind.zone, "entry-exit" | "perimeter");
        for (number, zone) in &self.zones {
            let rows: Vec<&Row> = zone.rows.iter().filter_map(|row| self.rows.get(*row)).collect();
            let Some(first) = rows.first() else { continue };
            let other = rows
                .iter()
                .find(|row| row.kind.zone != first.kind.zone && !(burglary(row.kind) && burglary(first.kind)));
            if let Some(other) = other {
                let word = |row: &Row| row.kind.words.first().copied().unwrap_or_default();
                let what = format!(
                    "a zone reports one thing, and zone {number} has \"{}\" in line {} and \"{}\" here: give each its own",
                    word(first),
                    first.line,
                    word(other)
                );
                self.faults.push(Fault { line: Some(other.line), what });
            }
        }
        self.loops();
        if self.zones.len() > MOST_ZONES {
            let what = format!("it has {} zones, and at most {MOST_ZONES} find an input", self.zones.len());
            self.faults.push(Fault { line: None, what });
        }
        if self.rows.is_empty() && self.faults.is_empty() {
            self.faults.push(Fault { line: None, what: "nothing stands below its headings".to_owned() });
        }
        self.faults.sort_by_key(|fault| fault.line);
        let Self { rows, zones, faults, left_out, .. } = self;
        if faults.is_empty() { Ok(Table { rows, zones, left_out }) } else { Err(faults) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_zone_is_read_by_its_letters_and_never_by_its_bytes() {
        for (written, number, called) in [
            ("Zone 7 İç kapı", 7, Some("İç kapı")),
            ("ZONE 7: ẞ", 7, Some("ẞ")),
            ("z7", 7, None),
            ("İç kapı", 1, Some("İç kapı")),
        ] {
            let table = read(format!("zone,room,opening,kind\n{written},Hall,Door,door\n").as_bytes()).unwrap();
            let zones: Vec<_> = table.zones.iter().map(|(at, zone)| (*at, zone.description.as_deref())).collect();
            assert_eq!(zones, [(number, called)], "{written}");
        }
    }
}
