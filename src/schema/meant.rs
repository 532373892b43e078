//! What a person probably meant by a value, word or name that the table does not know: guesses, for helps alone.
//!
//! Words that people use for ours stand in `synonyms` (common practice of the trade, and plain English). Nothing is
//! accepted here: whoever asks says how sure the guess is.

use crate::base::wording::{did_you_mean, same_letters};
use crate::diag::Certainty;
use crate::quantity::{Dimension, Money, Resistance, unit};
use crate::syntax::{self, Value};

use super::spec::Kind;
use super::synonyms::{OF_LISTS, SYNONYMS};

/// The word of a closed list that is probably meant, and how sure that is.
pub(crate) fn listed<'c>(
    written: &str,
    candidates: impl Iterator<Item = &'c str> + Clone,
) -> Option<(&'c str, Certainty)> {
    let lower = written.to_lowercase();
    match OF_LISTS.iter().find(|(theirs, _)| *theirs == lower) {
        Some((_, [])) => None,
        Some((_, ours)) => {
            let ours = candidates.clone().find(|candidate| ours.contains(candidate));
            ours.map(|ours| (ours, Certainty::Likely)).or_else(|| word(written, candidates))
        }
        None => word(written, candidates),
    }
}

/// True of a word that people write and that no word of a closed list means.
pub(crate) fn is_of_no_list(written: &str) -> bool {
    let lower = written.to_lowercase();
    OF_LISTS.iter().any(|(theirs, ours)| *theirs == lower && ours.is_empty())
}

/// The one of some words that is probably meant, and how sure that is: the same letters in another writing, a part of the
/// word, its first letters, a word of the same meaning, or nearly the word.
pub(crate) fn word<'c>(
    written: &str,
    candidates: impl Iterator<Item = &'c str> + Clone,
) -> Option<(&'c str, Certainty)> {
    let lower = written.to_lowercase();
    let only = |fits: &dyn Fn(&str) -> bool| only(candidates.clone(), |candidate| fits(&candidate.to_lowercase()));
    if let Some(same) = candidates.clone().find(|candidate| same_letters(candidate, written)) {
        return Some((same, Certainty::Certain));
    }
    let letters = |candidate: &str| initials(candidate) == lower;
    let unit = || syntax::unit_of(written).and_then(|unit| candidates.clone().find(|candidate| *candidate == unit));
    let guess = did_you_mean(written, candidates.clone())
        .or_else(|| only(&letters))
        .or_else(|| only(&|candidate| !lower.is_empty() && candidate.starts_with(&lower)))
        .or_else(|| synonym(written, candidates.clone()))
        .or_else(unit)
        .or_else(|| only(&|candidate| lower.len() > 3 && candidate.contains(&lower)))?;
    Some((guess, Certainty::Likely))
}

/// What of ours a word may mean.
fn synonyms(written: &str) -> &'static [&'static str] {
    SYNONYMS.iter().find(|(theirs, _)| *theirs == written).map_or(&[], |(_, ours)| ours)
}

/// The one of some nodes or properties that is probably meant.
pub(crate) fn name<'c>(written: &str, candidates: impl Iterator<Item = &'c str> + Clone) -> Option<&'c str> {
    did_you_mean(written, candidates.clone())
        .or_else(|| synonym(written, candidates.clone()))
        .or_else(|| only(candidates.clone(), |candidate| written.len() > 2 && candidate.starts_with(written)))
}

/// The one candidate that fits.
fn only<'c>(candidates: impl Iterator<Item = &'c str>, fits: impl Fn(&str) -> bool) -> Option<&'c str> {
    let mut found = candidates.filter(|candidate| fits(candidate));
    found.next().filter(|_| found.next().is_none())
}

/// The candidate that has the meaning of a word that people use.
pub(crate) fn synonym<'c>(written: &str, candidates: impl Iterator<Item = &'c str> + Clone) -> Option<&'c str> {
    let lower = written.to_lowercase();
    synonyms(&lower).iter().find_map(|ours| candidates.clone().find(|candidate| candidate == ours))
}

