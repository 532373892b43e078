//! The files of a packet, in memory, by their path in the output folder.
//!
//! All of a packet is made before any of it is written, so that a fault leaves the old one whole. The long pages of a large house
//! take many times what its spec does, and say much the same in row after row: they are kept packed until they are asked for.

use std::borrow::Cow;
use std::collections::BTreeMap;

use lz4_flex::block::{compress, decompress};

use crate::views::readers::SHARES;

/// From so many bytes on a file is packed: below it packing costs more than it gives.
const LONG: usize = 1 << 20;

/// A file, packed if it is long.
#[derive(Clone, Debug, PartialEq)]
pub enum File {
    /// As it is written.
    Plain(Vec<u8>),
    /// Packed, and so many bytes long.
    Packed(usize, Vec<u8>),
}

impl File {
    /// A file of these bytes.
    pub(crate) fn of(bytes: impl Into<Vec<u8>>) -> Self {
        let mut bytes: Vec<u8> = bytes.into();
        if bytes.len() < LONG {
            // A text has more room than it takes while it grows.
            bytes.shrink_to_fit();
            Self::Plain(bytes)
        } else {
            Self::Packed(bytes.len(), compress(&bytes))
        }
    }

    /// Its bytes.
    pub fn bytes(&self) -> Cow<'_, [u8]> {
        match self {
            Self::Plain(bytes) => bytes.into(),
            // What was packed here can be unpacked.
            Self::Packed(length, packed) => decompress(packed, *length).unwrap_or_default().into(),
        }
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
    pub(crate) fn put(&mut self, path: impl Into<String>, bytes: impl Into<Vec<u8>>) {
        self.files.insert(path.into(), File::of(bytes));
    }

    /// All files as they are written.
    pub fn unpacked(&self) -> BTreeMap<String, Vec<u8>> {
        self.files.iter().map(|(path, file)| (path.clone(), file.bytes().into_owned())).collect()
    }

    /// The paths of the readers' joined files that are in it.
    pub(crate) fn joined(&self) -> Vec<String> {
        let paths = SHARES.iter().map(|share| format!("{}.html", share.file));
        paths.filter(|path| self.files.contains_key(path)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::{File, LONG};

    #[test]
    fn short_and_long_files_are_given_as_they_were() {
        // Long ones of one line again and again, and of numbers that never repeat.
        let random = (0_u64..).map(|number| number.wrapping_mul(0x9e37_79b9_7f4a_7c15).rotate_left(17));
        let random: Vec<u8> = random.flat_map(u64::to_le_bytes).take(LONG + 3).collect();
        for bytes in [Vec::new(), b"a".to_vec(), b"row\n".repeat(LONG), random] {
            let file = File::of(bytes.clone());
            assert_eq!(matches!(file, File::Packed(..)), bytes.len() >= LONG);
            assert!(*file.bytes() == *bytes, "{} bytes", bytes.len());
        }
    }
}
