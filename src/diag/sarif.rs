//! Findings as SARIF 2.1.0 (OASIS, 2020), which code hosts and editors read.
//!
//! Columns count characters, as our own do. An accepted finding is a suppressed one, with the site's reason.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use super::{Diagnostic, Fix, Label, Rule};
use crate::base::{SourceFile, Sources, Span, uri};

/// Where the schema of the format is published.
const SCHEMA: &str = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";

/// The findings of any number of sites as one log, each site with its files.
pub(crate) fn log<'s>(sites: impl Iterator<Item = (&'s Sources, &'s [Diagnostic])>) -> Value {
    let mut rules: BTreeMap<&'static str, &'static Rule> = BTreeMap::new();
    let mut results = Vec::new();
    for (sources, diagnostics) in sites {
        for diagnostic in diagnostics {
            rules.insert(diagnostic.rule.slug, diagnostic.rule);
            results.push(result(sources, diagnostic));
        }
    }
    let rules: Vec<Value> = rules.into_values().map(rule).collect();
    let driver = json!({ "name": "loopwright", "version": env!("CARGO_PKG_VERSION"), "rules": rules });
    let run = json!({ "tool": { "driver": driver }, "columnKind": "unicodeCodePoints", "results": results });
    json!({ "$schema": SCHEMA, "version": "2.1.0", "runs": [run] })
}

fn rule(rule: &'static Rule) -> Value {
    json!({
        "id": rule.slug,
        "shortDescription": { "text": rule.summary },
        "help": { "text": rule.page, "markdown": rule.page },
        "defaultConfiguration": { "level": rule.severity().word() },
    })
}

fn result(sources: &Sources, diagnostic: &Diagnostic) -> Value {
    let parts = [&diagnostic.title, &diagnostic.paragraph, &diagnostic.help];
    let text: Vec<&str> = parts.into_iter().map(String::as_str).filter(|part| !part.is_empty()).collect();
    let mut places = diagnostic.labels.iter().filter_map(|label| place(sources, label));
    let mut result = json!({
        "ruleId": diagnostic.rule.slug,
        "level": diagnostic.severity().word(),
        "message": { "text": text.join("\n") },
        "locations": places.next().into_iter().collect::<Vec<_>>(),
        "relatedLocations": places.collect::<Vec<_>>(),
    });
    if let Some(result) = result.as_object_mut() {
        if let Some(reason) = &diagnostic.accepted {
            result.insert("suppressions".into(), json!([{ "kind": "inSource", "justification": reason }]));
        }
        if let Some(fix) = &diagnostic.fix {
            result.insert("fixes".into(), json!([change(sources, fix, &diagnostic.help)]));
        }
    }
    result
}

/// The edits of a fix, file by file.
fn change(sources: &Sources, fix: &Fix, help: &str) -> Value {
    let changes = fix.files().into_iter().filter_map(|id| {
        let file = sources.get(id)?;
        let edits = fix.edits.iter().filter(|edit| edit.span.file == id);
        let replacements: Vec<Value> = edits
            .map(|edit| json!({ "deletedRegion": region(file, edit.span), "insertedContent": { "text": edit.text } }))
            .collect();
        Some(json!({ "artifactLocation": { "uri": uri::of_path(&file.path) }, "replacements": replacements }))
    });
    json!({ "description": { "text": help }, "artifactChanges": changes.collect::<Vec<_>>() })
}

fn region(file: &SourceFile, span: Span) -> Value {
    let ((line, column), (end_line, end_column)) = (file.line_column(span.start), file.line_column(span.end));
    json!({ "startLine": line, "startColumn": column, "endLine": end_line, "endColumn": end_column })
}

/// A place in a file; `None` where there is no file.
fn place(sources: &Sources, label: &Label) -> Option<Value> {
    let file = sources.get(label.span.file)?;
    let region = region(file, label.span);
    let physical = json!({ "artifactLocation": { "uri": uri::of_path(&file.path) }, "region": region });
    let text = if label.text.is_empty() { "here" } else { label.text.as_str() };
    Some(json!({ "physicalLocation": physical, "message": { "text": text } }))
}
