//! The names a site defines, and looking them up by kind.
//!
//! A part or a type of cable of the site's own takes the place of a shared one of the same name. References that nothing
//! answers are collected and reported together: one name is one finding, and so are many names that one forgotten include
//! would define (`unknown`).

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{Id, Span, Spanned};
use crate::diag::Sink;
use crate::schema::{Kind, Names as NameKind, Reading};
use crate::syntax::{Broken, Node, Value};

use super::unknown::Unknown;
use super::{FileReadings, rules};

/// Where a name is defined.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Definition {
    /// The place.
    pub(crate) span: Span,
    /// True in the shared parts folder: an unused name is no finding there.
    pub(crate) shared: bool,
}

/// All names of a site, what may stand in text that could not be read, and which names have been used.
#[derive(Debug, Default)]
pub(crate) struct Names {
    defined: BTreeMap<NameKind, BTreeMap<String, Definition>>,
    doubtful: BTreeSet<String>,
    /// Texts in nodes and properties that nobody knows: one may be the name that a misspelt one gives.
    unread: BTreeSet<String>,
    /// The names that are given twice: the second may be what a reference that finds nothing means.
    repeated: BTreeSet<(NameKind, String)>,
    /// Kinds of which a name was refused: that may be what a reference that finds nothing means.
    refused: BTreeSet<NameKind>,
    complete: bool,
    used: BTreeSet<(NameKind, String)>,
    unknown: BTreeMap<(NameKind, String), Unknown>,
    /// How many names may still be compared with one that nothing has.
    to_compare: usize,
}

/// How many names are compared in a site for what was probably meant: enough for a hundred slips among two thousand names.
const MOST_COMPARED: usize = 200_000;