/// True where one of our words has the meaning of another that people use.
pub(crate) fn is_synonym(written: &str, ours: &str) -> bool {
    synonyms(written).contains(&ours)
}

/// The first letters of a word's parts: "eol" of "end-of-line".
fn initials(word: &str) -> String {
    word.split('-').filter_map(|part| part.chars().next()).collect()
}

/// How a value of another kind is to be written, where one thing is probably meant, and how sure that is.
pub(crate) fn value(kind: Kind, value: &Value, annotation: Option<&str>) -> Option<(String, Certainty)> {
    let certain = |right: String| (right, Certainty::Certain);
    match (kind, value) {
        (Kind::Quantity(dimensions, _), Value::Text(text)) => {
            quantity(dimensions, text, annotation).or_else(|| marked(dimensions, text).map(certain))
        }
        (Kind::Resistance, Value::Text(text)) => quantity(&[Dimension::Resistance], text, annotation),
        (Kind::Integer(min, max), Value::Text(text)) => whole_number(text, min, max),
        (Kind::Money, Value::Text(text)) => amount(text).map(certain),
        _ => of_its_kind(kind, value).map(certain),
    }
}

/// A whole number with words around it: "seven", "#7", "zone 7".
fn whole_number(text: &str, min: i64, max: i64) -> Option<(String, Certainty)> {
    const WORDS: [&str; 12] =
        ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
    const NOUNS: [&str; 8] = ["no", "nr", "number", "zone", "z", "input", "in", "area"];
    let lower = text.trim().to_lowercase();
    // A level in words; "first" is another one on either side of the ocean.
    let level = [("ground", 0), ("basement", -1)].into_iter();
    let in_words = level.chain(WORDS.into_iter().zip(1..)).find(|(word, _)| *word == lower).map(|(_, number)| number);
    let at = lower.find(|c: char| c.is_ascii_digit());
    let (noun, digits) = lower.split_at_checked(at.unwrap_or(lower.len()))?;
    let noun = noun.trim_end_matches(['#', '.', ' ']);
    let is_bare = noun.is_empty();
    // A number below zero is of a level, whose words say on which side of the ground it is.
    let number = in_words.or_else(|| digits.parse().ok().filter(|_| is_bare || (min >= 0 && NOUNS.contains(&noun))))?;
    let certainty = if is_bare || in_words.is_some() { Certainty::Certain } else { Certainty::Likely };
    (min..=max).contains(&number).then(|| (number.to_string(), certainty))
}

/// An amount of money with the sign of a currency, or its word, before or behind it.
fn amount(text: &str) -> Option<String> {
    let at = text.find(|c: char| c.is_ascii_digit())?;
    let last = text.rfind(|c: char| c.is_ascii_digit())?;
    let (before, number, behind) = (text.get(..at)?, text.get(at..=last)?, text.get(last + 1..)?);
    let is_currency = |word: &str| {
        let word = word.trim();
        let is_code = word.len() == 3 && word.chars().all(|c| c.is_ascii_uppercase());
        word.is_empty()
            || is_code
            || matches!(word.to_lowercase().as_str(), "$" | "€" | "£" | "¥" | "euro" | "euros" | "dollars")
    };
    let is_one = is_currency(before) && is_currency(behind) && number.parse::<Money>().is_ok();
    is_one.then(|| number.to_owned())
}

/// A number or a flag in the notation of a kind.
fn of_its_kind(kind: Kind, value: &Value) -> Option<String> {
    match (kind, value) {
        (Kind::Integer(min, max), Value::Number { value, integer: None, .. }) if value.fract() == 0.0 => {
            format!("{value:.0}")
                .parse::<i64>()
                .ok()
                .filter(|number| (min..=max).contains(number))
                .map(|n| n.to_string())
        }
        (Kind::Flag, Value::Text(text)) => match text.to_lowercase().as_str() {
            "true" | "yes" | "on" => Some("#true".to_owned()),
            "false" | "no" | "off" => Some("#false".to_owned()),
            _ => None,
        },
        (Kind::Flag, Value::Number { integer: Some(number @ (0 | 1)), .. }) => {
            Some(if *number == 1 { "#true" } else { "#false" }.to_owned())
        }
        (Kind::Name(_), Value::Number { written, .. }) if written.starts_with(['-', '+']) => None,
        (Kind::Text(_) | Kind::Label(_) | Kind::Name(_), Value::Number { written, .. })
        | (Kind::Terminal | Kind::Slug | Kind::Path, Value::Number { written, .. }) => Some(format!("\"{written}\"")),
        _ => None,
    }
}

