//! What has to be done to turn a folder's contents into a packet: a look, and a refusal where files of others are in the way.

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use super::manifest::{self, Manifest};
use super::names::{MANIFEST, is_plain};
use super::refusal::Refusal;
use crate::diag::neutral::shown;
use crate::emit::Bundle;

/// The difference between a packet and what stands in its folder.
#[derive(Debug, Default)]
pub(super) struct Plan {
    files: usize,
    /// Files that are there byte for byte.
    unchanged: usize,
    /// The program's own files that are no longer part of the packet.
    obsolete: usize,
    /// Obsolete ones that were changed by hand: files of others now.
    kept: Vec<String>,
    /// The list of the packet.
    pub(super) list: Manifest,
    /// True where the list in the folder is that as well.
    listed: bool,
}

/// What was done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::cli) struct Written {
    /// The output folder.
    pub(in crate::cli) folder: PathBuf,
    /// Files in the packet.
    pub(in crate::cli) files: usize,
    /// How many of these were there already, byte for byte.
    pub(in crate::cli) unchanged: usize,
    /// Obsolete files removed.
    pub(in crate::cli) removed: usize,
    /// Obsolete files left because they had been changed by hand.
    pub(in crate::cli) kept: Vec<String>,
    /// Files of others that came while the packet was being replaced, and whose names were taken: what they are called now.
    pub(in crate::cli) renamed: Vec<String>,
}

impl Plan {
    /// Compares a packet with what stands in `target`, and refuses where writing would touch what is not the program's.
    pub(super) fn of(site: &Path, target: &Path, bundle: &Bundle) -> Result<Self, Refusal> {
        folder(target)?;
        let before = read_manifest(target)?;
        if let Some(other) = manifest::of_another(&before, site, target) {
            return Err(Refusal::OfAnother { folder: target.to_owned(), other });
        }
        let list = Manifest::of(bundle, site, target);
        let mut plan = Self { files: bundle.files.len(), listed: before == list, list, ..Self::default() };
        for (path, bytes) in &bundle.files {
            if !is_plain(path) {
                return Err(Refusal::Name(shown(path)));
            }
            match standing(target, path)? {
                Some(found) if found == *bytes => plan.unchanged += 1,
                Some(found) if !before.knows(path, &found) => {
                    let at = target.join(path);
                    let ours = before.files.contains_key(path);
                    return Err(if ours { Refusal::Changed(at) } else { Refusal::InTheWay(at) });
                }
                _ => {}
            }
        }
        for path in before.files.keys().filter(|path| !bundle.files.contains_key(*path)) {
            match standing(target, path) {
                Ok(None) => {}
                Ok(Some(found)) if before.knows(path, &found) => plan.obsolete += 1,
                _ => plan.kept.push(path.clone()),
            }
        }
        Ok(plan)
    }

    /// True where nothing is to be done.
    pub(super) fn is_done(&self) -> bool {
        self.listed && self.unchanged == self.files && self.obsolete == 0
    }

    /// What has been done when the plan is carried out.
    pub(super) fn written(self, folder: &Path) -> Written {
        let Self { files, unchanged, obsolete: removed, kept, list: _, listed: _ } = self;
        Written { folder: folder.to_owned(), files, unchanged, removed, kept, renamed: Vec::new() }
    }
}

/// What is in the place of the packet's folder, if it is a folder or nothing.
pub(super) fn folder(target: &Path) -> Result<Option<fs::Metadata>, Refusal> {
    match fs::symlink_metadata(target) {
        Ok(metadata) if metadata.is_symlink() => Err(Refusal::Link(target.to_owned())),
        Ok(metadata) if !metadata.is_dir() => Err(Refusal::NotAFolder(target.to_owned())),
        Ok(metadata) => Ok(Some(metadata)),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
        Err(error) => Err(Refusal::failed(target, &error)),
    }
}

/// True where the program has written a packet into this folder before.
pub(in crate::cli) fn holds_packet(target: &Path) -> bool {
    fs::symlink_metadata(target.join(MANIFEST)).is_ok()
}

/// The list of the program's own files in a folder; an empty one where there is none.
pub(super) fn read_manifest(target: &Path) -> Result<Manifest, Refusal> {
    let path = target.join(MANIFEST);
    let unreadable = || Refusal::Manifest(path.clone());
    match standing(target, MANIFEST) {
        Ok(None) => Ok(Manifest::default()),
        Ok(Some(bytes)) => String::from_utf8(bytes).ok().and_then(|text| Manifest::parse(&text)).ok_or_else(unreadable),
        Err(_) => Err(unreadable()),
    }
}

/// The file at a path below `target`; refused where anything but folders and a regular file stands along the path.
fn standing(target: &Path, path: &str) -> Result<Option<Vec<u8>>, Refusal> {
    let mut at = target.to_owned();
    let mut parts = path.split('/').peekable();
    while let Some(part) = parts.next() {
        at.push(part);
        let metadata = match fs::symlink_metadata(&at) {
            Ok(metadata) => metadata,
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(None),
            Err(error) => return Err(Refusal::failed(&at, &error)),
        };
        let fits = if parts.peek().is_some() { metadata.is_dir() } else { metadata.is_file() };
        if !fits {
            return Err(Refusal::InTheWay(at));
        }
    }
    fs::read(&at).map(Some).map_err(|error| Refusal::failed(&at, &error))
}
