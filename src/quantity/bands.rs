//! The colour bands of a resistor by IEC 60062.
//!
//! Two significant digits, multiplier and tolerance at ±5 % and wider; three digits at ±2 % and tighter. Out of
//! scope: the sixth band (temperature coefficient) and the grey tolerance band, which editions give two meanings.

use super::colour::Hue;
use super::decimal::Decimal;
use super::{Ratio, Resistance};

/// Digits 0 to 9.
const DIGITS: [Hue; 10] = [
    Hue::Black,
    Hue::Brown,
    Hue::Red,
    Hue::Orange,
    Hue::Yellow,
    Hue::Green,
    Hue::Blue,
    Hue::Violet,
    Hue::Grey,
    Hue::White,
];

/// Tolerances in per cent with their bands; ±20 % has none.
const TOLERANCES: [(f64, Option<Hue>); 10] = [
    (20.0, None),
    (10.0, Some(Hue::Silver)),
    (5.0, Some(Hue::Gold)),
    (2.0, Some(Hue::Red)),
    (1.0, Some(Hue::Brown)),
    (0.5, Some(Hue::Green)),
    (0.25, Some(Hue::Blue)),
    (0.1, Some(Hue::Violet)),
    (0.05, Some(Hue::Orange)),
    (0.02, Some(Hue::Yellow)),
];

impl Resistance {
    /// The bands from the end they are read from; `None` where bands cannot show the value or the tolerance.
    pub fn bands(&self) -> Option<Vec<Hue>> {
        let (percent, tolerance) =
            TOLERANCES.into_iter().find(|(percent, _)| (self.tolerance.0 * 100.0 - percent).abs() < 1e-9)?;
        let width: u32 = if percent >= 5.0 { 2 } else { 3 };
        let decimal = Decimal::of(self.nominal.0)?;
        let zeros = width.checked_sub(decimal.count())?;
        let digits = (decimal.digits * 10_u64.pow(zeros)).to_string();
        let multiplier = multiplier(decimal.exponent - i32::try_from(zeros).ok()?)?;
        digits
            .chars()
            .map(|c| c.to_digit(10).and_then(digit))
            .chain([Some(multiplier)])
            .chain(tolerance.map(Some))
            .collect()
    }
}

/// The tolerance that a last band stands for; `None` for a band of the digits alone.
pub(super) fn tolerance(band: Option<Hue>) -> Option<Ratio> {
    let found = TOLERANCES.into_iter().find(|(_, hue)| *hue == band);
    found.map(|(percent, _)| Ratio(percent / 100.0))
}

fn digit(number: u32) -> Option<Hue> {
    DIGITS.get(usize::try_from(number).ok()?).copied()
}

/// The band of a power of ten.
fn multiplier(exponent: i32) -> Option<Hue> {
    match exponent {
        -1 => Some(Hue::Gold),
        -2 => Some(Hue::Silver),
        -3 => Some(Hue::Pink),
        _ => digit(u32::try_from(exponent).ok()?),
    }
}

/// The bands in words: "red red red gold".
pub(crate) fn names(bands: &[Hue]) -> String {
    bands.iter().map(|hue| hue.name()).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::super::preferred::{E24, E96};
    use super::super::{Ohms, Ratio};
    use super::*;

    /// The bands by the codes of IEC 60757.
    fn codes(bands: &[Hue]) -> String {
        bands.iter().map(|hue| hue.code()).collect::<Vec<_>>().join(" ")
    }

    fn resistance(ohms: f64, percent: f64) -> Resistance {
        Resistance { nominal: Ohms(ohms), tolerance: Ratio(percent / 100.0) }
    }

    #[test]
    fn worked_examples() {
        // IEC 60062 colour code; 10 k ±5 % is a published example, the others are worked from the table.
        let cases = [
            (5600.0, 5.0, "green blue red gold", "GN BU RD GD"),
            (5600.0, 1.0, "green blue black brown brown", "GN BU BK BN BN"),
            (2200.0, 5.0, "red red red gold", "RD RD RD GD"),
            (2200.0, 1.0, "red red black brown brown", "RD RD BK BN BN"),
            (1000.0, 5.0, "brown black red gold", "BN BK RD GD"),
            (4700.0, 5.0, "yellow violet red gold", "YE VT RD GD"),
            (3740.0, 1.0, "orange violet yellow brown brown", "OG VT YE BN BN"),
            (10_000.0, 5.0, "brown black orange gold", "BN BK OG GD"),
            (120.0, 5.0, "brown red brown gold", "BN RD BN GD"),
            (330.0, 1.0, "orange orange black black brown", "OG OG BK BK BN"),
        ];
        for (ohms, percent, named, coded) in cases {
            let bands = resistance(ohms, percent).bands().unwrap();
            assert_eq!(names(&bands), named);
            assert_eq!(codes(&bands), coded);
        }
    }

    #[test]
    fn small_values_and_wide_tolerances() {
        assert_eq!(names(&resistance(0.47, 5.0).bands().unwrap()), "yellow violet silver gold");
        assert_eq!(names(&resistance(4.7, 10.0).bands().unwrap()), "yellow violet gold silver");
        assert_eq!(names(&resistance(4.7, 20.0).bands().unwrap()), "yellow violet gold");
        assert_eq!(names(&resistance(0.15, 1.0).bands().unwrap()), "brown green black pink brown");
    }

    #[test]
    fn what_bands_cannot_show_has_none() {
        let cases = [
            (3740.0, 5.0),
            (2203.0, 1.0),
            (2200.0, 3.0),
            (2200.0, 0.01),
            (0.001, 5.0),
            (1e12, 5.0),
            (0.0, 5.0),
            (f64::INFINITY, 1.0),
        ];
        for (ohms, percent) in cases {
            assert_eq!(resistance(ohms, percent).bands(), None, "{ohms} {percent}");
        }
    }

    /// Reads bands back by the printed table, apart from the code above.
    fn read(bands: &str) -> f64 {
        let letters = ["BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH"];
        let bands: Vec<&str> = bands.split(' ').collect();
        let (multiplier, digits) = bands[..bands.len() - 1].split_last().unwrap();
        let number: String = digits.iter().map(|d| letters.iter().position(|l| l == d).unwrap().to_string()).collect();
        let power = match *multiplier {
            "GD" => "-1".to_owned(),
            "SR" => "-2".to_owned(),
            "PK" => "-3".to_owned(),
            other => letters.iter().position(|l| *l == other).unwrap().to_string(),
        };
        format!("{number}e{power}").parse().unwrap()
    }

    #[test]
    fn every_preferred_value_reads_back() {
        for (table, percent) in [(&E24[..], 5.0), (&E96[..], 1.0)] {
            for value in table {
                for power in -3..=9 {
                    let ohms: f64 = format!("{value}e{power}").parse().unwrap();
                    let bands = resistance(ohms, percent).bands().unwrap();
                    assert_eq!(bands.len(), if percent > 2.0 { 4 } else { 5 });
                    assert_eq!(Ohms(read(&codes(&bands))), Ohms(ohms));
                }
            }
        }
    }
}
