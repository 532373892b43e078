//! Quantities as printed: SI prefixes and fixed rounding, the same on every machine.
//!
//! Every newtype but [`Metres`] displays itself; a length is printed in the unit that the site uses. Out of scope:
//! quantities as written in the spec.

use std::fmt;

use super::decimal::{fixed, round, trimmed};
use super::unit::{DAY, MONTH};
use super::{
    AmpereHours, Amperes, BitsPerSecond, Celsius, Decibels, Metres, Ohms, OhmsPerMetre, Ratio, Seconds, VoltAmperes,
    Volts, Watts,
};

/// Metres of the international foot.
pub(crate) const FOOT: f64 = 0.3048;

/// The unit that lengths are printed in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum LengthUnit {
    /// International foot of 0.3048 m.
    #[default]
    Feet,
    /// Metre.
    Metres,
}

impl LengthUnit {
    /// The unit's symbol: "ft" or "m".
    pub(crate) fn symbol(self) -> &'static str {
        match self {
            Self::Feet => "ft",
            Self::Metres => "m",
        }
    }

    /// The number alone, for a column whose head names the unit: feet with one decimal where needed, metres with one.
    pub(crate) fn number(self, length: Metres) -> String {
        self.finer(length, 0)
    }

    /// The same with so many decimals more.
    fn finer(self, length: Metres, more: usize) -> String {
        match self {
            Self::Feet => trimmed(length.0 / FOOT, 1 + more),
            Self::Metres => fixed(length.0, 1 + more),
        }
    }
}

/// A quantity that can be printed with more digits than is usual.
pub(crate) trait Finer {
    /// As it displays itself, with so many digits more.
    fn finer(&self, more: usize) -> String;
}

/// Digits that are added at the most: past them two figures are one but for the noise of a calculation.
const MOST_DIGITS: usize = 6;

/// Two quantities as printed, with one digit more of both until they differ, so that nothing is said to be more than itself.
pub(crate) fn apart<Q: Finer>(one: Q, other: Q) -> (String, String) {
    finer_until_apart(|more| (one.finer(more), other.finer(more)))
}

/// The same of lengths.
pub(crate) fn lengths_apart(one: Metres, other: Metres, unit: LengthUnit) -> (String, String) {
    let said = |one, more| match more {
        0 => length(one, unit),
        more => format!("{} {}", unit.finer(one, more), unit.symbol()),
    };
    finer_until_apart(|more| (said(one, more), said(other, more)))
}

fn finer_until_apart(print: impl Fn(usize) -> (String, String)) -> (String, String) {
    (0..=MOST_DIGITS).map(&print).find(|(one, other)| one != other).unwrap_or_else(|| print(0))
}

/// A length: `38 ft`, `37.5 ft`, `11.6 m`. A short one, of which that would say next to nothing: `2 cm`, `9 mm`, `0.8 in`.
pub(crate) fn length(length: Metres, unit: LengthUnit) -> String {
    if length.0 <= 0.0 || length.0 >= SHORT {
        return format!("{} {}", unit.number(length), unit.symbol());
    }
    match unit {
        LengthUnit::Feet => format!("{} in", trimmed(length.0 / FOOT * 12.0, 1)),
        LengthUnit::Metres if length.0 < 0.01 => format!("{} mm", trimmed(length.0 * 1000.0, 1)),
        LengthUnit::Metres => format!("{} cm", trimmed(length.0 * 100.0, 1)),
    }
}

/// A height above the floor, to the centimetre: `1.45 m`, `4.75 ft`; a short one as any length.
pub(crate) fn height(height: Metres, unit: LengthUnit) -> String {
    if height.0 < SHORT {
        return length(height, unit);
    }
    let number = match unit {
        LengthUnit::Feet => height.0 / FOOT,
        LengthUnit::Metres => height.0,
    };
    format!("{} {}", trimmed(number, 2), unit.symbol())
}

/// A length as finely as any sheet has it: `38 ft`, `2.26 m`, `0.56 in`, `6.2 mm`.
pub(crate) fn fine_length(length: Metres, unit: LengthUnit) -> String {
    if length.0 <= 0.0 || length.0 >= SHORT {
        return height(length, unit);
    }
    match unit {
        LengthUnit::Feet => format!("{} in", trimmed(length.0 / FOOT * 12.0, 2)),
        LengthUnit::Metres => format!("{} mm", trimmed(length.0 * 1000.0, 1)),
    }
}

