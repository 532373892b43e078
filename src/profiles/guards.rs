//! The most current that a fuse or a current limit may let through a copper conductor.
//!
//! An upper guard, not a rating of a cable: the cable's own sheet, bundling and heat may ask for less.

use super::source::{Known, NOT_NAMED, Source};
use crate::quantity::{Amperes, WireSize};

/// A conductor's size with its guard.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Guard {
    /// American Wire Gauge.
    pub(crate) gauge: i32,
    /// The most ampere.
    pub(crate) amperes: f64,
    /// Where it stands.
    pub(crate) source: Source,
}

const fn guard(gauge: i32, amperes: f64, source: Source) -> Guard {
    Guard { gauge, amperes, source }
}

const CLASS_1: Source = Source::new("NEC on class 1 circuits, as an upper guard", NOT_NAMED, "", Known::FromMemory);
const SMALL: Source = Source::new("NEC on small conductors", NOT_NAMED, "", Known::FromMemory);

/// The heaviest leads of batteries and transformers in an alarm board, by common practice.
pub(crate) const LEADS: Guard = guard(14, 15.0, SMALL);

/// The rows, thinnest first.
pub(crate) static GUARDS: &[Guard] = &[
    guard(26, 1.0, Source::practice()),
    guard(24, 2.0, Source::practice()),
    guard(22, 3.0, Source::practice()),
    guard(20, 5.0, Source::practice()),
    guard(18, 7.0, CLASS_1),
    guard(16, 10.0, CLASS_1),
    LEADS,
    guard(12, 20.0, SMALL),
    guard(10, 30.0, SMALL),
];

/// The row of the thickest gauge that is not thicker than a size; the thinnest row below them all.
pub(crate) fn of(size: WireSize) -> &'static Guard {
    let area = size.square_millimetres() * (1.0 + 1e-9);
    let fits = |row: &&Guard| WireSize::Awg(row.gauge).square_millimetres() <= area;
    GUARDS.iter().rev().find(fits).unwrap_or(THINNEST)
}

/// The row of the thinnest, which also stands for a size that nobody knows.
pub(crate) static THINNEST: &Guard = &guard(26, 1.0, Source::practice());

impl Guard {
    /// The most current.
    pub(crate) fn most(&self) -> Amperes {
        Amperes(self.amperes)
    }

    /// Where the row is from, in words.
    pub(crate) fn origin(&self) -> String {
        self.source.cited()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_metric_size_has_the_guard_of_the_next_thinner_gauge() {
        let of = |area| of(WireSize::SquareMillimetres(area)).gauge;
        assert_eq!((of(0.05), of(0.22), of(0.75), of(1.0), of(1.5)), (26, 24, 20, 18, 16));
        assert_eq!(super::of(WireSize::Awg(18)).gauge, 18);
    }
}
