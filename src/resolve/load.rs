//! The files of a site: where bytes come from, and the closure of `include`.
//!
//! Files are discovered first and put in canonical order (`site.kdl`, the site's own by path, shared parts by
//! path); only then is anything parsed, so that no result depends on the order in which files are named.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use rayon::prelude::*;

use crate::base::{FileId, SourceFile, Sources, Span, Spanned};
use crate::diag::Sink;
use crate::schema::limits::Tally;
use crate::schema::{Kind, Names, Reading, read_document};
use crate::syntax::{self, Document, Node, Value};

use super::path::{PathFault, normalise};
use super::secret_lines::SecretLines;
use super::text::{Content, Remembered, Text};
use super::{rules, secrets};

/// The most files that one site may include.
pub(crate) const MOST_FILES: usize = 64;

/// The most bytes that the files of one site may have together.
pub(crate) const MOST_BYTES: usize = 2 * 1024 * 1024;

/// The file that makes a folder a site.
pub const SITE_FILE: &str = "site.kdl";

pub(super) const SHARED: &str = "../parts/";

/// Where a compilation gets its files from. The implementation on disk is in `cli`.
pub trait FileSource {
    /// The bytes of a file by its path relative to the site's folder, with `/`; a shared part is `../parts/…`.
    fn read(&self, path: &str) -> Result<Vec<u8>, ReadFault>;

    /// The paths of the spec files in the site's folder, in order, as far as they are known: for helps alone.
    fn spec_files(&self) -> Vec<String> {
        Vec::new()
    }

    /// The path as shown to people.
    fn shown(&self, path: &str) -> String {
        path.to_owned()
    }

    /// What was made of these files before, for who reads them again and again.
    fn remembered(&self) -> Option<&Remembered> {
        None
    }
}

/// Why a file could not be had.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ReadFault {
    /// There is no such file.
    #[error("there is no such file")]
    Missing,
    /// A folder, a device, a pipe.
    #[error("it is not a regular file")]
    NotAFile,
    /// A link leads out of the site's folder and of the shared parts folder.
    #[error("a link in its path leads out of the site's folder")]
    Escapes,
    /// Larger than the limit; holds the size in bytes.
    #[error("it is {0} bytes long, and a spec file is at most 1 MiB")]
    TooLarge(u64),
    /// What the operating system said.
    #[error("{0}")]
    Failed(String),
}

/// Files in memory, for tests and front ends with open buffers.
#[derive(Clone, Debug, Default)]
pub struct MemoryFiles(pub BTreeMap<String, Vec<u8>>);

impl FileSource for MemoryFiles {
    fn read(&self, path: &str) -> Result<Vec<u8>, ReadFault> {
        self.0.get(path).cloned().ok_or(ReadFault::Missing)
    }

    fn spec_files(&self) -> Vec<String> {
        self.0.keys().filter(|path| path.ends_with(".kdl") && !path.starts_with("../")).cloned().collect()
    }
}

/// The files of a site with new texts over some.
pub(crate) struct Changed<'f> {
    /// The files as they are.
    pub(crate) files: &'f dyn FileSource,
    /// The new texts, by path.
    pub(crate) texts: BTreeMap<String, String>,
}

impl FileSource for Changed<'_> {
    fn read(&self, path: &str) -> Result<Vec<u8>, ReadFault> {
        self.texts.get(path).map_or_else(|| self.files.read(path), |text| Ok(text.clone().into_bytes()))
    }

    fn spec_files(&self) -> Vec<String> {
        self.files.spec_files()
    }

    fn shown(&self, path: &str) -> String {
        self.files.shown(path)
    }
}

/// A parsed file.
#[derive(Debug)]
pub(crate) struct File {
    /// Path relative to the site's folder.
    pub(crate) path: String,
    /// Its text; `None` where it could not be read as one.
    text: Option<Arc<Text>>,
    /// True for a file of the shared parts folder.
    pub(crate) shared: bool,
}

impl File {
    /// Its tree.
    pub(crate) fn document(&self) -> &Document {
        static NONE: Document = Document { nodes: Vec::new(), broken: Vec::new() };
        self.text.as_ref().map_or(&NONE, |text| &text.document)
    }
}

/// The files of a site.
#[derive(Debug, Default)]
pub(crate) struct Loaded {
    /// Their text, for rendering.
    pub(crate) sources: Sources,
    /// Their trees, in the order of their [`FileId`]s.
    pub(crate) files: Vec<File>,
    /// False where a file could not be read: anything may be missing.
    pub(crate) complete: bool,
    /// The lines that hold a secret.
    pub(crate) secret_lines: SecretLines,
    /// The text beside the spec.
    pub(crate) beside: Option<Arc<Text>>,
}