/// A length that is too small to be meant, with the unit that its number was probably meant in: `(m)9` of 9 mm, `(ft)9` of
/// 9 in. What is written in inches is a round number of them.
pub(crate) fn in_larger_unit(length: Metres, unit: LengthUnit) -> String {
    let is_round = |number: f64| (number * 10.0 - (number * 10.0).round()).abs() < 1e-6;
    let (inches, millimetres) = (length.0 / FOOT * 12.0, length.0 * 1000.0);
    let in_feet = match unit {
        LengthUnit::Feet => is_round(inches) || !is_round(millimetres),
        LengthUnit::Metres => is_round(inches) && !is_round(millimetres),
    };
    if in_feet { format!("(ft){}", trimmed(inches, 1)) } else { format!("(m){}", trimmed(millimetres, 1)) }
}

/// A length below this is short, in metres.
const SHORT: f64 = 0.1;

/// Four significant digits and at most three decimals: `2.2 kΩ`, `120 Ω`, `0.15 Ω`; "open" for no connection.
fn ohms(value: f64) -> String {
    if value.is_infinite() {
        return "open".to_owned();
    }
    let value = round(value, 4);
    match value.abs() {
        1e6.. => format!("{} MΩ", trimmed(value / 1e6, 3)),
        1e3.. => format!("{} kΩ", trimmed(value / 1e3, 3)),
        _ => format!("{} Ω", trimmed(value, 3)),
    }
}

/// By the kilometre, four significant digits and at most two decimals: `78.4 Ω/km`.
fn ohms_per_metre(value: f64) -> String {
    format!("{} Ω/km", trimmed(round(value * 1e3, 4), 2))
}

/// Two decimals: `13.80 V`.
fn volts(value: f64, more: usize) -> String {
    format!("{} V", fixed(value, 2 + more))
}

/// Four significant digits and at most three decimals: `18 mA`, `1.25 A`.
fn amperes(value: f64, more: usize) -> String {
    thousandths(value, "A", more)
}

/// Four significant digits and at most three decimals: `11.4 mW`, `1.5 W`.
fn watts(value: f64) -> String {
    thousandths(value, "W", 0)
}

/// In thousandths of the unit under 1.
fn thousandths(value: f64, unit: &str, more: usize) -> String {
    let value = round(value, 4 + more);
    match value.abs() {
        1.0.. => format!("{} {unit}", trimmed(value, 3 + more)),
        // Rounded again, for the product may be noisy.
        _ => format!("{} m{unit}", trimmed(round(value * 1e3, 4 + more), 3 + more)),
    }
}

/// `250 ms`, `30 s`, `90 s`, `4 min`, `24 h`, `25 h 22 min`, `7 days`, `18 months`, `3 years`: seconds under two minutes,
/// hours to 72, whole months and years of the calendar's mean.
fn seconds(value: f64) -> String {
    const MINUTE: f64 = 60.0;
    const HOUR: f64 = 3600.0;
    let value = round(value, 12);
    if value < 0.0 || !value.is_finite() {
        return format!("{} s", trimmed(value, 3));
    }
    if value > 0.0 && value < 0.9995 {
        return format!("{} ms", trimmed(value * 1e3, 0));
    }
    if value < 119.5 {
        return format!("{} s", trimmed(value, 3));
    }
    let whole = value.round();
    if whole >= MONTH && whole % MONTH == 0.0 {
        let months = whole / MONTH;
        let (count, unit) = if months % 12.0 == 0.0 { (months / 12.0, "year") } else { (months, "month") };
        return format!("{count} {unit}{}", if count > 1.0 { "s" } else { "" });
    }
    let days = if whole > 72.0 * HOUR { (whole / DAY).floor() } else { 0.0 };
    let hours = ((whole - days * DAY) / HOUR).floor();
    let minutes = (whole % HOUR / MINUTE).floor();
    let parts =
        [(days, if days > 1.0 { "days" } else { "day" }), (hours, "h"), (minutes, "min"), (whole % MINUTE, "s")];
    let parts: Vec<String> =
        parts.iter().filter(|(count, _)| *count > 0.0).map(|(count, unit)| format!("{count} {unit}")).collect();
    parts.join(" ")
}

/// At most two decimals: `7 Ah`, `12.31 Ah`.
fn ampere_hours(value: f64, more: usize) -> String {
    format!("{} Ah", trimmed(value, 2 + more))
}

/// At most one decimal: `40 VA`.
fn volt_amperes(value: f64, more: usize) -> String {
    format!("{} VA", trimmed(value, 1 + more))
}

