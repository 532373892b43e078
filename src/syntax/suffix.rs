//! Words around a number: units as the trade writes them, and what says that it is about so much or a time.

use crate::quantity::unit;

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
        "meg" | "megohm" => "Mohm",
        // With a small letter it is a thousandth.
        "mω" if suffix.starts_with('M') => "Mohm",
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
        "°f" => "degF",
        // A small one is of feet to some.
        "f" if suffix == "F" => "degF",
        _ if suffix == "M" => "Mohm",
        _ => return None,
    };
    unit::find(name).map(|u| u.name)
}

/// True for a word that says that the number behind it is not exact.
pub(crate) fn is_about(word: &str) -> bool {
    let word = word.trim_end_matches('.').to_lowercase();
    matches!(word.as_str(), "ca" | "circa" | "about" | "approx" | "approximately" | "around" | "roughly")
}

/// True for a property that is a time, for guesses.
pub(super) fn is_of_time(key: &str) -> bool {
    matches!(
        key,
        "entry"
            | "exit"
            | "abort"
            | "time"
            | "for"
            | "backup"
            | "window"
            | "sounder-cut-off"
            | "test-every"
            | "supervised-every"
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_suggested_unit_exists() {
        for suffix in ["k", "v", "ft.", "FT", "MM", "Min", "ga", "pct", "F", "M", "hr", "bps", "kbps", "μa"] {
            assert!(unit_of(suffix).is_some(), "{suffix}");
        }
    }
}
