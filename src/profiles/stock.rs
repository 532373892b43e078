//! What is bought of a thing: how much cable is in a box, and how many are taken to spare. All of it is common practice.

use super::source::Source;
use crate::quantity::print::FOOT;
use crate::quantity::{LengthUnit, Metres};

/// Feet of cable in a box, where nobody says it.
const BOX_FEET: f64 = 500.0;
/// Metres of cable in a box, where nobody says it and lengths are in metres.
const BOX_METRES: f64 = 100.0;
/// Of how many small things one more is bought: resistors, connectors, labels.
pub(crate) const ONE_IN: usize = 10;
/// The fewest spare resistors of a value.
pub(crate) const RESISTORS: usize = 2;
/// The fewest spare connectors of a kind, and spare labels.
pub(crate) const CONNECTORS: usize = 5;
/// Spare fuses of a rating.
pub(crate) const FUSES: usize = 1;

/// Every row.
pub(super) static ROWS: &[(&str, Source)] = &[
    ("cable in a box", Source::practice()),
    ("spare resistors, connectors and labels", Source::practice()),
    ("spare fuses", Source::practice()),
];

/// How much cable is in a usual box.
pub(crate) fn usual_box(unit: LengthUnit) -> Metres {
    match unit {
        LengthUnit::Feet => Metres(BOX_FEET * FOOT),
        LengthUnit::Metres => Metres(BOX_METRES),
    }
}

/// How many small things are taken to spare: one in ten, and no fewer than so many.
pub(crate) fn spare(count: usize, fewest: usize) -> usize {
    count.div_ceil(ONE_IN).max(fewest)
}
