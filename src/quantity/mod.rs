//! Quantities: newtypes with SI values inside, units in and out.
//!
//! All arithmetic is in ohm, volt, ampere, metre, second. A bare `f64` never crosses a module border where it
//! means a quantity. Also the marking codes that a builder reads off parts: resistor values and their colour
//! bands (IEC 60062, IEC 60063) and conductor colours (IEC 60757). Out of scope: what a circuit does (`calc`).

pub mod colour;
pub mod dimension;
pub mod print;
pub mod resistor;
pub mod unit;
pub mod wire;

pub use colour::Colour;
pub use dimension::{Dimension, Quantity};
pub use resistor::Resistance;
pub use wire::WireSize;

macro_rules! newtype {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        pub struct $name(pub f64);

        impl std::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }
        impl std::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
        impl std::ops::Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }
        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(items: I) -> Self {
                Self(items.map(|i| i.0).sum())
            }
        }
    };
}

newtype!(
    /// Electrical resistance in ohm.
    Ohms
);
newtype!(
    /// Electric potential difference in volt.
    Volts
);
newtype!(
    /// Electric current in ampere.
    Amperes
);
newtype!(
    /// Electric charge in ampere-hour, as batteries are rated.
    AmpereHours
);
newtype!(
    /// Length in metre.
    Metres
);
newtype!(
    /// Time in second.
    Seconds
);
newtype!(
    /// Apparent power in volt-ampere.
    VoltAmperes
);
newtype!(
    /// Power in watt.
    Watts
);
newtype!(
    /// Signalling rate in bit per second.
    BitsPerSecond
);
newtype!(
    /// A ratio; 0.05 is 5 %.
    Ratio
);
newtype!(
    /// Temperature in degree Celsius.
    Celsius
);
