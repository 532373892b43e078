//! Closed formulas of application notes on balanced buses.

use crate::profiles::bus::{LENGTH_TIMES_RATE, LONGEST, UNIT_LOAD};
use crate::quantity::{BitsPerSecond, Metres, Ohms};

/// What lies across a bus without length: its terminators and unit loads side by side; infinite where there is nothing.
pub fn across(terminators: &[Ohms], unit_loads: f64) -> Ohms {
    let conductance = terminators.iter().map(|ohms| 1.0 / ohms.0).sum::<f64>() + unit_loads / UNIT_LOAD.value;
    Ohms(1.0 / conductance)
}

/// The longest bus at a rate: 10⁸ m·bit/s, and 1200 m at most.
pub fn longest(rate: BitsPerSecond) -> Metres {
    Metres((LENGTH_TIMES_RATE.value / rate.0).min(LONGEST.value))
}

/// The highest rate at a length by the same rule; `None` where it is too long for any.
pub fn fastest(length: Metres) -> Option<BitsPerSecond> {
    (length.0 <= LONGEST.value).then(|| BitsPerSecond(LENGTH_TIMES_RATE.value / length.0))
}
