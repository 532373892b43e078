//! A new name for a thing, in every file of its site and in the register.
//!
//! The names of the register are those of the spec, so they change with it; what stands on cables does not. Before an editor
//! gets the changes they are tried: the site is read with them, and where a label, an input or a finding would become another,
//! nothing is changed and the editor is told what would have.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use lsp_types::{Range, TextEdit};
use serde::Serialize;

use super::sites::{FileOf, Sites};
use super::text::Lines;
use crate::base::wording::{a, list};
use crate::base::{FileId, Span};
use crate::compiled::Compiled;
use crate::diag::{Diagnostic, Severity};
use crate::register_file;
use crate::resolve::load::{Changed, FileSource};
use crate::resolve::mentions::{Mention, Mentions, Named};
use crate::schema::Names;
use crate::session::{self, Study};
use crate::words;

/// What is to be changed, by the address of the file.
#[derive(Debug, Serialize)]
pub(crate) struct Edits {
    pub(crate) changes: BTreeMap<String, Vec<TextEdit>>,
}

/// The name at a byte and where it stands, where it is one that can be changed.
#[derive(Debug, Serialize)]
pub(crate) struct Renamable {
    range: Range,
    placeholder: String,
}

/// The name at a byte, if it can be changed.
pub(crate) fn prepare(sites: &Sites, of: FileOf<'_>, offset: usize) -> Result<Renamable, String> {
    let mentions = of.study.mentions();
    let (mention, _, name) = renamable(mentions, of, offset)?;
    let (start, end) = (mention.span.start, mention.span.end);
    let written = of.file.slice(start, end);
    // Without the quotes.
    let inside = written.find(name).map_or((start, end), |at| (start + at, start + at + name.len()));
    let range = Lines::new(&of.file.text, sites.encoding).range(inside.0, inside.1);
    Ok(Renamable { range, placeholder: name.to_owned() })
}

fn renamable<'m>(
    mentions: &'m Mentions,
    of: FileOf<'_>,
    offset: usize,
) -> Result<(&'m Mention, Names, &'m str), String> {
    let mention = mentions.at(Span::new(of.id, offset, offset)).ok_or("there is no name here")?;
    let Named::Thing(kind, name) = &mention.named else {
        return Err(
            "numbers of zones and outputs of parts have one place each in the house; they are not renamed".to_owned()
        );
    };
    if *kind == Names::Site {
        return Err("the site's name is that of its packet's folder".to_owned());
    }
    let Some(definition) = mentions.definition(&mention.named) else {
        return Err(format!("no {} is called `{name}`", kind.noun()));
    };
    let shared = of.study.sources().get(definition.span.file).is_some_and(|file| file.in_site.starts_with("../"));
    if shared {
        return Err(format!("`{name}` is defined in the shared parts, which other sites use as well"));
    }
    Ok((mention, *kind, name))
}

