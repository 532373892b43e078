//! A list of diagnostics as text in one of the formats, with the sum in the last line.

use std::cmp::Reverse;
use std::fmt::Write;

use super::terminal::{Look, draw};
use super::{Counts, Diagnostic, Severity, json, short};
use crate::base::Sources;

/// How many diagnostics are printed for people; the rest are counted.
pub(crate) const LIMIT: usize = 100;

/// A form of output.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// Drawn for a terminal.
    Human(Look),
    /// One line each.
    Short,
    /// A document for programs.
    Json,
}

/// Renders diagnostics. At most `limit` are printed, the most severe first to be kept; the rest are counted.
pub fn render(format: Format, sources: &Sources, diagnostics: &[Diagnostic], limit: usize) -> String {
    render_from(format, sources, diagnostics, (limit, None))
}

/// The same, of these alone that are `least` or more severe and that nobody has accepted, if one is given; programs get all.
pub(crate) fn render_from(
    format: Format,
    sources: &Sources,
    diagnostics: &[Diagnostic],
    (limit, least): (usize, Option<Severity>),
) -> String {
    let is_told = |found: &&Diagnostic| least.is_none_or(|least| found.severity() >= least && found.accepted.is_none());
    let told: Vec<&Diagnostic> = diagnostics.iter().filter(is_told).collect();
    let printed = most_severe(told.iter().copied(), limit);
    let mut text = String::new();
    match format {
        Format::Human(look) => text.push_str(&drawn(look, sources, &printed)),
        Format::Short => printed.iter().for_each(|diagnostic| text.push_str(&short::line(sources, diagnostic))),
        Format::Json => {}
    }
    if format == Format::Json {
        let findings = json::Findings::new(sources, diagnostics, limit);
        return json::print(&json::Report { version: json::VERSION, findings });
    }
    if printed.len() < told.len() {
        let _ = writeln!(text, "{} more are not shown", told.len() - printed.len());
    }
    let _ = writeln!(text, "{}", Counts::of(diagnostics));
    text
}

/// Each drawn with its place, but of the notes of one rule only the first: twenty parts to confirm are one matter, and
/// the others follow it in a line each.
fn drawn(look: Look, sources: &Sources, printed: &[&Diagnostic]) -> String {
    let is_note = |diagnostic: &Diagnostic| diagnostic.severity() == Severity::Note;
    let first_of_rule = |index: usize, diagnostic: &Diagnostic| {
        printed.iter().take(index).all(|earlier| earlier.rule != diagnostic.rule)
    };
    let mut text = String::new();
    for (index, diagnostic) in printed.iter().enumerate() {
        if is_note(diagnostic) && !first_of_rule(index, diagnostic) {
            continue;
        }
        text.push_str(&draw(look, sources, diagnostic));
        if is_note(diagnostic) {
            let same = printed.iter().skip(index + 1).filter(|later| later.rule == diagnostic.rule);
            for later in same {
                text.push_str(&look.fit(&format!("  also {}", short::place_and_title(sources, later))));
            }
        }
        text.push('\n');
    }
    text
}

/// The `limit` most severe, in the order given: a hundred notes must not hide an error.
pub(super) fn most_severe<'d>(diagnostics: impl Iterator<Item = &'d Diagnostic>, limit: usize) -> Vec<&'d Diagnostic> {
    let mut ranked: Vec<(usize, &Diagnostic)> = diagnostics.enumerate().collect();
    ranked.sort_by_key(|(index, diagnostic)| (Reverse(diagnostic.severity()), *index));
    ranked.truncate(limit);
    ranked.sort_by_key(|(index, _)| *index);
    ranked.into_iter().map(|(_, diagnostic)| diagnostic).collect()
}

#[cfg(test)]
mod tests;
