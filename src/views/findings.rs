//! What the findings mean: which rules found something on this site. Their pages are put behind it by `emit`, as they are.

use serde::Serialize;
use serde_json::Value;

use super::{Document, Orientation, View, value};
use crate::compiled::Compiled;
use crate::diag::Rule;
use crate::template;

/// The sheet.
pub(crate) static DOCUMENT: Document = Document {
    name: "findings",
    title: "What the findings mean",
    about: "for each rule that found something: what it looks for, why, a good example, when to accept it",
    orientation: Orientation::Portrait,
    template: template!("findings"),
    view: View::Plain(view),
    table: None,
};

#[derive(Serialize)]
struct Findings {
    rules: Vec<Line>,
}

#[derive(Serialize)]
struct Line {
    rule: &'static str,
    severity: &'static str,
    summary: &'static str,
}

fn view(compiled: &Compiled) -> Value {
    let line = |rule: &'static Rule| Line { rule: rule.slug, severity: rule.severity().word(), summary: rule.summary };
    value(&Findings { rules: rules(compiled).into_iter().map(line).collect() })
}

/// The rules that found something, by name.
pub(crate) fn rules(compiled: &Compiled) -> Vec<&'static Rule> {
    let mut rules: Vec<&'static Rule> = compiled.findings.iter().map(|found| found.rule).collect();
    rules.sort_unstable_by_key(|rule| rule.slug);
    rules.dedup_by_key(|rule| rule.slug);
    rules
}