impl Loaded {
    /// Adds a text.
    fn add(&mut self, read: Arc<Text>, sink: &mut Sink) {
        self.sources.add(Arc::clone(&read.source));
        let path = read.source.in_site.clone();
        sink.extend(read.secrets.iter().map(|secret| rules::secret(read.id, &path, secret)));
        for secret in read.secrets.iter().filter(|secret| secret.certain) {
            // Masking moves no line end.
            let lines = secret.lines(&read.source);
            self.secret_lines.add(Span::new(read.id, lines.start, lines.end));
        }
        sink.extend(read.found.found().iter().cloned());
        self.files.push(File { shared: path.starts_with(SHARED), path, text: Some(read) });
    }

    /// Adds a file that is no text, with what can be shown of it.
    fn add_unread(&mut self, (path, shown): (String, &str), fault: &syntax::DecodeFault, lossy: &str, sink: &mut Sink) {
        let masked = secrets::mask(lossy, &secrets::find(lossy));
        let id = self.sources.add(SourceFile::of_site(path.as_str(), shown, masked));
        sink.push(syntax::decode_diagnostic(fault, id));
        self.complete = false;
        self.files.push(File { shared: path.starts_with(SHARED), path, text: None });
    }
}

/// Reads `site.kdl` and all that it includes, and parses it. A text beside the spec, by its path, is masked and parsed with
/// it and is the last of the sources; it is no part of the spec, and what is found in it is not told here.
pub(crate) fn load(files: &dyn FileSource, beside: Option<(&str, &str)>, sink: &mut Sink) -> Loaded {
    let Discovered { contents, too_long } = discover(files, SITE_FILE);
    let mut paths: Vec<&String> = contents.keys().collect();
    paths.sort_by_key(|path| (path.as_str() != SITE_FILE, path.starts_with(SHARED), path.as_str()));

    let mut loaded = Loaded { complete: true, ..Loaded::default() };
    let mut unreadable: BTreeMap<String, &ReadFault> = BTreeMap::new();
    let beside = beside.map(|(path, text)| (path.to_owned(), Content::Text(text.to_owned(), Vec::new())));
    let mut found: Vec<Found> = paths
        .into_iter()
        .filter_map(|path| {
            let content = contents.get(path)?.as_ref().map(Arc::as_ref);
            if let Err(fault) = content
                && path != SITE_FILE
            {
                unreadable.insert(secrets::hide(path), fault);
                loaded.complete = false;
                return None;
            }
            let path = secrets::hide(path);
            Some(Found { shown: files.shown(&path), path, content })
        })
        .collect();
    found.extend(beside.as_ref().map(|(path, content)| Found {
        path: path.clone(),
        shown: files.shown(path),
        content: Ok(content),
    }));
    let mut texts = read_all(&found, files.remembered());
    loaded.beside = texts.pop_if(|_| beside.is_some()).flatten();
    for (Found { path, shown, content }, text) in found.into_iter().zip(texts) {
        match content {
            Ok(Content::Text(..)) => text.into_iter().for_each(|text| loaded.add(text, sink)),
            Ok(Content::NotText(fault, lossy)) => loaded.add_unread((path, &shown), fault, lossy, sink),
            Err(fault) => {
                let id = loaded.sources.add(SourceFile::of_site(path, shown, ""));
                sink.push(rules::site_file_unreadable(Span::new(id, 0, 0), fault));
                loaded.complete = false;
            }
        }
    }
    loaded.beside.iter().for_each(|text| _ = loaded.sources.add(Arc::clone(&text.source)));
    let known: BTreeSet<String> = contents.keys().map(|path| secrets::hide(path)).collect();
    let too_long: BTreeSet<String> = too_long.iter().map(|path| secrets::hide(path)).collect();
    report_includes(files, &loaded.files, &known, &unreadable, &too_long, sink);
    loaded.complete &= loaded
        .files
        .iter()
        .flat_map(|f| includes(f.document()))
        .all(|(_, target)| target.is_some_and(|it| normalise(&it.value).is_ok_and(|path| known.contains(&path))));
    loaded
}

/// A file, before it is read.
struct Found<'f> {
    /// Its path in the site, nothing secret in it.
    path: String,
    /// Its path on the screen.
    shown: String,
    content: Result<&'f Content, &'f ReadFault>,
}

