//! Findings one a line as the commands that several CI services take from a job's output: `::error file=…,line=…::text`.

use std::fmt::Write;

use super::Diagnostic;
use crate::base::Sources;

/// The findings that nobody has accepted.
pub(crate) fn lines(sources: &Sources, diagnostics: &[Diagnostic]) -> String {
    let mut text = String::new();
    for diagnostic in diagnostics.iter().filter(|diagnostic| diagnostic.accepted.is_none()) {
        let level = match diagnostic.severity() {
            super::Severity::Error => "error",
            super::Severity::Warning => "warning",
            super::Severity::Note => "notice",
        };
        let span = diagnostic.span();
        let place = sources.get(span.file).map_or_else(String::new, |file| {
            let ((line, column), (end, _)) = (file.line_column(span.start), file.line_column(span.end));
            format!("file={},line={line},col={column},endLine={end},", property(&file.path))
        });
        let title = property(&format!("{} [{}]", diagnostic.title, diagnostic.rule.slug));
        let told = [diagnostic.paragraph.as_str(), diagnostic.help.as_str()].join("\n");
        // Writing to a string cannot fail.
        let _ = writeln!(text, "::{level} {place}title={title}::{}", data(told.trim()));
    }
    text
}

/// Text behind the last `::`: one line, whatever it holds.
fn data(text: &str) -> String {
    text.replace('%', "%25").replace('\r', "%0D").replace('\n', "%0A")
}

/// A property's value, which commas and colons would end.
fn property(text: &str) -> String {
    data(text).replace(':', "%3A").replace(',', "%2C")
}
