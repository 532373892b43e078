//! A text in Markdown set for a terminal: headings in bold, prose wrapped, examples indented and otherwise as written.

use std::fmt::Write;

use crate::diag::Look;
use crate::diag::wrap::wrap;

/// The text as it is shown.
pub(super) fn set(look: Look, markdown: &str) -> String {
    let mut text = String::new();
    let mut paragraph = String::new();
    let mut example = false;
    for line in markdown.lines() {
        let starts_block = line.trim().is_empty() || line.starts_with(['#', '-', '*', '|']) || line.starts_with("```");
        if example || starts_block {
            text.push_str(&wrap(&paragraph, "", look.prose_width()));
            paragraph.clear();
        }
        // Writing to a string cannot fail.
        if line.starts_with("```") {
            example = !example;
        } else if example {
            let _ = writeln!(text, "{}", format!("    {line}").trim_end());
        } else if line.starts_with('#') {
            let _ = writeln!(text, "{}", look.heading(line.trim_start_matches('#').trim()));
        } else if line.trim().is_empty() || line.starts_with('|') {
            let _ = writeln!(text, "{line}");
        } else {
            let _ = write!(paragraph, "{} ", line.trim().replace("**", ""));
        }
    }
    text + &wrap(&paragraph, "", look.prose_width())
}
