//! The dimension of a quantity and a quantity as it was written.

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

    /// The value in the base unit; `None` where it measures something else than expected.
    pub(crate) fn base_of(&self, expected: Dimension) -> Option<f64> {
        (self.dimension() == expected).then(|| self.base())
    }

    /// What it measures.
    pub(crate) fn dimension(&self) -> Dimension {
        self.unit.dimension
    }
}

/// What a quantity is read as.
pub(crate) trait OfQuantity: Sized {
    /// The value; `None` where the quantity measures something else, or too little.
    fn of(quantity: &Quantity) -> Option<Self>;
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
        assert_eq!(Ohms::of(&quantity(2.05, "kohm")), Some(Ohms(2050.0)));
        assert_eq!(Metres::of(&quantity(38.0, "ft")), Some(Metres(11.5824)));
        assert_eq!(Seconds::of(&quantity(7.0, "day")), Some(Seconds(604_800.0)));
        // The fixed points of the two scales.
        assert_eq!(Celsius::of(&quantity(32.0, "degF")), Some(Celsius(0.0)));
        assert_eq!(Celsius::of(&quantity(212.0, "degF")), Some(Celsius(100.0)));
    }

    #[test]
    fn a_wrong_dimension_is_no_value() {
        assert_eq!(Metres::of(&quantity(12.0, "V")), None);
        assert_eq!(Quantity::new(1.0, "furlong"), None);
    }
}
