//! Figures as a meter and a label show them: ohms, volts, ranges, resistors, batteries.

use crate::base::wording::list;
use crate::calc::ambient::{self, Ambient};
use crate::calc::meter::{ohms_shown, shown_of};
use crate::calc::{Reading, Spread};
use crate::model::Battery;
use crate::quantity::{
    AmpereHours, LengthUnit, Metres, Ohms, Ratio, Resistance, Seconds, VoltAmperes, Volts, bands, print,
};

/// Ohms as a meter shows them: tenths under 100, else four digits.
pub(crate) fn ohms(value: f64) -> String {
    Ohms(ohms_shown(value) + 0.0).to_string()
}

/// Volts with two decimals.
pub(crate) fn volts(value: f64) -> String {
    Volts(value).to_string()
}

/// The nominal value, or from the least to the greatest of several: "0 to 2.4 Ω".
pub(crate) fn usual(spreads: &[Spread], print: fn(f64) -> String) -> String {
    let nominal = || spreads.iter().map(|spread| spread.nominal);
    range(nominal().fold(f64::INFINITY, f64::min), nominal().fold(f64::NEG_INFINITY, f64::max), print)
}

/// From the least to the greatest that several spreads hold.
pub(crate) fn bounds(spreads: &[Spread], print: fn(f64) -> String) -> String {
    let least = spreads.iter().map(|spread| spread.least).fold(f64::INFINITY, f64::min);
    range(least, spreads.iter().map(|spread| spread.greatest).fold(f64::NEG_INFINITY, f64::max), print)
}

/// The ohms that a meter may read where some spreads are right: the very ranges, on whatever sheet, that a reading is held
/// against.
pub(crate) fn ohms_read(spreads: &[Spread]) -> String {
    ranges(&shown_of(spreads, true), ohms)
}

/// The same of volts.
pub(crate) fn volts_read(spreads: &[Spread]) -> String {
    ranges(&shown_of(spreads, false), volts)
}

/// Ranges of which any is right: "0.00 to 0.03 V or 4.92 to 5.07 V".
pub(crate) fn ranges(ranges: &[Spread], print: fn(f64) -> String) -> String {
    let said: Vec<String> = ranges.iter().map(|one| range(one.least, one.greatest, print)).collect();
    said.join(" or ")
}

/// A capacity that is needed: to a hundredth, up, so that what falls short of it never prints alike.
pub(crate) fn needed_capacity(needed: AmpereHours) -> AmpereHours {
    AmpereHours(up(needed.0 * 100.0) / 100.0)
}

/// A transformer's rating that is needed: in whole volt-amperes, up.
pub(crate) fn needed_power(needed: VoltAmperes) -> VoltAmperes {
    VoltAmperes(up(needed.0))
}

/// The same beside the rating that is fitted: in tenths, up, where a whole one would call too small what is enough.
pub(crate) fn power_beside(needed: VoltAmperes, fitted: VoltAmperes) -> String {
    let up_to = |decimals: i32| {
        let scale = 10_f64.powi(decimals);
        VoltAmperes(up(needed.0 * scale) / scale)
    };
    let fits = |decimals: &i32| needed > fitted || up_to(*decimals) <= fitted;
    up_to((0..4).find(fits).unwrap_or(0)).to_string()
}

/// A time that is needed, beside the one that is allowed: in hours, rounded down to a tenth, or finer, so that what is past the
/// limit never prints as the limit.
pub(crate) fn hours_past(time: Seconds, allowed: Seconds) -> String {
    let hours = |time: Seconds| time.0 / 3600.0;
    if !time.0.is_finite() {
        return "without end".to_owned();
    }
    let down = |decimals: i32| {
        let scale = 10_f64.powi(decimals);
        (hours(time) * scale + 1e-9).floor() / scale
    };
    let decimals = (1..6).find(|decimals| time <= allowed || down(*decimals) > hours(allowed)).unwrap_or(1);
    format!("{:.*} h", usize::try_from(decimals).unwrap_or(1), down(decimals))
}

/// Up, but for the noise of a calculation.
fn up(value: f64) -> f64 {
    (value - 1e-9).ceil()
}

