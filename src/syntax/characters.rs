//! Classes of characters as KDL 2 defines them.

/// Quotes that open a text in print, and that people write instead of ".
pub(super) const OPENING: [char; 7] = ['“', '”', '„', '«', '‘', '‚', '\''];
/// Those that close.
pub(super) const CLOSING: [char; 5] = ['“', '”', '»', '’', '\''];

/// A character that ends a line (a carriage return and line feed together are one newline).
pub(crate) fn is_newline(c: char) -> bool {
    matches!(c, '\n' | '\r' | '\u{b}' | '\u{c}' | '\u{85}' | '\u{2028}' | '\u{2029}')
}

/// White space within a line.
pub(crate) fn is_space(c: char) -> bool {
    matches!(c, ' ' | '\t' | '\u{a0}' | '\u{1680}' | '\u{2000}'..='\u{200a}' | '\u{202f}' | '\u{205f}' | '\u{3000}')
}

/// Control and direction characters that may stand nowhere in the text: they make it look other than it is.
pub(crate) fn is_forbidden(c: char) -> bool {
    matches!(c,
        '\0'..='\u{8}' | '\u{e}'..='\u{1f}' | '\u{7f}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}'
        | '\u{2066}'..='\u{2069}' | '\u{feff}')
}

/// A character of a bare word.
pub(crate) fn is_word(c: char) -> bool {
    if c.is_ascii_alphanumeric() {
        return true;
    }
    !matches!(c, '\\' | '/' | '(' | ')' | '{' | '}' | '[' | ']' | ';' | '"' | '#' | '=')
        && !is_newline(c)
        && !is_space(c)
        && !is_forbidden(c)
}
