//! Prose broken into lines of a width in terminal columns.

use unicode_width::UnicodeWidthStr;

/// Breaks a text at blanks so that no line is wider than `width`, each line led by `indent`.
///
/// A no-break space does not break, so a figure stays with its unit. A word wider than the width keeps a line to
/// itself. An empty text gives no line.
pub fn wrap(text: &str, indent: &str, width: usize) -> String {
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn breaks_at_blanks_only() {
        assert_eq!(wrap("one two  three", "  ", 9), "  one two\n  three\n");
        assert_eq!(wrap("at 12\u{a0}V", "", 4), "at\n12\u{a0}V\n");
        assert_eq!(wrap("unbreakable", "", 4), "unbreakable\n");
        assert_eq!(wrap("", "  ", 4), "");
    }
}
