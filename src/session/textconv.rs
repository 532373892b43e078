//! One file as a plain list, for `git diff`.

use crate::base::FileId;
use crate::diag::Sink;
use crate::resolve::load::{self, MemoryFiles, SITE_FILE};
use crate::syntax::{self, outline};

/// The list of one spec file, whichever part of a site it is. What looks like a secret is masked, as everywhere.
pub fn textconv(bytes: Vec<u8>) -> String {
    if bytes.len() > syntax::LARGEST {
        return "not understood: the file is larger than 1 MiB\n".to_owned();
    }
    // Read as if it were a site's first file: that brings decoding, limits and masking; its includes are not there.
    let files = MemoryFiles([(SITE_FILE.to_owned(), bytes)].into());
    let loaded = load::load(&files, &mut Sink::default());
    let masked = loaded.sources.get(FileId::default()).map(|source| source.text.as_str()).unwrap_or_default();
    outline::list(&syntax::parse(FileId::default(), masked, &mut Sink::default()), masked)
}