/// True for what a meter shows where there is no connection.
pub(crate) fn is_open(value: &Value) -> bool {
    matches!(value, Value::Text(text) if matches!(text.to_lowercase().as_str(), "ol" | "0l" | "o.l" | "0.l" | "open" | "inf" | "∞"))
}

/// A plain name made of a text: its letters and digits in small letters, joined by hyphens.
pub(crate) fn plain_name(text: &str) -> Option<String> {
    let words: Vec<String> = text
        .split(|c: char| !c.is_alphanumeric() && !matches!(c, '_' | '.'))
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect();
    Some(words.join("-")).filter(|name| !name.is_empty() && name.chars().count() <= 40 && !name.starts_with('.'))
}

/// A quantity of one of some dimensions in a text: "46 ft", "ft46", "about 46 ft", and "46" behind its unit.
fn quantity(dimensions: &[Dimension], text: &str, annotation: Option<&str>) -> Option<(String, Certainty)> {
    let of_one = |unit: &str| unit::find(unit).is_some_and(|unit| dimensions.contains(&unit.dimension));
    let text = text.trim_start_matches(['+', ' ']).trim_end();
    let number = match text.split_once(' ') {
        Some((first, rest)) if syntax::is_about(first) => rest,
        Some(_) | None => text,
    };
    let number = number.trim_start_matches(['~', '≈', ' ']);
    // Nobody is told any more that it was not exact.
    let certainty = if number.len() == text.len() { Certainty::Certain } else { Certainty::Likely };
    let half;
    let number = if number.starts_with(['½', '¼', '¾']) {
        half = format!("0{number}");
        half.as_str()
    } else {
        number
    };
    if let Some(right) = syntax::quantity_in(number).filter(|right| has_unit(right, of_one)) {
        let contradicts = annotation.is_some_and(|unit| !has_unit(&right, |of_text| of_text == unit));
        return Some((right, if contradicts { Certainty::Likely } else { certainty }));
    }
    if let Some(right) = one_of(number, dimensions) {
        return Some((right, Certainty::Likely));
    }
    let read = |digits: &str| digits.parse::<f64>().ok().filter(|number| number.is_finite());
    let (unit, number) = match (annotation, read(number)) {
        (Some(unit), Some(number)) => (unit, number),
        (Some(_) | None, _) => {
            let at = number.find(|c: char| c.is_ascii_digit())?;
            let (before, digits) = number.split_at_checked(at)?;
            (syntax::unit_of(before.trim())?, read(digits)?)
        }
    };
    of_one(unit).then(|| (format!("({unit}){number}"), certainty))
}

/// The one of several quantities in a text that can be of some dimensions: "12 V 7 Ah", "12V/7Ah" and "7Ah, 12V". None where
/// there is anything else in it, or another might be meant for one as well.
fn one_of(text: &str, dimensions: &[Dimension]) -> Option<String> {
    let mut pieces: Vec<String> = Vec::new();
    let mut before = ' ';
    for character in text.chars() {
        // A number begins behind a letter or a blank, where the number before it has its unit.
        let is_whole = pieces.last().is_none_or(|piece| piece.contains(char::is_alphabetic));
        if character.is_ascii_digit() && !before.is_ascii_digit() && is_whole {
            pieces.push(String::new());
        }
        pieces.last_mut()?.push(character);
        before = character;
    }
    let separators = [' ', ',', ';', '/', '·'];
    let all: Vec<String> =
        pieces.iter().map(|piece| syntax::quantity_in(piece.trim_end_matches(separators))).collect::<Option<_>>()?;
    let of_one = |unit: &str| unit::find(unit).is_some_and(|unit| dimensions.contains(&unit.dimension));
    let may_be =
        |right: &&String| has_unit(right, |written| of_one(written) || unit(dimensions, 1.0, written).is_some());
    let mut meant = all.iter().filter(may_be);
    let only = meant.next().filter(|_| all.len() > 1 && meant.next().is_none())?;
    has_unit(only, of_one).then(|| only.clone())
}

