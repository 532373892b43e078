//! Names that something refers to and nothing has, and how many of them are told.
//!
//! A name is one finding, at however many places it is written. Many names at once that are like no other mostly have one
//! cause, an include that is missing, and are one finding too.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::Span;
use crate::base::wording::{are_numbered_apart, did_you_mean, equally_near, nearest};
use crate::diag::Sink;
use crate::schema::{Names as NameKind, meant};

use super::load::{self, FileSource};
use super::names::Names;
use super::not_included::{MOST_LOOKED_INTO, is_new};
use super::rules;

/// From how many names on an include is thought to be missing.
const MANY: usize = 4;

/// The file of the shared parts folder that includes the others.
pub(crate) const SHARED_PARTS: &str = "../parts/generic.kdl";

/// What is known of a name that nothing has.
#[derive(Clone, Debug)]
pub(crate) struct Unknown {
    /// Where it is written.
    pub(crate) places: Vec<Span>,
    /// The name that was probably meant.
    pub(crate) near: Option<String>,
    /// Names of the kind: all where they are few, else those most like it.
    pub(crate) known: Vec<String>,
    /// Something of another kind that has the name.
    pub(crate) elsewhere: Option<(NameKind, Span)>,
    /// A definition that nothing refers to and that is nearly the name: several references agree, so it is the one misspelt.
    pub(crate) misspelt: Option<(String, Span)>,
}

impl Unknown {
    /// A name that is none of those known, written nowhere yet. Without comparing, the first of those known stand for those
    /// most like it.
    pub(crate) fn new<'n>(
        written: &str,
        known: impl Iterator<Item = &'n str> + Clone,
        compares: bool,
        elsewhere: Option<(NameKind, Span)>,
    ) -> Self {
        let like = || did_you_mean(written, known.clone()).or_else(|| meant::synonym(written, known.clone()));
        let near = if compares { like() } else { None };
        let known: Vec<&str> = if compares { nearest(written, known) } else { known.take(3).collect() };
        let owned = |name: &str| name.to_owned();
        Self {
            places: Vec::new(),
            near: near.map(owned),
            known: known.into_iter().map(owned).collect(),
            elsewhere,
            misspelt: None,
        }
    }

    /// True where no other name says what was meant.
    fn is_stray(&self) -> bool {
        self.near.is_none() && self.elsewhere.is_none() && self.misspelt.is_none()
    }

    /// The same, with the definition that is probably misspelt.
    fn with_misspelt(mut self, names: &Names, kind: NameKind, written: &str) -> Self {
        if self.places.len() > 1 {
            let unused = names.unused(kind);
            if let [only] = equally_near(written, unused.iter().map(|(name, _)| *name)).as_slice()
                && self.near.as_ref().is_none_or(|near| near == only)
                && !are_numbered_apart(only, written)
            {
                self.misspelt =
                    unused.iter().find(|(name, _)| name == only).map(|(name, at)| ((*name).to_owned(), *at));
            }
        }
        self
    }
}

/// Reports the names that nothing has.
/// `included` are the paths of the files that were read; `behind_site` is where a line for an include may be put in: behind the `site` node.
pub(crate) fn report(
    names: &Names,
    files: &dyn FileSource,
    included: &BTreeSet<String>,
    behind_site: Span,
    sink: &mut Sink,
) {
    if names.unknown().is_empty() {
        return;
    }
    let judged = |((kind, name), one): (&(NameKind, String), &Unknown)| {
        ((*kind, name.clone()), one.clone().with_misspelt(names, *kind, name))
    };
    let unknown: BTreeMap<(NameKind, String), Unknown> = names.unknown().iter().map(judged).collect();
    let missing = Missing::of(files, included);
    // A name that a file has which is not included is missing for that, whatever else it is like.
    let is_stray = |kind: NameKind, name: &str, one: &Unknown| one.is_stray() || missing.file(kind, name).is_some();
    let (strays, others): (Vec<_>, Vec<_>) = unknown.iter().partition(|((kind, name), one)| is_stray(*kind, name, one));
    let mut by_file: BTreeMap<Option<&str>, Vec<Stray<'_>>> = BTreeMap::new();
    for stray @ ((kind, name), _) in strays {
        by_file.entry(missing.file(*kind, name)).or_default().push(stray);
    }
    // So many at once have one cause, and those that no file has are counted with it.
    let many = by_file.values().map(Vec::len).sum::<usize>() >= MANY;
    if many && by_file.len() > 1 {
        let largest = by_file.iter().filter(|(file, _)| file.is_some()).max_by_key(|(_, names)| names.len());
        if let Some(file) = largest.map(|(file, _)| *file) {
            let rest: Vec<Stray<'_>> = std::mem::take(&mut by_file).into_values().flatten().collect();
            by_file.insert(file, rest);
        }
    }
    for (file, names) in by_file {
        let together = if file.is_some() { names.len() > 1 } else { names.len() >= MANY };
        let is_there = |kind: NameKind, name: &str| file.is_some() && missing.file(kind, name) == file;
        if together {
            sink.push(rules::unknown_names(&names, file.map(|file| (file, behind_site)), &is_there));
        } else {
            for ((kind, name), one) in names {
                sink.push(rules::unknown_name(*kind, name, one, file.map(|file| (file, behind_site))));
            }
        }
    }
    for ((kind, name), one) in others {
        sink.push(rules::unknown_name(*kind, name, one, None));
    }
}

/// A name that nothing has.
type Stray<'u> = (&'u (NameKind, String), &'u Unknown);

/// What the files define that are there and that nothing includes.
struct Missing(Vec<(String, BTreeSet<(NameKind, String)>)>);

impl Missing {
    /// The shared parts, and the spec files of the site's folder but for those that are `included`.
    fn of(files: &dyn FileSource, included: &BTreeSet<String>) -> Self {
        let own = files.spec_files().into_iter().filter(|path| is_new(path, included)).take(MOST_LOOKED_INTO);
        let all = std::iter::once(SHARED_PARTS.to_owned()).chain(own);
        Self(all.map(|path| (path.clone(), load::definitions(files, &path))).collect())
    }

    /// The file that defines a name.
    fn file(&self, kind: NameKind, name: &str) -> Option<&str> {
        let key = (kind, name.to_owned());
        self.0.iter().find(|(_, defined)| defined.contains(&key)).map(|(path, _)| path.as_str())
    }
}
