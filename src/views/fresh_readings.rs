//! Everything there is to measure in a site: as a fresh record, spec text with a line for each to be filled in, and as what a
//! page needs to take readings. A line without a value is valid and means "not taken".

use std::fmt::Write;

use serde::Serialize;

use crate::base::Id;
use crate::base::wording::is_control;
use crate::calc::State;
use crate::calc::as_built::{at_device, float};
use crate::calc::loops::{LoopReadings, StateReading};
use crate::calc::meter::{shown_by_a_meter, volts_shown_by_a_meter};
use crate::calc::spread::Spread;
use crate::compiled::Compiled;
use crate::model::{Device, Opening, Site, Zone};
use crate::quantity::Volts;
use crate::views::Table;
use crate::words::{self, Paper};

/// Why some lines are alike, and some are missing.
const NAMELESS: &str =
    "// What has no name= in the spec has no line for its supply, and its alarms cannot be told apart by `of`.\n";

/// Readings that are taken at one place.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Group {
    /// A zone by number and description, or the supplies.
    pub(crate) title: String,
    /// What is measured there.
    pub(crate) readings: Vec<Asked>,
}

/// One thing to measure.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Asked {
    /// The line of the record, without a value: `loop 7 "rest"`.
    pub(crate) line: String,
    /// What it is, in words.
    what: String,
    /// What is expected, in words.
    pub(crate) expected: String,
    /// What a meter shows there: "ohms", "volts".
    units: Vec<&'static str>,
    /// The least and the greatest that a meter may show; the greatest is missing where it may show no connection.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) ohms: Option<(f64, Option<f64>)>,
    /// The same in volts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) volts: Option<(f64, Option<f64>)>,
}

/// The text of the record.
pub(crate) fn text(compiled: &Compiled, date: jiff::civil::Date) -> String {
    let mut text = format!(
        "// Readings of {}. Fill in what the meter shows and leave out what was not measured:\n\
         // ohms=(ohm)2203 with both leads off, open=#true where the meter shows no connection, volts=(V)2.50 with\n\
         // everything connected. Name this file with an `include` in the spec.\n\
         // Behind the date: meter=\"which one, and what its leads read when they touch\".\n{}\
         measured date=\"{date}\" {{\n",
        plain(&compiled.site.title),
        if nameless(&compiled.site) { NAMELESS } else { "" }
    );
    // Writing to a string cannot fail.
    for Group { title, readings } in loops(compiled) {
        // The title at the line, so that a loop with one contact is one line and all lines stand in columns.
        for Asked { line, expected, .. } in readings {
            let _ = writeln!(text, "    {line} // {expected}; zone {title}");
        }
    }
    for Asked { line, expected, .. } in supplies(compiled) {
        let _ = writeln!(text, "    {line} // {expected}");
    }
    text.push_str("}\n");
    text
}

/// The columns of [`table`].
pub(crate) const COLUMNS: [&str; 7] = ["zone", "state", "of", "what", "expected", "ohms", "volts"];

/// Everything that there is to measure as a table to fill in: ohms with the leads off and volts are empty.
pub(crate) fn table(compiled: &Compiled) -> Table {
    let mut rows = Vec::new();
    for group in groups(compiled) {
        for asked in &group.readings {
            let [zone, state, of] = asked.key();
            let expected = asked.expected.clone();
            let what = group.called(asked);
            rows.push(vec![zone, state, of, what, expected, String::new(), String::new()]);
        }
    }
    Table { columns: COLUMNS.to_vec(), rows }
}

impl Group {
    /// What one of its readings is called in the table.
    pub(crate) fn called(&self, asked: &Asked) -> String {
        format!("{}: {}", self.title, asked.what)
    }
}

impl Asked {
    /// Zone, state and name, by which a row of the table is known: "7", "alarm", "garden-door"; of a supply no zone,
    /// "device" or "battery", and its name.
    pub(crate) fn key(&self) -> [String; 3] {
        let mut parts = self.line.split('"');
        let (first, state) = (parts.next().unwrap_or_default().trim(), parts.next().unwrap_or_default());
        match first.strip_prefix("loop ") {
            Some(zone) => {
                let of = self.line.split_once(" of=\"").map_or("", |(_, of)| of.trim_end_matches('"'));
                [zone.to_owned(), state.to_owned(), of.to_owned()]
            }
            None => [String::new(), first.to_owned(), state.to_owned()],
        }
    }

    /// True where a meter shows volts there, or ohms.
    pub(crate) fn has(&self, unit: &str) -> bool {
        self.units.contains(&unit)
    }
}

/// A record of these lines, each filled in.
pub(crate) fn filled(date: jiff::civil::Date, lines: &[(String, String)]) -> String {
    let lines = lines.iter().fold(String::new(), |all, (line, values)| all + "    " + line + " " + values + "\n");
    format!("measured date=\"{date}\" {{\n{lines}}}\n")
}

/// Everything that there is to measure.
pub(crate) fn groups(compiled: &Compiled) -> Vec<Group> {
    let mut groups = loops(compiled);
    let readings = supplies(compiled);
    if !readings.is_empty() {
        groups.push(Group { title: "Supplies".to_owned(), readings });
    }
    groups
}

