//! Text of the user made safe for the language it lands in: Markdown, HTML, CSS strings, CSV cells.
//!
//! Escaping happens once, at the border: views hold plain text. Out of scope: control characters and marks of
//! writing direction, which the reader of the spec has refused; here they only become blanks.

use std::fmt::Write;

use crate::base::wording::is_control;

/// Text for a Markdown cell, heading, list item or paragraph: a backslash before every ASCII punctuation character,
/// one line, no blanks at the ends.
pub fn markdown(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len() + 8);
    for character in one_line(text).trim().chars() {
        if character.is_ascii_punctuation() {
            escaped.push('\\');
        }
        escaped.push(character);
    }
    escaped
}

/// Text for HTML content or a quoted attribute.
pub fn html(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len() + 8);
    for character in one_line(text).chars() {
        match character {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\'' => escaped.push_str("&#39;"),
            other => escaped.push(other),
        }
    }
    escaped
}

/// A CSS string with its quotes, safe inside a `style` element: all ASCII but letters, digits and blanks by number.
pub fn css_string(text: &str) -> String {
    let mut escaped = String::from("\"");
    for character in one_line(text).chars() {
        if character.is_ascii() && !character.is_ascii_alphanumeric() && character != ' ' {
            // Writing to a string cannot fail.
            let _ = write!(escaped, "\\{:06x}", u32::from(character));
        } else {
            escaped.push(character);
        }
    }
    escaped.push('"');
    escaped
}

/// A cell of a CSV file. A spreadsheet runs what begins like a formula, blanks before it or not, so such a cell gets a
/// leading apostrophe; plain numbers keep their sign, and a sign alone is nothing to run.
pub fn csv_cell(text: &str) -> String {
    let said = text.trim_start();
    let formula = said.starts_with(['=', '+', '-', '@', '＝', '＋', '－', '＠'])
        && !is_plain_number(said)
        && !matches!(said, "+" | "-");
    if formula || text.starts_with(['\t', '\r']) {
        return format!("'{text}");
    }
    text.to_owned()
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
    let blank = |c: char| is_control(c) || matches!(c, '\u{2028}' | '\u{2029}');
    text.chars().map(|c| if blank(c) { ' ' } else { c }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use pulldown_cmark::{Event, Options, Parser, Tag, TagEnd};

    /// The texts of every heading and table cell, and how many elements of other kinds there are.
    fn read(source: &str) -> (Vec<String>, usize) {
        let (mut texts, mut strange) = (Vec::new(), 0);
        for event in Parser::new_ext(source, Options::ENABLE_TABLES) {
            match event {
                Event::Start(Tag::Heading { .. } | Tag::TableCell) => texts.push(String::new()),
                Event::Text(text) => texts.last_mut().unwrap().push_str(&text),
                Event::Start(Tag::Table(_) | Tag::TableHead | Tag::TableRow) | Event::End(_) => {}
                _ => strange += 1,
            }
        }
        (texts, strange)
    }

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
        fn text_comes_back_from_cell_and_heading(text in awkward()) {
            let plain = one_line(&text).trim().to_owned();
            let escaped = markdown(&text);
            let (texts, strange) = read(&format!("# {escaped}\n\n| a | b |\n| --- | --- |\n| {escaped} | x{escaped} |\n"));
            prop_assert_eq!(texts, vec![plain.clone(), "a".into(), "b".into(), plain.clone(), format!("x{plain}")]);
            prop_assert_eq!(strange, 0);
        }

        #[test]
        fn text_comes_back_from_a_paragraph_and_a_list(text in awkward()) {
            let plain = one_line(&text).trim().to_owned();
            prop_assume!(!plain.is_empty());
            for source in [format!("{}\n", markdown(&text)), format!("- {}\n", markdown(&text))] {
                let mut got = String::new();
                for event in Parser::new_ext(&source, Options::ENABLE_TABLES) {
                    match event {
                        Event::Text(text) => got.push_str(&text),
                        Event::Start(Tag::Paragraph | Tag::List(None) | Tag::Item)
                        | Event::End(TagEnd::Paragraph | TagEnd::List(_) | TagEnd::Item) => {}
                        other => prop_assert!(false, "{other:?} in {source:?}"),
                    }
                }
                prop_assert_eq!(got, plain.clone());
            }
        }

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
    fn numbers_keep_their_sign() {
        assert_eq!(csv_cell("-5"), "-5");
        assert_eq!(csv_cell("+3.25"), "+3.25");
        assert_eq!(csv_cell("-5+2"), "'-5+2");
        assert_eq!(csv_cell("=1+1"), "'=1+1");
        assert_eq!(csv_cell("-"), "-");
        assert_eq!(csv_cell("A+"), "A+");
        assert_eq!(csv_cell(" =1+1"), "' =1+1");
        assert_eq!(csv_cell("\u{a0}\u{3000}@SUM(A1)"), "'\u{a0}\u{3000}@SUM(A1)");
        assert_eq!(csv_cell(" -5"), " -5");
    }

    #[test]
    fn html_has_no_live_character_left() {
        assert_eq!(html("<a href=\"x\">&'"), "&lt;a href=&quot;x&quot;&gt;&amp;&#39;");
    }
}
