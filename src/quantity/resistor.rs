//! Resistor values and their marking code by IEC 60062.
//!
//! The *marking* writes a multiplier letter in the place of the decimal point: `R47`, `120R`, `4k7`, `1M`. A
//! tolerance letter may follow: `4k7J`. Without one the tolerance is the usual one of such a marking (common
//! practice): ±5 % where two significant digits of E24 are written, otherwise ±1 %, so `5k6` is ±5 % and `5k60`
//! ±1 %. Bands are in [`bands`](super::bands), preferred values in [`preferred`](super::preferred).

use std::fmt;
use std::str::FromStr;

use super::bands;
use super::colour::Hue;
use super::decimal::{Decimal, tidy};
use super::meter_text::comma_may_part_thousands;
use super::preferred::{Series, is_preferred};
use super::{Ohms, Ratio};

/// Tolerance letters of IEC 60062 (symmetrical tolerances in per cent) with their per cent. B, C, D, F, G, J and K as
/// makers' sheets print them; H, M and N from memory of the standard, and sure.
pub(crate) const TOLERANCE_LETTERS: [(char, f64); 10] = [
    ('B', 0.1),
    ('C', 0.25),
    ('D', 0.5),
    ('F', 1.0),
    ('G', 2.0),
    ('H', 3.0),
    ('J', 5.0),
    ('K', 10.0),
    ('M', 20.0),
    ('N', 30.0),
];

/// A resistor's nominal value and tolerance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Resistance {
    /// Nominal value.
    pub(crate) nominal: Ohms,
    /// Greatest deviation to either side; 0.05 is ±5 %.
    pub tolerance: Ratio,
}

impl Resistance {
    /// A value with its usual tolerance: ±5 % for two significant digits of E24, otherwise ±1 %.
    pub fn new(nominal: Ohms) -> Self {
        let percent = if is_preferred(nominal, Series::E24) { 5.0 } else { 1.0 };
        Self { nominal: Ohms(tidy(nominal.0)), tolerance: Ratio(percent / 100.0) }
    }

    /// The same value with another tolerance.
    #[must_use]
    pub fn with_tolerance(self, tolerance: Ratio) -> Self {
        Self { tolerance, ..self }
    }

    /// The least value within the tolerance.
    pub(crate) fn least(self) -> Ohms {
        Ohms(tidy(self.nominal.0 * (1.0 - self.tolerance.0)))
    }

    /// The greatest value within the tolerance.
    pub(crate) fn greatest(self) -> Ohms {
        Ohms(tidy(self.nominal.0 * (1.0 + self.tolerance.0)))
    }

    /// The shortest marking, with a tolerance letter where the tolerance is not the usual one of that marking and
    /// has a letter: `2k2`, `2k2F`. `None` where a marking of four significant digits cannot show the value.
    pub fn marking(self) -> Option<String> {
        let decimal = Decimal::of(self.nominal.0).filter(|decimal| decimal.count() <= 4)?;
        let digits = decimal.digits.to_string();
        let before_the_point = decimal.exponent + i32::try_from(decimal.count()).ok()?;
        let (letter, power) = match before_the_point {
            -2..=3 => ('R', 0),
            4..=6 => ('k', 3),
            7..=9 => ('M', 6),
            10..=12 => ('G', 9),
            _ => return None,
        };
        let zeros_behind_the_point = "0".repeat(usize::try_from(-before_the_point).unwrap_or(0));
        let point = usize::try_from(before_the_point - power).unwrap_or(0);
        let digits = format!("{zeros_behind_the_point}{digits:0<point$}");
        let (whole, fraction) = digits.split_at_checked(point)?;
        let tolerance = if same(self.tolerance, Self::new(self.nominal).tolerance) {
            String::new()
        } else {
            let letter = TOLERANCE_LETTERS.iter().find(|(_, percent)| same(self.tolerance, Ratio(percent / 100.0)));
            letter.map_or(String::new(), |(letter, _)| letter.to_string())
        };
        Some(format!("{whole}{letter}{fraction}{tolerance}"))
    }
}

fn same(a: Ratio, b: Ratio) -> bool {
    (a.0 - b.0).abs() < 1e-9
}

/// As "2.2 kΩ ±5 %".
impl fmt::Display for Resistance {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!("{} ±{}", self.nominal, self.tolerance))
    }
}

impl FromStr for Resistance {
    type Err = MarkingError;