fn loops(compiled: &Compiled) -> Vec<Group> {
    let Compiled { site, loops, .. } = compiled;
    let group = |(id, readings): (&Id<Zone>, &LoopReadings)| {
        let zone = &site.zones[*id];
        let number = zone.number.value;
        let asked = readings.states.iter().filter_map(|reading| of_loop(site, *id, number, reading)).collect();
        Group { title: format!("{number} {}", plain(&zone.description.value)), readings: asked }
    };
    loops.iter().map(group).collect()
}

/// A state of a loop that a person brings about; nothing for the others.
fn of_loop(site: &Site, zone: Id<Zone>, number: u32, reading: &StateReading) -> Option<Asked> {
    let (state, done, device) = match reading.state {
        State::Normal => ("rest", "at rest", None),
        State::Alarm(device) => ("alarm", "in alarm", Some(device)),
        State::Cover(device) => ("cover", "cover off", Some(device)),
        State::Alarms(_)
        | State::AllAlarms
        | State::SupplyLost(_)
        | State::Cut(_)
        | State::ShortNear(_)
        | State::ShortFar(_) => return None,
    };
    let named = device.map(|device| of(site, &site.devices[device])).unwrap_or_default();
    let title = device.map(|device| plain(&Paper.device(site, device)));
    let who = title.as_ref().filter(|_| named.is_empty()).map(|title| format!("{title}: ")).unwrap_or_default();
    let ohms = reading.ohms_with_leads_off(site, zone);
    let bounds = [ohms.map(|ohms| words::ohms_read(&[ohms])), reading.volts.map(|volts| words::volts_read(&[volts]))];
    let units: Vec<&str> =
        ["ohms", "volts"].into_iter().zip(&bounds).filter(|(_, of)| of.is_some()).map(|(unit, _)| unit).collect();
    let expected = bounds.into_iter().flatten().collect::<Vec<_>>().join(" or ");
    (!units.is_empty()).then(|| Asked {
        line: format!("loop {number} \"{state}\"{named}"),
        what: title.map_or_else(|| done.to_owned(), |title| format!("{title} {done}")),
        expected: format!("{who}{expected}"),
        units,
        ohms: ohms.map(|ohms| shown(ohms, true)),
        volts: reading.volts.map(|volts| shown(volts, false)),
    })
}

/// The least and the greatest that a meter may show; no greatest where that is no connection.
fn shown(calculated: Spread, in_ohms: bool) -> (f64, Option<f64>) {
    let shown = shown_by_a_meter(calculated, in_ohms);
    (shown.least, Some(shown.greatest).filter(|greatest| greatest.is_finite()))
}

/// The same of volts from and to.
fn shown_volts(calculated: (Volts, Volts)) -> (f64, Option<f64>) {
    let (least, greatest) = volts_shown_by_a_meter(calculated);
    (least.0, Some(greatest.0))
}

/// The way to name a device in a reading: by the opening that it alone watches, else by its own name. Nothing where it has neither.
fn of(site: &Site, device: &Device) -> String {
    let name = device.name.as_ref().map(|name| &name.value);
    let alone = |opening: &Id<Opening>| name.is_none() || site.watching(*opening).count() == 1;
    let opening = device.opening.as_ref().map(|opening| opening.value).filter(alone);
    let opening = opening.map(|opening| &site.openings[opening].name.value);
    opening.or(name).map_or_else(String::new, |name| format!(" of=\"{name}\""))
}

/// Whether a wired detector or sounder with a supply has no name.
fn nameless(site: &Site) -> bool {
    site.devices
        .iter()
        .any(|device| device.name.is_none() && device.part.is_some_and(|part| site.parts[part].supply.is_some()))
}

fn supplies(compiled: &Compiled) -> Vec<Asked> {
    let Compiled { site, power, .. } = compiled;
    let devices =
        site.devices.entries().filter_map(|(id, device)| Some((&device.name.as_ref()?.value, Paper.device(site, id))));
    let boards = site.boards.iter().map(|board| (&board.name.value, board.title.clone()));
    let mut asked = Vec::new();
    for (name, title) in devices.chain(boards) {
        if let Some((least, greatest)) = at_device(site, power, name) {
            asked.push(Asked {
                line: format!("device \"{name}\""),
                what: plain(&title),
                expected: {
                    let (least, greatest) = volts_shown_by_a_meter((least, greatest));
                    words::range(least.0, greatest.0, words::volts)
                },
                units: vec!["volts"],
                ohms: None,
                volts: Some(shown_volts((least, greatest))),
            });
        }
    }
    for board in site.boards.iter().filter(|board| board.battery.is_some()) {
        let name = &board.name.value;
        asked.push(Asked {
            line: format!("battery \"{name}\""),
            what: plain(&format!("battery of {}", board.title)),
            expected: "on charge".to_owned(),
            units: vec!["volts"],
            ohms: None,
            volts: float(site, name).map(shown_volts),
        });
    }
    asked
}

/// Text in one line, for a comment.
fn plain(text: &str) -> String {
    text.chars().map(|c| if is_control(c) { ' ' } else { c }).collect()
}
