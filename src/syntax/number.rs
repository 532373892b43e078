//! Words that begin with a digit: the number forms of KDL, and what was probably meant by the others.

use super::amount::{feet_and_inches, feet_and_inches_in, part_of_one, thousands_by_blank, two_units_in};
use crate::base::wording::kdl_text;
use crate::quantity::meter_text::comma_may_part_thousands;
use crate::quantity::unit;

pub(super) use super::suffix::is_of_time;
pub(crate) use super::suffix::{is_about, unit_of};

/// Marks of feet, inches, minutes and seconds.
pub(super) const MARKS: [char; 6] = ['\'', '"', '’', '′', '″', '”'];

/// What a word that begins like a number is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Form {
    /// A number that fits.
    Good,
    /// A number too large or too small to be kept.
    OutOfRange,
    /// No number.
    Malformed,
}

/// True for words that KDL takes for numbers: a digit first, behind a sign and a point at most.
pub(crate) fn looks_like(word: &str) -> bool {
    let word = word.strip_prefix(['+', '-']).unwrap_or(word);
    word.strip_prefix('.').unwrap_or(word).starts_with(|c: char| c.is_ascii_digit())
}

/// Judges a word that [`looks_like`] a number.
pub(crate) fn form(word: &str) -> Form {
    let unsigned = word.strip_prefix(['+', '-']).unwrap_or(word);
    for (prefixes, radix) in [(["0x", "0X"], 16), (["0o", "0O"], 8), (["0b", "0B"], 2)] {
        if let Some(digits) = prefixes.iter().find_map(|p| unsigned.strip_prefix(p)) {
            if !is_digits(digits, radix) {
                return Form::Malformed;
            }
            return range(i64::from_str_radix(&digits.replace('_', ""), radix).is_ok());
        }
    }
    decimal(unsigned)
}

fn range(fits: bool) -> Form {
    if fits { Form::Good } else { Form::OutOfRange }
}

fn is_digits(text: &str, radix: u32) -> bool {
    text.starts_with(|c: char| c.is_digit(radix)) && text.chars().all(|c| c == '_' || c.is_digit(radix))
}

fn decimal(unsigned: &str) -> Form {
    let (mantissa, exponent) = match unsigned.split_once(['e', 'E']) {
        Some((mantissa, exponent)) => (mantissa, Some(exponent.strip_prefix(['+', '-']).unwrap_or(exponent))),
        None => (unsigned, None),
    };
    let (whole, fraction) = match mantissa.split_once('.') {
        Some((whole, fraction)) => (whole, Some(fraction)),
        None => (mantissa, None),
    };
    let groups = [Some(whole), fraction, exponent];
    if !groups.iter().flatten().all(|digits| is_digits(digits, 10)) {
        return Form::Malformed;
    }
    let plain = unsigned.replace('_', "");
    if fraction.is_none() && exponent.is_none() {
        return range(plain.parse::<i64>().is_ok());
    }
    // The parser reads each group of digits as a whole number of its own.
    let groups_fit = groups.iter().flatten().all(|digits| digits.replace('_', "").parse::<i128>().is_ok());
    let is_zero = !mantissa.contains(|c: char| ('1'..='9').contains(&c));
    range(groups_fit && plain.parse::<f64>().is_ok_and(|v| v.is_finite() && (is_zero || v != 0.0)))
}

/// How a number was written that KDL does not know.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Notation {
    /// "1,5" and "1,500".
    Comma,
    /// ".5" and "16.".
    Point,
    /// "46½" and "46-1/2".
    Fraction,
    /// "8O", with a letter for a digit.
    Letter,
    /// "4:" and "6.5.", with a mark behind it.
    Mark,
}

impl Notation {
    /// Why it is not understood.
    pub(crate) fn why(self) -> &'static str {
        match self {
            Self::Comma => "The decimal point is a full stop; digits may be grouped with _, as in 1_000.",
            Self::Point => "Digits must stand on both sides of a decimal point.",
            Self::Letter => "The letter O is no nought.",
            Self::Mark => "A number ends with its last digit, and nothing but a space follows it.",
            Self::Fraction => "A fraction is written with a decimal point, as in 46.5.",
        }
    }
}