/// "2.09 to 2.31 kΩ", the unit once where both have the same; one value where both print alike.
pub(crate) fn range(least: f64, greatest: f64, print: impl Fn(f64) -> String) -> String {
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

/// The margin to the nearest edge that matters: "0.24 V", "350 Ω"; empty where none does.
pub(crate) fn margin(reading: Reading) -> String {
    reading.margin.map(|margin| if reading.in_ohms { ohms(margin) } else { volts(margin) }).unwrap_or_default()
}

/// A value with its colour bands in words: "2.2 kΩ ±5 % (red red red gold)".
pub(crate) fn resistor(value: &Resistance) -> String {
    match value.bands() {
        Some(hues) => format!("{value} ({})", bands::names(&hues)),
        None => value.to_string(),
    }
}

/// A terminator with its colour bands in words.
pub(crate) fn terminator(value: Ohms) -> String {
    resistor(&Resistance::new(value))
}

/// Rated volts: "12 V".
pub(crate) fn rated(volts: Volts) -> String {
    format!("{} V", volts.0)
}

/// Those of a board's batteries that are alike: "2 × 7 Ah".
pub(crate) fn alike(battery: &Battery) -> String {
    match battery.count {
        0 | 1 => battery.capacity.value.to_string(),
        count => format!("{count} × {}", battery.capacity.value),
    }
}

/// The battery of a board, or several: "18 Ah", "2 × 7 Ah in series".
pub(crate) fn battery(battery: &Battery) -> String {
    let alike = alike(battery);
    let others = battery.others.iter().map(|other| other.capacity.value.to_string());
    let all = list(&std::iter::once(alike).chain(others).collect::<Vec<_>>(), "and");
    match &battery.wired {
        Some(wired) if battery.total() > 1 => format!("{all} {}", wired.value.printed()),
        Some(_) | None => all,
    }
}

/// How cold and how hot the cables are taken to get, by where they lie.
pub(crate) fn temperatures() -> String {
    let places = [
        ("in the house", ambient::INSIDE),
        ("in garage, workshop, cellar and crawlspace", ambient::UNHEATED),
        ("under the roof", ambient::ATTIC),
        ("outdoors", ambient::OUTDOORS),
        ("in the ground", ambient::UNDERGROUND),
    ];
    let said = |(place, Ambient { cold, hot, .. }): (&str, Ambient)| format!("{} to {hot} {place}", cold.0);
    let places = places.map(said).join(", ").replace('-', "−");
    format!("{places}, each cable by where it starts, passes and ends")
}

/// A distance along a cable to a whole foot or half a metre: nobody finds a place more finely.
pub(crate) fn distance(length: Metres, unit: LengthUnit) -> String {
    let step = match unit {
        LengthUnit::Feet => print::FOOT,
        LengthUnit::Metres => 0.5,
    };
    print::length(Metres((length.0 / step).round() * step), unit)
}

/// Rounded down to a whole foot or a tenth of a metre, so that what is printed still works.
pub(crate) fn rounded_down(length: Metres, unit: LengthUnit) -> Metres {
    match unit {
        LengthUnit::Feet => Metres((length.0 / 0.3048).floor() * 0.3048),
        LengthUnit::Metres => Metres((length.0 * 10.0).floor() / 10.0),
    }
}

/// Rounded down to a tenth of a foot or of a metre, as lengths are printed.
pub(crate) fn tenths_down(length: Metres, unit: LengthUnit) -> Metres {
    let step = match unit {
        LengthUnit::Feet => print::FOOT / 10.0,
        LengthUnit::Metres => 0.1,
    };
    Metres((length.0 / step + 1e-9).floor() * step)
}

/// A share rounded down to so many steps in the whole (100: to a whole percent), so that not all is said of less.
pub(crate) fn share(share: f64, steps: f64) -> Ratio {
    // A binary share may lie a trace below the decimal one that it stands for.
    Ratio((share * steps + 1e-9).floor() / steps)
}

/// A share in whole per cent, rounded up.
pub(crate) fn share_taken(share: f64) -> Ratio {
    Ratio((share * 100.0 - 1e-6).ceil().max(0.0) / 100.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_are_rounded_down_and_exact_ones_kept() {
        for (limit, load, said) in [
            (0.6, 0.258, "57 %"),
            (1.0, 0.71, "29 %"),
            (1.0, 0.228, "77 %"),
            (1.0, 0.0, "100 %"),
            (1.0, 0.0001, "99 %"),
        ] {
            assert_eq!(share(1.0 - load / limit, 100.0).to_string(), said, "{load} of {limit}");
        }
        assert_eq!(share(1.0 - 0.943, 1000.0).to_string(), "5.7 %");
        let taken = [0.32, 0.2 * 0.2 * 2.0 / 0.25, 0.3201, 0.0, 1e-9].map(|share| share_taken(share).to_string());
        assert_eq!(taken, ["32 %", "32 %", "33 %", "0 %", "0 %"]);
    }

    #[test]
    fn a_time_past_its_limit_is_told_from_it() {
        let hours = |hours: f64| Seconds(hours * 3600.0);
        for (time, allowed, said) in [
            (48.2, 48.0, "48.2 h"),
            (48.04, 48.0, "48.04 h"),
            (47.99, 48.0, "47.9 h"),
            (48.0, 48.0, "48.0 h"),
            (72.12, 72.0, "72.1 h"),
        ] {
            assert_eq!(hours_past(hours(time), hours(allowed)), said);
        }
        assert_eq!(power_beside(VoltAmperes(20.226), VoltAmperes(20.3)), "20.3 VA");
        assert_eq!(power_beside(VoltAmperes(20.226), VoltAmperes(40.0)), "21 VA");
    }

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
