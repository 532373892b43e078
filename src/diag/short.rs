//! Diagnostics one a line, for `grep` and for editors that read `path:line:column:`.

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
    line.push_str(diagnostic.severity().word());
    line.push_str(": ");
    line.push_str(&words(&diagnostic.title));
    line.push_str(&format!(" [{}]", diagnostic.rule.slug));
    if !diagnostic.help.is_empty() {
        line.push_str(" — ");
        line.push_str(&words(&diagnostic.help));
    }
    if let Some(reason) = &diagnostic.accepted {
        line.push_str(&format!(" (accepted: {})", words(reason)));
    }
    line.push('\n');
    line
}
