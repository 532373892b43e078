//! Diagnostics one a line, for `grep` and for editors that read `path:line:column:`.

use std::fmt::Write;

use super::Diagnostic;
use super::neutral::{shown, words};
use crate::base::Sources;

/// `path:line:column: severity: title [rule] — help (accepted: reason)`; the column counts characters.
pub fn line(sources: &Sources, diagnostic: &Diagnostic) -> String {
    let span = diagnostic.span();
    let mut line = sources.get(span.file).map_or_else(String::new, |file| {
        let (line, column) = file.line_column(span.start);
        format!("{}:{line}:{column}: ", shown(&file.path))
    });
    let title = words(&diagnostic.title);
    let _ = write!(line, "{}: {title} [{}]", diagnostic.severity().word(), diagnostic.rule.slug);
    if !diagnostic.help.is_empty() {
        let _ = write!(line, " — {}", words(&diagnostic.help));
    }
    if let Some(reason) = &diagnostic.accepted {
        let _ = write!(line, " (accepted: {})", words(reason));
    }
    line.push('\n');
    line
}
