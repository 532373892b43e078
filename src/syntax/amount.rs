//! Amounts that people write in several words or marks: feet and inches, fractions, two units, thousands apart by a blank.

use super::characters::is_space;
use super::number::{fraction, ratio, unit_of};
use crate::quantity::meter_text::comma_may_part_thousands;

/// Feet and inches in one word as people write them, 46'6" or 46ft6½in, as a quantity.
pub(super) fn feet_and_inches(feet: &str, suffix: &str) -> Option<String> {
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
    let right = feet_with_inches(feet, inches).filter(|_| ends(rest))?;
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
    // Asked of every number: most are followed by no unit and a second number.
    let behind_number = digits_of(text).1.trim_start_matches(is_space);
    let behind_unit = behind_number.trim_start_matches(char::is_alphabetic).trim_start_matches(is_space);
    if !behind_unit.starts_with(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let (more, large, first) = number_with_unit(text)?;
    let behind = text.get(first..)?.trim_start_matches(is_space);
    let (less, small, second) = number_with_unit(behind)?;
    let rest = behind.get(second..)?;
    // Beside a time, an m is of minutes.
    let (of_one, small) = match (large, small) {
        ("h", "min" | "m") => (60, "min"),
        ("min" | "m", "s") => (60, "s"),
        ("m", "cm") => (100, "cm"),
        ("day", "h") => (24, "h"),
        _ => return None,
    };
    let all = more.checked_mul(of_one)?.checked_add(less)?;
    (ends(rest) && less < of_one).then(|| (format!("({small}){all}"), text.len() - rest.len()))
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
    ends(rest).then(|| (format!("{whole}{digits}{decimals}"), text.len() - rest.len()))
}

/// Whole inches with a fraction behind them, or one of both, at the start of a text; and what follows.
fn inches_of(text: &str) -> Option<(f64, &str)> {
    let (whole, rest) = digits_of(text);
    if let Some((part, rest)) = fraction_at(text) {
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

/// True where a value ends before what follows.
fn ends(rest: &str) -> bool {
    rest.is_empty() || rest.starts_with(is_space) || rest.starts_with(['\n', '\r', '{', '}', ';'])
}

/// The digits at the start of a text, and what follows.
fn digits_of(text: &str) -> (&str, &str) {
    text.split_at_checked(text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len())).unwrap_or(("", text))
}

#[cfg(test)]
mod tests {
    use super::*;

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
            ("24′ 6 ½″", "(in)294.5", 13),
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
        for (written, right) in [
            ("1 min 30 s", "(s)90"),
            ("1h30min", "(min)90"),
            ("7 m 50 cm {", "(cm)750"),
            ("1m 30s", "(s)90"),
            ("2h15m", "(min)135"),
        ] {
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
}
