//! Names that something refers to and nothing has, and how many of them are told.
//!
//! A name is one finding, at however many places it is written. Many names at once that are like no other mostly have one
//! cause, an include that is missing, and are one finding too.

use crate::base::Span;
use crate::base::wording::{did_you_mean, nearest};
use crate::diag::Sink;
use crate::schema::Names as NameKind;

use super::load::{self, FileSource};
use super::names::Names;
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
        let near = if compares { did_you_mean(written, known.clone()) } else { None };
        let known: Vec<&str> = if compares { nearest(written, known) } else { known.take(3).collect() };
        let owned = |name: &str| name.to_owned();
        Self { places: Vec::new(), near: near.map(owned), known: known.into_iter().map(owned).collect(), elsewhere }
    }

    /// True where no other name says what was meant.
    fn is_stray(&self) -> bool {
        self.near.is_none() && self.elsewhere.is_none()
    }
}

/// Reports the names that nothing has.
/// `behind_site` is where a line for an include may be put in: behind the `site` node.
pub(crate) fn report(names: &Names, files: &dyn FileSource, behind_site: Span, sink: &mut Sink) {
    let unknown = names.unknown();
    if unknown.is_empty() {
        return;
    }
    let shared = load::definitions(files, SHARED_PARTS);
    let is_shared = |kind: NameKind, name: &str| shared.contains(&(kind.noun().to_owned(), name.to_owned()));
    // A name that the shared parts have is one that is not included, whatever else it is like.
    let is_stray = |kind: NameKind, name: &str, one: &Unknown| one.is_stray() || is_shared(kind, name);
    let (strays, others): (Vec<_>, Vec<_>) = unknown.iter().partition(|((kind, name), one)| is_stray(*kind, name, one));
    let many = strays.len() >= MANY;
    if many {
        sink.push(rules::unknown_names(&strays, &is_shared, behind_site));
    }
    for ((kind, name), one) in others.into_iter().chain(strays.into_iter().filter(|_| !many)) {
        sink.push(rules::unknown_name(*kind, name, one, is_shared(*kind, name), behind_site));
    }
}
