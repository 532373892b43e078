//! Text of the user made safe for the language it lands in: Markdown, HTML, CSS strings, CSV cells.
//!
//! Escaping happens once, at the border: views hold plain text. Out of scope: control characters and marks of
//! writing direction, which the reader of the spec has refused; here they only become blanks.

pub(crate) mod markdown;

use std::fmt::Write;

use crate::base::wording::is_control;

pub(crate) use crate::base::markup::escaped as html;

/// A CSS string with its quotes, safe inside a `style` element: all ASCII but letters, digits and blanks by number.
pub(crate) fn css_string(text: &str) -> String {
    let mut escaped = String::from("\"");
    // A blank behind a number belongs to it, so each has one: that of the text would be taken for it.
    for character in one_line(text).chars() {
        if character.is_ascii() && !character.is_ascii_alphanumeric() && character != ' ' {
            // Writing to a string cannot fail.
            let _ = write!(escaped, "\\{:06x} ", u32::from(character));
        } else {
            escaped.push(character);
        }
    }
    escaped.push('"');
    escaped
}

/// A cell of a CSV file. A spreadsheet runs what begins like a formula, blanks before it or not, so such a cell gets a
/// leading apostrophe; plain numbers keep their sign, and a sign alone is nothing to run. Controls, which only the name of a
/// folder can hold, become blanks: a table may be read on a terminal.
pub fn csv_cell(text: &str) -> String {
    let said = text.trim_start();
    let formula = said.starts_with(['=', '+', '-', '@', '＝', '＋', '－', '＠'])
        && !is_plain_number(said)
        && !matches!(said, "+" | "-");
    let mark = if formula || text.starts_with(['\t', '\r']) { "'" } else { "" };
    let blank = |c: char| if is_control(c) && !matches!(c, '\n' | '\t') { ' ' } else { c };
    mark.chars().chain(text.chars().map(blank)).collect()
}

/// What a cell of such a file says, without the apostrophe.
pub(crate) fn csv_words(cell: &str) -> &str {
    cell.strip_prefix('\'').filter(|rest| csv_cell(rest).starts_with('\'')).unwrap_or(cell)
}

/// A sign, digits, and digits after a point.
fn is_plain_number(text: &str) -> bool {
    let digits = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    let unsigned = text.strip_prefix(['+', '-']).unwrap_or(text);
    match unsigned.split_once('.') {
        Some((whole, fraction)) => digits(whole) && digits(fraction),
        None => digits(unsigned),
    }
}

fn one_line(text: &str) -> String {
    text.chars().map(|c| if is_control(c) { ' ' } else { c }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn awkward() -> impl Strategy<Value = String> {
        prop_oneof![
            "\\PC{0,40}",
            "[|`<>&*_#\\\\\\[\\](){}~!:=+. \\-a-c0-9\"'\n\t]{0,40}",
            Just("<script>alert(1)</script>".to_owned()),
            Just("[a](javascript:alert(1))".to_owned()),
            Just("a|b\\|c`d|e`".to_owned()),
            Just("&amp; &lt; http://example.org www.example.org".to_owned()),
        ]
    }

    proptest! {
        #[test]
        fn no_cell_begins_like_a_formula(text in "[=+\\-@\t\r]{1,3}[a-z0-9(.]{0,8}") {
            let cell = csv_cell(&text);
            let safe = cell.starts_with('\'') || cell.parse::<f64>().is_ok() || cell.len() == 1;
            prop_assert!(safe, "{cell:?}");
        }

        #[test]
        fn a_css_string_ends_where_it_should(text in awkward()) {
            let inside = css_string(&text);
            let inside = &inside[1..inside.len() - 1];
            prop_assert!(!inside.contains(['"', '\n', '<', '>', '\'']));
        }
    }

    #[test]
    fn a_blank_behind_a_mark_stays() {
        assert_eq!(css_string("a, b"), "\"a\\00002c  b\"");
    }

    #[test]
    fn numbers_keep_their_sign() {
        assert_eq!(csv_cell("-5"), "-5");
        assert_eq!(csv_cell("+3.25"), "+3.25");
        assert_eq!(csv_cell("-5+2"), "'-5+2");
        assert_eq!(csv_cell("=1+1"), "'=1+1");
        assert_eq!(csv_cell("-"), "-");
        assert_eq!(csv_cell("A+"), "A+");
        assert_eq!(csv_cell("a\u{1b}]0;b\u{202e}c\nd\r=1"), "a ]0;b c\nd =1");
        assert_eq!(csv_cell("\ra"), "' a");
        assert_eq!(csv_cell(" =1+1"), "' =1+1");
        for text in ["=1+1", " =1+1", "＝1", "-5", "'tis", "A"] {
            assert_eq!(csv_words(&csv_cell(text)), text);
        }
        assert_eq!(csv_cell("\u{a0}\u{3000}@SUM(A1)"), "'\u{a0}\u{3000}@SUM(A1)");
        assert_eq!(csv_cell(" -5"), " -5");
    }
}
