//! The dimension of a quantity and a quantity as it was written.

use std::fmt;

use super::decimal::tidy;
use super::unit::{Unit, find};

/// What a quantity measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Dimension {
    /// Ohm.
    Resistance,
    /// Ohm per metre.
    LinearResistance,
    /// Volt.
    Voltage,
    /// Ampere.
    Current,
    /// Ampere-hour.
    Charge,
    /// Metre.
    Length,
    /// American wire gauge or mm² of copper.
    WireSize,
    /// Second.
    Time,
    /// Volt-ampere.
    ApparentPower,
    /// Watt.
    Power,
    /// Bit per second.
    Rate,
    /// Per cent.
    Ratio,
    /// Degree Celsius.
    Temperature,
    /// Decibel, A-weighted.
    SoundLevel,
}

impl Dimension {
    /// Every dimension.
    pub(crate) const ALL: [Self; 14] = [
        Self::Resistance,
        Self::LinearResistance,
        Self::Voltage,
        Self::Current,
        Self::Charge,
        Self::Length,
        Self::WireSize,
        Self::Time,
        Self::ApparentPower,
        Self::Power,
        Self::Rate,
        Self::Ratio,
        Self::Temperature,
        Self::SoundLevel,
    ];

    /// The noun in messages: "a length".
    pub(crate) fn noun(self) -> &'static str {
        match self {
            Self::Resistance => "a resistance",
            Self::LinearResistance => "a resistance by length",
            Self::Voltage => "a voltage",
            Self::Current => "a current",
            Self::Charge => "a battery capacity",
            Self::Length => "a length",
            Self::WireSize => "a wire size",
            Self::Time => "a time",
            Self::ApparentPower => "an apparent power",
            Self::Power => "a power",
            Self::Rate => "a data rate",
            Self::Ratio => "a percentage",
            Self::Temperature => "a temperature",
            Self::SoundLevel => "a sound level",
        }
    }
}

/// A number with its unit, as written in the spec.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Quantity {
    /// The number as written; finite.
    pub(crate) number: f64,
    /// The unit.
    pub(crate) unit: &'static Unit,
}

impl Quantity {
    /// Joins a number and the unit of that name; `None` for an unknown unit.
    pub(crate) fn new(number: f64, unit: &str) -> Option<Self> {
        find(unit).map(|unit| Self { number, unit })
    }

    /// The value in the base unit of its dimension (ohm, volt, ampere, ampere-hour, metre, ohm per metre, second, VA, W, bit/s,
    /// ratio, °C, dBA), rounded to twelve digits so that `(kohm)2.05` is exactly `(ohm)2050`. For a wire size the number
    /// as written: see [`WireSize`](super::WireSize).
    pub(crate) fn base(&self) -> f64 {
        tidy(self.number * self.unit.factor + self.unit.offset)
    }

    /// The value in the base unit, or an error where it measures something else than expected.
    pub(crate) fn base_of(&self, expected: Dimension) -> Result<f64, WrongDimension> {
        if self.dimension() == expected {
            Ok(self.base())
        } else {
            Err(WrongDimension { expected, found: self.clone() })
        }
    }

    /// What it measures.
    pub(crate) fn dimension(&self) -> Dimension {
        self.unit.dimension
    }
}

/// As written, number first: `38 ft`.
impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!("{} {}", self.number, self.unit.symbol))
    }
}

/// A quantity that measures something else than what belongs in its place.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("{found} is {}, but {} belongs here", .found.dimension().noun(), .expected.noun())]
pub(crate) struct WrongDimension {
    /// What belongs there.
    pub(crate) expected: Dimension,
    /// What was written.
    pub(crate) found: Quantity,
}

#[cfg(test)]
mod tests {
    use super::super::{Celsius, Metres, Ohms, Seconds};
    use super::*;

    fn quantity(number: f64, unit: &str) -> Quantity {
        Quantity::new(number, unit).unwrap()
    }

    #[test]
    fn quantities_convert_to_newtypes_without_noise() {
        assert_eq!(Ohms::try_from(&quantity(2.05, "kohm")), Ok(Ohms(2050.0)));
        assert_eq!(Metres::try_from(&quantity(38.0, "ft")), Ok(Metres(11.5824)));
        assert_eq!(Seconds::try_from(&quantity(7.0, "day")), Ok(Seconds(604_800.0)));
        // The fixed points of the two scales.
        assert_eq!(Celsius::try_from(&quantity(32.0, "degF")), Ok(Celsius(0.0)));
        assert_eq!(Celsius::try_from(&quantity(212.0, "degF")), Ok(Celsius(100.0)));
    }

    #[test]
    fn a_wrong_dimension_names_both() {
        let error = Metres::try_from(&quantity(12.0, "V")).unwrap_err();
        assert_eq!(error.to_string(), "12 V is a voltage, but a length belongs here");
        assert_eq!(Quantity::new(1.0, "furlong"), None);
    }
}
