//! What is kept of sites between two runs, a file for each in a folder of the user's.
//!
//! What is kept is a function of the program and of all that it asked the site's files. Both stand beside it, and it is taken
//! only where the program is the same, to the byte, and the files say the same when they are asked again. So a site is never
//! told as it was; at worst it is read again.
//!
//! A file of the cache is named by the digest of the site's folder and begins with a line of ours and the digest of the rest.
//! Where something else has such a name it stays. Files are made whole under another name and renamed. Nothing here can make
//! a run fail: the first thing that goes wrong is told at its end.

use std::fs;
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::sync::Mutex;

use serde::{Deserialize, Serialize};

use super::traced::{Reads, digest};
use crate::cli::{disk, plain};
use crate::resolve::load::FileSource;
use crate::session::portfolio::Kept;

/// What a file of the cache begins with, before the digest.
const HEAD: &str = "loopwright kept site 1 ";

/// Behind the digest in a file's name.
const SUFFIX: &str = ".kept-site";

/// No file of the cache is longer, in bytes.
const LONGEST: u64 = 1024 * 1024;

/// The cache in a folder.
pub(super) struct Cache {
    folder: PathBuf,
    /// The digest of this program.
    program: String,
    /// The first thing that went wrong.
    trouble: Mutex<Option<String>>,
}

/// What stands in a file.
#[derive(Serialize, Deserialize)]
struct Entry {
    program: String,
    folder: String,
    reads: Reads,
    kept: Kept,
}

/// What has the name of a file of the cache.
enum Found {
    Nothing,
    /// It cannot be used, and it is ours to replace.
    Damaged,
    Ours(Box<Entry>),
    Foreign,
}

impl Cache {
    /// The cache in `folder`, which is made where it is not there; why there is none.
    pub(super) fn open(folder: &Path) -> Result<Self, String> {
        let none = |error: io::Error| format!("nothing is kept in {}: {}", folder.display(), plain(&error));
        fs::create_dir_all(folder).map_err(none)?;
        let program = std::env::current_exe().and_then(fs::read);
        let program = program
            .map_err(|error| format!("nothing is kept, for the program cannot read itself: {}", plain(&error)))?;
        Ok(Self { folder: folder.to_owned(), program: digest(&program), trouble: Mutex::default() })
    }

    /// What is kept of the site in a folder, where its files still say the same.
    pub(super) fn get(&self, folder: &str, files: &dyn FileSource) -> Option<(Kept, Reads)> {
        let Found::Ours(entry) = find(&self.path(folder)) else { return None };
        let is_it = entry.program == self.program && entry.folder == folder && entry.reads.still_hold(files);
        is_it.then_some((entry.kept, entry.reads))
    }

    /// Keeps a site.
    pub(super) fn put(&self, folder: &str, kept: &Kept, reads: &Reads) {
        if !reads.are_whole() {
            return;
        }
        let entry = Entry {
            program: self.program.clone(),
            folder: folder.to_owned(),
            reads: reads.clone(),
            kept: kept.clone(),
        };
        let path = self.path(folder);
        if matches!(find(&path), Found::Foreign) {
            return self.tell(format!("{} is none of the cache's files and stays", path.display()));
        }
        if let Err(error) = self.write(&path, &entry) {
            self.tell(format!("{} cannot be written: {}", path.display(), plain(&error)));
        }
    }

    /// What went wrong first.
    pub(super) fn into_trouble(self) -> Option<String> {
        self.trouble.into_inner().unwrap_or_else(std::sync::PoisonError::into_inner)
    }

    fn tell(&self, trouble: String) {
        let mut first = self.trouble.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        first.get_or_insert(trouble);
    }

    fn path(&self, folder: &str) -> PathBuf {
        self.folder.join(format!("{}{SUFFIX}", digest(folder.as_bytes())))
    }

    fn write(&self, path: &Path, entry: &Entry) -> io::Result<()> {
        let body = serde_json::to_string(entry)?;
        // It removes itself where it is not renamed.
        let mut new = tempfile::Builder::new().prefix(".").suffix(".new-kept-site").tempfile_in(&self.folder)?;
        write!(new, "{HEAD}{}\n{body}", digest(body.as_bytes()))?;
        new.persist(path).map(drop).map_err(|refused| refused.error)
    }
}

/// What has the name of a file of the cache. No link is followed.
fn find(path: &Path) -> Found {
    match fs::symlink_metadata(path) {
        Err(error) if error.kind() == ErrorKind::NotFound => return Found::Nothing,
        Ok(metadata) if metadata.is_file() => {}
        _ => return Found::Foreign,
    }
    let Ok(bytes) = disk::read_any(path, LONGEST) else { return Found::Foreign };
    let Some(rest) = bytes.strip_prefix(HEAD.as_bytes()) else {
        // One of ours that was cut off within its first line, or is empty: nothing in it is anybody's.
        return if HEAD.as_bytes().starts_with(&bytes) { Found::Damaged } else { Found::Foreign };
    };
    let entry = std::str::from_utf8(rest).ok().and_then(|rest| {
        let (told, body) = rest.split_once('\n')?;
        (told == digest(body.as_bytes())).then(|| serde_json::from_str(body).ok())?
    });
    entry.map_or(Found::Damaged, |entry| Found::Ours(Box::new(entry)))
}
