//! Preferred values of IEC 60063: the series E24 and E96.
//!
//! E24 is not the rounded geometric series (27 to 47 and 82 deviate), so both are literal tables.

use super::Ohms;
use super::decimal::{Decimal, tidy};

/// The 24 values of a decade, usual at ±5 % (IEC 60063).
pub const E24: [u16; 24] =
    [10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91];

/// The 96 values of a decade, usual at ±1 % (IEC 60063).
#[rustfmt::skip]
pub const E96: [u16; 96] = [
    100, 102, 105, 107, 110, 113, 115, 118, 121, 124, 127, 130, 133, 137, 140, 143,
    147, 150, 154, 158, 162, 165, 169, 174, 178, 182, 187, 191, 196, 200, 205, 210,
    215, 221, 226, 232, 237, 243, 249, 255, 261, 267, 274, 280, 287, 294, 301, 309,
    316, 324, 332, 340, 348, 357, 365, 374, 383, 392, 402, 412, 422, 432, 442, 453,
    464, 475, 487, 499, 511, 523, 536, 549, 562, 576, 590, 604, 619, 634, 649, 665,
    681, 698, 715, 732, 750, 768, 787, 806, 825, 845, 866, 887, 909, 931, 953, 976,
];

/// A series of preferred values.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Series {
    /// Two significant digits, usual at ±5 %.
    E24,
    /// Three significant digits, usual at ±1 %.
    E96,
}

impl Series {
    /// The significant digits of one decade, rising.
    pub(crate) fn values(self) -> &'static [u16] {
        match self {
            Self::E24 => &E24,
            Self::E96 => &E96,
        }
    }

    /// How many digits each value has.
    fn width(self) -> u32 {
        match self {
            Self::E24 => 2,
            Self::E96 => 3,
        }
    }
}

/// True when the series holds the value in some decade.
pub(crate) fn is_preferred(value: Ohms, series: Series) -> bool {
    Decimal::of(value.0).is_some_and(|decimal| {
        series
            .width()
            .checked_sub(decimal.count())
            .is_some_and(|zeros| series.values().iter().any(|v| u64::from(*v) == decimal.digits * 10_u64.pow(zeros)))
    })
}

/// The greatest value of the series that is not above `value` and the least that is not below it: twice the same
/// where the series holds it. `None` unless the value is positive and finite.
pub fn neighbours(value: Ohms, series: Series) -> Option<(Ohms, Ohms)> {
    let decimal = Decimal::of(value.0)?;
    let exponent = decimal.exponent + i32::try_from(decimal.count()).ok()? - i32::try_from(series.width()).ok()?;
    let value = tidy(value.0);
    let decade =
        |exponent: i32| series.values().iter().map(move |v| Decimal { digits: u64::from(*v), exponent }.value());
    let below = decade(exponent).take_while(|v| *v <= value).last()?;
    let above = decade(exponent).chain(decade(exponent + 1)).find(|v| *v >= value)?;
    Some((Ohms(below), Ohms(above)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn neighbours_of_the_usual_loop_resistors() {
        // IEC 60063: 5.60 k and 2.20 k are in E24 only.
        assert_eq!(neighbours(Ohms(5600.0), Series::E96), Some((Ohms(5490.0), Ohms(5620.0))));
        assert_eq!(neighbours(Ohms(2200.0), Series::E96), Some((Ohms(2150.0), Ohms(2210.0))));
        assert_eq!(neighbours(Ohms(5600.0), Series::E24), Some((Ohms(5600.0), Ohms(5600.0))));
        assert_eq!(neighbours(Ohms(3740.0), Series::E24), Some((Ohms(3600.0), Ohms(3900.0))));
    }

    #[test]
    fn neighbours_cross_decades_and_refuse_nonsense() {
        assert_eq!(neighbours(Ohms(95.0), Series::E24), Some((Ohms(91.0), Ohms(100.0))));
        assert_eq!(neighbours(Ohms(0.98), Series::E96), Some((Ohms(0.976), Ohms(1.0))));
        assert_eq!(neighbours(Ohms(999.999_999_999_9), Series::E24), Some((Ohms(1000.0), Ohms(1000.0))));
        for bad in [0.0, -1.0, f64::INFINITY, f64::NAN] {
            assert_eq!(neighbours(Ohms(bad), Series::E24), None);
        }
    }

    #[test]
    fn preferred_values() {
        // IEC 60063; the usual loop resistors (common practice).
        for both in [1e3, 2e3, 10e3, 1e6, 0.15, 7.5] {
            assert!(is_preferred(Ohms(both), Series::E24) && is_preferred(Ohms(both), Series::E96), "{both}");
        }
        for e24 in [2.2e3, 3.3e3, 4.7e3, 5.6e3, 6.8e3, 2.2 * 1000.0, 0.47] {
            assert!(is_preferred(Ohms(e24), Series::E24) && !is_preferred(Ohms(e24), Series::E96), "{e24}");
        }
        assert!(is_preferred(Ohms(3740.0), Series::E96) && !is_preferred(Ohms(3740.0), Series::E24));
        assert!(!is_preferred(Ohms(2203.0), Series::E96) && !is_preferred(Ohms(0.0), Series::E24));
    }

    #[test]
    fn e96_is_the_rounded_geometric_series_and_e24_is_not() {
        let rounded = |step: i32, of: f64, scale: f64| (scale * 10_f64.powf(f64::from(step) / of)).round();
        for (step, value) in (0..).zip(E96) {
            assert_eq!(Ohms(f64::from(value)), Ohms(rounded(step, 96.0, 100.0)));
        }
        let deviating: Vec<u16> = (0..)
            .zip(E24)
            .filter(|(step, value)| (f64::from(*value) - rounded(*step, 24.0, 10.0)).abs() > 0.5)
            .map(|(_, value)| value)
            .collect();
        assert_eq!(deviating, [27, 30, 33, 36, 39, 43, 47, 82]);
    }
}