/// From 10 000 on in thousands: `9600 bit/s`, `19.2 kbit/s`.
fn bits_per_second(value: f64) -> String {
    let value = round(value, 4);
    match value.abs() {
        1e4.. => format!("{} kbit/s", trimmed(value / 1e3, 3)),
        _ => format!("{} bit/s", trimmed(value, 0)),
    }
}

/// At most two decimals: `5 %`, `0.25 %`.
fn ratio(value: f64) -> String {
    format!("{} %", trimmed(round(value * 100.0, 12), 2))
}

/// At most one decimal: `49 °C`.
fn celsius(value: f64) -> String {
    format!("{} °C", trimmed(value, 1))
}

/// Whole: `79 dBA`.
fn decibels(value: f64) -> String {
    format!("{} dBA", trimmed(value, 0))
}

macro_rules! displays {
    ($($name:ident by $print:ident),* $(,)?) => {$(
        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.pad(&$print(self.0))
            }
        }
    )*};
}

macro_rules! finer {
    ($($name:ident by $print:ident),* $(,)?) => {$(
        impl Finer for $name {
            fn finer(&self, more: usize) -> String {
                $print(self.0, more)
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.pad(&self.finer(0))
            }
        }
    )*};
}

finer!(Volts by volts, Amperes by amperes, AmpereHours by ampere_hours, VoltAmperes by volt_amperes);

displays!(
    Ohms by ohms,
    OhmsPerMetre by ohms_per_metre,
    Seconds by seconds,
    Watts by watts,
    BitsPerSecond by bits_per_second,
    Ratio by ratio,
    Celsius by celsius,
    Decibels by decibels,
);

#[cfg(test)]
mod tests {
    use super::*;

    fn check(cases: &[(impl ToString, &str)]) {
        for (quantity, printed) in cases {
            assert_eq!(quantity.to_string(), *printed);
        }
    }

    #[test]
    fn lengths_are_printed_in_the_unit_of_the_site() {
        assert_eq!(length(Metres(38.0 * 0.3048), LengthUnit::Feet), "38 ft");
        assert_eq!(length(Metres(37.5 * 0.3048), LengthUnit::Feet), "37.5 ft");
        assert_eq!(length(Metres(11.5), LengthUnit::Feet), "37.7 ft");
        assert_eq!(length(Metres(38.0 * 0.3048), LengthUnit::Metres), "11.6 m");
        assert_eq!(length(Metres(12.0), LengthUnit::Metres), "12.0 m");
        assert_eq!(length(Metres(0.0), LengthUnit::Feet), "0 ft");
        assert_eq!(length(Metres(0.02), LengthUnit::Metres), "2 cm");
        assert_eq!(length(Metres(0.02), LengthUnit::Feet), "0.8 in");
        assert_eq!(length(Metres(0.009), LengthUnit::Metres), "9 mm");
        assert_eq!(length(Metres(0.1), LengthUnit::Metres), "0.1 m");
        for feet in 0..2000 {
            assert_eq!(LengthUnit::Feet.number(Metres(f64::from(feet) * 0.3048)), feet.to_string());
        }
    }

    #[test]
    fn a_length_too_small_is_guessed_in_its_larger_unit() {
        let guess = |metres, unit| in_larger_unit(Metres(metres), unit);
        assert_eq!(guess(0.009, LengthUnit::Metres), "(m)9");
        assert_eq!(guess(0.0045, LengthUnit::Feet), "(m)4.5");
        assert_eq!(guess(3.5 * 0.0254, LengthUnit::Feet), "(ft)3.5");
        assert_eq!(guess(3.0 * 0.0254, LengthUnit::Metres), "(m)76.2");
    }

    #[test]
    fn heights_keep_the_centimetre() {
        assert_eq!(height(Metres(1.45), LengthUnit::Metres), "1.45 m");
        assert_eq!(height(Metres(2.2), LengthUnit::Metres), "2.2 m");
        assert_eq!(height(Metres(57.0 / 12.0 * FOOT), LengthUnit::Feet), "4.75 ft");
        assert_eq!(height(Metres(8.0 * FOOT), LengthUnit::Feet), "8 ft");
        assert_eq!(fine_length(Metres(2.26), LengthUnit::Metres), "2.26 m");
        assert_eq!(fine_length(Metres(0.56 / 12.0 * FOOT), LengthUnit::Feet), "0.56 in");
        assert_eq!(fine_length(Metres(0.0062), LengthUnit::Metres), "6.2 mm");
    }