/// What has to be changed for the thing at a byte to be called something else; why not, where it cannot.
pub(crate) fn rename(sites: &Sites, of: FileOf<'_>, offset: usize, new: &str) -> Result<Edits, String> {
    let mentions = of.study.all_mentions();
    let (mention, kind, old) = renamable(&mentions, of, offset)?;
    let Some(compiled) = of.study.compiled.as_ref().filter(|compiled| compiled.site.complete) else {
        return Err("some of the spec cannot be read, and the name may stand there too; see what was found".to_owned());
    };
    // What cannot be read of the register may hold the name as well.
    let sources = of.study.sources();
    let register = sources.entries().find(|(_, file)| file.in_site == register_file::FILE).map(|(id, _)| id);
    let is_in_it = |found: &Diagnostic| found.labels.first().is_some_and(|label| Some(label.span.file) == register);
    let errors = |found: &&Diagnostic| found.severity() == Severity::Error;
    if register.is_some() && of.study.diagnostics.iter().filter(errors).any(is_in_it) {
        return Err(format!("{} has an error, and the name may stand there too; mend that first", register_file::FILE));
    }
    if mentions.definition(&Named::Thing(kind, new.to_owned())).is_some() {
        return Err(format!("there is {} `{new}` already", a(kind.noun())));
    }
    let mut edits: BTreeMap<FileId, Vec<(Span, String)>> = BTreeMap::new();
    for place in mentions.of_site.iter().chain(&mentions.of_register).filter(|place| place.named == mention.named) {
        let written =
            of.study.sources().get(place.span.file).map_or("", |file| file.slice(place.span.start, place.span.end));
        let (before, behind) = &place.around;
        // Only the name is exchanged, so that what is escaped around it stays so.
        let (at, whole) = (before.len(), format!("{before}{old}{behind}"));
        let text = match written.find(&whole) {
            Some(from) => format!(
                "{}{new}{}",
                written.get(..from + at).unwrap_or_default(),
                written.get(from + at + old.len()..).unwrap_or_default()
            ),
            None => return Err(format!("`{old}` is written with escapes somewhere; write it plainly first")),
        };
        edits.entry(place.span.file).or_default().push((place.span, text));
    }
    let mut changes: BTreeMap<String, Vec<TextEdit>> = BTreeMap::new();
    let mut texts = BTreeMap::new();
    let files = sites.files(of.folder);
    for (id, mut edits) in edits {
        let Some(file) = of.study.sources().get(id) else { continue };
        edits.sort_by_key(|(span, _)| Reverse(span.start));
        let written =
            files.read(&file.in_site).ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default();
        let written = written.strip_prefix('\u{feff}').unwrap_or(&written);
        if written != file.text {
            return Err(format!("{} holds a secret, so its places are not certain; take that out first", file.in_site));
        }
        let mut text = file.text.clone();
        for (span, new) in &edits {
            text.replace_range(span.start..span.end, new);
        }
        texts.insert(file.in_site.clone(), text);
        let lines = Lines::new(&file.text, sites.encoding);
        let shown = edits
            .into_iter()
            .rev()
            .map(|(span, new_text)| TextEdit { range: lines.range(span.start, span.end), new_text });
        let uri = sites.uri(&sites.path(of.folder, file)).ok_or_else(|| format!("{} has no address", file.in_site))?;
        changes.insert(uri.as_str().to_owned(), shown.collect());
    }
    tried(of.study, compiled, &session::study(&Changed { files: &files, texts }))?;
    Ok(Edits { changes })
}

/// What would become another by the change, where something would.
fn tried(before: &Study, was: &Compiled, after: &Study) -> Result<(), String> {
    let errors = |study: &Study| {
        let errors = study.diagnostics.iter().filter(|found| found.severity() == Severity::Error);
        errors.map(|found| found.title.clone()).collect::<Vec<_>>()
    };
    let (known, found) = (errors(before), errors(after));
    if let Some(first) = found.iter().find(|title| !known.contains(title)).filter(|_| found.len() > known.len()) {
        return Err(format!("then there would be another error: {first}"));
    }
    let Some(is) = &after.compiled else { return Err("then the spec could not be read".to_owned()) };
    let labels = labels(was).into_iter().zip(self::labels(is)).filter(|(was, is)| was != is);
    let changed: Vec<String> = labels.map(|(was, is)| format!("{was} would be {is}")).take(MOST).collect();
    if !changed.is_empty() {
        return Err(format!("labels on cables would change: {}; give these a label= first", list(&changed, "and")));
    }
    let inputs = |compiled: &Compiled| {
        let of_zone = compiled.wiring.inputs.of_zone.iter();
        of_zone.map(|(zone, input)| (compiled.site.zones[*zone].number.value, *input)).collect::<BTreeMap<_, _>>()
    };
    if inputs(was) != inputs(is) {
        return Err("then zones would be on other inputs; write their input= first".to_owned());
    }
    Ok(())
}

/// How many labels are named that would change.
const MOST: usize = 3;

/// The labels of the cables in the order of the text, which a new name leaves as it is.
fn labels(compiled: &Compiled) -> Vec<String> {
    let mut runs: Vec<(Span, &str)> =
        compiled.site.runs.entries().map(|(id, run)| (run.span(), words::cable(&compiled.wiring, id))).collect();
    runs.sort();
    runs.into_iter().map(|(_, label)| label.to_owned()).collect()
}
