//! The files of a packet, in memory, by their path in the output folder.

use std::collections::BTreeMap;

/// A packet: path with `/` → bytes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bundle {
    /// The files, in order of path.
    pub files: BTreeMap<String, Vec<u8>>,
}