/// True where the unit of a quantity is a wanted one.
fn has_unit(quantity: &str, wanted: impl Fn(&str) -> bool) -> bool {
    quantity.strip_prefix('(').and_then(|rest| rest.split_once(')')).is_some_and(|(unit, _)| wanted(unit))
}

/// The ohms of a resistor's marking, where a resistance is wanted: "4k7".
fn marked(dimensions: &[Dimension], text: &str) -> Option<String> {
    let marking = text.parse::<Resistance>().ok().filter(|_| dimensions.contains(&Dimension::Resistance))?;
    Some(format!("(ohm){}", marking.nominal.0))
}

/// A number with a unit that is none of some dimensions, in the one that is probably meant.
pub(crate) fn unit(dimensions: &[Dimension], number: f64, written: &str) -> Option<(String, Certainty)> {
    let of_one = |unit: &str| unit::find(unit).is_some_and(|unit| dimensions.contains(&unit.dimension));
    let lower = written.to_lowercase();
    if let Some(unit) = syntax::unit_of(written).filter(|unit| of_one(unit) && *unit != written) {
        // Whoever writes direct current for a transformer may have bought another supply.
        let certainty = if lower == "vdc" { Certainty::Likely } else { Certainty::Certain };
        return Some((format!("({unit}){number}"), certainty));
    }
    let mut units = dimensions.iter().flat_map(|dimension| unit::of(*dimension)).map(|unit| unit.name);
    // A small m of ohms is milli or mega.
    let is_unclear = matches!(lower.as_str(), "mohm" | "mohms" | "mω") && written.starts_with('m');
    if is_unclear {
        return None;
    }
    if let Some(unit) = units.find(|unit| unit.eq_ignore_ascii_case(written) && *unit != written) {
        return Some((format!("({unit}){number}"), Certainty::Likely));
    }
    let thousands = [('k', 1e3), ('m', 1e-3), ('M', 1e6)].into_iter().find_map(|(prefix, factor)| {
        let unit = written.strip_prefix(prefix).and_then(syntax::unit_of).filter(|unit| of_one(unit))?;
        Some((unit, (1e6 * number * factor).round() / 1e6))
    });
    if let Some((unit, number)) = thousands {
        return Some((format!("({unit}){number}"), Certainty::Likely));
    }
    let (unit, number, certainty) = match lower.as_str() {
        "yd" | "yard" | "yards" => ("ft", (3e6 * number).round() / 1e6, Certainty::Certain),
        "m" if dimensions.contains(&Dimension::Current) => ("mA", number, Certainty::Likely),
        "m" => ("min", number, Certainty::Likely),
        "w" => ("VA", number, Certainty::Likely),
        "a" => ("Ah", number, Certainty::Likely),
        "db" | "dba" => ("dBA", number, Certainty::Likely),
        _ => {
            let units = dimensions.iter().flat_map(|dimension| unit::of(*dimension)).map(|unit| unit.name);
            // Of two letters everything is near to something.
            let near = if written.len() > 2 { did_you_mean(written, units) } else { None };
            (near?, number, Certainty::Likely)
        }
    };
    of_one(unit).then(|| (format!("({unit}){number}"), certainty))
}