impl Names {
    /// Collects the names that the readings define, and reports those defined twice.
    pub(crate) fn collect<'b>(
        files: &[FileReadings],
        broken: impl Iterator<Item = &'b Broken>,
        complete: bool,
        sink: &mut Sink,
    ) -> Self {
        let mut names = Self { complete, to_compare: MOST_COMPARED, ..Self::default() };
        for piece in broken {
            names.complete = names.complete && !piece.words.iter().any(|w| w == "include");
            names.doubtful.extend(piece.words.iter().cloned());
        }
        for file in files {
            for reading in &file.readings {
                names.define(reading, file.shared, sink);
            }
        }
        names
    }

    fn define(&mut self, reading: &Reading, shared: bool, sink: &mut Sink) {
        let arguments = reading.spec.arguments.iter().map(|row| (row.name, row.kind));
        let properties = reading.spec.properties.iter().map(|row| (row.name, row.kind));
        for (field, kind) in arguments.chain(properties) {
            let Kind::Name(kind) = kind else { continue };
            let Some(name) = reading.text(field) else { continue };
            // A second `site` is reported as such, not as a name used twice.
            let earlier = self.defined.get(&kind).and_then(|names| names.get(&name.value));
            match earlier {
                // The site's own files come first, so what is met here is the shared one.
                Some(earlier) if is_replaceable(kind) && earlier.shared != shared => {}
                Some(earlier) if kind != NameKind::Site => {
                    sink.push(rules::duplicate_name(kind, &name, earlier.span));
                    self.repeated.insert((kind, name.value));
                }
                _ => {
                    let definition = Definition { span: name.span, shared };
                    self.defined.entry(kind).or_default().insert(name.value, definition);
                }
            }
        }
        for child in &reading.children {
            self.define(child, shared, sink);
        }
    }

    /// Notes the texts that were not read, because no node or property of that name stands there.
    pub(crate) fn unread<'n>(&mut self, nodes: impl Iterator<Item = &'n Node>, readings: &[Reading]) {
        let text = |value: &Value| match value {
            Value::Text(text) => Some(text.clone()),
            Value::Number { .. } | Value::Flag(_) | Value::Null => None,
        };
        // Readings are in the order of their nodes.
        let mut readings = readings.iter().peekable();
        for node in nodes {
            let children = node.children.iter().flatten();
            match readings.next_if(|reading| reading.name_span == node.name.span) {
                Some(reading) => {
                    let is_known = |name: &str| reading.spec.properties.iter().any(|row| row.name == name);
                    let other = node.properties.iter().filter(|property| !is_known(&property.name.value));
                    self.unread.extend(other.filter_map(|property| text(&property.value.value)));
                    self.refused(reading);
                    self.unread(children, &reading.children);
                }
                None => {
                    self.unread.extend(node.arguments.iter().filter_map(|argument| text(&argument.value.value)));
                    self.unread(children, &[]);
                }
            }
        }
    }

    /// Notes that a definition has no name because it was refused.
    fn refused(&mut self, reading: &Reading) {
        let arguments = reading.spec.arguments.iter().map(|row| (row.name, row.kind));
        let written = reading.spec.properties.iter().filter(|row| reading.wrote(row.name));
        for (field, kind) in arguments.chain(written.map(|row| (row.name, row.kind))) {
            if let (Kind::Name(kind), None) = (kind, reading.text(field)) {
                self.refused.insert(kind);
            }
        }
    }

    /// True where every piece of text could be read, so that an absence is a fact.
    pub(crate) fn complete(&self) -> bool {
        self.complete && self.doubtful.is_empty()
    }

    /// True where text that could not be read may hold this word.
    pub(crate) fn doubtful(&self, word: &str) -> bool {
        !self.complete || self.doubtful.contains(word)
    }

    /// Notes that a definition of this name was broken and reported: references to it are not reported as unknown.
    pub(crate) fn poison(&mut self, name: &str) {
        self.doubtful.insert(name.to_owned());
    }

    /// True for a shared part or type of cable that the site replaces by one of its own.
    pub(crate) fn replaced(&self, reading: &Reading) -> bool {
        let mut kinds = reading.spec.arguments.iter().filter_map(|row| {
            let Kind::Name(kind) = row.kind else { return None };
            reading.text(row.name).filter(|_| is_replaceable(kind)).map(|name| (kind, name))
        });
        kinds.any(|(kind, name)| {
            self.defined.get(&kind).and_then(|names| names.get(&name.value)).is_some_and(|first| !first.shared)
        })
    }

    /// What a property names, with the place where it is named; `None` where it is left out, and where [`Self::find`] finds
    /// nothing.
    pub(crate) fn refer<T>(&mut self, table: &Table<T>, written: Option<Spanned<String>>) -> Option<Spanned<Id<T>>> {
        let written = written?;
        Some(Spanned::new(self.find(table, &written)?, written.span))
    }

    /// Resolves a reference; where nothing of that kind has the name, that is kept for [`Names::unknown`].
    pub(crate) fn find<T>(&mut self, table: &Table<T>, written: &Spanned<String>) -> Option<Id<T>> {
        self.find_or(table, std::iter::empty(), written)
    }

    /// The same where only those may have been meant for which `fits` is true.
    pub(crate) fn find_among<T>(
        &mut self,
        table: &Table<T>,
        written: &Spanned<String>,
        fits: impl Fn(Id<T>) -> bool,
    ) -> Option<Id<T>> {
        if table.map.contains_key(&written.value) {
            return self.find(table, written);
        }
        let known = table.map.iter().filter(|(_, id)| fits(**id));
        let some = Table { kind: table.kind, map: known.map(|(name, id)| (name.clone(), *id)).collect() };
        self.find(&some, written)
    }

    /// The same where one of these other names may have been meant as well.
    pub(crate) fn find_or<'n, T>(
        &mut self,
        table: &'n Table<T>,
        others: impl Iterator<Item = &'n str> + Clone,
        written: &Spanned<String>,
    ) -> Option<Id<T>> {
        if let Some(id) = table.map.get(&written.value) {
            self.used.insert((table.kind, written.value.clone()));
            return Some(*id);
        }
        let told = self.unread.contains(&written.value)
            || self.refused.contains(&table.kind)
            || self.repeated.iter().any(|(kind, _)| *kind == table.kind);
        if !told && !self.doubtful(&written.value) {
            let elsewhere = self
                .defined
                .iter()
                .find_map(|(kind, names)| names.get(&written.value).map(|definition| (*kind, definition.span)));
            let key = (table.kind, written.value.clone());
            let known = table.map.keys().map(String::as_str).chain(others);
            let to_compare = &mut self.to_compare;
            self.unknown
                .entry(key)
                .or_insert_with(|| {
                    let compares = may_compare(to_compare, table.map.len());
                    Unknown::new(&written.value, known, compares, elsewhere)
                })
                .places
                .push(written.span);
        }
        None
    }

    /// True for a name that two things have: which of them a reference means is not known.
    pub(crate) fn is_repeated(&self, kind: NameKind, name: &str) -> bool {
        self.repeated.contains(&(kind, name.to_owned()))
    }

    /// Where a name of a kind is given, if it is.
    pub(crate) fn defined(&self, kind: NameKind, name: &str) -> Option<Span> {
        self.defined.get(&kind)?.get(name).map(|definition| definition.span)
    }

    /// True where so many names may still be compared with one that nothing has.
    pub(crate) fn may_compare(&mut self, names: usize) -> bool {
        may_compare(&mut self.to_compare, names)
    }

    /// The names that something refers to and nothing has.
    pub(crate) fn unknown(&self) -> &BTreeMap<(NameKind, String), Unknown> {
        &self.unknown
    }

    /// Names of a kind that nothing referred to, with their places; none from the shared parts folder.
    pub(crate) fn unused(&self, kind: NameKind) -> Vec<(&str, Span)> {
        self.defined
            .get(&kind)
            .into_iter()
            .flatten()
            .filter(|(name, definition)| !definition.shared && !self.used.contains(&(kind, (*name).clone())))
            .map(|(name, definition)| (name.as_str(), definition.span))
            .collect()
    }
}

fn may_compare(left: &mut usize, names: usize) -> bool {
    let compares = *left >= names;
    *left = left.saturating_sub(names);
    compares
}

/// True for what a site may define anew although it is in the shared parts folder.
fn is_replaceable(kind: NameKind) -> bool {
    matches!(kind, NameKind::Part | NameKind::Cable)
}

/// The ids of one kind by name.
#[derive(Debug)]
pub(crate) struct Table<T> {
    kind: NameKind,
    map: BTreeMap<String, Id<T>>,
}

impl<T> Table<T> {
    /// An empty table of a kind.
    pub(crate) fn new(kind: NameKind) -> Self {
        Self { kind, map: BTreeMap::new() }
    }

    /// The id of that name, without noting that it was asked for.
    pub(crate) fn get(&self, name: &str) -> Option<Id<T>> {
        self.map.get(name).copied()
    }

    /// Enters an id; the first of a name stays. One whose name was refused has none.
    pub(crate) fn enter(&mut self, name: &str, id: Id<T>) {
        if !name.is_empty() {
            self.map.entry(name.to_owned()).or_insert(id);
        }
    }
}
