//! What a meter may show of a value, and whether a reading fits what was calculated. Nowhere else is that decided.
//!
//! Terms: what is *expected* is a calculated spread widened by what a meter may be wrong; a reading that lies in it fits.
//! Out of scope: what a supply may differ from its sheet, and which spread a reading is held against.

use super::spread::Spread;
use crate::quantity::{Ohms, Volts, decimal};

/// Share by which a meter may be wrong, and the resistance of its leads in ohm: common practice.
const METER: (f64, f64) = (0.01, 0.5);
/// Volts by which a meter may be wrong besides that share: two digits of the range for 12 V. Common practice.
const METER_VOLTS: f64 = 0.02;
/// The same on the range for the idle volts of a bus.
const METER_SMALL_VOLTS: f64 = 0.002;

/// What a meter showed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Measured {
    /// At the leads, disconnected from the board; infinite where the meter shows no connection.
    Ohms(f64),
    /// At the board's terminals, everything connected.
    Volts(f64),
}

/// By how much a meter may be wrong that shows a value.
pub(crate) fn tolerance(value: f64, in_ohms: bool) -> f64 {
    if value.is_infinite() { 0.0 } else { value * METER.0 + if in_ohms { METER.1 } else { METER_VOLTS } }
}

/// What a meter may show of a value that lies in `calculated`: widened by what it may be wrong, never below zero, in the
/// digits that it shows, so that a reading is held against the very figures that are printed.
pub(crate) fn shown_by_a_meter(calculated: Spread, in_ohms: bool) -> Spread {
    let wrong = |value| tolerance(value, in_ohms);
    Spread {
        least: shown((calculated.least - wrong(calculated.least)).max(0.0), in_ohms),
        nominal: calculated.nominal,
        greatest: shown(calculated.greatest + wrong(calculated.greatest), in_ohms),
    }
}

/// What a meter may show where any of some calculated spreads is right: ranges, the lowest first, those that meet as one.
/// Between two of them nothing is right: contacts of both forms in one loop short it or open it, and at rest it is between.
pub(crate) fn shown_of(calculated: &[Spread], in_ohms: bool) -> Vec<Spread> {
    let mut shown: Vec<Spread> = calculated.iter().map(|spread| shown_by_a_meter(*spread, in_ohms)).collect();
    shown.sort_by(|one, other| one.least.total_cmp(&other.least));
    let mut ranges: Vec<Spread> = Vec::new();
    for range in shown {
        match ranges.last_mut().filter(|last| range.least <= last.greatest) {
            Some(last) => *last = last.hull(range),
            None => ranges.push(range),
        }
    }
    ranges
}

/// A value in the digits of a meter.
fn shown(value: f64, in_ohms: bool) -> f64 {
    if in_ohms { ohms_shown(value) } else { (value * 100.0).round() / 100.0 }
}

/// Ohms in the digits of a meter: tenths under 100, else four digits.
pub(crate) fn ohms_shown(value: f64) -> f64 {
    if value.abs() < 100.0 { (value * 10.0).round() / 10.0 } else { decimal::round(value, 4) }
}

/// What a meter on its small range may show of volts under 2.
pub(crate) fn shown_in_millivolts(calculated: Spread) -> Spread {
    let wrong = |value: f64| value.abs() * METER.0 + METER_SMALL_VOLTS;
    Spread {
        least: calculated.least - wrong(calculated.least),
        nominal: calculated.nominal,
        greatest: calculated.greatest + wrong(calculated.greatest),
    }
}

/// What a meter may show of volts from and to.
pub(crate) fn volts_shown_by_a_meter((least, greatest): (Volts, Volts)) -> (Volts, Volts) {
    let shown = shown_by_a_meter(Spread { least: least.0, nominal: least.0, greatest: greatest.0 }, false);
    (Volts(shown.least), Volts(shown.greatest))
}

/// True where a reading may be one of a value that lies in `calculated`.
pub(crate) fn fits(reading: f64, calculated: Spread, in_ohms: bool) -> bool {
    lies_in(reading, shown_by_a_meter(calculated, in_ohms), in_ohms)
}

/// True where a reading, in the digits of the range, lies in what a meter may show.
pub(crate) fn lies_in(reading: f64, range: Spread, in_ohms: bool) -> bool {
    (range.least..=range.greatest).contains(&shown(reading, in_ohms))
}

/// What a meter may be wrong, in words.
pub(crate) fn meter_words() -> String {
    let (share, leads) = METER;
    format!("{:.0} % and {} or {} wrong", share * 100.0, Ohms(leads), Volts(METER_VOLTS))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_meter_may_show_fits() {
        let open = Spread { least: 4.99, nominal: 5.0, greatest: 5.0 };
        let shown = shown_by_a_meter(open, false);
        assert!(shown.greatest - shown.least > 0.1, "a meter of 1 % cannot tell 4.99 V from 5.00 V: {shown:?}");
        for (reading, wanted) in
            [(shown.least, true), (shown.greatest, true), (shown.least - 0.006, false), (shown.greatest + 0.006, false)]
        {
            assert_eq!(fits(reading, open, false), wanted, "{reading}");
        }
        // What prints as the bound is inside it.
        assert!(fits(shown.greatest + 0.004, open, false));
        let end_of_line = Spread { least: 2090.0, nominal: 2200.0, greatest: 2310.0 };
        assert!(fits(2333.9, end_of_line, true) && !fits(2334.6, end_of_line, true));
        let [short, rest] = [Spread::exact(0.0), Spread { least: 2.4, nominal: 2.5, greatest: 2.6 }];
        let ranges = shown_of(&[open, rest, short, open], false);
        assert_eq!(ranges, [short, rest, open].map(|one| shown_by_a_meter(one, false)));
        let least = shown_by_a_meter(Spread { least: 0.0, nominal: 0.1, greatest: 0.2 }, true).least;
        assert!(least.abs() < 1e-12, "{least}");
        assert!(fits(f64::INFINITY, Spread::OPEN, true) && !fits(1e6, Spread::OPEN, true));
    }
}