/// What a malformed number was probably meant to be.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Meant {
    /// A number with its unit; how to write it.
    Unit(String),
    /// A resistor's marking code; how to write it.
    ResistorCode(String),
    /// A number with its unit as it may be meant; how to write it, and how where something else is meant, and what.
    Perhaps(String, Option<(String, &'static str)>),
    /// A plain number in another notation; how to write it.
    Plain(String, Notation),
    /// A comma that parts thousands or is the decimal point, with the unit behind it if it has one.
    Either {
        /// The unit written behind the number.
        unit: Option<&'static str>,
        /// The number where the comma parts thousands.
        thousands: String,
        /// The number where it is the decimal point.
        decimal: String,
    },
    /// Something else; how to write it.
    Text(String),
}

/// What the malformed number `word` was probably meant to be.
pub(crate) fn meant(word: &str) -> Meant {
    if let Some(rest) = word.strip_suffix(',').filter(|r| form(r) == Form::Good) {
        return Meant::Plain(rest.to_owned(), Notation::Comma);
    }
    // "4:" and "6.5.", the end of a sentence or of a list.
    if let Some(rest) = word
        .strip_suffix([':', '.'])
        .filter(|rest| form(rest) == Form::Good && rest.contains('.') != word.ends_with(':'))
    {
        return Meant::Plain(rest.to_owned(), Notation::Mark);
    }
    let sign = if word.starts_with('-') { "-" } else { "" };
    let unsigned = word.strip_prefix(['+', '-']).unwrap_or(word);
    if let Some(fraction) = unsigned.strip_prefix('.') {
        if is_digits(fraction, 10) {
            return Meant::Plain(format!("{sign}0.{fraction}"), Notation::Point);
        }
    } else if let Some(whole) = unsigned.strip_suffix('.').filter(|w| is_digits(w, 10)) {
        return Meant::Plain(format!("{sign}{whole}"), Notation::Point);
    }
    if let Some((whole, rest)) = unsigned.split_once(',').filter(|(whole, _)| is_digits(whole, 10)) {
        let (fraction, suffix) = split(rest);
        let unit = unit_of(suffix);
        if is_digits(fraction, 10) && (suffix.is_empty() || unit.is_some()) {
            let decimal = format!("{sign}{whole}.{fraction}");
            return match unit {
                _ if comma_may_part_thousands(whole, fraction) => {
                    Meant::Either { unit, thousands: format!("{sign}{whole}{fraction}"), decimal }
                }
                Some(unit) => Meant::Unit(format!("({unit}){decimal}")),
                None => Meant::Plain(decimal, Notation::Comma),
            };
        }
    }
    if let Some(number) = grouped(unsigned) {
        return Meant::Plain(format!("{sign}{number}"), Notation::Comma);
    }
    if let Some(number) = ratio(unsigned) {
        return Meant::Plain(format!("{sign}{number}"), Notation::Fraction);
    }
    // 3/4", 46-1/2in and 1.200,50m
    if let Some((number, suffix)) = unsigned
        .split_at_checked(unsigned.rfind(|c: char| c.is_ascii_digit()).map_or(0, |last| last + 1))
        .filter(|(_, suffix)| !suffix.is_empty())
        && let (Some(number), Some(unit)) = (ratio(number).or_else(|| grouped(number)), unit_of(suffix))
    {
        return Meant::Unit(format!("({unit}){sign}{number}"));
    }
    // The letter O for a nought.
    let noughts = unsigned.replace(['O', 'o'], "0");
    if noughts != unsigned && is_digits(&noughts, 10) && !unsigned.starts_with("0o") {
        return Meant::Plain(format!("{sign}{noughts}"), Notation::Letter);
    }
    if let Some((minutes, seconds)) = unsigned.split_once(':').filter(|_| sign.is_empty())
        && let (Ok(minutes), Ok(seconds)) = (minutes.parse::<u32>(), seconds.parse::<u32>())
        && seconds < 60
        && minutes < 60
    {
        // A time of day is written so as well, and what lasts for hours.
        let sum = minutes * 60 + seconds;
        return Meant::Perhaps(format!("(s){sum}"), Some((format!("(min){sum}"), "hours and minutes")));
    }
    let (number, suffix) = split(unsigned);
    if let Some(inches) = feet_and_inches(number, suffix) {
        return Meant::Unit(if sign.is_empty() { inches } else { inches.replace(')', ")-") });
    }
    let (number, suffix) = match fraction(number, suffix) {
        Some((number, "")) => return Meant::Plain(format!("{sign}{number}"), Notation::Fraction),
        Some((number, suffix)) => (number, suffix),
        None => (number.to_owned(), suffix),
    };
    if let Some(letter) = suffix.chars().next().filter(|c| matches!(c, 'R' | 'k' | 'K' | 'M'))
        && suffix.get(1..).is_some_and(|digits| is_digits(digits, 10))
        && !number.contains('.')
    {
        let letter = if letter == 'K' { 'k' } else { letter };
        return Meant::ResistorCode(format!("\"{number}{letter}{}\"", suffix.get(1..).unwrap_or("")));
    }
    if let Some(right) = unit_for_the_point(&number, suffix).filter(|_| sign.is_empty()) {
        // 7m50 is a length, and with fewer than sixty also a time.
        let minutes = suffix.strip_prefix('m').and_then(|rest| unit_for_the_point(&number, &format!("min{rest}")));
        return Meant::Perhaps(right, minutes.map(|minutes| (minutes, "minutes and seconds")));
    }
    match unit_of(suffix) {
        Some(unit) if !number.is_empty() => {
            let nought = if number.starts_with('.') { "0" } else { "" };
            Meant::Unit(format!("({unit}){sign}{nought}{number}"))
        }
        _ => Meant::Text(kdl_text(word)),
    }
}

/// True where the house can have a thousand and more of a unit, false where a comma is its decimal point, as in 2,500 m;
/// `None` where both are usual.
fn has_thousands(unit: &str) -> Option<bool> {
    match unit {
        "ft" | "in" | "mm" | "ohm" | "mV" | "mA" | "uA" | "mAh" | "ms" | "baud" => Some(true),
        "m" | "V" | "A" | "Ah" | "kohm" | "Mohm" | "mm2" | "min" | "h" | "day" | "W" | "kbaud" => Some(false),
        _ => None,
    }
}

/// What is said of a comma before three digits behind a unit in brackets, and how it is written where that is likely.
pub(crate) fn choice(unit: &str, thousands: &str, decimal: &str) -> (String, Option<String>) {
    let [thousands, decimal] = [thousands, decimal].map(|number| format!("{unit}{number}"));
    match has_thousands(unit.trim_matches(['(', ')'])) {
        Some(many) => {
            let [right, other] = if many { [thousands, decimal] } else { [decimal, thousands] };
            (format!("write {right}, or {other} if that is meant"), Some(right))
        }
        None => (format!("write {thousands} or {decimal}, whichever is meant"), None),
    }
}

/// A number with marks between its thousands that can be nothing else: "1.200,5", "1,200.5" and "1,200,000".
fn grouped(word: &str) -> Option<String> {
    let read = |between: char, point: char| {
        let (whole, fraction) = word.split_once(point).map_or((word, None), |(whole, rest)| (whole, Some(rest)));
        let mut groups = whole.split(between);
        let first = groups.next().filter(|first| first.len() <= 3 && is_digits(first, 10))?;
        let others: Vec<&str> = groups.collect();
        let fits = others.iter().all(|group| group.len() == 3 && is_digits(group, 10))
            && fraction.is_none_or(|digits| is_digits(digits, 10))
            && others.len() + usize::from(fraction.is_some()) > 1
            // Four groups with points between them are the address of a device.
            && !(between == '.' && others.len() == 3);
        let fraction = fraction.map(|digits| format!(".{digits}")).unwrap_or_default();
        (fits && !others.is_empty()).then(|| format!("{first}{}{fraction}", others.concat()))
    };
    read(',', '.').or_else(|| read('.', ','))
}

/// A unit in the place of the decimal point or between two of time: "7m50", "2h30" and "1min30".
fn unit_for_the_point(number: &str, suffix: &str) -> Option<String> {
    let at = suffix.find(|c: char| c.is_ascii_digit())?;
    let (unit, digits) = suffix.split_at_checked(at).filter(|(_, digits)| digits.len() < 3 && is_digits(digits, 10))?;
    let whole: u32 = number.parse().ok()?;
    let sixtieths = digits.parse::<u32>().ok().filter(|part| *part < 60);
    match unit {
        "m" | "V" => Some(format!("({unit}){number}.{digits}")),
        "h" => Some(format!("(min){}", whole.checked_mul(60)?.checked_add(sixtieths?)?)),
        "min" => Some(format!("(s){}", whole.checked_mul(60)?.checked_add(sixtieths?)?)),
        _ => None,
    }
}

/// How a quantity in a text is to be written, as "46 ft" or "2.2k": `(ft)46`; `None` where there is no number with a unit.
pub(crate) fn quantity_in(text: &str) -> Option<String> {
    let several = feet_and_inches_in(text).or_else(|| two_units_in(text));
    if let Some((right, _)) = several.filter(|(_, length)| *length == text.trim_end().len()) {
        return Some(right);
    }
    let thousands = thousands_by_blank(text);
    let joined = thousands.and_then(|(number, length)| Some(number + text.get(length..)?));
    let mut parts: Vec<String> = joined.as_deref().unwrap_or(text).split_whitespace().map(str::to_owned).collect();
    // 4 1/2 ft
    if let [whole, part, ..] = parts.as_slice()
        && let (Ok(number), Some(part)) = (whole.parse::<u32>(), part_of_one(part))
    {
        let number = (f64::from(number) + part).to_string();
        parts.splice(..2, [number]);
    }
    // Two numbers are no number of more digits.
    let digit = |c: char| c.is_ascii_digit();
    if parts.windows(2).any(|pair| matches!(pair, [one, next] if one.ends_with(digit) && next.starts_with(digit))) {
        return None;
    }
    let joined = parts.concat();
    let bare = joined
        .strip_prefix('(')
        .and_then(|rest| rest.split_once(')'))
        .filter(|(unit, number)| unit::find(unit).is_some() && form(number) == Form::Good && looks_like(number));
    match bare {
        Some(_) => Some(joined),
        None if !looks_like(&joined) => None,
        None => match meant(&joined) {
            Meant::Unit(right) => Some(right),
            Meant::ResistorCode(_) | Meant::Perhaps(..) | Meant::Plain(..) | Meant::Either { .. } | Meant::Text(_) => {
                None
            }
        },
    }
}

/// A fraction as "46-1/2" and "3/8", in decimals.
pub(super) fn ratio(word: &str) -> Option<String> {
    let (whole, part) = word.split_once('-').map_or(("0", word), |(whole, part)| (whole, part));
    let (above, below) = part.split_once('/')?;
    let number = |digits: &str| digits.parse::<u16>().ok().map(f64::from);
    let (whole, above, below) = (number(whole)?, number(above)?, number(below)?);
    // Halves to sixty-fourths, as on a rule: a date has other numbers.
    let is_part = above < below && [2.0, 4.0, 8.0, 16.0, 32.0, 64.0].contains(&below);
    is_part.then(|| (whole + above / below).to_string())
}

/// A whole number with a fraction of one character behind it, as "46½", in decimals, and what follows.
pub(super) fn fraction<'s>(number: &str, suffix: &'s str) -> Option<(String, &'s str)> {
    let character = suffix.chars().next().filter(|_| is_digits(number, 10))?;
    let decimals = match character {
        '½' => "5",
        '¼' => "25",
        '¾' => "75",
        '⅛' => "125",
        '⅜' => "375",
        '⅝' => "625",
        '⅞' => "875",
        _ => return None,
    };
    Some((format!("{number}.{decimals}"), suffix.get(character.len_utf8()..)?))
}

