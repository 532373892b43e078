//! Characters that would act on a terminal instead of being shown: replaced one for one by a visible stand-in.
//!
//! Covered: the control characters C0, DEL and C1, the bidirectional marks, embeddings, overrides and isolates of
//! Unicode annex 9, and the line and paragraph separators. One character stays one character, so columns hold.

use crate::base::wording::is_control;

/// The stand-in of a character that must not reach a terminal; `None` for one that may.
pub(crate) fn stand_in(character: char) -> Option<char> {
    match character {
        '\u{0}'..='\u{1f}' => char::from_u32(0x2400 + u32::from(character)),
        '\u{7f}' => Some('\u{2421}'),
        other => is_control(other).then_some('\u{fffd}'),
    }
}

/// A piece of a file's line or a path, fit to be shown: every control character by its stand-in.
pub(crate) fn shown(text: &str) -> String {
    text.chars().map(|c| stand_in(c).unwrap_or(c)).collect()
}

/// Several lines, each fit to be shown.
pub(crate) fn lines(text: &str) -> String {
    text.chars().map(|c| if c == '\n' { c } else { stand_in(c).unwrap_or(c) }).collect()
}

/// A line of source, fit to be drawn: as [`shown`], but a tab stays a tab.
pub(crate) fn source_character(character: char) -> char {
    if character == '\t' { character } else { stand_in(character).unwrap_or(character) }
}

/// A message, fit to be shown on one line: line ends and tabs become blanks, other control characters stand-ins.
pub(crate) fn words(text: &str) -> String {
    text.chars().map(|c| if matches!(c, '\n' | '\t') { ' ' } else { stand_in(c).unwrap_or(c) }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_character_stays_one_character() {
        let hostile = "a\u{1b}[31m\u{202e}b\u{9b}\u{7f}\u{2066}é\r\n";
        assert_eq!(shown(hostile).chars().count(), hostile.chars().count());
        assert_eq!(shown(hostile), "a␛[31m\u{fffd}b\u{fffd}␡\u{fffd}é␍␊");
    }

    #[test]
    fn messages_stay_on_one_line() {
        assert_eq!(words("two\nlines\tand\u{1b}"), "two lines and␛");
    }

    #[test]
    fn ordinary_letters_of_any_script_pass() {
        let plain = "Küche, 扉, דלת, 🚪 \u{a0}Ω";
        assert_eq!(shown(plain), plain);
    }
}
