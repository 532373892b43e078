//! The files of a site: where bytes come from, and the closure of `include`.

use std::collections::BTreeMap;

/// Where a compilation gets its files from. The implementation on disk is in `cli`.
pub trait FileSource {
    /// The bytes of a file by its path relative to the site's folder, with `/`; a shared part is `../parts/…`.
    fn read(&self, path: &str) -> Result<Vec<u8>, ReadFault>;

    /// The path as shown to people.
    fn shown(&self, path: &str) -> String {
        path.to_owned()
    }
}

/// Why a file could not be had.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ReadFault {
    /// There is no such file.
    #[error("there is no such file")]
    Missing,
    /// A folder, a device, a pipe.
    #[error("it is not a regular file")]
    NotAFile,
    /// A link leads out of the site's folder and of the shared parts folder.
    #[error("a link in its path leads out of the site's folder")]
    Escapes,
    /// Larger than the limit; holds the size in bytes.
    #[error("it is {0} bytes long, and a spec file is at most 1 MiB")]
    TooLarge(u64),
    /// What the operating system said.
    #[error("{0}")]
    Failed(String),
}

/// Files in memory, for tests and front ends with open buffers.
#[derive(Clone, Debug, Default)]
pub struct MemoryFiles(pub BTreeMap<String, Vec<u8>>);

impl FileSource for MemoryFiles {
    fn read(&self, path: &str) -> Result<Vec<u8>, ReadFault> {
        self.0.get(path).cloned().ok_or(ReadFault::Missing)
    }
}
