//! Diagnostics as JSON, for programs: own names, a version, a schema.
//!
//! The version rises when a field is removed or changes its meaning; new fields may come without.

use std::fmt::Write;

use schemars::JsonSchema;
use serde::Serialize;

use super::{Certainty, Counts, Diagnostic, Fix};
use crate::base::unseen::is_unseen;
use crate::base::wording::is_control;
use crate::base::{SourceFile, Sources, Span};

/// Version of the documents below.
pub(crate) const VERSION: u32 = 1;

/// The findings of one site as a document.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(crate) struct Report {
    /// Version of this format.
    pub(crate) version: u32,
    /// The findings.
    #[serde(flatten)]
    pub(crate) findings: Findings,
}

/// The findings of a run of the program over any number of sites as a document.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(crate) struct Run {
    /// Version of this format.
    pub(crate) version: u32,
    /// The sites, in the order in which they were read.
    pub(crate) sites: Vec<Site>,
}

/// One site of a [`Run`].
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(crate) struct Site {
    /// The site's name, where it could be read.
    pub name: Option<String>,
    /// The site's folder, as the user named it.
    pub(crate) path: String,
    /// The folder that the packet was written to; null for a check, and where there was an error.
    pub(crate) written: Option<String>,
    /// What was found.
    #[serde(flatten)]
    pub(crate) findings: Findings,
}

/// A list of findings and their number.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(crate) struct Findings {
    /// The findings in the order of the source.
    pub(crate) diagnostics: Vec<Finding>,
    /// Their number by severity, those left out of the list included.
    pub(crate) counts: Counts,
}

/// One finding.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(crate) struct Finding {
    /// Stable name of the rule.
    pub(crate) rule: &'static str,
    /// `error`, `warning` or `note`.
    pub(crate) severity: &'static str,
    /// Why the rule may speak; for a published limit the document and edition.
    pub(crate) basis: String,
    /// One line, with names.
    pub(crate) title: String,
    /// Every place involved; the first is where the finding stands.
    pub(crate) labels: Vec<Place>,
    /// Why it matters.
    pub(crate) paragraph: String,
    /// The figures behind the verdict.
    pub(crate) figures: Vec<String>,
    /// One concrete thing to do.
    pub(crate) help: String,
    /// The same as a change of the text, where a program can make it.
    pub(crate) fix: Option<Change>,
    /// The reason, where the site accepts this finding.
    pub(crate) accepted: Option<String>,
}

/// Edits that together do what a finding's help says.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(crate) struct Change {
    /// True where the new text says what the old one meant; false where a person should confirm it.
    pub(crate) certain: bool,
    /// The edits; they do not overlap.
    pub(crate) edits: Vec<Replacement>,
}

/// New text in the place of old text.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(crate) struct Replacement {
    /// Path of the file as shown to people.
    pub(crate) path: String,
    /// Where the old text starts.
    pub(crate) start: Position,
    /// Where it ends: the first position after it.
    pub(crate) end: Position,
    /// The new text.
    pub(crate) text: String,
}

/// A place involved.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(crate) struct Place {
    /// Path of the file as shown to people; empty where there is no file.
    pub(crate) path: String,
    /// Where the place starts.
    pub(crate) start: Position,
    /// Where it ends: the first position after it.
    pub(crate) end: Position,
    /// A few words on its part in the matter; may be empty.
    pub(crate) text: String,
}

/// A position in a file.
#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
pub(crate) struct Position {
    /// Line, from 1.
    pub(crate) line: usize,
    /// Column, from 1, in characters.
    pub(crate) column: usize,
    /// Byte, from 0.
    pub(crate) byte: usize,
}

impl Findings {
    /// The findings as data; at most `limit` are listed, all are counted.
    pub(crate) fn new(sources: &Sources, diagnostics: &[Diagnostic], limit: usize) -> Self {
        let listed = super::render::most_severe(diagnostics.iter(), limit);
        Self {
            diagnostics: listed.into_iter().map(|diagnostic| finding(sources, diagnostic)).collect(),
            counts: Counts::of(diagnostics),
        }
    }
}

/// A document as text, indented, with a line end. Characters that are not seen, that turn the direction of writing, or that
/// some programs take for line ends are escaped: who looks at the text sees what a program reads.
pub(crate) fn print(document: &impl Serialize) -> String {
    // Strings, numbers and lists only: there is nothing here that JSON could refuse.
    let text = serde_json::to_string_pretty(document).unwrap_or_default();
    // Such a character can stand in a string only; line ends are the layout's.
    let is_hidden = |one: char| !matches!(one, '\n' | ' '..='~') && (is_control(one) || is_unseen(one));
    let mut shown = String::with_capacity(text.len() + 1);
    for stretch in text.split_inclusive(is_hidden) {
        let hidden = stretch.chars().next_back().filter(|last| is_hidden(*last));
        shown.push_str(hidden.and_then(|last| stretch.strip_suffix(last)).unwrap_or(stretch));
        for unit in hidden.iter().flat_map(|hidden| hidden.encode_utf16(&mut [0; 2]).to_vec()) {
            // Writing to a string cannot fail.
            let _ = write!(shown, "\\u{unit:04x}");
        }
    }
    shown.push('\n');
    shown
}

/// The JSON Schema of a [`Run`].
pub(crate) fn schema() -> serde_json::Value {
    schemars::schema_for!(Run).to_value()
}

fn finding(sources: &Sources, diagnostic: &Diagnostic) -> Finding {
    Finding {
        rule: diagnostic.rule.slug,
        severity: diagnostic.severity().word(),
        basis: diagnostic.rule.basis.words(),
        title: diagnostic.title.clone(),
        labels: diagnostic.labels.iter().map(|label| place(sources, label.span, &label.text)).collect(),
        paragraph: diagnostic.paragraph.clone(),
        figures: diagnostic.figures.clone(),
        help: diagnostic.help.clone(),
        fix: diagnostic.fix.as_ref().map(|fix| change(sources, fix)),
        accepted: diagnostic.accepted.clone(),
    }
}

fn change(sources: &Sources, fix: &Fix) -> Change {
    let replacement = |edit: &super::Edit| {
        let Place { path, start, end, text } = place(sources, edit.span, &edit.text);
        Replacement { path, start, end, text }
    };
    Change { certain: fix.certainty == Certainty::Certain, edits: fix.edits.iter().map(replacement).collect() }
}

fn place(sources: &Sources, span: Span, text: &str) -> Place {
    let file = sources.get(span.file);
    Place {
        path: file.map(|file| file.path.clone()).unwrap_or_default(),
        start: position(file, span.start),
        end: position(file, span.end),
        text: text.to_owned(),
    }
}

fn position(file: Option<&SourceFile>, byte: usize) -> Position {
    let (line, column) = file.map_or((1, 1), |file| file.line_column(byte));
    Position { line, column, byte }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_seen_is_seen_and_reads_back() {
        let text = "a\u{202e}b\u{2028}c\u{200b}d\u{9b}e\u{e0041}\u{1b}é扉";
        let printed = print(&[text]);
        let escaped = r#""a\u202eb\u2028c\u200bd\u009be\udb40\udc41\u001bé扉""#;
        assert_eq!(printed, format!("[\n  {escaped}\n]\n"));
        assert_eq!(serde_json::from_str::<Vec<String>>(&printed).unwrap(), [text]);
    }
}
