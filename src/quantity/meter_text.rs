//! Text of a meter's display → a number: `2k2`, `2.2k`, `1.1kohm`, `OL`; `2.5V`, `250mV`.
//!
//! The commissioning page reads the same forms by `templates/readings.js`; one list of forms holds both. What could be read in
//! two ways is refused: nothing is guessed.

/// Why a text is no reading.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Unclear {
    /// A small m is milli or mega.
    #[error("a small m could be milli or mega; write M for megohms, as 0.95M")]
    SmallM,
    /// "2,203" is two thousand to some and two to others.
    #[error("a comma before three digits parts thousands or is the decimal point; write 2203 or 2.203")]
    Comma,
    /// A minus.
    #[error(
        "a reading below zero: more was taken off for the leads than they have, or the loop is under voltage; measure again"
    )]
    Negative,
    /// Volts where ohms are asked for.
    #[error("these are volts; give them as volts, or write the ohms that the meter shows with both leads off")]
    Volts,
    /// Ohms where volts are asked for.
    #[error("these are ohms; give them as ohms, or write the volts that the meter shows with the leads on")]
    Ohms,
    /// No connection where volts are asked for.
    #[error("a meter shows this in the ohms range; give it as ohms, or write the volts, as 2.31 or 250mV")]
    OpenVolts,
    /// Anything else, where ohms are asked for.
    #[error("write the ohms that the meter shows, as 1960, 1.96k, 2k2 or 1.1kohm, or OL where it shows no connection")]
    NoOhms,
    /// Anything else, where volts are asked for.
    #[error("write the volts that the meter shows, as 2.31, 2.31V or 250mV")]
    NoVolts,
}

/// What stands in a display: the number as written, and what follows it without blanks.
struct Shown<'t> {
    number: String,
    comma: bool,
    rest: &'t str,
}

/// Ohms; infinite where the meter shows no connection.
///
/// # Errors
///
/// Where the text is no reading of ohms, or could be read in two ways.
pub fn ohms(text: &str) -> Result<f64, Unclear> {
    let text = text.trim();
    if is_open(text) {
        return Ok(f64::INFINITY);
    }
    let Shown { number, comma, rest } = shown(text, Unclear::NoOhms)?;
    let (letter, behind) = first(rest);
    let power = match letter {
        Some('k' | 'K') => 3,
        Some('M') => 6,
        Some('R' | 'r') => 0,
        Some('m') if is_ohm(behind) => return Err(Unclear::SmallM),
        Some('V' | 'v') => return Err(Unclear::Volts),
        Some('m') if is_volt(behind) => return Err(Unclear::Volts),
        _ if is_ohm(rest) => return finished(&number, comma, 0).ok_or(Unclear::Comma),
        _ => return Err(Unclear::NoOhms),
    };
    let whole = number.bytes().all(|byte| byte.is_ascii_digit());
    match inside(&number, behind).filter(|_| whole) {
        Some((number, behind)) if is_ohm(behind) => finished(&number, false, power).ok_or(Unclear::NoOhms),
        None if is_ohm(behind) => finished(&number, comma, power).ok_or(Unclear::Comma),
        _ => Err(Unclear::NoOhms),
    }
}

/// Volts.
///
/// # Errors
///
/// Where the text is no reading of volts.
pub fn volts(text: &str) -> Result<f64, Unclear> {
    let text = text.trim();
    if is_open(text) {
        return Err(Unclear::OpenVolts);
    }
    let Shown { number, rest, .. } = shown(text, Unclear::NoVolts)?;
    let (letter, behind) = first(rest);
    let whole = number.bytes().all(|byte| byte.is_ascii_digit());
    match letter {
        None => finished(&number, false, 0),
        Some('m') if is_volt(behind) && !behind.is_empty() => finished(&number, false, -3),
        Some('V' | 'v') => match inside(&number, behind).filter(|_| whole) {
            Some((number, "")) => finished(&number, false, 0),
            None if is_volt(rest) => finished(&number, false, 0),
            _ => None,
        },
        Some('k' | 'K' | 'M' | 'Ω' | '\u{2126}' | 'o' | 'O') => return Err(Unclear::Ohms),
        _ => None,
    }
    .ok_or(Unclear::NoVolts)
}

