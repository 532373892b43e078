//! Quantities: newtypes with SI values inside, units in and out.
//!
//! All arithmetic is in ohm, volt, ampere, metre, second. A bare `f64` never crosses a module border where it
//! means a quantity. Also the marking codes that a builder reads off parts: resistor values and their colour
//! bands (IEC 60062, IEC 60063) and conductor colours (IEC 60757). Out of scope: what a circuit does (`calc`).

pub(crate) mod bands;
pub mod colour;
pub(crate) mod decimal;
pub(crate) mod dimension;
pub mod meter_text;
pub(crate) mod money;
pub mod preferred;
pub(crate) mod print;
pub(crate) mod resistor;
pub(crate) mod unit;
pub(crate) mod wire;

pub use colour::Colour;
pub(crate) use colour::Hue;
pub(crate) use dimension::{Dimension, OfQuantity, Quantity};
pub use money::Money;
pub use print::LengthUnit;
pub use resistor::Resistance;
pub use wire::WireSize;

macro_rules! newtype {
    ($(#[$doc:meta])* $name:ident of $dimension:ident) => {
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
                // From +0, for the sum of no f64 is -0 and would print so.
                Self(items.fold(0.0, |sum, item| sum + item.0))
            }
        }
        impl OfQuantity for $name {
            fn of(quantity: &Quantity) -> Option<Self> {
                quantity.base_of(Dimension::$dimension).map(Self)
            }
        }
    };
}

newtype!(
    /// Electrical resistance in ohm.
    Ohms of Resistance
);
newtype!(
    /// Resistance of a conductor in ohm for each metre of it.
    OhmsPerMetre of LinearResistance
);
newtype!(
    /// Electric potential difference in volt.
    Volts of Voltage
);
newtype!(
    /// Electric current in ampere.
    Amperes of Current
);
newtype!(
    /// Electric charge in ampere-hour, as batteries are rated.
    AmpereHours of Charge
);
newtype!(
    /// Length in metre.
    Metres of Length
);
newtype!(
    /// Time in second.
    Seconds of Time
);
newtype!(
    /// Apparent power in volt-ampere.
    VoltAmperes of ApparentPower
);
newtype!(
    /// Power in watt.
    Watts of Power
);
newtype!(
    /// Signalling rate in bit per second.
    BitsPerSecond of Rate
);
newtype!(
    /// A ratio; 0.05 is 5 %.
    Ratio of Ratio
);
newtype!(
    /// Temperature in degree Celsius.
    Celsius of Temperature
);
newtype!(
    /// Sound pressure level in decibel, A-weighted, over 20 µPa.
    Decibels of SoundLevel
);