    fn from_str(written: &str) -> Result<Self, MarkingError> {
        read(written).map_err(|fault| {
            let is_form = fault == MarkingFault::Form;
            let (point, comma) = (written.replace(',', "."), written.replace(',', ""));
            if let Some((whole, behind)) = written.split_once(',').filter(|_| is_form)
                && comma_may_part_thousands(whole.trim_start(), digits_and_rest(behind).0)
                && let (Some(thousands), Some(decimal)) = (suggest(&comma), suggest(&point))
            {
                let fault = MarkingFault::Comma(thousands, decimal);
                return MarkingError { written: written.to_owned(), fault, suggestion: None };
            }
            let suggestion = if is_form { of_bands(written).or_else(|| suggest(&point)) } else { None };
            MarkingError { written: written.to_owned(), fault, suggestion }
        })
    }
}

fn read(marking: &str) -> Result<Resistance, MarkingFault> {
    let (whole, rest) = digits_and_rest(marking);
    let mut letters = rest.chars();
    let power = letters.next().and_then(power_of).ok_or(MarkingFault::Form)?;
    let (fraction, rest) = digits_and_rest(letters.as_str());
    let digits = format!("{whole}{fraction}");
    if digits.is_empty() {
        return Err(MarkingFault::Form);
    }
    let significant = digits.trim_start_matches('0');
    if significant.is_empty() {
        return Err(MarkingFault::Zero);
    }
    // The last zeros of `120R` only place the point; those of `5k60` say how exact it is.
    let shortest = significant.trim_end_matches('0').len();
    let written = if fraction.is_empty() { shortest } else { significant.len() };
    if shortest > 4 || digits.len() > 12 {
        return Err(MarkingFault::Digits);
    }
    let exponent = power - i32::try_from(fraction.len()).map_err(|_| MarkingFault::Digits)?;
    let digits = digits.parse().map_err(|_| MarkingFault::Digits)?;
    let usual = Resistance::new(Ohms(Decimal { digits, exponent }.value()));
    let percent = if rest.is_empty() {
        if written <= 2 { usual.tolerance.0 * 100.0 } else { 1.0 }
    } else {
        let letter = TOLERANCE_LETTERS.iter().find(|(letter, _)| rest.chars().eq([*letter]));
        letter.ok_or(MarkingFault::Form)?.1
    };
    Ok(usual.with_tolerance(Ratio(percent / 100.0)))
}

/// Cuts off the leading decimal digits.
fn digits_and_rest(text: &str) -> (&str, &str) {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    text.split_at_checked(end).unwrap_or((text, ""))
}

/// The power of ten of a multiplier letter; a small m could be milli or mega and is neither.
fn power_of(letter: char) -> Option<i32> {
    match letter {
        'R' | 'r' => Some(0),
        'k' | 'K' => Some(3),
        'M' => Some(6),
        'G' => Some(9),
        _ => None,
    }
}

/// The marking that a text as `4.7k`, `4k7Ω`, `2200` or `2.2 kohm` means.
fn suggest(written: &str) -> Option<String> {
    let text = written.replace([' ', 'Ω', '\u{2126}'], "");
    let text = ["ohms", "ohm", "Ohm"].iter().find_map(|unit| text.strip_suffix(unit)).unwrap_or(&text);
    let at = text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len());
    let (number, letter) = text.split_at_checked(at)?;
    let letter = if letter.is_empty() { "R" } else { letter };
    let (whole, fraction) = number.split_once('.').unwrap_or((number, ""));
    [text.to_owned(), format!("{whole}{letter}{fraction}")].into_iter().find(|candidate| read(candidate).is_ok())
}

/// The marking for a code of three or four digits, as it is printed on small parts: the last digit counts the noughts behind the
/// others (common practice; IEC 60062 has it with letters). `None` for any other text.
fn of_digits(written: &str) -> Option<String> {
    let is_code = matches!(written.len(), 3 | 4) && written.bytes().all(|byte| byte.is_ascii_digit());
    let (digits, noughts) = written.split_at_checked(written.len().saturating_sub(1)).filter(|_| is_code)?;
    let power: i32 = noughts.parse().ok().filter(|power| *power <= 7)?;
    Resistance::new(Ohms(digits.parse::<f64>().ok().filter(|number| *number > 0.0)? * 10f64.powi(power))).marking()
}

/// The marking of a resistor told by its bands, as "red red red gold": two or three digits, the power of ten, and perhaps
/// the tolerance, which is ±20 % where no band says it (IEC 60062).
fn of_bands(written: &str) -> Option<String> {
    let words: Vec<&str> = written.split(|c: char| !c.is_alphabetic()).filter(|word| !word.is_empty()).collect();
    let hue = |word: &&str| Hue::ALL.into_iter().find(|hue| hue.name() == *word);
    let hues: Vec<Hue> = words.iter().map(hue).collect::<Option<_>>()?;
    let band = |hue: &Hue| Hue::ALL.iter().position(|other| other == hue).and_then(|at| u8::try_from(at).ok());
    let bands: Vec<u8> = hues.iter().map(band).collect::<Option<_>>()?;
    let digits = match bands.len() {
        3 | 4 => 2,
        5 => 3,
        _ => return None,
    };
    let (digits, rest) = bands.split_at_checked(digits)?;
    let power = i32::from(*rest.first().filter(|power| **power < 10)?);
    let number = digits.iter().try_fold(0.0, |sum, digit| (*digit < 10).then_some(10.0 * sum + f64::from(*digit)))?;
    let tolerance = bands::tolerance(hues.last().copied().filter(|_| hues.len() > 3))?;
    Resistance::new(Ohms(number * 10f64.powi(power))).with_tolerance(tolerance).marking()
}

