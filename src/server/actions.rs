//! What the findings at a place propose, as changes that an editor can make.

use std::collections::BTreeMap;

use lsp_types::{CodeActionKind, CodeActionParams, NumberOrString, Range, TextEdit};
use serde::Serialize;

use super::layout;
use super::rename::Edits;
use super::sites::{FileOf, Sites};
use super::text::Lines;
use crate::diag::{Certainty, Diagnostic, Edit, Fix};
use crate::session;

/// All fixes of a file that need not be confirmed.
const FIX_ALL: CodeActionKind = CodeActionKind::new("source.fixAll.loopwright");

/// The kinds of action that there are.
pub(crate) const KINDS: [CodeActionKind; 2] = [CodeActionKind::QUICKFIX, FIX_ALL];

/// An action with its edit.
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub(crate) struct Action {
    title: String,
    kind: CodeActionKind,
    /// What it remedies.
    diagnostics: Vec<lsp_types::Diagnostic>,
    is_preferred: bool,
    edit: Edits,
}

/// The actions at a place of a file.
pub(crate) fn at(sites: &Sites, of: FileOf<'_>, params: &CodeActionParams) -> Vec<Action> {
    let only = params.context.only.as_deref();
    let wanted = |kind: &CodeActionKind| {
        let is_of = |one: &CodeActionKind| {
            kind.as_str() == one.as_str() || kind.as_str().starts_with(&format!("{}.", one.as_str()))
        };
        only.is_none_or(|only| only.iter().any(is_of))
    };
    let lines = Lines::new(&of.file.text, sites.encoding);
    let mut actions = Vec::new();
    if wanted(&CodeActionKind::QUICKFIX) {
        let here = of.study.diagnostics.iter().filter(|finding| {
            let span = finding.span();
            span.file == of.id && meets(lines.range(span.start, span.end), params.range)
        });
        actions.extend(here.filter_map(|finding| action(sites, of, &lines, params, finding)));
    }
    // It reads the whole site again, so it is made only for an editor that asks for it.
    if only.is_some() && wanted(&FIX_ALL) {
        actions.extend(fix_all(sites, of));
    }
    actions
}

fn action(
    sites: &Sites,
    of: FileOf<'_>,
    lines: &Lines<'_>,
    params: &CodeActionParams,
    finding: &Diagnostic,
) -> Option<Action> {
    let fix = finding.fix.as_ref()?;
    let span = finding.span();
    let (range, slug) = (lines.range(span.start, span.end), NumberOrString::String(finding.rule.slug.to_owned()));
    let told =
        params.context.diagnostics.iter().filter(|told| told.range == range && told.code.as_ref() == Some(&slug));
    Some(Action {
        title: finding.help.clone(),
        kind: CodeActionKind::QUICKFIX,
        diagnostics: told.cloned().collect(),
        is_preferred: fix.certainty >= Certainty::Likely,
        edit: Edits { changes: changes(sites, of, fix)? },
    })
}

/// The edits of a fix by file; `None` where it cannot be made.
fn changes(sites: &Sites, of: FileOf<'_>, fix: &Fix) -> Option<BTreeMap<String, Vec<TextEdit>>> {
    let mut changes: BTreeMap<String, Vec<TextEdit>> = BTreeMap::new();
    session::is_possible(&sites.files(of.folder), of.study.sources(), fix).then_some(())?;
    for Edit { span, text } in &fix.edits {
        let file = of.study.sources().get(span.file)?;
        let uri = sites.uri(&sites.path(of.folder, file))?;
        let range = sites.range(file, *span);
        changes.entry(uri.as_str().to_owned()).or_default().push(TextEdit { range, new_text: text.clone() });
    }
    Some(changes)
}

fn fix_all(sites: &Sites, of: FileOf<'_>) -> Option<Action> {
    let fixed = session::fix(&sites.files(of.folder), Certainty::Certain);
    let file = fixed.files.into_iter().find(|file| file.path == of.file.in_site)?;
    let old = String::from_utf8(file.old).ok()?;
    let uri = sites.uri(&sites.path(of.folder, of.file))?;
    let edits = vec![layout::edit(&old, &file.new, sites.encoding)?];
    Some(Action {
        title: "Make all changes that are certain".to_owned(),
        kind: FIX_ALL,
        diagnostics: Vec::new(),
        is_preferred: false,
        edit: Edits { changes: [(uri.as_str().to_owned(), edits)].into() },
    })
}

/// True for ranges that have a place in common.
fn meets(one: Range, other: Range) -> bool {
    one.start <= other.end && other.start <= one.end
}
