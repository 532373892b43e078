//! Decimal digits of doubles: what keeps float noise out of values and out of print.

/// A positive number as digits × 10^exponent, without trailing zeros in the digits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Decimal {
    pub(crate) digits: u64,
    pub(crate) exponent: i32,
}

impl Decimal {
    /// The nearest decimal of at most twelve digits; `None` unless the value is positive and finite.
    pub(crate) fn of(value: f64) -> Option<Self> {
        if !(value.is_finite() && value > 0.0) {
            return None;
        }
        let text = format!("{value:.11e}");
        let (mantissa, exponent) = text.split_once('e')?;
        let digits = mantissa.replace('.', "");
        let digits = digits.trim_end_matches('0');
        let exponent: i32 = exponent.parse().ok()?;
        let behind_the_point = i32::try_from(digits.len()).ok()? - 1;
        Some(Self { digits: digits.parse().ok()?, exponent: exponent - behind_the_point })
    }

    /// How many digits it has.
    pub(crate) fn count(self) -> u32 {
        self.digits.checked_ilog10().map_or(1, |log| log + 1)
    }

    /// The double nearest to it.
    pub(crate) fn value(self) -> f64 {
        format!("{}e{}", self.digits, self.exponent).parse().unwrap_or(f64::NAN)
    }
}

/// The value rounded to so many significant digits.
pub(crate) fn round(value: f64, significant: usize) -> f64 {
    format!("{value:.*e}", significant.saturating_sub(1)).parse().unwrap_or(value)
}

/// The value without the noise of a multiplication: rounded to twelve significant digits.
pub(super) fn tidy(value: f64) -> f64 {
    round(value, 12)
}

/// With so many decimals, and never a negative zero.
pub(super) fn fixed(value: f64, decimals: usize) -> String {
    // A half goes away from zero also where the nearest double is a little below it.
    let text = format!("{:.decimals$}", value * (1.0 + 1e-13));
    match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| matches!(c, '0' | '.')) => rest.to_owned(),
        _ => text,
    }
}

/// With at most so many decimals: trailing zeros behind the point are left out.
pub(super) fn trimmed(value: f64, decimals: usize) -> String {
    let text = fixed(value, decimals);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_double_gives_its_shortest_decimal() {
        assert_eq!(Decimal::of(2200.0), Some(Decimal { digits: 22, exponent: 2 }));
        assert_eq!(Decimal::of(2.2 * 1.1), Some(Decimal { digits: 242, exponent: -2 }));
        assert_eq!(Decimal::of(0.47), Some(Decimal { digits: 47, exponent: -2 }));
        assert_eq!(Decimal::of(0.0), None);
        assert_eq!(Decimal::of(f64::INFINITY), None);
        assert_eq!(Decimal { digits: 47, exponent: -2 }.value().to_string(), "0.47");
    }

    #[test]
    fn printing_has_no_noise_and_no_negative_zero() {
        assert_eq!(trimmed(0.1 + 0.2, 3), "0.3");
        assert_eq!(trimmed(2.2_f64.next_up(), 3), "2.2");
        assert_eq!(trimmed(100.0, 0), "100");
        assert_eq!(trimmed(100.0, 1), "100");
        assert_eq!(fixed(-0.004, 2), "0.00");
        assert_eq!(fixed(-0.006, 2), "-0.01");
        assert_eq!(tidy(2.05 * 1e3).to_string(), "2050");
    }
}
