//! What a site's answers depend on: every file that was asked for, and what came of it.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::fmt::Write;

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use crate::resolve::load::{FileSource, ReadFault};
use crate::resolve::text::Remembered;

/// What was asked of some files. Whoever asks the same and is told the same comes to the same answers.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub(super) struct Reads {
    /// By the path: the digest of what was read, or why nothing was.
    files: BTreeMap<String, String>,
    /// The list of spec files, where it was asked for: helps are made of it, and what is found together is one finding.
    listed: Option<Vec<String>>,
    /// True where a file was not the same each time.
    #[serde(skip)]
    unsteady: bool,
}

impl Reads {
    /// True where nothing was asked twice with two answers, and a site's first file was asked for.
    pub(super) fn are_whole(&self) -> bool {
        !self.unsteady && self.files.contains_key(crate::resolve::load::SITE_FILE)
    }

    /// True where other files say the same, as far as their texts go.
    pub(super) fn are_those_of(&self, files: &dyn FileSource) -> bool {
        self.are_whole() && self.files.iter().all(|(path, read)| *read == told(&files.read(path)))
    }

    /// True where the files still say the same.
    pub(super) fn still_hold(&self, files: &dyn FileSource) -> bool {
        self.are_those_of(files) && self.listed.as_ref().is_none_or(|listed| *listed == files.spec_files())
    }
}

/// Files that are watched while they are read.
pub(super) struct Traced<'f> {
    files: &'f dyn FileSource,
    /// What was made of the parts that other sites have too.
    shared: &'f Remembered,
    reads: RefCell<Reads>,
}

impl<'f> Traced<'f> {
    pub(super) fn new(files: &'f dyn FileSource, shared: &'f Remembered) -> Self {
        Self { files, shared, reads: RefCell::default() }
    }

    /// What was asked.
    pub(super) fn into_reads(self) -> Reads {
        self.reads.into_inner()
    }
}

impl FileSource for Traced<'_> {
    fn read(&self, path: &str) -> Result<Vec<u8>, ReadFault> {
        let read = self.files.read(path);
        let told = told(&read);
        let mut reads = self.reads.borrow_mut();
        reads.unsteady |= reads.files.insert(path.to_owned(), told.clone()).is_some_and(|before| before != told);
        read
    }

    fn spec_files(&self) -> Vec<String> {
        let listed = self.files.spec_files();
        let mut reads = self.reads.borrow_mut();
        reads.unsteady |= reads.listed.replace(listed.clone()).is_some_and(|before| before != listed);
        listed
    }

    fn shown(&self, path: &str) -> String {
        self.files.shown(path)
    }

    fn remembered(&self) -> Option<&Remembered> {
        Some(self.shared)
    }
}

/// What came of a read: no fault can look like a digest.
fn told(read: &Result<Vec<u8>, ReadFault>) -> String {
    match read {
        Ok(bytes) => digest(bytes),
        Err(fault) => format!("{fault:?}"),
    }
}

/// SHA-256 in hexadecimal digits: two texts with one digest are not known, so nothing is taken for something else.
pub(super) fn digest(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().fold(String::new(), |mut digits, byte| {
        // Writing to a string cannot fail.
        let _ = write!(digits, "{byte:02x}");
        digits
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::resolve::load::MemoryFiles;

    #[test]
    fn other_files_are_told_apart_by_text_fault_and_list() {
        let mut files = MemoryFiles::default();
        files.0.insert("site.kdl".into(), b"site".to_vec());
        let shared = Remembered::of_shared();
        let traced = Traced::new(&files, &shared);
        assert_eq!(traced.read("site.kdl"), Ok(b"site".to_vec()));
        assert_eq!(traced.read("../parts/a.kdl"), Err(ReadFault::Missing));
        assert_eq!(traced.spec_files(), ["site.kdl"]);
        let reads = traced.into_reads();
        assert!(reads.still_hold(&files));
        let with = |path: &str, text: &str| {
            let mut other = files.clone();
            other.0.insert(path.into(), text.into());
            other
        };
        assert!(!reads.still_hold(&with("site.kdl", "site ")));
        assert!(!reads.still_hold(&with("../parts/a.kdl", "")));
        assert!(!reads.still_hold(&with("other.kdl", "")), "it is listed");
        assert!(reads.are_those_of(&with("other.kdl", "")), "it is not read");
        assert!(reads.still_hold(&with("notes.txt", "")));
        assert!(!reads.still_hold(&MemoryFiles::default()) && !Reads::default().still_hold(&files));
    }

    #[test]
    fn a_file_that_changes_meanwhile_is_noticed() {
        struct Moody(RefCell<u8>);
        impl FileSource for Moody {
            fn read(&self, _: &str) -> Result<Vec<u8>, ReadFault> {
                *self.0.borrow_mut() += 1;
                Ok(vec![*self.0.borrow()])
            }
        }
        let files = Moody(RefCell::default());
        let shared = Remembered::of_shared();
        let traced = Traced::new(&files, &shared);
        assert_ne!(traced.read("site.kdl"), traced.read("site.kdl"));
        assert!(!traced.into_reads().are_whole());
    }
}
