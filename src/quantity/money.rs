//! An amount of money, exact to a ten-thousandth: no doubles, so that a sum is the sum.

use std::fmt;
use std::iter::Sum;
use std::str::FromStr;

/// Decimals that an amount may have.
const DECIMALS: usize = 4;
/// Ten-thousandths of one.
const ONE: u128 = 10_000;
/// The largest amount that is read.
const MOST: u128 = 1_000_000_000 * ONE;

/// An amount, in ten-thousandths of whatever the currency is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Money(u128);

impl Money {
    /// What so many cost.
    pub(crate) fn times(self, count: usize) -> Self {
        Self(self.0.saturating_mul(count as u128))
    }
}

impl Sum for Money {
    fn sum<I: Iterator<Item = Self>>(items: I) -> Self {
        Self(items.fold(0, |sum: u128, item| sum.saturating_add(item.0)))
    }
}

/// Why a text is no amount.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NoAmount;

impl FromStr for Money {
    type Err = NoAmount;

    /// Digits with a point at most, as "23.40": no sign, no power, at most four decimals.
    fn from_str(text: &str) -> Result<Self, NoAmount> {
        let (whole, part) = text.split_once('.').map_or((text, "0"), |(whole, part)| (whole, part));
        let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
        if !digits(whole) || !digits(part) || part.len() > DECIMALS || whole.len() > 20 {
            return Err(NoAmount);
        }
        let whole: u128 = whole.parse().map_err(|_| NoAmount)?;
        let part: u128 = format!("{part:0<DECIMALS$}").parse().map_err(|_| NoAmount)?;
        let amount = whole * ONE + part;
        if amount <= MOST { Ok(Self(amount)) } else { Err(NoAmount) }
    }
}

/// With two decimals, or as many more as it has: "61.00", "0.035".
impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let part = format!("{:04}", self.0 % ONE);
        let (always, more) = part.split_at_checked(2).unwrap_or((&part, ""));
        f.pad(&format!("{}.{always}{}", self.0 / ONE, more.trim_end_matches('0')))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn money(text: &str) -> Money {
        text.parse().unwrap()
    }

    #[test]
    fn amounts_are_read_and_printed() {
        for (text, printed) in [
            ("61", "61.00"),
            ("23.4", "23.40"),
            ("0.035", "0.035"),
            ("0.0001", "0.0001"),
            ("007.50", "7.50"),
            ("1000000000", "1000000000.00"),
            ("0", "0.00"),
        ] {
            assert_eq!(money(text).to_string(), printed);
        }
        for text in ["", ".", "5.", ".5", "-1", "+1", "1e3", "1,5", "0.00001", "1000000000.01", "twelve", "0x10", "١"]
        {
            assert_eq!(text.parse::<Money>(), Err(NoAmount), "{text}");
        }
    }

    /// Tenths have no exact double: ten of them make 0.9999999999999999 there.
    #[test]
    fn sums_are_exact() {
        assert_eq!(std::iter::repeat_n(money("0.1"), 10).sum::<Money>(), money("1"));
        assert_eq!(money("0.035").times(3).to_string(), "0.105");
        assert_eq!(money("1000000000").times(10_000_000).to_string(), "10000000000000000.00");
    }
}
