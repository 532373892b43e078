//! The most that a conductor of a metric size may have at 20 °C.
//!
//! A metric size is a name: the standard limits the resistance, and makers use less copper than the name says. A gauge is
//! a diameter, so it has no rows here. Classes 1 and 2 (solid, stranded) share a table; class 5 is flexible. A
//! conductor of which only "stranded" is known is taken for flexible, which has more.

use super::source::{Known, NOT_NAMED, Source};
use crate::quantity::{OhmsPerMetre, WireSize};
use crate::terms::Metal;

/// Where the rows are from.
pub const SOURCE: Source = Source::new("IEC 60228", NOT_NAMED, "", Known::FromMemory);
/// Where [`over_copper`] is from, for tinned copper.
pub const TINNED: Source = Source::new("NEC", NOT_NAMED, "chapter 9 table 8", Known::Quoted);
/// The same for tinned wires thinner than [`THIN`], as strands are: the less copper, the more a coat of tin takes of it.
pub const TINNED_STRANDS: Source = Source::new("ASTM B33", NOT_NAMED, "", Known::FromMemory);
/// The same for copper-clad aluminium.
pub const COPPER_CLAD: Source = Source::new("makers' sheets", "undated", "", Known::FromMemory);

/// The cross-section in mm² below which a tinned wire is thin: 24 AWG is just above it (0.0201 in).
const THIN: f64 = 0.2;

/// What conductors of a metal have, over those of plain copper: least, usually, at the most. [`TINNED`],
/// [`TINNED_STRANDS`], [`COPPER_CLAD`].
pub(crate) fn over_copper(metal: Metal, size: WireSize, stranded: bool) -> [f64; 3] {
    match metal {
        Metal::Copper => [1.0, 1.0, 1.0],
        // Strands from 0.0201 to 0.0111 in, and thinner ones: 94.16 and 93.15 % of copper's conductivity.
        Metal::Tinned if stranded || size.square_millimetres() < THIN => [1.0, 1.062, 1.074],
        Metal::Tinned => [1.0, 1.04, 1.04],
        Metal::CopperClad => [1.55, 1.60, 1.65],
    }
}

/// In words, what conductors of a metal have over plain copper, and where that is from; `None` for plain copper.
pub(crate) fn more_than_copper(metal: Metal) -> Option<String> {
    match metal {
        Metal::Copper => None,
        Metal::Tinned => Some(format!(
            "tinned conductors 4 % more ({}), tinned strands 6.2 to 7.4 % ({})",
            TINNED.cited(),
            TINNED_STRANDS.cited()
        )),
        Metal::CopperClad => Some(format!("copper-clad aluminium 55 to 65 % more ({})", COPPER_CLAD.cited())),
    }
}

/// A size with its limits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Row {
    /// Nominal cross-section in mm².
    pub(crate) area: f64,
    /// Ohms of a kilometre, classes 1 and 2.
    pub(crate) solid: f64,
    /// Ohms of a kilometre, class 5.
    pub(crate) flexible: f64,
}

const fn row(area: f64, solid: f64, flexible: f64) -> Row {
    Row { area, solid, flexible }
}

/// The rows of plain copper, thinnest first.
pub(crate) static ROWS: &[Row] =
    &[row(0.5, 36.0, 39.0), row(0.75, 24.5, 26.0), row(1.0, 18.1, 19.5), row(1.5, 12.1, 13.3), row(2.5, 7.41, 7.98)];

/// Where the most of a size comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Basis {
    /// A row of its own.
    Row,
    /// No row: the greatest allowance over ideal copper that the rows give, which is practice.
    LikeOthers,
}

/// The most of one conductor at 20 °C and where that comes from; `None` for a gauge.
pub(crate) fn most(size: WireSize, stranded: bool) -> Option<(OhmsPerMetre, Basis)> {
    let WireSize::SquareMillimetres(area) = size else { return None };
    let of = |row: &Row| if stranded { row.flexible } else { row.solid } / 1000.0;
    if let Some(row) = ROWS.iter().find(|row| (row.area - area).abs() < 1e-9) {
        return Some((OhmsPerMetre(of(row)), Basis::Row));
    }
    // Ohms of a metre times mm²: what the thinnest copper that the standard allows would have as its resistivity.
    let worst = ROWS.iter().map(|row| of(row) * row.area).fold(0.0, f64::max);
    Some((OhmsPerMetre(worst / area), Basis::LikeOthers))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 0.22 mm² has no row: 13.3 Ω/km × 1.5 mm² (flexible) and 7.41 Ω/km × 2.5 mm² (solid) lie highest above copper.
    #[test]
    fn a_size_without_a_row_gets_the_greatest_allowance() {
        let (flexible, basis) = most(WireSize::SquareMillimetres(0.22), true).unwrap();
        assert!((flexible.0 * 1000.0 - 13.3 * 1.5 / 0.22).abs() < 1e-9 && basis == Basis::LikeOthers);
        let (solid, _) = most(WireSize::SquareMillimetres(0.22), false).unwrap();
        assert!((solid.0 * 1000.0 - 7.41 * 2.5 / 0.22).abs() < 1e-9);
        assert_eq!(most(WireSize::SquareMillimetres(0.75), true), Some((OhmsPerMetre(0.026), Basis::Row)));
        assert_eq!(most(WireSize::Awg(22), true), None);
    }
}
