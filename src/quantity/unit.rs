//! The units that a spec may write, as a table.
//!
//! A unit is written as a KDL type annotation before the number: `(ft)38`. Factors are exact by definition
//! (international foot and inch of 1959).

use super::dimension::Dimension;

/// A unit: its name in the spec, what it measures, and base = number × factor + offset.
#[derive(Debug, PartialEq)]
pub(crate) struct Unit {
    /// As written in the spec.
    pub(crate) name: &'static str,
    /// As printed.
    pub(crate) symbol: &'static str,
    /// What it measures.
    pub(crate) dimension: Dimension,
    /// Multiplies the number.
    pub(crate) factor: f64,
    /// Added after; 0 but for temperatures.
    pub(crate) offset: f64,
}

const fn unit(name: &'static str, symbol: &'static str, dimension: Dimension, factor: f64) -> Unit {
    Unit { name, symbol, dimension, factor, offset: 0.0 }
}

/// Seconds of a day.
pub(crate) const DAY: f64 = 86_400.0;
/// Seconds of a month: a twelfth of the Julian year of 365.25 days. Where a date follows, months are counted by the calendar
/// (`calc::wear`).
pub(crate) const MONTH: f64 = 2_629_800.0;

/// Every unit, the usual one of each dimension first.
pub(crate) static UNITS: &[Unit] = &[
    unit("ohm", "Ω", Dimension::Resistance, 1.0),
    unit("kohm", "kΩ", Dimension::Resistance, 1e3),
    unit("Mohm", "MΩ", Dimension::Resistance, 1e6),
    unit("ohm-per-km", "Ω/km", Dimension::LinearResistance, 1e-3),
    unit("ohm-per-kft", "Ω/1000 ft", Dimension::LinearResistance, 1.0 / 304.8),
    unit("V", "V", Dimension::Voltage, 1.0),
    unit("mV", "mV", Dimension::Voltage, 1e-3),
    unit("mA", "mA", Dimension::Current, 1e-3),
    unit("A", "A", Dimension::Current, 1.0),
    unit("uA", "µA", Dimension::Current, 1e-6),
    unit("Ah", "Ah", Dimension::Charge, 1.0),
    unit("mAh", "mAh", Dimension::Charge, 1e-3),
    unit("ft", "ft", Dimension::Length, 0.3048),
    unit("m", "m", Dimension::Length, 1.0),
    unit("in", "in", Dimension::Length, 0.0254),
    unit("cm", "cm", Dimension::Length, 1e-2),
    unit("mm", "mm", Dimension::Length, 1e-3),
    unit("AWG", "AWG", Dimension::WireSize, 1.0),
    unit("mm2", "mm²", Dimension::WireSize, 1.0),
    unit("s", "s", Dimension::Time, 1.0),
    unit("ms", "ms", Dimension::Time, 1e-3),
    unit("min", "min", Dimension::Time, 60.0),
    unit("h", "h", Dimension::Time, 3600.0),
    unit("day", "d", Dimension::Time, DAY),
    unit("month", "months", Dimension::Time, MONTH),
    unit("year", "years", Dimension::Time, 12.0 * MONTH),
    unit("VA", "VA", Dimension::ApparentPower, 1.0),
    unit("W", "W", Dimension::Power, 1.0),
    unit("mW", "mW", Dimension::Power, 1e-3),
    unit("baud", "bit/s", Dimension::Rate, 1.0),
    unit("kbaud", "kbit/s", Dimension::Rate, 1e3),
    unit("percent", "%", Dimension::Ratio, 1e-2),
    unit("degC", "°C", Dimension::Temperature, 1.0),
    Unit { name: "degF", symbol: "°F", dimension: Dimension::Temperature, factor: 5.0 / 9.0, offset: -160.0 / 9.0 },
    unit("dBA", "dBA", Dimension::SoundLevel, 1.0),
];

/// The unit of that name.
pub(crate) fn find(name: &str) -> Option<&'static Unit> {
    UNITS.iter().find(|u| u.name == name)
}

/// The units of a dimension, the usual one first.
pub(crate) fn of(dimension: Dimension) -> impl Iterator<Item = &'static Unit> {
    UNITS.iter().filter(move |u| u.dimension == dimension)
}

/// True for a unit as it is printed, with the marks of a sentence around it, behind text that ends in its number: both stay on
/// one line.
pub(crate) fn is_unit_of(word: &str, before: &str) -> bool {
    let word = word.trim_matches([' ', ',', ';', '.', ')']);
    before.ends_with(|c: char| c.is_ascii_digit()) && UNITS.iter().any(|unit| unit.symbol == word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_unique_and_every_dimension_has_a_unit() {
        for unit in UNITS {
            assert_eq!(UNITS.iter().filter(|other| other.name == unit.name).count(), 1, "{}", unit.name);
        }
        for dimension in Dimension::ALL {
            assert!(of(dimension).next().is_some(), "{}", dimension.noun());
        }
    }
}
