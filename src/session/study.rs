//! A site with all that is known of it, for who asks many questions about one state of its texts.

use std::cell::OnceCell;

use super::{Made, read_whole};
use crate::base::Sources;
use crate::compiled::Compiled;
use crate::diag::{Diagnostic, Sink};
use crate::register_file;
use crate::resolve::FileReadings;
use crate::resolve::load::{self, FileSource};
use crate::resolve::mentions::Mentions;
use crate::schema::limits::Tally;
use crate::schema::{Reading, read_document, read_register};
use crate::syntax;

/// See the module's head.
#[derive(Debug, Default)]
pub(crate) struct Study {
    /// What was found, in the order of the source.
    pub(crate) diagnostics: Vec<Diagnostic>,
    /// The site with its figures; `None` where the spec is so broken that there is none. Its findings are those above.
    pub(crate) compiled: Option<Compiled>,
    /// What could be read of its files.
    pub(crate) readings: Vec<FileReadings>,
    /// The files of a spec that gave no site.
    sources: Sources,
    /// Where its names are written, once somebody has asked.
    mentions: OnceCell<Mentions>,
}

impl Study {
    /// The files that were read.
    pub(crate) fn sources(&self) -> &Sources {
        self.compiled.as_ref().map_or(&self.sources, |compiled| &compiled.sources)
    }

    /// Where its names are written in the spec.
    pub(crate) fn mentions(&self) -> &Mentions {
        self.mentions.get_or_init(|| Mentions::of(&self.readings, &[]))
    }

    /// Where its names are written in spec and register.
    pub(crate) fn all_mentions(&self) -> Mentions {
        Mentions::of(&self.readings, &self.register())
    }

    /// What could be read of the register.
    fn register(&self) -> Vec<Reading> {
        let Some((id, file)) = self.sources().entries().find(|(_, file)| file.in_site == register_file::FILE) else {
            return Vec::new();
        };
        // What is wrong with it has been told.
        let mut sink = Sink::default();
        read_register(&syntax::parse(id, &file.text, &mut sink), &mut sink)
    }
}

/// Reads and checks a site.
pub(crate) fn study(files: &dyn FileSource) -> Study {
    let (readings, read) = read_whole(files, None);
    match read {
        Ok(Made { mut compiled, .. }) => {
            let diagnostics = std::mem::take(&mut compiled.findings);
            Study { diagnostics, compiled: Some(compiled), readings, ..Study::default() }
        }
        Err(outcome) => {
            Study { diagnostics: outcome.diagnostics, readings, sources: outcome.sources, ..Study::default() }
        }
    }
}

/// Reads one file that no site is known for: what it names is not looked for.
pub(crate) fn study_alone(path: &str, bytes: Vec<u8>) -> Study {
    let mut sink = Sink::default();
    let loaded = load::alone(path, bytes, &mut sink);
    let is_register = path == register_file::FILE;
    let read = |file: &load::File, sink: &mut Sink| {
        if is_register {
            read_register(file.document(), sink)
        } else {
            read_document(file.document(), &mut Tally::new(), sink)
        }
    };
    let readings =
        loaded.files.iter().map(|file| FileReadings { readings: read(file, &mut sink), shared: file.shared });
    let readings = readings.collect();
    Study { diagnostics: loaded.secret_lines.tell(sink), readings, sources: loaded.sources, ..Study::default() }
}
