//! Words and figures of a loop's readings: states, what the board makes of them, ohms and volts as a meter shows them.

use super::words;
use crate::base::Id;
use crate::calc::{Reading, Spread, State, Verdict};
use crate::model::{Device, DeviceKind, Run, Site, Zone};
use crate::quantity::{Ohms, Volts};
use crate::register::Wiring;

/// A device in few words: the opening that it watches, else its title.
pub fn device(site: &Site, device: Id<Device>) -> String {
    let device = &site.devices[device];
    let opening = device.opening.as_ref().map(|opening| site.openings[opening.value].title.clone());
    opening.filter(|_| device.kind == DeviceKind::Contact).unwrap_or_else(|| device.title.clone())
}

/// What an alarm of a device is called: an opening is open, everything else is in alarm.
pub fn alarm(site: &Site, id: Id<Device>) -> &'static str {
    let device = &site.devices[id];
    if device.kind == DeviceKind::Contact && device.opening.is_some() { "open" } else { "in alarm" }
}

/// The label of the cable that a run is, or shares.
pub fn cable(wiring: &Wiring, run: Id<Run>) -> String {
    wiring.cable_of(run).map(|cable| cable.label.clone()).unwrap_or_default()
}

/// A state in words: "at rest", "Front door open", "Z7 shorted at its far end".
pub fn state(site: &Site, wiring: &Wiring, state: State) -> String {
    match state {
        State::Normal => "at rest".into(),
        State::Alarm(id) => format!("{} {}", device(site, id), alarm(site, id)),
        State::Alarms(count) => format!("{count} contacts at once"),
        State::AllAlarms => "all contacts at once".into(),
        State::Cover(id) => format!("cover of {} off", device(site, id)),
        State::SupplyLost(id) => format!("supply lost at {}", device(site, id)),
        State::Cut(run) => format!("{} cut", cable(wiring, run)),
        State::ShortNear(run) => format!("{} shorted at its near end", cable(wiring, run)),
        State::ShortFar(run) => format!("{} shorted at its far end", cable(wiring, run)),
    }
}

/// What the board makes of a reading: "normal", "open or alarm", "between its bands".
pub fn reads(reading: Reading) -> String {
    match reading.verdict {
        Verdict::Reads(band) => band.word().into(),
        Verdict::Spans(one, other) => format!("{} or {}", one.word(), other.word()),
        Verdict::Between(Some(band)) => format!("{} or between bands", band.word()),
        Verdict::Between(None) => "between bands".into(),
        Verdict::Unknown => "not known".into(),
    }
}

/// The margin to the nearest edge that matters: "0.24 V", "350 Ω"; empty where none does.
pub fn margin(reading: Reading) -> String {
    reading.margin.map(|margin| if reading.in_ohms { ohms(margin) } else { volts(margin) }).unwrap_or_default()
}

/// Ohms as a meter shows them: tenths under 100, else four digits.
pub fn ohms(value: f64) -> String {
    if value.abs() < 100.0 { Ohms((value * 10.0).round() / 10.0 + 0.0).to_string() } else { Ohms(value).to_string() }
}

/// Volts with two decimals.
pub fn volts(value: f64) -> String {
    Volts(value).to_string()
}

/// The nominal value, or from the least to the greatest of several: "0 to 2.4 Ω".
pub fn usual(spreads: &[Spread], print: fn(f64) -> String) -> String {
    let nominal = || spreads.iter().map(|spread| spread.nominal);
    range(nominal().fold(f64::INFINITY, f64::min), nominal().fold(f64::NEG_INFINITY, f64::max), print)
}

/// From the least to the greatest that several spreads hold.
pub fn bounds(spreads: &[Spread], print: fn(f64) -> String) -> String {
    let least = spreads.iter().map(|spread| spread.least).fold(f64::INFINITY, f64::min);
    range(least, spreads.iter().map(|spread| spread.greatest).fold(f64::NEG_INFINITY, f64::max), print)
}

/// "2.09 to 2.31 kΩ", the unit once where both have the same; one value where both print alike.
pub fn range(least: f64, greatest: f64, print: fn(f64) -> String) -> String {
    let (low, high) = (print(least), print(greatest));
    if low == high {
        return high;
    }
    match (low.split_once(' '), high.split_once(' ')) {
        (Some((number, one)), Some((_, other))) if one == other => format!("{number} to {high}"),
        (Some(("0", _)), Some(_)) => format!("0 to {high}"),
        _ => format!("{low} to {high}"),
    }
}

/// Board and input in words: "Panel, input 7"; empty where the board was reported.
pub fn input(site: &Site, wiring: &Wiring, zone: Id<Zone>) -> String {
    let board = site.zones[zone].wired.as_ref().and_then(|wired| wired.board.as_ref()).map(|board| board.value);
    let board = board.map(|board| words::board(site, board));
    let input = wiring.inputs.of_zone.get(&zone).map(|input| format!("input {input}"));
    board.into_iter().chain(input).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ranges_name_their_unit_once() {
        for (least, greatest, said) in [
            (2090.0, 2312.5, "2.09 to 2.312 kΩ"),
            (0.0, 6.24, "0 to 6.2 Ω"),
            (940.0, 1050.0, "940 Ω to 1.05 kΩ"),
            (1e6, f64::INFINITY, "1 MΩ to open"),
            (f64::INFINITY, f64::INFINITY, "open"),
            (0.0, 2200.0, "0 to 2.2 kΩ"),
        ] {
            assert_eq!(range(least, greatest, ohms), said);
        }
        assert_eq!(range(2.4999, 2.5001, volts), "2.50 V");
    }
}