/// Masks and parses the texts among some files, on all cores; the ids are those of their order.
fn read_all(found: &[Found<'_>], remembered: Option<&Remembered>) -> Vec<Option<Arc<Text>>> {
    let read = |(at, file): (usize, &Found<'_>)| match file.content {
        Ok(Content::Text(text, _)) => Some(Text::read(FileId::of(at), (&file.path, &file.shown), text, remembered)),
        Ok(Content::NotText(..)) | Err(_) => None,
    };
    found.par_iter().enumerate().map(read).collect()
}

/// Parses one file; what it includes is not looked for.
pub(crate) fn alone(path: &str, bytes: Vec<u8>, sink: &mut Sink) -> Loaded {
    let mut loaded = Loaded { complete: true, ..Loaded::default() };
    match Content::of(bytes) {
        Content::Text(text, _) => {
            loaded.add(Text::read(FileId::default(), (&secrets::hide(path), path), &text, None), sink);
        }
        Content::NotText(fault, lossy) => loaded.add_unread((secrets::hide(path), path), &fault, &lossy, sink),
    }
    loaded
}

/// The paths of `site.kdl` and of all that it includes, in order; what is at them may be unreadable.
pub(crate) fn paths(files: &dyn FileSource) -> Vec<String> {
    discover(files, SITE_FILE).contents.into_keys().collect()
}

/// What a file and all that it includes define, by kind. Empty where it is not there.
pub(crate) fn definitions(files: &dyn FileSource, path: &str) -> BTreeSet<(Names, String)> {
    fn add(reading: &Reading, defined: &mut BTreeSet<(Names, String)>) {
        for row in reading.spec.arguments {
            if let (Kind::Name(kind), Some(name)) = (row.kind, reading.text(row.name)) {
                defined.insert((kind, name.value));
            }
        }
        reading.children.iter().for_each(|child| add(child, defined));
    }
    let mut defined = BTreeSet::new();
    for content in discover(files, path).contents.into_values() {
        let Ok(Content::Text(text, _)) = content.as_deref() else { continue };
        let read = Text::read(FileId::default(), (path, path), text, None);
        // What is wrong with it is told where it is included.
        for reading in &read_document(&read.document, &mut Tally::new(), &mut Sink::default()) {
            add(reading, &mut defined);
        }
    }
    defined
}

/// The file beside the spec that every command reads by itself.
pub(crate) const REGISTER_FILE: &str = "register.kdl";

/// The files that a first one leads to.
#[derive(Default)]
struct Discovered {
    /// What is in them, by path.
    contents: BTreeMap<String, Result<Arc<Content>, ReadFault>>,
    /// Those left out because all would be too long together.
    too_long: BTreeSet<String>,
}

fn discover(files: &dyn FileSource, first: &str) -> Discovered {
    let Discovered { mut contents, mut too_long } = Discovered::default();
    let mut left = MOST_BYTES;
    let mut seen = BTreeSet::new();
    let mut waiting = vec![first.to_owned()];
    while !waiting.is_empty() {
        let mut read: Vec<(String, Vec<u8>)> = Vec::new();
        for path in std::mem::take(&mut waiting) {
            if contents.len() + read.len() > MOST_FILES || !seen.insert(path.clone()) {
                continue;
            }
            match files.read(&path) {
                Err(ReadFault::TooLarge(size)) => {
                    let length = usize::try_from(size).unwrap_or(usize::MAX);
                    let fault = syntax::DecodeFault::TooLarge { length };
                    contents.insert(path, Ok(Arc::new(Content::NotText(fault, String::new()))));
                }
                Err(fault) => _ = contents.insert(path, Err(fault)),
                Ok(bytes) if bytes.len() <= syntax::LARGEST && bytes.len() > left => _ = too_long.insert(path),
                Ok(bytes) => {
                    left = left.saturating_sub(bytes.len());
                    read.push((path, bytes));
                }
            }
        }
        let remembered = files.remembered();
        let content = |(path, bytes): (String, Vec<u8>)| {
            let content = match remembered.filter(|known| known.keeps(&path)) {
                None => Arc::new(Content::of(bytes)),
                Some(known) => known.contents.get((path.clone(), bytes), |(_, bytes)| Content::of(bytes.clone())),
            };
            (path, content)
        };
        for (path, content) in read.into_par_iter().map(content).collect::<Vec<_>>() {
            if let Content::Text(_, targets) = content.as_ref() {
                waiting.extend(targets.iter().filter_map(|target| normalise(target).ok()));
            }
            contents.insert(path, Ok(content));
        }
    }
    Discovered { contents, too_long }
}

/// The include nodes of a document, each with its target, where that could be read.
fn includes(document: &Document) -> impl Iterator<Item = (&Node, Option<Spanned<String>>)> {
    document.nodes.iter().filter(|node| node.name.value == "include").map(|node| (node, target(node)))
}

fn target(node: &Node) -> Option<Spanned<String>> {
    match node.arguments.first().map(|a| &a.value) {
        Some(Spanned { value: Value::Text(text), span }) => Some(Spanned::new(text.clone(), *span)),
        _ => None,
    }
}

fn report_includes(
    source: &dyn FileSource,
    files: &[File],
    known: &BTreeSet<String>,
    unreadable: &BTreeMap<String, &ReadFault>,
    too_long: &BTreeSet<String>,
    sink: &mut Sink,
) {
    let mut edges: BTreeMap<&str, Vec<(String, Span)>> = BTreeMap::new();
    let mut spec_files = None;
    // The first file past the limit is reported; the ones behind it are of the same kind.
    let mut too_many = false;
    for file in files {
        for (node, written) in includes(file.document()) {
            let Some(written) = written else { continue };
            match normalise(&written.value) {
                Err(PathFault::Register) => sink.push(rules::include_of_register(&written, node.with_its_end())),
                Err(fault) => sink.push(rules::include_outside(&written, &fault)),
                Ok(path) => {
                    if let Some(fault) = unreadable.get(path.as_str()) {
                        let known = spec_files.get_or_insert_with(|| {
                            source.spec_files().iter().map(|path| secrets::hide(path)).collect::<Vec<_>>()
                        });
                        sink.push(rules::include_unreadable(&written, fault, known));
                    } else if !known.contains(&path) && !std::mem::replace(&mut too_many, true) {
                        let is_too_long = too_long.contains(&path);
                        sink.push(if is_too_long {
                            rules::include_too_long(&written)
                        } else {
                            rules::include_too_many(&written)
                        });
                    }
                    edges.entry(&file.path).or_default().push((path, written.span));
                }
            }
        }
    }
    let mut done = BTreeSet::new();
    for file in files {
        follow(&file.path, &edges, &mut Vec::new(), &mut done, sink);
    }
}

/// Depth-first walk that reports the include closing each circle.
fn follow<'e>(
    path: &'e str,
    edges: &'e BTreeMap<&str, Vec<(String, Span)>>,
    trail: &mut Vec<&'e str>,
    done: &mut BTreeSet<&'e str>,
    sink: &mut Sink,
) {
    if !done.insert(path) {
        return;
    }
    trail.push(path);
    for (next, span) in edges.get(path).into_iter().flatten() {
        if let Some(start) = trail.iter().position(|p| p == next) {
            let circle: Vec<&str> = trail.iter().skip(start).copied().chain([next.as_str()]).collect();
            sink.push(rules::include_cycle(*span, &circle));
        } else {
            follow(next, edges, trail, done, sink);
        }
    }
    trail.pop();
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What is found in a site whose files have so many bytes together, the last of them one of the smaller ones.
    fn found(bytes: usize) -> Vec<String> {
        let site = "include \"a.kdl\"\ninclude \"b.kdl\"\ninclude \"c.kdl\"\n".to_owned();
        let comment = |length: usize| format!("//{}", "x".repeat(length - 2)).into_bytes();
        let full = syntax::LARGEST;
        let rest = bytes - site.len() - full;
        let texts = [
            ("site.kdl", site.into_bytes()),
            ("a.kdl", comment(full)),
            ("b.kdl", comment(rest - 100)),
            ("c.kdl", comment(100)),
        ];
        let files = MemoryFiles(texts.into_iter().map(|(path, text)| (path.to_owned(), text)).collect());
        let mut sink = Sink::default();
        let loaded = load(&files, None, &mut sink);
        assert_eq!(loaded.complete, sink.found().is_empty());
        sink.found().iter().map(|found| format!("{}: {}", found.rule.slug, found.title)).collect()
    }

    #[test]
    fn the_files_of_a_site_are_so_long_together_and_no_longer() {
        assert_eq!(found(MOST_BYTES), [""; 0]);
        assert_eq!(found(MOST_BYTES + 1), ["include-too-many: `c.kdl` is one file too many"]);
    }
}