/// What meters show without a connection, and what people write of it; the unit of the range may stand behind it.
fn is_open(text: &str) -> bool {
    let small: String = text.to_lowercase().chars().filter(|c| !c.is_whitespace() && *c != '.').collect();
    let bare = small.trim_end_matches(['ω', '\u{2126}']).trim_end_matches("ohms").trim_end_matches("ohm");
    matches!(bare.strip_suffix(['k', 'm']).unwrap_or(bare), "ol" | "0l" | "open" | "inf" | "∞")
}

/// The number at the front, and what follows.
fn shown(text: &str, otherwise: Unclear) -> Result<Shown<'_>, Unclear> {
    if text.starts_with(['-', '−']) {
        return Err(Unclear::Negative);
    }
    let end = text.find(|c: char| !c.is_ascii_digit() && c != '.' && c != ',').unwrap_or(text.len());
    let (number, rest) = text.split_at_checked(end).unwrap_or((text, ""));
    let marks = number.bytes().filter(|byte| !byte.is_ascii_digit()).count();
    if marks > 1 || marks == number.len() {
        return Err(otherwise);
    }
    Ok(Shown { comma: number.contains(','), number: number.replace(',', "."), rest: rest.trim_start() })
}

fn first(text: &str) -> (Option<char>, &str) {
    let mut letters = text.chars();
    (letters.next(), letters.as_str())
}

/// The digits of `2k2` on both sides of its letter as one number, and what follows; `None` where none follow the letter.
fn inside<'t>(number: &str, behind: &'t str) -> Option<(String, &'t str)> {
    let end = behind.find(|c: char| !c.is_ascii_digit()).unwrap_or(behind.len());
    let (digits, rest) = behind.split_at_checked(end).filter(|(digits, _)| !digits.is_empty())?;
    Some((format!("{number}.{digits}"), rest))
}

fn is_ohm(rest: &str) -> bool {
    matches!(rest.trim_start().to_lowercase().as_str(), "" | "ohm" | "ohms" | "ω")
}

fn is_volt(rest: &str) -> bool {
    matches!(rest.to_lowercase().replace(' ', "").as_str(), "" | "v" | "volt" | "volts" | "vdc")
}

/// True where a comma between two groups of digits may part thousands as well as be the decimal point: "2,203", not "0,203".
pub(crate) fn comma_may_part_thousands(whole: &str, digits: &str) -> bool {
    digits.len() == 3 && (1..=3).contains(&whole.len()) && !whole.starts_with('0')
}

/// The number with its power of ten, exactly as it is written; `None` where its comma may part thousands.
fn finished(number: &str, comma: bool, power: i32) -> Option<f64> {
    if comma && number.split_once('.').is_some_and(|(whole, digits)| comma_may_part_thousands(whole, digits)) {
        return None;
    }
    format!("{number}e{power}").parse().ok().filter(|value: &f64| value.is_finite())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_unclear_is_told_with_an_example() {
        for (text, wanted) in [
            ("1.5m", Unclear::SmallM),
            ("1.5mΩ", Unclear::SmallM),
            ("2,203", Unclear::Comma),
            ("2,203k", Unclear::Comma),
            ("-4", Unclear::Negative),
            ("2.5V", Unclear::Volts),
            ("250 mV", Unclear::Volts),
            ("2k2k", Unclear::NoOhms),
            ("lots", Unclear::NoOhms),
        ] {
            assert_eq!(ohms(text), Err(wanted), "{text}");
        }
        for (text, wanted) in [
            ("-4", Unclear::Negative),
            ("2.2k", Unclear::Ohms),
            ("2200 ohm", Unclear::Ohms),
            ("OL", Unclear::OpenVolts),
            ("NaN", Unclear::NoVolts),
        ] {
            assert_eq!(volts(text), Err(wanted), "{text}");
        }
    }
}
