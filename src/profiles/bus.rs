//! Limits of a balanced data bus (TIA-485-A and application notes on it): value, document, how sure.
//!
//! The stub limit needs a rise time and a speed that no sheet gives; both assumptions are named wherever it is printed.

use super::source::{Figure, Known, Source};

const STANDARD: &str = "TIA-485-A";
const QUOTED: Source = Source::new(STANDARD, "", "", Known::Quoted);
const NOTES: Source = Source::new("application notes on TIA-485-A", "", "", Known::Quoted);
const THUMB: Source = Source::new("annex of TIA/EIA-422-B, TSB-89", "", "", Known::Quoted);

/// Ohms of one unit load, as application notes put it across the pair. The standard means each conductor against common,
/// which leaves about twice as much across the pair, so what is computed with it is on the safe side.
pub const UNIT_LOAD: Figure = Figure::new(12_000.0, NOTES);
/// Unit loads that a driver must drive.
pub const MOST_UNIT_LOADS: Figure = Figure::new(32.0, QUOTED);
/// Volts between A and B from which a receiver knows which state it is.
pub const THRESHOLD: Figure = Figure::new(0.2, QUOTED);
/// Ohms of the load at which a driver is tested.
pub const DRIVER_LOAD: Figure = Figure::new(54.0, QUOTED);
/// Volts below its own minus that a receiver stands on the data pair.
pub const COMMON_MODE_BELOW: Figure = Figure::new(7.0, Source::new(STANDARD, "", "", Known::FromMemory));
/// Metres times bit per second: a rule of thumb.
pub const LENGTH_TIMES_RATE: Figure = Figure::new(1e8, THUMB);
/// Metres of cable at any rate.
pub const LONGEST: Figure = Figure::new(1200.0, THUMB);
/// Ohms of a terminator: the impedance of the cable.
pub const TERMINATOR: Figure = Figure::new(120.0, NOTES);
/// Least ohms of a terminator that sends back no more than a fifth of a step in a cable of 120 Ω.
pub const TERMINATOR_LEAST: Figure = Figure::practice(80.0);
/// Most ohms of one.
pub const TERMINATOR_MOST: Figure = Figure::practice(180.0);

/// Seconds in which a driver is assumed to rise: slow, as drivers are whose slew is limited. Drivers of 10 to 40 ns exist.
pub const RISE_TIME: f64 = 100e-9;
/// Speed of a step in the cable over that of light: the fastest of polyethylene (0.66 to 0.78); in PVC it is about 0.6.
pub const VELOCITY: f64 = 0.78;
const LIGHT: f64 = 299_792_458.0;
/// Metres of a stub: a tenth of the rise time times the speed in the cable.
pub const STUB: Figure = Figure::new(
    0.1 * RISE_TIME * VELOCITY * LIGHT,
    Source::new("application notes on TIA-485-A", "", "", Known::FromMemory),
);

/// What is assumed for the stub limit, in words.
pub fn stub_assumptions() -> String {
    format!(
        "a driver that rises in {:.0} ns, which is slow (some take 10 to 40 ns, and a stub may then be a tenth to two fifths as long), and a step at {VELOCITY} of the speed of light, which is fast (about 0.6 in PVC)",
        RISE_TIME * 1e9
    )
}

/// What the unit load means, in words.
pub const UNIT_LOAD_MEANS: &str =
    "12 kΩ across the pair, on the safe side: a receiver has them from each conductor to common, about 24 kΩ across";

/// Every row with what it is about.
pub static ROWS: &[(&str, Figure)] = &[
    ("unit load", UNIT_LOAD),
    ("unit loads", MOST_UNIT_LOADS),
    ("threshold of a receiver", THRESHOLD),
    ("test load of a driver", DRIVER_LOAD),
    ("common mode", COMMON_MODE_BELOW),
    ("length times rate", LENGTH_TIMES_RATE),
    ("greatest length", LONGEST),
    ("terminator", TERMINATOR),
    ("least terminator", TERMINATOR_LEAST),
    ("greatest terminator", TERMINATOR_MOST),
    ("stub", STUB),
];

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
