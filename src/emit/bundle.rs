//! The files of a packet, in memory, by their path in the output folder.
//!
//! All of a packet is made before any of it is written, so that a fault leaves the old one whole. The pages of a large house
//! take many times what its spec does, and say much the same in row after row: each file is kept packed until it is asked for.

use std::collections::BTreeMap;

use lz4_flex::block::{compress, decompress};

use crate::views::readers::SHARES;

/// A file, packed.
#[derive(Clone, Debug, PartialEq)]
pub struct File {
    length: usize,
    packed: Vec<u8>,
}

impl File {
    /// Packs a file.
    pub(crate) fn of(bytes: &[u8]) -> Self {
        Self { length: bytes.len(), packed: compress(bytes) }
    }

    /// Its bytes.
    pub fn bytes(&self) -> Vec<u8> {
        // What was packed here can be unpacked.
        decompress(&self.packed, self.length).unwrap_or_default()
    }
}

/// A packet: path with `/` → file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bundle {
    /// The files, in order of path.
    pub files: BTreeMap<String, File>,
}

impl Bundle {
    /// Puts a file in; one of the same path is replaced.
    pub(crate) fn put(&mut self, path: impl Into<String>, bytes: impl AsRef<[u8]>) {
        self.files.insert(path.into(), File::of(bytes.as_ref()));
    }

    /// All files as they are written.
    pub fn unpacked(&self) -> BTreeMap<String, Vec<u8>> {
        self.files.iter().map(|(path, file)| (path.clone(), file.bytes())).collect()
    }

    /// The paths of the readers' joined files that are in it.
    pub(crate) fn joined(&self) -> Vec<String> {
        let paths = SHARES.iter().map(|share| format!("{}.html", share.file));
        paths.filter(|path| self.files.contains_key(path)).collect()
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::File;

    proptest! {
        #[test]
        fn a_file_is_unpacked_as_it_was(piece in prop::collection::vec(any::<u8>(), 0..600), times in 0..9_usize) {
            let bytes = piece.repeat(times);
            let file = File::of(&bytes);
            prop_assert_eq!(file.bytes(), bytes);
        }
    }
}
