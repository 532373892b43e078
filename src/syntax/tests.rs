//! The stage as a whole: against kdl on valid texts, on mutated texts, on slips, and on hostile files.

mod against_kdl;
mod corners;
mod hostile;
mod pages;
mod slips;

use super::*;
use crate::diag::Diagnostic;

fn parsed(text: &str) -> (Document, Vec<Diagnostic>) {
    let mut sink = Sink::default();
    let document = parse(FileId(0), text, &mut sink);
    (document, sink.into_sorted())
}

/// `slug@start..end` of every diagnostic.
fn reported(text: &str) -> Vec<String> {
    parsed(text).1.iter().map(|d| format!("{}@{}..{}", d.rule.slug, d.span().start, d.span().end)).collect()
}

/// `slug "the text it stands at"` of every diagnostic.
fn slugs(text: &str) -> Vec<String> {
    let shown = |d: &Diagnostic| format!("{} {}", d.rule.slug, text.get(d.span().start..d.span().end).unwrap());
    parsed(text).1.iter().map(shown).collect()
}
