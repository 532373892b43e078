//! Conductor sizes.

use std::fmt;

use super::{Dimension, OfQuantity, Quantity};

/// The size of one conductor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WireSize {
    /// American wire gauge (ASTM B258); 0 to −3 are 1/0 to 4/0.
    Awg(i32),
    /// Nominal cross-section in mm².
    SquareMillimetres(f64),
}

impl WireSize {
    /// The cross-section of the solid conductor in mm²; for a gauge by ASTM B258: the diameter is
    /// 0.127 mm × 92^((36 − n)/39).
    pub(crate) fn square_millimetres(self) -> f64 {
        match self {
            Self::Awg(gauge) => {
                let diameter = 0.127 * 92_f64.powf(f64::from(36 - gauge) / 39.0);
                std::f64::consts::PI / 4.0 * diameter * diameter
            }
            Self::SquareMillimetres(area) => area,
        }
    }
}

impl fmt::Display for WireSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Awg(gauge @ ..=0) => f.pad(&format!("{}/0 AWG", 1 - gauge)),
            Self::Awg(gauge) => f.pad(&format!("{gauge} AWG")),
            Self::SquareMillimetres(area) => f.pad(&format!("{area} mm²")),
        }
    }
}

impl OfQuantity for WireSize {
    fn of(quantity: &Quantity) -> Option<Self> {
        let number = quantity.base_of(Dimension::WireSize)?;
        if quantity.unit.name == "AWG" {
            (-3..=40).find(|gauge| (f64::from(*gauge) - number).abs() <= 0.0).map(Self::Awg)
        } else {
            (number > 0.0).then_some(Self::SquareMillimetres(number))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn size(number: f64, unit: &str) -> Option<WireSize> {
        WireSize::of(&Quantity::new(number, unit).unwrap())
    }

    #[test]
    fn gauges_are_whole_numbers_in_the_range_of_astm_b258() {
        assert_eq!(size(22.0, "AWG"), Some(WireSize::Awg(22)));
        assert_eq!(size(40.0, "AWG"), Some(WireSize::Awg(40)));
        assert_eq!(size(-3.0, "AWG"), Some(WireSize::Awg(-3)));
        for bad in [41.0, -4.0, 22.5, 1e300] {
            assert_eq!(size(bad, "AWG"), None);
        }
    }

    #[test]
    fn cross_sections_are_positive() {
        assert_eq!(size(0.5, "mm2"), Some(WireSize::SquareMillimetres(0.5)));
        assert_eq!(size(0.0, "mm2"), None);
        assert_eq!(size(38.0, "ft"), None);
    }

    #[test]
    fn sizes_print_as_the_trade_writes_them() {
        let printed = [WireSize::Awg(22), WireSize::Awg(0), WireSize::Awg(-3), WireSize::SquareMillimetres(0.22)]
            .map(|size| size.to_string());
        assert_eq!(printed, ["22 AWG", "1/0 AWG", "4/0 AWG", "0.22 mm²"]);
    }

    #[test]
    fn areas_by_astm_b258() {
        // mm² computed from the formula of ASTM B258 to the digits shown.
        let cases = [
            (12, "3.3088"),
            (14, "2.0809"),
            (16, "1.3087"),
            (18, "0.8230"),
            (20, "0.5176"),
            (22, "0.3255"),
            (24, "0.2047"),
        ];
        for (gauge, area) in cases {
            assert_eq!(format!("{:.4}", WireSize::Awg(gauge).square_millimetres()), area);
        }
        // ASTM B258: number 36 is 0.0050 in and 4/0 is 0.4600 in across.
        for (gauge, inches) in [(36, "0.0050"), (-3, "0.4600")] {
            let diameter = (WireSize::Awg(gauge).square_millimetres() * 4.0 / std::f64::consts::PI).sqrt() / 25.4;
            assert_eq!(format!("{diameter:.4}"), inches);
        }
    }
}