    #[test]
    fn what_differs_prints_differently() {
        for ((one, other), said) in [
            (apart(Amperes(2.0004), Amperes(2.0)), ("2.0004 A", "2 A")),
            (apart(Amperes(0.100_04), Amperes(0.1)), ("100.04 mA", "100 mA")),
            (apart(Volts(14.999_9), Volts(15.0)), ("14.9999 V", "15.0000 V")),
            (apart(Volts(8.48), Volts(9.0)), ("8.48 V", "9.00 V")),
            (apart(AmpereHours(2.7166), AmpereHours(2.7168)), ("2.7166 Ah", "2.7168 Ah")),
            (apart(VoltAmperes(20.0), VoltAmperes(20.0)), ("20 VA", "20 VA")),
            (lengths_apart(Metres(1200.04), Metres(1200.0), LengthUnit::Metres), ("1200.04 m", "1200.00 m")),
        ] {
            assert_eq!((one.as_str(), other.as_str()), said);
        }
    }

    #[test]
    fn resistances() {
        check(&[
            (Ohms(2200.0), "2.2 kΩ"),
            (Ohms(2_200.000_000_000_000_5), "2.2 kΩ"),
            (Ohms(120.0), "120 Ω"),
            (Ohms(0.15), "0.15 Ω"),
            (Ohms(0.1 + 0.2), "0.3 Ω"),
            (Ohms(3.2292), "3.229 Ω"),
            (Ohms(2203.229), "2.203 kΩ"),
            (Ohms(999.96), "1 kΩ"),
            (Ohms(999_999.0), "1 MΩ"),
            (Ohms(1e6), "1 MΩ"),
            (Ohms(0.0), "0 Ω"),
            (Ohms(-0.0), "0 Ω"),
            (Ohms(f64::INFINITY), "open"),
        ]);
    }

    #[test]
    fn voltages_currents_and_powers() {
        check(&[(Volts(13.8), "13.80 V"), (Volts(0.646), "0.65 V"), (Volts(-0.001), "0.00 V"), (Volts(5.0), "5.00 V")]);
        check(&[
            (Amperes(0.018), "18 mA"),
            (Amperes(0.0023), "2.3 mA"),
            (Amperes(0.0575), "57.5 mA"),
            (Amperes(0.000_005), "0.005 mA"),
            (Amperes(0.999_99), "1 A"),
            (Amperes(1.25), "1.25 A"),
            (Amperes(0.0), "0 mA"),
        ]);
        check(&[(Watts(0.011_36), "11.36 mW"), (Watts(1.5), "1.5 W"), (Watts(0.19), "190 mW")]);
        check(&[(VoltAmperes(40.0), "40 VA"), (VoltAmperes(16.5 * 1.5), "24.8 VA")]);
    }

    #[test]
    fn times() {
        check(&[
            (Seconds(30.0), "30 s"),
            (Seconds(0.25), "250 ms"),
            (Seconds(0.999_9), "1 s"),
            (Seconds(1.5), "1.5 s"),
            (Seconds(60.0), "60 s"),
            (Seconds(90.0), "90 s"),
            (Seconds(119.99), "2 min"),
            (Seconds(240.0), "4 min"),
            (Seconds(150.0), "2 min 30 s"),
            (Seconds(3600.0), "1 h"),
            (Seconds(86400.0), "24 h"),
            (Seconds(91_320.0), "25 h 22 min"),
            (Seconds(259_200.0), "72 h"),
            (Seconds(345_600.0), "4 days"),
            (Seconds(604_800.0), "7 days"),
            (Seconds(94_608_000.0), "1095 days"),
            (Seconds(2_629_800.0), "1 month"),
            (Seconds(47_336_400.0), "18 months"),
            (Seconds(31_557_600.0), "1 year"),
            (Seconds(94_672_800.0), "3 years"),
            (Seconds(0.0), "0 s"),
        ]);
    }

    #[test]
    fn the_rest() {
        check(&[(AmpereHours(7.0), "7 Ah"), (AmpereHours(12.3125), "12.31 Ah")]);
        check(&[(BitsPerSecond(9600.0), "9600 bit/s"), (BitsPerSecond(19200.0), "19.2 kbit/s")]);
        check(&[(Ratio(0.05), "5 %"), (Ratio(0.0025), "0.25 %"), (Ratio(0.07), "7 %")]);
        check(&[(Celsius(49.0), "49 °C"), (Celsius(-17.777_777), "-17.8 °C"), (Celsius(-0.01), "0 °C")]);
        check(&[(Decibels(105.0), "105 dBA"), (Decibels(94.46), "94 dBA")]);
        assert_eq!(format!("[{:>8}] [{:<8}]", Ohms(120.0), Volts(5.0)), "[   120 Ω] [5.00 V  ]");
    }
}
