//! Words that begin with a digit: the number forms of KDL, and what was probably meant by the others.

use super::characters::is_space;
use crate::quantity::meter_text::comma_may_part_thousands;
use crate::quantity::unit;

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
    /// A number with its unit as it may be meant; how to write it, and how where minutes are meant.
    Perhaps(String, Option<String>),
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
    if let Some((minutes, seconds)) = unsigned.split_once(':')
        && let (Ok(minutes), Ok(seconds)) = (minutes.parse::<u32>(), seconds.parse::<u32>())
        && seconds < 60
        && minutes < 60
    {
        return Meant::Unit(format!("(s){}", minutes * 60 + seconds));
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
    {
        let letter = if letter == 'K' { 'k' } else { letter };
        return Meant::ResistorCode(format!("\"{number}{letter}{}\"", suffix.get(1..).unwrap_or("")));
    }
    if let Some(right) = unit_for_the_point(&number, suffix).filter(|_| sign.is_empty()) {
        // 7m50 is a length, and with fewer than sixty also a time.
        let minutes = suffix.strip_prefix('m').and_then(|rest| unit_for_the_point(&number, &format!("min{rest}")));
        return Meant::Perhaps(right, minutes);
    }
    match unit_of(suffix) {
        Some(unit) if !number.is_empty() => Meant::Unit(format!("({unit}){sign}{number}")),
        _ => Meant::Text(format!("\"{}\"", word.replace('"', "\\\""))),
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
            && others.len() + usize::from(fraction.is_some()) > 1;
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
    if let Some((right, _)) = feet_and_inches_in(text).filter(|(_, length)| *length == text.trim_end().len()) {
        return Some(right);
    }
    let mut parts: Vec<String> = text.split_whitespace().map(str::to_owned).collect();
    // 4 1/2 ft
    if let [whole, part, ..] = parts.as_slice()
        && let (Ok(number), Some(part)) = (whole.parse::<u32>(), part_of_one(part))
    {
        let number = (f64::from(number) + part).to_string();
        parts.splice(..2, [number]);
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

/// Feet and inches in one word as people write them, 46'6" or 46ft6½in, as a quantity.
fn feet_and_inches(feet: &str, suffix: &str) -> Option<String> {
    let word = format!("{feet}{suffix}");
    feet_and_inches_in(&word).filter(|(_, length)| *length == word.len()).map(|(right, _)| right)
}

/// So many feet and inches as a quantity: in feet where that is exact.
pub(crate) fn feet_with_inches(feet: f64, inches: f64) -> Option<String> {
    if !(0.0..12.0).contains(&inches) {
        return None;
    }
    // A foot has 48 quarters of an inch: what is no multiple of 1.5 in has no end in decimals of a foot.
    Some(if (inches / 1.5).fract() == 0.0 {
        format!("(ft){}", feet + inches / 12.0)
    } else {
        format!("(in){}", feet * 12.0 + inches)
    })
}

/// A fraction below one, as "1/2".
pub(crate) fn part_of_one(word: &str) -> Option<f64> {
    ratio(word).filter(|_| !word.contains('-')).and_then(|number| number.parse().ok())
}

/// Feet and inches at the start of a text, 46'-6", 46 ft 6 in or 46' 6 1/2", as a quantity, and how many bytes they take.
pub(crate) fn feet_and_inches_in(text: &str) -> Option<(String, usize)> {
    let (feet, rest) = digits_of(text);
    let feet: f64 = feet.parse::<u32>().ok()?.into();
    let marks = ["feet", "foot", "Feet", "FEET", "FT", "Ft", "ft.", "ft", "'", "’", "′"];
    let rest = rest.trim_start_matches(is_space);
    let behind = marks.into_iter().find_map(|mark| rest.strip_prefix(mark))?;
    let rest = behind.trim_start_matches(is_space);
    let hyphen = rest.strip_prefix(['-', '–']);
    let rest = hyphen.unwrap_or(rest).trim_start_matches(is_space);
    let (inches, rest) = inches_of(rest)?;
    let marks = ["inches", "inch", "in.", "in", "IN", "\"", "''", "’’", "”", "″"];
    let unmarked = rest;
    let rest = rest.trim_start_matches(is_space);
    let rest = match marks.into_iter().find_map(|mark| rest.strip_prefix(mark)) {
        Some(rest) => rest,
        // Behind a blank a number without its mark is a value of its own.
        None if hyphen.is_some() || !behind.starts_with(is_space) => unmarked,
        None => return None,
    };
    let ends = rest.is_empty() || rest.starts_with(is_space) || rest.starts_with(['\n', '\r', '{', '}', ';']);
    let right = feet_with_inches(feet, inches).filter(|_| ends)?;
    Some((right, text.len() - rest.len()))
}

/// Two units for one quantity at the start of a text, 1 min 30 s or 7m 50cm, in the smaller one, and how many bytes they take.
pub(crate) fn two_units_in(text: &str) -> Option<(String, usize)> {
    let number_with_unit = |text: &'_ str| -> Option<(u32, &'static str, usize)> {
        let (number, rest) = digits_of(text);
        let rest = rest.trim_start_matches(is_space);
        let letters = rest.find(|c: char| !c.is_alphabetic()).unwrap_or(rest.len());
        let (unit, rest) = rest.split_at_checked(letters)?;
        Some((number.parse().ok()?, unit_of(unit)?, text.len() - rest.len()))
    };
    let (more, large, first) = number_with_unit(text)?;
    let behind = text.get(first..)?.trim_start_matches(is_space);
    let (less, small, second) = number_with_unit(behind)?;
    let rest = behind.get(second..)?;
    let ends = rest.is_empty() || rest.starts_with(is_space) || rest.starts_with(['\n', '\r', '{', '}', ';']);
    let of_one = match (large, small) {
        ("h", "min") | ("min", "s") => 60,
        ("m", "cm") => 100,
        ("day", "h") => 24,
        _ => return None,
    };
    let all = more.checked_mul(of_one)?.checked_add(less)?;
    (ends && less < of_one).then(|| (format!("({small}){all}"), text.len() - rest.len()))
}

/// Thousands parted by a blank at the start of a text, 1 200 or 12 500,75, without it, and how many bytes they take.
pub(crate) fn thousands_by_blank(text: &str) -> Option<(String, usize)> {
    let (whole, rest) = digits_of(text);
    let behind = rest.trim_start_matches(is_space);
    let (digits, after) = digits_of(behind);
    if behind.len() == rest.len() || !comma_may_part_thousands(whole, digits) {
        return None;
    }
    let fraction = after.strip_prefix([',', '.']).map(digits_of).filter(|(digits, _)| !digits.is_empty());
    let (decimals, rest) = fraction.map_or((String::new(), after), |(digits, rest)| (format!(".{digits}"), rest));
    let ends = rest.is_empty() || rest.starts_with(is_space) || rest.starts_with(['\n', '\r', '{', '}', ';']);
    ends.then(|| (format!("{whole}{digits}{decimals}"), text.len() - rest.len()))
}

/// Whole inches with a fraction behind them, or one of both, at the start of a text; and what follows.
fn inches_of(text: &str) -> Option<(f64, &str)> {
    let (whole, rest) = digits_of(text);
    if let Some((part, rest)) = fraction_at(text).filter(|_| !rest.starts_with(['½', '¼', '¾'])) {
        return Some((part, rest));
    }
    if let Some((number, rest)) = fraction(if whole.is_empty() { "0" } else { whole }, rest) {
        return Some((number.parse().ok()?, rest));
    }
    let inches: f64 = whole.parse::<u32>().ok()?.into();
    let behind = rest.strip_prefix('-').unwrap_or(rest).trim_start_matches(is_space);
    if behind.len() < rest.len() {
        if let Some((part, rest)) = fraction_at(behind) {
            return Some((inches + part, rest));
        }
        if let Some((part, rest)) = fraction("0", behind) {
            return Some((inches + part.parse::<f64>().ok()?, rest));
        }
    }
    match rest.strip_prefix('.').map(digits_of).filter(|(digits, _)| !digits.is_empty()) {
        Some((digits, rest)) => Some((format!("{whole}.{digits}").parse().ok()?, rest)),
        None => Some((inches, rest)),
    }
}

/// "1/2" at the start of a text, and what follows.
fn fraction_at(text: &str) -> Option<(f64, &str)> {
    let (above, rest) = digits_of(text);
    let (below, rest) = digits_of(rest.strip_prefix('/')?);
    Some((part_of_one(&format!("{above}/{below}"))?, rest))
}

/// The digits at the start of a text, and what follows.
fn digits_of(text: &str) -> (&str, &str) {
    text.split_at_checked(text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len())).unwrap_or(("", text))
}

/// A fraction as "46-1/2" and "3/8", in decimals.
fn ratio(word: &str) -> Option<String> {
    let (whole, part) = word.split_once('-').map_or(("0", word), |(whole, part)| (whole, part));
    let (above, below) = part.split_once('/')?;
    let number = |digits: &str| digits.parse::<u16>().ok().map(f64::from);
    let (whole, above, below) = (number(whole)?, number(above)?, number(below)?);
    // Halves to sixty-fourths, as on a rule: a date has other numbers.
    let is_part = above < below && [2.0, 4.0, 8.0, 16.0, 32.0, 64.0].contains(&below);
    is_part.then(|| (whole + above / below).to_string())
}

/// A whole number with a fraction of one character behind it, as "46½", in decimals, and what follows.
fn fraction<'s>(number: &str, suffix: &'s str) -> Option<(String, &'s str)> {
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

/// The unit that people mean by a suffix: its own name first, then what the trade writes.
pub(crate) fn unit_of(suffix: &str) -> Option<&'static str> {
    if let Some(unit) = unit::find(suffix).or_else(|| unit::UNITS.iter().find(|u| u.symbol == suffix)) {
        return Some(unit.name);
    }
    // "Sek." and "min." are abbreviations.
    let lower = suffix.to_lowercase();
    let name = match lower.strip_suffix('.').filter(|word| word.len() > 1).unwrap_or(&lower) {
        "ω" | "r" | "ohms" | "ohm" => "ohm",
        "k" | "kω" | "kohms" | "kohm" => "kohm",
        "meg" | "megohm" | "mω" => "Mohm",
        "v" | "vdc" | "vac" | "v~" | "volt" | "volts" => "V",
        "a" | "amp" | "amps" => "A",
        "ma" => "mA",
        "ua" | "μa" => "uA",
        "ah" | "a/h" | "a·h" => "Ah",
        "mah" => "mAh",
        "'" | "’" | "′" | "ft" | "feet" | "foot" | "fuß" | "fuss" | "pied" | "pieds" => "ft",
        "\"" | "”" | "″" | "in" | "inch" | "inches" | "zoll" | "pouce" | "pouces" => "in",
        "cm" => "cm",
        "mm" => "mm",
        "metre" | "metres" | "mètre" | "mètres" | "meter" | "meters" => "m",
        "sqmm" | "mm^2" => "mm2",
        "awg" | "ga" | "gauge" => "AWG",
        "sec" | "secs" | "sek" | "second" | "seconds" => "s",
        "min" | "mins" | "minute" | "minutes" => "min",
        "hr" | "hrs" | "std" | "hour" | "hours" => "h",
        "days" => "day",
        "va" => "VA",
        "w" | "watt" | "watts" => "W",
        "bps" | "bd" => "baud",
        "kbps" => "kbaud",
        "pct" => "percent",
        "c" | "°c" => "degC",
        "f" | "°f" => "degF",
        _ if suffix == "M" => "Mohm",
        _ => return None,
    };
    unit::find(name).map(|u| u.name)
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
            ("1:30", "(s)90"),
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
    fn feet_and_inches_may_have_blanks_between_them() {
        for (written, right, length) in [
            ("46 ft 6 in room=\"x\"", "(ft)46.5", 10),
            ("46' 6\" {", "(ft)46.5", 6),
            ("46ft 5in", "(in)557", 8),
            ("46 ft 6½ in\n", "(in)558.5", 12),
            ("24'-6\" {", "(ft)24.5", 6),
            ("24' - 6\"", "(ft)24.5", 8),
            ("8'-0\"", "(ft)8", 5),
            ("24'-6 1/2\"", "(in)294.5", 10),
            ("24' 6-1/2\"", "(in)294.5", 10),
            ("24′ 6 ½″", "(in)294.5", 14),
            ("24' 1/2\"", "(in)288.5", 8),
            ("24'½\"", "(in)288.5", 6),
            ("24'-6", "(ft)24.5", 5),
            ("24'6.75\"", "(in)294.75", 8),
            ("46'6\"", "(ft)46.5", 5),
        ] {
            assert_eq!(feet_and_inches_in(written), Some((right.into(), length)), "{written}");
        }
        for other in ["46 ft", "46' 6", "46'13\"", "1'200", "46 ft 6 inputs", "46 6 in", "ft 6 in"] {
            assert_eq!(feet_and_inches_in(other), None, "{other}");
        }
    }

    #[test]
    fn a_quantity_may_have_blanks_and_two_units() {
        for (written, right) in [("1 min 30 s", "(s)90"), ("1h30min", "(min)90"), ("7 m 50 cm {", "(cm)750")] {
            assert_eq!(two_units_in(written).map(|(right, _)| right).as_deref(), Some(right), "{written}");
        }
        for other in ["1 min 90 s", "1 min 30", "7 m 50 ft", "30 s 1 min"] {
            assert_eq!(two_units_in(other), None, "{other}");
        }
        assert_eq!(thousands_by_blank("1 200 ft"), Some(("1200".into(), 5)));
        assert_eq!(thousands_by_blank("12\u{202f}500,75\n"), Some(("12500.75".into(), 11)));
        for other in ["1 20", "0 200", "1234 200", "1 2000", "1200"] {
            assert_eq!(thousands_by_blank(other), None, "{other}");
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
            assert_eq!(meant(written), Meant::Perhaps(right.into(), minutes.map(str::to_owned)), "{written}");
        }
        assert_eq!(meant("-.5"), Meant::Plain("-0.5".into(), Notation::Point));
        assert_eq!(meant("46-1/2"), Meant::Plain("46.5".into(), Notation::Fraction));
        assert_eq!(meant("3/8"), Meant::Plain("0.375".into(), Notation::Fraction));
        assert_eq!(meant("8O"), Meant::Plain("80".into(), Notation::Letter));
        assert_eq!(meant("46½"), Meant::Plain("46.5".into(), Notation::Fraction));
        assert_eq!(meant("16."), Meant::Plain("16".into(), Notation::Point));
        assert_eq!(meant("2027-03-14"), Meant::Text("\"2027-03-14\"".into()));
        assert_eq!(meant("4-wire"), Meant::Text("\"4-wire\"".into()));
    }

    #[test]
    fn every_suggested_unit_exists() {
        for suffix in ["k", "v", "ft.", "FT", "MM", "Min", "ga", "pct", "f", "M", "hr", "bps", "kbps", "μa"] {
            assert!(unit_of(suffix).is_some(), "{suffix}");
        }
    }
}
