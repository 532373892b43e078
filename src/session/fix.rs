//! The fixes that findings bring, made in the texts of a site; nothing is written.
//!
//! One fix can uncover the next fault, for what stands in a broken node is not looked at, so the site is read again after
//! each round: first those of what is written, behind which more may be hidden, then those of what it means. A round in which
//! a finding is still there after its fix was made is taken back, and so is one of the second kind that adds an error of reading;
//! half of it is tried then, and so on, until the fix is found that is to blame. That one is left out.

use std::collections::BTreeMap;

use super::{Outcome, check};
use crate::base::{FileId, Sources, Span};
use crate::diag::fix::applied;
use crate::diag::{Certainty, Diagnostic, Edit, Fix, Rule};
use crate::resolve::load::{Changed, FileSource};
use crate::{resolve, schema, syntax};

/// More rounds than faults can hide behind one another in a text that a person wrote.
const ROUNDS: usize = 40;
const MARK: &[u8] = "\u{feff}".as_bytes();

/// A site after its fixes.
#[derive(Debug)]
pub struct Fixed {
    /// What is found in the new texts.
    pub outcome: Outcome,
    /// The files that differ, by path.
    pub files: Vec<FixedFile>,
    /// How many findings were fixed.
    pub fixes: usize,
}

/// A file that differs.
#[derive(Debug)]
pub struct FixedFile {
    /// Its path in the site's folder.
    pub path: String,
    /// Its bytes as they were read.
    pub old: Vec<u8>,
    /// Its new text, with the byte-order mark that the old one had.
    pub new: String,
}

/// Makes every fix of a site that is at least so certain, but for findings that it accepts.
pub fn fix(files: &dyn FileSource, least: Certainty) -> Fixed {
    let mut changed = Changed { files, texts: BTreeMap::new() };
    let mut outcome = check(&changed);
    let mut fixes = 0;
    let (mut refused, mut most): (Vec<Diagnostic>, _) = (Vec::new(), usize::MAX);
    for _ in 0..ROUNDS {
        let before = changed.texts.clone();
        let made = round(&mut changed, &outcome, least, (&refused, most));
        if made.is_empty() {
            break;
        }
        let after = check(&changed);
        let stays = |finding: &Diagnostic| after.diagnostics.iter().any(|other| is_same(other, finding));
        if made.iter().any(stays) || breaks(&made, &outcome, &after) {
            changed.texts = before;
            if made.len() > 1 {
                most = made.len() / 2;
            } else {
                most = usize::MAX;
                refused.extend(made);
            }
            continue;
        }
        fixes += made.len();
        outcome = after;
    }
    let differing = changed.texts.into_iter().filter_map(|(path, new)| {
        let old = files.read(&path).ok()?;
        Some(FixedFile { path, old, new })
    });
    Fixed { files: differing.collect(), fixes, outcome }
}

/// True where fixes behind which nothing was hidden have added an error of reading.
fn breaks(made: &[Diagnostic], before: &Outcome, after: &Outcome) -> bool {
    if made.iter().any(|finding| hides(finding.rule)) {
        return false;
    }
    let (before, mut after) = (errors(before), errors(after));
    // Of what a finding told, some may be left.
    after.retain(|rule, _| made.iter().all(|finding| finding.rule.slug != *rule));
    after.iter().any(|(rule, count)| before.get(rule).is_none_or(|before| count > before))
}

/// How many errors of reading there are, by rule.
fn errors(outcome: &Outcome) -> BTreeMap<&'static str, usize> {
    let of_reading = |rule: &Rule| hides(rule) || resolve::rules::RULES.iter().any(|other| other.slug == rule.slug);
    let mut errors = BTreeMap::new();
    for found in &outcome.diagnostics {
        if found.is_error() && of_reading(found.rule) {
            *errors.entry(found.rule.slug).or_insert(0) += 1;
        }
    }
    errors
}

/// True for the rules of what is written: what stands in a broken node is not looked at.
fn hides(rule: &Rule) -> bool {
    syntax::rules::RULES.iter().chain(schema::rules::RULES).any(|other| other.slug == rule.slug)
}

/// True of findings that say the same, with the same fix.
fn is_same(one: &Diagnostic, other: &Diagnostic) -> bool {
    (one.rule.slug, &one.title, text_of(one)) == (other.rule.slug, &other.title, text_of(other))
}

/// What a finding's fix writes.
fn text_of(finding: &Diagnostic) -> Option<&str> {
    finding.fix.as_ref().and_then(|fix| fix.edits.first()).map(|edit| edit.text.as_str())
}

