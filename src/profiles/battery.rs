//! Figures on lead-acid batteries, chargers and transformers: value, document, how sure.

use super::source::{Figure, Known, Source};

const MAKERS: &str = "handbooks of battery makers";
const MANY: &str = "undated";
const HANDBOOKS: Source = Source::new(MAKERS, MANY, "", Known::FromMemory);

/// Volts at the end of discharge of a cell at the 20-hour rate.
pub(crate) const END_OF_CELL: Figure =
    Figure::new(1.75, Source::new("IEC 61056-1", "edition not named", "", Known::FromMemory));
/// Volts of a cell that has most of its charge, after hours without load or charger.
pub(crate) const RESTING_CELL: Figure = Figure::new(2.08, HANDBOOKS);
/// Hours of the rate at which capacity is given.
pub(crate) const RATED_HOURS: Figure =
    Figure::new(20.0, Source::new("JIS C 8702-1", "edition not named", "", Known::Quoted));
/// Celsius at which capacity is given.
pub(crate) const RATED_TEMPERATURE: Figure = Figure::new(25.0, HANDBOOKS);
/// Peukert's exponent for batteries with absorbed electrolyte, 1.05 to 1.15: the worst of them.
pub(crate) const PEUKERT: Figure = Figure::new(1.15, Source::new(MAKERS, MANY, "", Known::Quoted));
/// What is left of the rated capacity when a battery is due for replacement: an ageing factor of 1.25.
pub(crate) const AGED: Figure = Figure::new(0.8, Source::new("IEEE 485", "edition not named", "", Known::FromMemory));
/// Share of the capacity that is left at −15 °C, and at −30 °C the least of 40 to 50 %.
pub(crate) const COLD: [Figure; 2] = [Figure::new(0.65, HANDBOOKS), Figure::new(0.4, HANDBOOKS)];
/// Kelvin above the rated temperature that halve the time for which a battery serves.
pub(crate) const HALVES: Figure = Figure::new(10.0, HANDBOOKS);
/// Charge that must go in for what came out.
pub(crate) const CHARGE_FACTOR: Figure = Figure::practice(1.2);
/// Share from which on a charger's current falls.
pub(crate) const TAPER: Figure = Figure::new(0.8, HANDBOOKS);
/// Direct current of a bridge with a capacitor over the rated alternating current of its linear transformer.
pub(crate) const RECTIFIER: Figure =
    Figure::new(0.62, Source::new("rectifier design guides of transformer makers", MANY, "", Known::FromMemory));
/// Volts lost in the two diodes of a bridge that conduct at once.
pub(crate) const BRIDGE_DROP: Figure =
    Figure::new(1.4, Source::new("rectifier design guides of transformer makers", MANY, "", Known::FromMemory));
/// Share of the nominal volts at which computations for listed fire equipment begin: 10.2 V of 12.
pub(crate) const FIRE_START: Figure =
    Figure::new(0.85, Source::new("UL 864", "edition not named", "", Known::FromMemory));

/// Every row with what it is about.
pub(crate) static ROWS: &[(&str, Figure)] = &[
    ("end of discharge of a cell", END_OF_CELL),
    ("volts of a charged cell at rest", RESTING_CELL),
    ("hours of the rate of the capacity", RATED_HOURS),
    ("temperature of the rated capacity", RATED_TEMPERATURE),
    ("exponent of the discharge rate", PEUKERT),
    ("capacity left when due for replacement", AGED),
    ("capacity left at −15 °C", COLD[0]),
    ("capacity left at −30 °C", COLD[1]),
    ("kelvin that halve the service", HALVES),
    ("charge factor", CHARGE_FACTOR),
    ("share from which charging tapers", TAPER),
    ("direct current of a transformer", RECTIFIER),
    ("volts lost in a bridge", BRIDGE_DROP),
    ("volts at which fire computations begin", FIRE_START),
];
