//! Holes for cable: how much wider than the bundle, which drills there are, which studs and joists.

use super::source::{Figure, Known, NOT_NAMED, Source};
use crate::quantity::print::FOOT;
use crate::quantity::{LengthUnit, Metres};

/// How many times the bundle's diameter a hole has, so that a cable can be pulled beside others.
pub(crate) const WIDER: Figure = Figure::practice(1.25);

/// Metres of an inch.
const INCH: f64 = FOOT / 12.0;

/// Wood drills of the trade in inches.
static INCH_DRILLS: &[(&str, f64)] = &[
    ("1/4 in", 0.25),
    ("3/8 in", 0.375),
    ("1/2 in", 0.5),
    ("5/8 in", 0.625),
    ("3/4 in", 0.75),
    ("7/8 in", 0.875),
    ("1 in", 1.0),
    ("1 1/8 in", 1.125),
    ("1 1/4 in", 1.25),
    ("1 3/8 in", 1.375),
    ("1 1/2 in", 1.5),
];
/// The same in millimetres.
static METRIC_DRILLS: &[f64] =
    &[6.0, 8.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0, 22.0, 25.0, 28.0, 30.0, 32.0, 35.0, 38.0];

/// Dressed sizes of lumber.
const DRESSED: Source = Source::new("American softwood lumber standard (PS 20)", NOT_NAMED, "", Known::FromMemory);
/// Width of a 2×4 stud: 3 1/2 in.
pub(crate) const STUD: Metres = Metres(3.5 * INCH);
/// Depth of a 2×8 joist: 7 1/4 in.
pub(crate) const JOIST: Metres = Metres(7.25 * INCH);

/// Every row.
pub(super) static ROWS: &[(&str, Source)] = &[
    ("how much wider than its bundle a hole is", WIDER.source),
    ("sizes of wood drills", Source::practice()),
    ("dressed sizes of lumber", DRESSED),
];

/// A drill.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Drill {
    /// As it is called.
    pub(crate) name: String,
    /// Its diameter.
    pub(crate) diameter: Metres,
}

/// The drills of the trade, by size.
pub(crate) fn drills(unit: LengthUnit) -> Vec<Drill> {
    let inches =
        || INCH_DRILLS.iter().map(|(name, inches)| Drill { name: (*name).to_owned(), diameter: Metres(inches * INCH) });
    let metric =
        || METRIC_DRILLS.iter().map(|size| Drill { name: format!("{size} mm"), diameter: Metres(size / 1000.0) });
    match unit {
        LengthUnit::Feet => inches().collect(),
        LengthUnit::Metres => metric().collect(),
    }
}

/// Where the dressed sizes are from.
pub(crate) fn dressed() -> String {
    DRESSED.cited()
}