/// The leading number of a word and the rest.
fn split(word: &str) -> (&str, &str) {
    let digits = |text: &str| text.find(|c: char| !c.is_ascii_digit() && c != '_').unwrap_or(text.len());
    let whole = digits(word);
    let fraction = word.get(whole..).and_then(|r| r.strip_prefix('.')).map_or(0, digits);
    let end = if fraction > 0 { whole + 1 + fraction } else { whole };
    (word.get(..end).unwrap_or(word), word.get(end..).unwrap_or(""))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_number_forms_of_kdl() {
        for good in [
            "0",
            "-1",
            "+12_000",
            "0x1F",
            "-0xdead_beef",
            "0o17",
            "0b1010_",
            "1.5",
            "1_.5_",
            "1e3",
            "1.2E-3",
            "9_223_372_036_854_775_807",
        ] {
            assert_eq!(form(good), Form::Good, "{good}");
        }
        for bad in ["1.", "0x", "0xg", "0o8", "0b2", "1._5", "1e", "12V", "4k7", "2.5mm2", "1.2.3", ".5", "1,5", "0x_1"]
        {
            assert_eq!(form(bad), Form::Malformed, "{bad}");
        }
        for far in [
            "1e400",
            "1e-400",
            "9223372036854775808",
            "0xffff_ffff_ffff_ffff_f",
            "1.1234567890123456789012345678901234567890",
        ] {
            assert_eq!(form(far), Form::OutOfRange, "{far}");
        }
    }

    #[test]
    fn glued_units_are_shown_the_right_way() {
        for (written, right) in [
            ("38ft", "(ft)38"),
            ("6,5m", "(m)6.5"),
            ("2.2k", "(kohm)2.2"),
            ("12V", "(V)12"),
            ("2.5mm2", "(mm2)2.5"),
            ("2.5mm²", "(mm2)2.5"),
            ("50%", "(percent)50"),
            ("-5°C", "(degC)-5"),
            ("22awg", "(AWG)22"),
            ("680Ω", "(ohm)680"),
            ("12'6\"", "(ft)12.5"),
            ("12'5\"", "(in)149"),
            ("46ft6in", "(ft)46.5"),
            ("12'6½\"", "(in)150.5"),
            ("46½ft", "(ft)46.5"),
            ("46½'", "(ft)46.5"),
            ("38\"", "(in)38"),
            ("3/4\"", "(in)0.75"),
            ("46-1/2in", "(in)46.5"),
            ("1.200,50m", "(m)1200.50"),
            ("1_000mA", "(mA)1_000"),
        ] {
            assert_eq!(meant(written), Meant::Unit(right.into()), "{written}");
        }
    }

    #[test]
    fn other_slips() {
        assert_eq!(meant("4k7"), Meant::ResistorCode("\"4k7\"".into()));
        assert_eq!(meant("4R7"), Meant::ResistorCode("\"4R7\"".into()));
        assert_eq!(meant("1,5"), Meant::Plain("1.5".into(), Notation::Comma));
        for (written, right) in [
            ("0,750", "0.750"),
            ("1200,500", "1200.500"),
            ("1.200,5", "1200.5"),
            ("1,200.50", "1200.50"),
            ("1,200,000", "1200000"),
        ] {
            assert_eq!(meant(written), Meant::Plain(right.into(), Notation::Comma), "{written}");
        }
        let either = |unit| Meant::Either { unit, thousands: "1000".into(), decimal: "1.000".into() };
        assert_eq!((meant("1,000"), meant("1,000ft")), (either(None), either(Some("ft"))));
        for (written, right, minutes) in [
            ("7m50", "(m)7.50", Some("(s)470")),
            ("7m75", "(m)7.75", None),
            ("2h30", "(min)150", None),
            ("1min30", "(s)90", None),
        ] {
            assert_eq!(
                meant(written),
                Meant::Perhaps(right.into(), minutes.map(|minutes| (minutes.into(), "minutes and seconds"))),
                "{written}"
            );
        }
        assert_eq!(meant("1:30"), Meant::Perhaps("(s)90".into(), Some(("(min)90".into(), "hours and minutes"))));
        assert_eq!(meant("-.5"), Meant::Plain("-0.5".into(), Notation::Point));
        assert_eq!(meant("46-1/2"), Meant::Plain("46.5".into(), Notation::Fraction));
        assert_eq!(meant("3/8"), Meant::Plain("0.375".into(), Notation::Fraction));
        assert_eq!(meant("8O"), Meant::Plain("80".into(), Notation::Letter));
        assert_eq!(meant("46½"), Meant::Plain("46.5".into(), Notation::Fraction));
        assert_eq!(meant("16."), Meant::Plain("16".into(), Notation::Point));
        assert_eq!(meant("2027-03-14"), Meant::Text("\"2027-03-14\"".into()));
        assert_eq!(meant("4-wire"), Meant::Text("\"4-wire\"".into()));
    }
}
