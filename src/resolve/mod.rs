//! Tree → model: includes, names, lowering, defaults. Never fails: returns a value and diagnostics.
//!
//! A reference that cannot be resolved is reported here once and becomes `None` in the model. Nothing is
//! reported as unknown where a piece that could not be read may have defined it.

pub mod load;
pub(crate) mod lower;
pub(crate) mod mentions;
pub(crate) mod names;
mod not_included;
pub(crate) mod path;
pub(crate) mod rules;
pub(crate) mod secret_lines;
pub mod secrets;
pub(crate) mod text;
pub(crate) mod unknown;

use std::sync::Arc;

use crate::base::Sources;
use crate::diag::Sink;
use crate::model::Site;
use crate::schema::limits::Tally;
use crate::schema::{Reading, read_document};

use load::FileSource;
use secret_lines::SecretLines;

/// A site as far as it could be read.
#[derive(Debug)]
pub struct Resolved {
    /// The files, for rendering.
    pub sources: Sources,
    /// The site; `None` where no `site` node could be read.
    pub site: Option<Site>,
    /// The lines that hold a secret.
    pub(crate) secret_lines: SecretLines,
    /// What the site was made of.
    pub(crate) readings: Vec<FileReadings>,
    /// The text beside the spec.
    pub(crate) beside: Option<Arc<text::Text>>,
}

/// The top-level readings of one file.
#[derive(Debug)]
pub(crate) struct FileReadings {
    /// The readings.
    pub(crate) readings: Vec<Reading>,
    /// True for a file of the shared parts folder.
    pub(crate) shared: bool,
}

/// Reads a site: loads its files, checks them against the table, and lowers them to the model.
pub fn resolve(files: &dyn FileSource, sink: &mut Sink) -> Resolved {
    resolve_beside(files, None, sink)
}

/// As [`resolve`]; a text beside the spec, by its path, is masked and parsed with it.
pub(crate) fn resolve_beside(files: &dyn FileSource, beside: Option<(&str, &str)>, sink: &mut Sink) -> Resolved {
    let loaded = load::load(files, beside, sink);
    let mut tally = Tally::new();
    loaded.files.iter().for_each(|file| tally.known.learn(file.document()));
    let readings: Vec<FileReadings> = loaded
        .files
        .iter()
        .map(|file| FileReadings { readings: read_document(file.document(), &mut tally, sink), shared: file.shared })
        .collect();
    let broken = loaded.files.iter().flat_map(|file| &file.document().broken);
    let mut names = names::Names::collect(&readings, broken, loaded.complete && tally.within, sink);
    for (file, read) in loaded.files.iter().zip(&readings) {
        names.unread(file.document().nodes.iter(), &read.readings);
    }
    tally.meant.iter().for_each(|name| names.poison(name));
    let included = loaded.files.iter().map(|file| file.path.clone()).collect();
    let site = lower::lower(&readings, names, files, &included, sink);
    Resolved { sources: loaded.sources, site, secret_lines: loaded.secret_lines, readings, beside: loaded.beside }
}
