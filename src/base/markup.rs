//! Text made safe for HTML and XML.

use super::wording::is_control;

/// Text for the content or for a quoted attribute of HTML and XML, on one line. Characters that XML has not, as `U+FFFE`,
/// become the mark for a character that could not be read.
pub(crate) fn escaped(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len() + 8);
    for character in text.chars() {
        match character {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\'' => escaped.push_str("&#39;"),
            '\u{2028}' | '\u{2029}' => escaped.push(' '),
            '\u{FFFE}' | '\u{FFFF}' => escaped.push('\u{FFFD}'),
            other if is_control(other) => escaped.push(' '),
            other => escaped.push(other),
        }
    }
    escaped
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_live_character_is_left() {
        assert_eq!(escaped("<a href=\"x\">&'"), "&lt;a href=&quot;x&quot;&gt;&amp;&#39;");
        assert_eq!(escaped("a\nb\u{0}c\u{202E}d\u{2028}e\u{FFFE}"), "a b c d e\u{FFFD}");
    }
}
