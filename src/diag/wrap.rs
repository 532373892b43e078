//! Prose broken into lines of a width in terminal columns.

use std::fmt::Write;

use unicode_width::UnicodeWidthStr;

/// Breaks a text at blanks so that no line is wider than `width`, each line led by `indent`.
///
/// A no-break space does not break, so a figure stays with its unit. A word wider than the width keeps a line to
/// itself. An empty text gives no line.
pub(crate) fn wrap(text: &str, indent: &str, width: usize) -> String {
    let mut lines = String::new();
    let mut used = 0;
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let columns = word.width();
        if used > 0 && used + 1 + columns <= width {
            lines.push(' ');
            used += 1 + columns;
        } else {
            if used > 0 {
                lines.push('\n');
            }
            lines.push_str(indent);
            used = indent.width() + columns;
        }
        lines.push_str(word);
    }
    if used > 0 {
        lines.push('\n');
    }
    lines
}

/// Breaks the lines that are wider than `width` at blanks; what follows stands two columns further in than the line's
/// start. Sequences that colour a text take no room.
pub(crate) fn fit(text: &str, width: usize) -> String {
    text.split_inclusive('\n').fold(String::with_capacity(text.len()), |mut fitted, line| {
        if columns(line) <= width {
            fitted.push_str(line);
            return fitted;
        }
        let indent = " ".repeat(line.len() - line.trim_start_matches(' ').len());
        fitted.push_str(&indent);
        let mut used = indent.len();
        for (at, word) in line.trim().split(' ').enumerate() {
            let room = columns(word);
            if at > 0 && used + 1 + room > width {
                let _ = write!(fitted, "\n{indent}  ");
                used = indent.len() + 2;
            } else if at > 0 {
                fitted.push(' ');
                used += 1;
            }
            fitted.push_str(word);
            used += room;
        }
        fitted.push('\n');
        fitted
    })
}

/// The columns that a line takes, without its end and what colours it.
fn columns(line: &str) -> usize {
    let mut pieces = line.trim_end().split('\u{1b}');
    let first = pieces.next().unwrap_or_default();
    let rest = pieces.map(|piece| piece.split_once('m').map_or(piece, |(_sequence, text)| text));
    std::iter::once(first).chain(rest).map(UnicodeWidthStr::width).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_too_wide_goes_on_further_in() {
        let text = "short\n  one two three\n\n\u{1b}[1mbold\u{1b}[0m word\n";
        assert_eq!(fit(text, 9), "short\n  one two\n    three\n\n\u{1b}[1mbold\u{1b}[0m word\n");
        assert_eq!(fit(text, 80), text);
        assert_eq!(fit("a  b unbreakable", 8), "a  b\n  unbreakable\n");
    }

    #[test]
    fn breaks_at_blanks_only() {
        assert_eq!(wrap("one two  three", "  ", 9), "  one two\n  three\n");
        assert_eq!(wrap("at 12\u{a0}V", "", 4), "at\n12\u{a0}V\n");
        assert_eq!(wrap("unbreakable", "", 4), "unbreakable\n");
        assert_eq!(wrap("", "  ", 4), "");
    }
}