/// What is wrong with a marking.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum MarkingFault {
    /// Not digits with one multiplier letter and perhaps a tolerance letter.
    Form,
    /// Its value is zero.
    Zero,
    /// More than four significant digits, or more than twelve in all.
    Digits,
    /// A comma before three digits: the marking where it parts thousands, and that where it is the decimal point.
    Comma(String, String),
}

/// A text that is no marking of IEC 60062.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{written}` is no resistor marking of IEC 60062")]
pub struct MarkingError {
    /// The text.
    pub(crate) written: String,
    /// What is wrong with it.
    pub(crate) fault: MarkingFault,
    /// What it probably means.
    pub(crate) suggestion: Option<String>,
}

impl MarkingError {
    /// True for digits that may be ohms as well as a code.
    pub(crate) fn is_unclear(&self) -> bool {
        of_digits(&self.written).is_some()
    }

    /// What to write instead.
    pub(crate) fn help(&self) -> String {
        match (&self.suggestion, &self.fault) {
            (Some(ohms), _) => match of_digits(&self.written) {
                Some(code) => format!(
                    "Write `\"{ohms}\"` where ohms are meant, or `\"{code}\"` where {} stands on the resistor: the last digit of such a code counts noughts.",
                    self.written
                ),
                None => format!("Write `\"{ohms}\"`."),
            },
            (None, MarkingFault::Comma(thousands, decimal)) => format!(
                "Write `\"{thousands}\"` or `\"{decimal}\"`, whichever stands on it: a comma before three digits parts thousands for some, and is the decimal point for others."
            ),
            (None, MarkingFault::Form) => {
                let letters = TOLERANCE_LETTERS.map(|(letter, percent)| format!("{letter} ±{percent} %")).join(", ");
                format!(
                    "Write R, k, M or G in the place of the point, as R47, 120R, 4k7 or 1M, or a quantity as `(ohm)2200`. A letter for the tolerance may follow: {letters}."
                )
            }
            (None, MarkingFault::Zero) => "Leave it out: a resistor of 0 Ω is a wire.".to_owned(),
            (None, MarkingFault::Digits) => "Give at most four significant digits.".to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::preferred::{E24, E96};
    use super::*;

    fn resistance(marking: &str) -> Resistance {
        marking.parse().unwrap()
    }

    #[test]
    fn markings_of_iec_60062() {
        let cases = [
            ("2k2", 2200.0, 5.0),
            ("4K7", 4700.0, 5.0),
            ("R47", 0.47, 5.0),
            ("0R47", 0.47, 5.0),
            ("120R", 120.0, 5.0),
            ("5k6", 5600.0, 5.0),
            ("5k60", 5600.0, 1.0),
            ("10k", 10_000.0, 5.0),
            ("1M", 1e6, 5.0),
            ("1M0", 1e6, 5.0),
            ("3k74", 3740.0, 1.0),
            ("23k", 23_000.0, 1.0),
            ("4k7J", 4700.0, 5.0),
            ("4k7F", 4700.0, 1.0),
            ("330RG", 330.0, 2.0),
            ("10KK", 10_000.0, 10.0),
            ("59R04", 59.04, 1.0),
        ];
        for (marking, ohms, percent) in cases {
            let expected = Resistance { nominal: Ohms(ohms), tolerance: Ratio(percent / 100.0) };
            assert_eq!(resistance(marking), expected, "{marking}");
        }
    }

    #[test]
    fn every_tolerance_letter_is_read_and_printed() {
        let letters = "B 0.1 C 0.25 D 0.5 F 1 G 2 H 3 K 10 M 20 N 30";
        let words: Vec<&str> = letters.split(' ').collect();
        for pair in words.chunks(2) {
            let [letter, percent] = pair else { panic!("{pair:?}") };
            let marking = format!("4k7{letter}");
            let tolerance = Ratio(percent.parse::<f64>().unwrap() / 100.0);
            assert_eq!(resistance(&marking), resistance("4k7").with_tolerance(tolerance), "{marking}");
            assert_eq!(resistance(&marking).marking(), Some(marking));
        }
        assert_eq!(resistance("4k7J"), resistance("4k7"));
        // The first letter is always the multiplier's.
        assert_eq!(resistance("1MM").to_string(), "1 MΩ ±20 %");
        assert_eq!(resistance("10M").to_string(), "10 MΩ ±5 %");
    }

    #[test]
    fn markings_print_in_one_way() {
        let cases = [
            ("2K2", "2k2"),
            ("2k2J", "2k2"),
            ("2k20", "2k2F"),
            ("0R47", "R47"),
            ("0R047", "R047"),
            ("1000R", "1k"),
            ("0k120", "120RF"),
            ("1M0", "1M"),
            ("3k74", "3k74"),
            ("3k74J", "3k74J"),
            ("10KK", "10kK"),
            ("100G", "100G"),
        ];
        for (written, printed) in cases {
            assert_eq!(resistance(written).marking().as_deref(), Some(printed), "{written}");
        }
        assert_eq!(Resistance::new(Ohms(2203.25)).marking(), None);
        assert_eq!(Resistance::new(Ohms(1e12)).marking(), None);
        assert_eq!(Resistance::new(Ohms(0.0)).marking(), None);
        // No letter says ±4 %; the value is still right.
        assert_eq!(resistance("2k2").with_tolerance(Ratio(0.04)).marking().as_deref(), Some("2k2"));
    }

    #[test]
    fn every_preferred_value_reads_back() {
        for value in E24.iter().chain(&E96) {
            for power in -3..=7 {
                for tolerance in [0.01, 0.02, 0.05, 0.1] {
                    let ohms = Decimal { digits: u64::from(*value), exponent: power }.value();
                    let whole = Resistance::new(Ohms(ohms)).with_tolerance(Ratio(tolerance));
                    let marking = whole.marking().unwrap();
                    assert_eq!(resistance(&marking), whole, "{marking}");
                }
            }
        }
    }

    #[test]
    fn other_ways_of_writing_are_suggested_as_markings() {
        let cases = [
            ("4.7k", "4k7"),
            ("0.47", "0R47"),
            ("2,2 kohm", "2k2"),
            ("4k7Ω", "4k7"),
            ("120 ohm", "120R"),
            ("120Ω", "120R"),
            ("5.60k", "5k60"),
            ("red red red gold", "2k2"),
            ("red red red silver", "2k2K"),
            ("red red red", "2k2M"),
            ("red red black brown brown", "2k2F"),
        ];
        for (written, marking) in cases {
            let error = written.parse::<Resistance>().unwrap_err();
            assert_eq!(error.suggestion.as_deref(), Some(marking), "{written}");
            assert_eq!(error.help(), format!("Write `\"{marking}\"`."));
        }
    }

    /// Three and four digits are a code on the part, and ohms to whoever leaves the unit out.
    #[test]
    fn digits_alone_are_told_both_ways() {
        for (written, ohms, code) in [("222", "222R", "2k2"), ("103", "103R", "10k"), ("2200", "2200R", "220R")] {
            let error = written.parse::<Resistance>().unwrap_err();
            assert!(error.is_unclear(), "{written}");
            let help = error.help();
            assert!(
                help.starts_with(&format!("Write `\"{ohms}\"`")) && help.contains(&format!("`\"{code}\"`")),
                "{help}"
            );
        }
        assert!(!"4.7k".parse::<Resistance>().unwrap_err().is_unclear());
    }

    #[test]
    fn a_comma_before_three_digits_is_told_both_ways() {
        for (written, thousands, decimal) in
            [("2,200", "2200R", "2R200"), ("10,000", "10000R", "10R000"), ("2,200 ohm", "2200R", "2R200")]
        {
            let error = written.parse::<Resistance>().unwrap_err();
            assert_eq!(error.fault, MarkingFault::Comma(thousands.into(), decimal.into()), "{written}");
            assert_eq!(error.suggestion, None);
        }
    }

    #[test]
    fn what_is_no_marking_says_why() {
        let cases = [
            ("", MarkingFault::Form),
            ("k", MarkingFault::Form),
            ("1m", MarkingFault::Form),
            ("4k7j", MarkingFault::Form),
            ("4k7JJ", MarkingFault::Form),
            ("4k7k", MarkingFault::Form),
            ("-4k7", MarkingFault::Form),
            ("４k7", MarkingFault::Form),
            ("0R", MarkingFault::Zero),
            ("R000", MarkingFault::Zero),
            ("12345R", MarkingFault::Digits),
            ("1000000000000R", MarkingFault::Digits),
        ];
        for (written, fault) in cases {
            let error = written.parse::<Resistance>().unwrap_err();
            assert_eq!((error.fault, error.suggestion), (fault, None), "{written}");
        }
    }

    #[test]
    fn limits_of_the_tolerance() {
        assert_eq!((resistance("2k2").least(), resistance("2k2").greatest()), (Ohms(2090.0), Ohms(2310.0)));
    }
}
