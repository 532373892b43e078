//! A fresh record of readings for a whole site: spec text with a line for everything there is to measure, to be filled
//! in. A line without a value is valid and means "not taken".

use std::fmt::Write;

use crate::base::wording::is_control;
use crate::calc::State;
use crate::calc::as_built::at_device;
use crate::compiled::Compiled;
use crate::model::{Device, Site};
use crate::words::{self, Paper};

/// Why some lines are alike, and some are missing.
const NAMELESS: &str =
    "// What has no name= in the spec has no line for its supply, and its alarms cannot be told apart by `of`.\n";

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
    loops(compiled, &mut text);
    supplies(compiled, &mut text);
    text.push_str("}\n");
    text
}

fn loops(compiled: &Compiled, text: &mut String) {
    let Compiled { site, loops, .. } = compiled;
    for (zone, readings) in loops {
        let zone = &site.zones[*zone];
        let number = zone.number.value;
        line(text, &format!("// {number} {}", plain(&zone.description.value)));
        for reading in &readings.states {
            let state = match reading.state {
                State::Normal => "\"rest\"".to_owned(),
                State::Alarm(device) => format!("\"alarm\"{}", of(site, &site.devices[device])),
                State::Cover(device) => format!("\"cover\"{}", of(site, &site.devices[device])),
                State::Alarms(_)
                | State::AllAlarms
                | State::SupplyLost(_)
                | State::Cut(_)
                | State::ShortNear(_)
                | State::ShortFar(_) => continue,
            };
            let who = if let State::Alarm(device) | State::Cover(device) = reading.state
                && of(site, &site.devices[device]).is_empty()
            {
                format!("{}: ", plain(&Paper.device(site, device)))
            } else {
                String::new()
            };
            let volts = reading.volts.map(|volts| format!(" or {}", words::bounds(&[volts], words::volts)));
            let ohms = words::bounds(&[reading.ohms], words::ohms);
            line(text, &format!("loop {number} {state} // {who}{ohms}{}", volts.unwrap_or_default()));
        }
    }
}

/// The way to name a device in a reading; nothing where it has no name and watches no opening.
fn of(site: &Site, device: &Device) -> String {
    let opening = device.opening.as_ref().map(|opening| &site.openings[opening.value].name.value);
    let name = device.name.as_ref().map(|name| &name.value);
    opening.or(name).map_or_else(String::new, |name| format!(" of=\"{name}\""))
}

/// Whether a wired detector or sounder with a supply has no name.
fn nameless(site: &Site) -> bool {
    site.devices
        .iter()
        .any(|device| device.name.is_none() && device.part.is_some_and(|part| site.parts[part].supply.is_some()))
}

fn supplies(compiled: &Compiled, text: &mut String) {
    let Compiled { site, power, .. } = compiled;
    let devices = site.devices.iter().filter_map(|device| device.name.as_ref());
    let boards = site.boards.iter().map(|board| &board.name);
    for name in devices.chain(boards) {
        if let Some((least, greatest)) = at_device(site, power, &name.value) {
            let expected = words::range(least.0, greatest.0, words::volts);
            line(text, &format!("device \"{}\" // {expected}", name.value));
        }
    }
    for board in site.boards.iter().filter(|board| board.battery.is_some()) {
        line(text, &format!("battery \"{}\" // on charge", board.name.value));
    }
}

fn line(text: &mut String, content: &str) {
    // Writing to a string cannot fail.
    let _ = writeln!(text, "    {content}");
}

/// Text in one line, for a comment.
fn plain(text: &str) -> String {
    text.chars().map(|c| if is_control(c) { ' ' } else { c }).collect()
}
