//! The files of a packet, in memory, by their path in the output folder.

use std::collections::BTreeMap;

use crate::views::readers::SHARES;

/// A packet: path with `/` → bytes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bundle {
    /// The files, in order of path.
    pub files: BTreeMap<String, Vec<u8>>,
}

impl Bundle {
    /// Puts a file in; one of the same path is replaced.
    pub(crate) fn put(&mut self, path: impl Into<String>, bytes: impl Into<Vec<u8>>) {
        // What a text was given while it grew is half of the memory of a large packet.
        let mut bytes: Vec<u8> = bytes.into();
        bytes.shrink_to_fit();
        self.files.insert(path.into(), bytes);
    }

    /// The paths of the readers' joined files that are in it.
    pub(crate) fn joined(&self) -> Vec<String> {
        let paths = SHARES.iter().map(|share| format!("{}.html", share.file));
        paths.filter(|path| self.files.contains_key(path)).collect()
    }
}
