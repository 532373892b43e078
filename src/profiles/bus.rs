//! Limits of a balanced data bus (TIA-485-A and application notes on it): value, document, how sure.
//!
//! The stub limit needs a rise time that no sheet of a module gives; its row says which one is assumed.

use super::limits::Known;
use super::standby::Figure;

const STANDARD: &str = "TIA-485-A";
const NOTES: &str = "application notes on TIA-485-A";

const fn row(value: f64, document: &'static str, known: Known) -> Figure {
    Figure { value, document, clause: "", known }
}

/// Ohms of one unit load.
pub(crate) const UNIT_LOAD: Figure = row(12_000.0, STANDARD, Known::Quoted);
/// Unit loads that a driver must drive.
pub(crate) const MOST_UNIT_LOADS: Figure = row(32.0, STANDARD, Known::Quoted);
/// Volts between A and B from which a receiver knows which state it is.
pub(crate) const THRESHOLD: Figure = row(0.2, STANDARD, Known::Quoted);
/// Ohms of the load at which a driver is tested.
pub(crate) const DRIVER_LOAD: Figure = row(54.0, STANDARD, Known::Quoted);
/// Volts below its own minus that a receiver stands on the data pair.
pub(crate) const COMMON_MODE_BELOW: Figure = row(7.0, STANDARD, Known::FromMemory);
/// Metres times bit per second: a rule of thumb.
pub(crate) const LENGTH_TIMES_RATE: Figure = row(1e8, "annex of TIA/EIA-422-B, TSB-89", Known::Quoted);
/// Metres of cable at any rate: 4000 ft.
pub(crate) const LONGEST: Figure = row(1200.0, "annex of TIA/EIA-422-B, TSB-89", Known::Quoted);
/// Ohms of a terminator: the impedance of the cable.
pub(crate) const TERMINATOR: Figure = row(120.0, NOTES, Known::Quoted);
/// Least ohms of a terminator that sends back no more than a fifth of a step in a cable of 120 Ω.
pub(crate) const TERMINATOR_LEAST: Figure = row(80.0, "", Known::Practice);
/// Most ohms of one.
pub(crate) const TERMINATOR_MOST: Figure = row(180.0, "", Known::Practice);

/// Seconds in which a driver is assumed to rise: usual for drivers whose slew is limited. A fast one rises in a tenth
/// of that, and its stubs may be a tenth as long.
pub(crate) const RISE_TIME: f64 = 100e-9;
/// Speed of a step in the cable over that of light: usual for twisted pairs.
pub(crate) const VELOCITY: f64 = 0.78;
const LIGHT: f64 = 299_792_458.0;
/// Metres of a stub: a tenth of the rise time times the speed in the cable.
pub(crate) const STUB: Figure = row(0.1 * RISE_TIME * VELOCITY * LIGHT, NOTES, Known::FromMemory);

#[cfg(test)]
mod tests {
    use super::*;

    /// The same rule for a driver of 10 ns gives 0.23 m: worked out from the rule in makers' data sheets.
    #[test]
    fn the_stub_limit_is_that_of_the_rule() {
        assert!((STUB.value - 2.34).abs() < 0.01);
        assert!((0.1 * 10e-9 * VELOCITY * LIGHT - 0.23).abs() < 0.005);
    }

    #[test]
    fn terminators_within_the_bounds_send_back_a_fifth_at_most() {
        for ohms in [TERMINATOR_LEAST.value, TERMINATOR_MOST.value] {
            let back = (ohms - TERMINATOR.value) / (ohms + TERMINATOR.value);
            assert!((back.abs() - 0.2).abs() < 1e-12);
        }
    }
}
