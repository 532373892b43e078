//! What was found, as an editor shows it.

use std::collections::BTreeMap;

use lsp_types::{DiagnosticRelatedInformation, DiagnosticSeverity, NumberOrString, PublishDiagnosticsParams};

use super::sites::Sites;
use super::text::Lines;
use crate::base::{FileId, Span};
use crate::diag::{Diagnostic, Severity};
use crate::session::Study;

/// Who speaks.
const SOURCE: &str = "loopwright";

/// The most findings of a site that an editor is given: nobody reads more.
const MOST: usize = 1_000;

/// The findings of every file, by path. A file that several sites include has those of all of them.
pub(crate) fn by_file(sites: &Sites) -> BTreeMap<String, Vec<lsp_types::Diagnostic>> {
    let mut all: BTreeMap<String, Vec<lsp_types::Diagnostic>> = BTreeMap::new();
    for (folder, study) in sites.studies() {
        let lines: BTreeMap<FileId, Lines<'_>> =
            study.sources().entries().map(|(id, file)| (id, Lines::new(&file.text, sites.encoding))).collect();
        for diagnostic in study.diagnostics.iter().take(MOST) {
            let span = diagnostic.span();
            let Some(file) = study.sources().get(span.file) else { continue };
            let found = shown(sites, folder, study, &lines, diagnostic);
            let list = all.entry(sites.path(folder, file)).or_default();
            if !list.contains(&found) {
                list.push(found);
            }
        }
    }
    for (key, _) in sites.open_texts().filter(|(key, _)| sites.is_alone(key)) {
        all.entry(key.clone()).or_default().push(lsp_types::Diagnostic {
            severity: Some(DiagnosticSeverity::HINT),
            source: Some(SOURCE.to_owned()),
            message: "No site is known that has this file: only its form is looked at. It belongs to a site when the site.kdl in its folder, or in one above, includes it.".to_owned(),
            ..lsp_types::Diagnostic::default()
        });
    }
    all
}

/// The findings of a file for the editor.
pub(crate) fn published(
    sites: &Sites,
    path: &str,
    diagnostics: Vec<lsp_types::Diagnostic>,
) -> Option<PublishDiagnosticsParams> {
    let version = sites.text(path).map(|open| open.version);
    Some(PublishDiagnosticsParams { uri: sites.uri(path)?, diagnostics, version })
}

fn shown(
    sites: &Sites,
    folder: &str,
    study: &Study,
    lines: &BTreeMap<FileId, Lines<'_>>,
    found: &Diagnostic,
) -> lsp_types::Diagnostic {
    let range = |span: Span| lines.get(&span.file).map(|lines| lines.range(span.start, span.end)).unwrap_or_default();
    let location = |span: Span| {
        let uri = sites.uri(&sites.path(folder, study.sources().get(span.file)?))?;
        Some(lsp_types::Location { uri, range: range(span) })
    };
    let related: Vec<DiagnosticRelatedInformation> = found
        .labels
        .iter()
        .skip(1)
        .filter_map(|label| {
            let message = if label.text.is_empty() { found.title.clone() } else { label.text.clone() };
            Some(DiagnosticRelatedInformation { location: location(label.span)?, message })
        })
        .collect();
    lsp_types::Diagnostic {
        range: range(found.span()),
        severity: Some(match (&found.accepted, found.severity()) {
            (Some(_), _) => DiagnosticSeverity::HINT,
            (None, Severity::Error) => DiagnosticSeverity::ERROR,
            (None, Severity::Warning) => DiagnosticSeverity::WARNING,
            (None, Severity::Note) => DiagnosticSeverity::INFORMATION,
        }),
        code: Some(NumberOrString::String(found.rule.slug.to_owned())),
        source: Some(SOURCE.to_owned()),
        message: message(found),
        related_information: Some(related).filter(|related| !related.is_empty()),
        ..lsp_types::Diagnostic::default()
    }
}

/// Everything that a finding says, most needed first.
fn message(found: &Diagnostic) -> String {
    let here = found.labels.first().map(|label| label.text.as_str()).filter(|text| !text.is_empty());
    let mut lines = vec![here.map_or_else(|| found.title.clone(), |here| format!("{}: {here}", found.title))];
    lines.extend(found.accepted.iter().map(|because| format!("Accepted: {because}")));
    lines.extend(Some(found.paragraph.clone()).filter(|text| !text.is_empty()));
    lines.extend(found.figures.iter().map(|figure| format!("  {figure}")));
    if !found.help.is_empty() {
        lines.push(format!("Help: {}", found.help));
    }
    lines.join("\n")
}