/// A date with its month in German or French, in English.
fn in_english(text: &str) -> String {
    const MONTHS: [(&str, &[&str]); 12] = [
        ("January", &["januar", "jänner", "janvier"]),
        ("February", &["februar", "février"]),
        ("March", &["märz", "mars"]),
        ("April", &["avril"]),
        ("May", &["mai"]),
        ("June", &["juni", "juin"]),
        ("July", &["juli", "juillet"]),
        ("August", &["août"]),
        ("September", &["septembre"]),
        ("October", &["oktober", "octobre"]),
        ("November", &["novembre"]),
        ("December", &["dezember", "décembre"]),
    ];
    let english = |word: &str| {
        let lower = word.to_lowercase();
        let found = MONTHS.iter().find(|(_, theirs)| theirs.contains(&lower.as_str())).map(|(english, _)| *english);
        found.map_or_else(|| word.to_owned(), str::to_owned)
    };
    text.split(' ').map(english).collect::<Vec<_>>().join(" ")
}

/// The day of a date in another order, with other marks or with its month in letters, where it can be only one.
pub(crate) fn day(text: &str) -> Option<jiff::civil::Date> {
    let in_letters = ["%d %B %Y", "%d %b %Y", "%B %d, %Y", "%b %d, %Y", "%B %d %Y", "%b %d %Y", "%d-%b-%Y"];
    let words = text.replace(". ", " ");
    let words = in_english(words.trim());
    let words = words.as_str();
    let read = |text: &str| in_letters.iter().find_map(|form| jiff::civil::Date::strptime(form, text).ok());
    // A month without a day is its first. "March 2026" is no day in the year 26.
    let real = |day: &jiff::civil::Date| day.year() >= 1900;
    if let Some(day) = read(words).filter(real).or_else(|| read(&format!("1 {words}")).filter(real)) {
        return Some(day);
    }
    let parts: Vec<&str> = text.split(['.', '/', '-', ' ']).filter(|part| !part.is_empty()).collect();
    let numbers: Vec<i16> = parts.iter().map(|part| part.parse().ok()).collect::<Option<_>>()?;
    if let [one, other] = numbers.as_slice() {
        let (year, month) = if *one > 1899 { (*one, *other) } else { (*other, *one) };
        return i8::try_from(month)
            .ok()
            .filter(|_| year > 1899)
            .and_then(|month| jiff::civil::Date::new(year, month, 1).ok());
    }
    let [first, second, third]: [i16; 3] = numbers.try_into().ok()?;
    let day = |year: i16, month: i16, day: i16| {
        let (month, day) = (i8::try_from(month).ok()?, i8::try_from(day).ok()?);
        jiff::civil::Date::new(year, month, day).ok()
    };
    // Of two digits nobody can tell the century, nor which of the three is the year.
    match (first > 1899, third > 1899) {
        (true, false) => day(first, second, third),
        (false, true) => match (day(third, second, first), day(third, first, second)) {
            (Some(one), Some(other)) if one != other => None,
            (one, other) => one.or(other),
        },
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_guessed_by_what_people_write() {
        let wiring = ["end-of-line", "double-end-of-line", "normally-closed", "normally-open"];
        let guess = |written| word(written, wiring.into_iter()).map(|(word, _)| word);
        for (written, right) in [
            ("EOL", Some("end-of-line")),
            ("DEOL", Some("double-end-of-line")),
            ("NC", Some("normally-closed")),
            ("double", Some("double-end-of-line")),
            ("End_of_line", Some("end-of-line")),
            ("normally", None),
            ("", None),
            ("tartan", None),
        ] {
            assert_eq!(guess(written), right, "{written}");
        }
        assert_eq!(word("W", ["west", "east"].into_iter()).map(|(word, _)| word), Some("west"));
    }

    #[test]
    fn a_day_is_guessed_where_it_can_be_only_one() {
        for (written, right) in [
            ("14.3.2027", Some("2027-03-14")),
            ("03/14/2027", Some("2027-03-14")),
            ("2027/03/14", Some("2027-03-14")),
            ("14 March 2027", Some("2027-03-14")),
            ("March 14, 2027", Some("2027-03-14")),
            ("March 2026", Some("2026-03-01")),
            ("14. März 2027", Some("2027-03-14")),
            ("14 août 2027", Some("2027-08-14")),
            ("Mar 2026", Some("2026-03-01")),
            ("2026-03", Some("2026-03-01")),
            ("3/2026", Some("2026-03-01")),
            ("27-03-14", None),
            ("25/05/98", None),
            ("3/4/2027", None),
            ("3/3/2027", Some("2027-03-03")),
            ("14.3.27", None),
            ("soon", None),
        ] {
            assert_eq!(day(written).map(|day| day.to_string()).as_deref(), right, "{written}");
        }
    }

    #[test]
    fn quantities_are_found_in_text() {
        let (length, time) = (&[Dimension::Length][..], &[Dimension::Time][..]);
        let certain = |right: &str| Some((right.to_owned(), Certainty::Certain));
        for (dimensions, written, right) in [
            (length, "46 ft", Some("(ft)46")),
            (length, "ft46", Some("(ft)46")),
            (length, "46 ft 6in", Some("(ft)46.5")),
            (length, "46ft6 in", Some("(ft)46.5")),
            (length, "5m 20 cm", Some("(cm)520")),
            (length, "1 200 ft", Some("(ft)1200")),
            (length, "46 V", None),
            (length, "46", None),
            (length, "10 - 20ft", None),
            (length, "10 20ft", None),
            (length, "2 x 20ft", None),
            (length, "under 20ft", None),
            (time, "1 min 30s", Some("(s)90")),
            (time, "1m30s", Some("(s)90")),
            (time, "1m 90s", None),
        ] {
            assert_eq!(quantity(dimensions, written, None), right.and_then(certain), "{written}");
        }
        assert_eq!(quantity(length, "46", Some("ft")), certain("(ft)46"));
        assert_eq!(quantity(&[Dimension::Current], ".5 A", None), certain("(A)0.5"));
        for (written, annotation, right) in
            [("~80ft", None, "(ft)80"), ("approx. 80 ft", None, "(ft)80"), ("46 m", Some("ft"), "(m)46")]
        {
            assert_eq!(quantity(length, written, annotation), Some((right.to_owned(), Certainty::Likely)), "{written}");
        }
        assert_eq!(marked(&[Dimension::Resistance], "4k7").as_deref(), Some("(ohm)4700"));
        for written in ["12 V 7 Ah", "12V7Ah", "12V/7Ah", "7Ah, 12V", "7 Ah 12 V"] {
            let right = quantity(&[Dimension::Charge], written, None);
            assert_eq!(right, Some(("(Ah)7".to_owned(), Certainty::Likely)), "{written}");
        }
        assert_eq!(quantity(&[Dimension::Charge], "2 x 7 Ah and 12 Ah", None), None);
        assert_eq!((marked(&[Dimension::Resistance], "4x7"), marked(&[Dimension::Length], "4k7")), (None, None));
        assert_eq!(unit(&[Dimension::Length], 15.0, "yd").map(|(right, _)| right).as_deref(), Some("(ft)45"));
        assert_eq!(unit(&[Dimension::Time], 1.0, "m").map(|(right, _)| right).as_deref(), Some("(min)1"));
        assert_eq!(unit(&[Dimension::Resistance], 5.0, "mohm"), None);
        for (written, right) in [("7", certain("7")), ("seven", certain("7")), ("# 7", certain("7")), ("B7", None)] {
            assert_eq!(whole_number(written, 1, 16), right, "{written}");
        }
        assert_eq!(whole_number("zone 7", 1, 16), Some(("7".to_owned(), Certainty::Likely)));
        for (written, right) in [("basement", certain("-1")), ("B1", None), ("basement 2", None), ("minus 1", None)] {
            assert_eq!(whole_number(written, -9, 99), right, "{written}");
        }
        for (written, right) in [("$ 5.00", Some("5.00")), ("23.40 EUR", Some("23.40")), ("61", Some("61"))] {
            assert_eq!(amount(written).as_deref(), right, "{written}");
        }
        for written in ["$.50", ".50", "50¢", "50 cents", "-5.00", "5 k", "23,40 €", "5.00 - 6.00"] {
            assert_eq!(amount(written), None, "{written}");
        }
    }
}
