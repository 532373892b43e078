//! The dimension of a quantity and a quantity as it was written.

use super::unit::{Unit, find};

/// What a quantity measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Dimension {
    /// Ohm.
    Resistance,
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
}

impl Dimension {
    /// Every dimension.
    pub const ALL: [Self; 12] = [
        Self::Resistance,
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
    ];

    /// The noun in messages: "a length".
    pub fn noun(self) -> &'static str {
        match self {
            Self::Resistance => "a resistance",
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
        }
    }
}

/// A number with its unit, as written in the spec.
#[derive(Clone, Debug, PartialEq)]
pub struct Quantity {
    /// The number as written; finite.
    pub number: f64,
    /// The unit.
    pub unit: &'static Unit,
}

impl Quantity {
    /// Joins a number and the unit of that name; `None` for an unknown unit.
    pub fn new(number: f64, unit: &str) -> Option<Self> {
        find(unit).map(|unit| Self { number, unit })
    }

    /// The value in the base unit of its dimension (ohm, volt, ampere, ampere-hour, metre, second, VA, W, bit/s,
    /// ratio, °C). For a wire size the number as written: see [`WireSize`](super::WireSize).
    pub fn base(&self) -> f64 {
        self.number * self.unit.factor + self.unit.offset
    }

    /// What it measures.
    pub fn dimension(&self) -> Dimension {
        self.unit.dimension
    }
}
