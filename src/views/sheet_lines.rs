//! Rows of a sheet as plain lines, so that those of two revisions can be held against each other.
//!
//! A sheet makes its lines of the very rows that it prints, each struct of them taken apart without `..`: a column that is
//! added to the sheet has to be a cell of its line, or to be left out there by name.

use std::collections::{BTreeMap, BTreeSet};

use crate::record::{Kind, Subject};

/// A row.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Line {
    /// The table that it stands in.
    pub(crate) list: &'static str,
    /// What kind of thing it is about, where that may get another name.
    pub(crate) kind: Option<Kind>,
    /// What it is known by within its table: a number, a name, the first column.
    pub(crate) key: String,
    /// What it is called.
    pub(crate) said: String,
    /// The other columns, each with its head; a head may be empty.
    pub(crate) cells: Vec<(&'static str, String)>,
}

impl Line {
    /// A line of a thing that has no other name than its first column.
    pub(crate) fn new(list: &'static str, key: impl Into<String>, cells: Vec<(&'static str, String)>) -> Self {
        let key = key.into();
        Self { list, kind: None, said: key.clone(), key, cells }
    }

    /// The same, called otherwise.
    #[must_use]
    pub(crate) fn called(self, said: impl Into<String>) -> Self {
        Self { said: said.into(), ..self }
    }

    /// The same of a thing that is followed where it gets another name.
    #[must_use]
    pub(crate) fn about(self, kind: Kind) -> Self {
        Self { kind: Some(kind), ..self }
    }

    /// A cell; empty where there is no such column.
    pub(crate) fn cell(&self, column: &str) -> &str {
        self.cells.iter().find(|(head, _)| *head == column).map_or("", |(_, cell)| cell.as_str())
    }

    /// Its cells that are not empty, as "head value".
    pub(crate) fn words(&self) -> Vec<String> {
        let filled = self.cells.iter().filter(|(_, cell)| !cell.is_empty());
        filled.map(|(head, cell)| format!("{head} {cell}").trim_start().to_owned()).collect()
    }
}

/// Whether two cells say the same, if in another order: what is listed by name has another one under other names.
fn is_same(one: &str, other: &str) -> bool {
    let parts = |cell: &str| {
        let parts = cell.split([';', ',']).flat_map(|part| part.split(" and ")).map(|part| part.trim().to_owned());
        parts.collect::<BTreeSet<_>>()
    };
    one == other || one.len() == other.len() && parts(one) == parts(other)
}

/// A row that is new, gone or different.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Difference {
    /// In the old revision.
    pub(crate) old: Option<Line>,
    /// In the new one.
    pub(crate) new: Option<Line>,
}

impl Difference {
    /// The new line, else the old one.
    pub(crate) fn line(&self) -> Option<&Line> {
        self.new.as_ref().or(self.old.as_ref())
    }

    /// The columns in which both sides differ: head, old cell, new cell.
    pub(crate) fn columns(&self) -> Vec<(&'static str, &str, &str)> {
        let (Some(old), Some(new)) = (&self.old, &self.new) else { return Vec::new() };
        let of_new = new.cells.iter().map(|(head, _)| *head);
        let of_old = old.cells.iter().map(|(head, _)| *head).filter(|head| new.cells.iter().all(|(at, _)| at != head));
        let both = of_new.chain(of_old).map(|head| (head, old.cell(head), new.cell(head)));
        both.filter(|(_, old, new)| !is_same(old, new)).collect()
    }
}

/// What a line is known by on both sides: its table, its name in the new revision, and how many of that name came before it.
type Known = (&'static str, String, usize);

/// The rows that differ: table by table, in each by number, else as they stand.
pub(crate) fn differences(old: Vec<Line>, new: Vec<Line>, renamed: &BTreeMap<Subject, Subject>) -> Vec<Difference> {
    let mut lists: Vec<&'static str> = Vec::new();
    for line in new.iter().chain(&old) {
        if !lists.contains(&line.list) {
            lists.push(line.list);
        }
    }
    let none = BTreeMap::new();
    let (mut old, new) = (known(old, renamed), known(new, &none));
    let mut found: Vec<(usize, Difference)> = Vec::new();
    for (key, (at, line)) in new {
        let was = old.remove(&key).map(|(_, was)| was);
        let same = was.as_ref().is_some_and(|was| {
            let mut both = was.cells.iter().zip(&line.cells);
            was.cells.len() == line.cells.len() && both.all(|(old, new)| old.0 == new.0 && is_same(&old.1, &new.1))
        });
        if !same {
            found.push((at, Difference { old: was, new: Some(line) }));
        }
    }
    found.extend(old.into_values().map(|(at, line)| (at, Difference { old: Some(line), new: None })));
    found.sort_by_key(|(at, difference)| {
        let line = difference.line();
        let list = line.and_then(|line| lists.iter().position(|list| *list == line.list));
        let number = line.and_then(|line| line.key.parse::<u32>().ok()).unwrap_or(u32::MAX);
        (list, number, *at)
    });
    found.into_iter().map(|(_, difference)| difference).collect()
}

/// Lines with their places, by what they are known by.
fn known(lines: Vec<Line>, renamed: &BTreeMap<Subject, Subject>) -> BTreeMap<Known, (usize, Line)> {
    let mut found = BTreeMap::new();
    for (at, line) in lines.into_iter().enumerate() {
        let name = line.kind.and_then(|kind| renamed.get(&Subject::new(kind, line.key.as_str())));
        let name = name.map_or_else(|| line.key.clone(), |subject| subject.key.clone());
        let mut key: Known = (line.list, name, 0);
        while found.contains_key(&key) {
            key.2 += 1;
        }
        found.insert(key, (at, line));
    }
    found
}

/// The numbers of the zones among some lines of the new revision.
pub(crate) fn zones_of<'d>(differences: impl IntoIterator<Item = &'d Difference>, list: &str) -> BTreeSet<u32> {
    let lines = differences.into_iter().filter_map(|difference| difference.new.as_ref());
    lines.filter(|line| line.list == list).filter_map(|line| line.key.parse().ok()).collect()
}
