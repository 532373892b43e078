//! Closed formulas of application notes on balanced buses.

use crate::profiles::bus::{LENGTH_TIMES_RATE, LONGEST, TERMINATOR, UNIT_LOAD};
use crate::quantity::{BitsPerSecond, Metres, Ohms, Volts};

/// Volts between A and B of a bus without length: Vcc·Rt / (2·Rb + Rt), Rb in each leg.
pub fn idle_bias(supply: Volts, leg: Ohms, across: Ohms) -> Volts {
    Volts(supply.0 * across.0 / (2.0 * leg.0 + across.0))
}

/// The greatest bias resistor in each leg that still gives these volts.
pub fn leg(supply: Volts, wanted: Volts, across: Ohms) -> Ohms {
    Ohms(across.0 * (supply.0 / wanted.0 - 1.0) / 2.0)
}

/// What lies across a bus without length: its terminators and unit loads side by side; infinite where there is nothing.
pub fn across(terminators: &[Ohms], unit_loads: f64) -> Ohms {
    let conductance = terminators.iter().map(|ohms| 1.0 / ohms.0).sum::<f64>() + unit_loads / UNIT_LOAD.value;
    Ohms(1.0 / conductance)
}

/// The terminator that makes, side by side with the bias resistors at the same end, the usual 120 Ω; `None` where the
/// bias resistors alone are less.
pub fn terminator_beside_bias(leg: Ohms) -> Option<Ohms> {
    let cable = TERMINATOR.value;
    (2.0 * leg.0 > cable).then(|| Ohms(leg.0 * cable / (leg.0 - cable / 2.0)))
}

/// The longest bus at a rate: 10⁸ m·bit/s, and 1200 m at most.
pub fn longest(rate: BitsPerSecond) -> Metres {
    Metres((LENGTH_TIMES_RATE.value / rate.0).min(LONGEST.value))
}

/// The highest rate at a length by the same rule; `None` where it is too long for any.
pub fn fastest(length: Metres) -> Option<BitsPerSecond> {
    (length.0 <= LONGEST.value).then(|| BitsPerSecond(LENGTH_TIMES_RATE.value / length.0))
}
