//! Diagnostics one a line, for `grep` and for editors that read `path:line:column:`.

use std::fmt::Write;

use super::Diagnostic;
use super::neutral::{shown, words};
use crate::base::Sources;

/// `path:line:column: severity: title [rule] — help (accepted: reason)`; the column counts characters.
pub(crate) fn line(sources: &Sources, diagnostic: &Diagnostic) -> String {
    let mut line = place(sources, diagnostic);
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

/// `path:line:column: title`, for one of several findings of a rule that has been told already.
pub(crate) fn place_and_title(sources: &Sources, diagnostic: &Diagnostic) -> String {
    let accepted =
        diagnostic.accepted.as_ref().map_or_else(String::new, |reason| format!(" (accepted: {})", words(reason)));
    format!("{}{}{accepted}\n", place(sources, diagnostic), words(&diagnostic.title))
}

fn place(sources: &Sources, diagnostic: &Diagnostic) -> String {
    let span = diagnostic.span();
    sources.get(span.file).map_or_else(String::new, |file| {
        let (line, column) = file.line_column(span.start);
        format!("{}:{line}:{column}: ", shown(&file.path))
    })
}