/// Makes so many fixes that do not meet, none of those that are refused; gives their findings.
fn round(
    changed: &mut Changed<'_>,
    outcome: &Outcome,
    least: Certainty,
    (refused, most): (&[Diagnostic], usize),
) -> Vec<Diagnostic> {
    let mut edits: BTreeMap<FileId, Vec<&Edit>> = BTreeMap::new();
    let mut made = Vec::new();
    let ready = outcome.diagnostics.iter().filter_map(|finding| {
        let fix = finding.fix.as_ref().filter(|fix| fix.certainty >= least && finding.accepted.is_none())?;
        let is_possible =
            is_possible(changed, &outcome.sources, fix) && !refused.iter().any(|one| is_same(one, finding));
        is_possible.then_some((finding, fix))
    });
    let (written, meant): (Vec<_>, Vec<_>) = ready.partition(|(finding, _)| hides(finding.rule));
    for (finding, fix) in if written.is_empty() { meant } else { written } {
        if made.len() < most && !meets(&edits, fix) {
            fix.edits.iter().for_each(|edit| edits.entry(edit.span.file).or_default().push(edit));
            made.push(finding.clone());
        }
    }
    for (id, mut edits) in edits {
        edits.sort_by_key(|edit| edit.span.start);
        let Some(file) = outcome.sources.get(id) else { continue };
        if let Some(text) = text(changed, &file.in_site) {
            let (mark, text) = text.split_at(mark_of(&text));
            let new = format!("{mark}{}", applied(text, 0, &edits));
            changed.texts.insert(file.in_site.clone(), new);
        }
    }
    made
}

fn text(files: &dyn FileSource, path: &str) -> Option<String> {
    String::from_utf8(files.read(path).ok()?).ok()
}

/// The length of the byte-order mark that a text begins with.
fn mark_of(text: &str) -> usize {
    if text.as_bytes().starts_with(MARK) { MARK.len() } else { 0 }
}

/// True where the old text stands in the files as the finding saw it, nothing of it masked.
pub(crate) fn is_possible(files: &dyn FileSource, sources: &Sources, fix: &Fix) -> bool {
    fix.edits.iter().all(|Edit { span, .. }| {
        let Some(file) = sources.get(span.file) else { return false };
        let Some(text) = text(files, &file.in_site) else { return false };
        let at = mark_of(&text);
        text.get(at + span.start..at + span.end) == file.text.get(span.start..span.end)
    })
}

/// True where an edit would change what another one has changed.
fn meets(edits: &BTreeMap<FileId, Vec<&Edit>>, fix: &Fix) -> bool {
    let touch = |one: Span, other: Span| one.start <= other.end && other.start <= one.end;
    fix.edits
        .iter()
        .any(|edit| edits.get(&edit.span.file).into_iter().flatten().any(|other| touch(edit.span, other.span)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::resolve::load::ReadFault;

    struct One(&'static str);

    impl FileSource for One {
        fn read(&self, path: &str) -> Result<Vec<u8>, ReadFault> {
            if path == "site.kdl" { Ok(self.0.as_bytes().to_vec()) } else { Err(ReadFault::Missing) }
        }
    }

    fn fixed(text: &'static str, least: Certainty) -> (usize, Vec<String>) {
        let Fixed { files, fixes, .. } = fix(&One(text), least);
        (fixes, files.into_iter().map(|file| file.new).collect())
    }

    #[test]
    fn what_one_fix_uncovers_is_fixed_too() {
        let text = "\u{feff}site \"é\" lengths='m' {\n  # a comment\n}\nlevel \"a\" ceiling=9ft {\n  rom \"b\" kind=\"Hall\"\n}\n";
        let (fixes, files) = fixed(text, Certainty::Likely);
        assert_eq!(fixes, 5);
        let right = "\u{feff}site \"é\" lengths=\"m\" {\n  // a comment\n}\nlevel \"a\" ceiling=(ft)9 {\n  room \"b\" kind=\"hall\"\n}\n";
        assert_eq!(files, [right]);
    }

    #[test]
    fn only_what_is_certain_is_made_unless_asked() {
        let text = "site \"a\" lengths=\"m\"\nlevel \"a\" ceiling=9ft {\n  rom \"b\" kind=\"Hall\"\n}\n";
        let (fixes, files) = fixed(text, Certainty::Certain);
        assert_eq!(fixes, 1);
        assert_eq!(files, ["site \"a\" lengths=\"m\"\nlevel \"a\" ceiling=(ft)9 {\n  rom \"b\" kind=\"Hall\"\n}\n"]);
    }

    #[test]
    fn a_masked_value_is_never_written() {
        let text = "site \"a\" lengths=\"m\"\nlevel \"l\" note='the user code is 4417'\n";
        let (_, files) = fixed(text, Certainty::Likely);
        assert!(files.iter().all(|text| text.contains("4417")), "{files:?}");
    }
}
