//! How far cables may fill a conduit.

use super::limits::NEC;
use super::source::{Figure, Known, NOT_NAMED, Source};

const FILL: Source = Source::new(NEC, NOT_NAMED, "", Known::FromMemory);

/// The share that one cable may fill.
const ONE: Figure = Figure::new(0.53, FILL);
/// The share that two cables may fill.
const TWO: Figure = Figure::new(0.31, FILL);
/// The share that more than two cables may fill.
const MORE: Figure = Figure::new(0.40, FILL);

/// Every row.
pub(super) static ROWS: &[(&str, Figure)] = &[
    ("share of a conduit that one cable fills", ONE),
    ("share of a conduit that two cables fill", TWO),
    ("share of a conduit that more cables fill", MORE),
];

/// The share of a conduit's inside that so many cables may fill.
pub(crate) fn most(cables: usize) -> Figure {
    match cables {
        0 | 1 => ONE,
        2 => TWO,
        _ => MORE,
    }
}
