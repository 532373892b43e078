//! The changes as short plain text, for a terminal, a commit message or a pull request.

use std::fmt::Write;

use super::WorkOrder;

/// A first line that sums up, an empty line, and a line a change.
pub(crate) fn plain(order: &WorkOrder) -> String {
    let mut text = format!("{}: {}\n", order.site, order.summary);
    if !order.doubts.is_empty() {
        text.push('\n');
        for doubt in &order.doubts {
            let _ = writeln!(text, "! {doubt}");
        }
    }
    if !order.changes.is_empty() {
        text.push('\n');
    }
    for line in &order.changes {
        let detail = if line.text.is_empty() { String::new() } else { format!(": {}", line.text) };
        let what = match line.what {
            "moved" | "renamed" => format!(" {}", line.what),
            _ => String::new(),
        };
        let _ = writeln!(text, "{} {}{what}{detail}", line.mark, line.subject);
    }
    text
}
