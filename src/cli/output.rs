//! Writes a packet into a folder, whole or not at all, and never over a file that is not the program's own.
//!
//! [`plan`] only looks: it refuses where something is in the way. [`Plan::write`] then goes in this order:
//!
//! 1. Every new file is written in full into a temporary folder beside the target. What can run out, runs out here.
//! 2. The manifest is replaced by one that knows the old and the new digest of every file.
//! 3. Each file is moved to its place by a rename, which replaces it atomically; obsolete ones are removed.
//! 4. The manifest is replaced by one that knows the new digests only.
//!
//! Killed anywhere in between, the folder holds whole files only, old or new, and a manifest that knows each of them
//! as the program's own: the next run completes the work. With the manifest written only first, or only last, such a
//! run would take its own files for files changed by hand. Where a step fails, the ones before are undone.

use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use super::manifest::{self, Manifest};
use super::plain;
use super::staging::{Staging, make_folders, remove_empty};
use crate::diag::neutral::shown;
use crate::emit::Bundle;

/// Why a packet is not written; nothing has been changed then.
#[derive(Debug, PartialEq, Eq, thiserror::Error)]
pub(super) enum Refusal {
    /// A file of a packet's name that the program did not write, or a folder, a link or a device.
    #[error("{} is in the way: loopwright did not write it", .0.display())]
    InTheWay(PathBuf),
    /// A file of the program's that has other contents now.
    #[error("{} has been changed by hand since loopwright wrote it", .0.display())]
    Changed(PathBuf),
    /// The output folder is something else.
    #[error("{} is not a folder", .0.display())]
    NotAFolder(PathBuf),
    /// The output folder is a link: the files would land somewhere else.
    #[error("{} is a link, and the packet would land elsewhere", .0.display())]
    Link(PathBuf),
    /// The manifest cannot be read as one.
    #[error("{} is not a list that loopwright wrote", .0.display())]
    Manifest(PathBuf),
    /// Another run holds the temporary folder.
    #[error("another run is writing there: {} is in use", .0.display())]
    Busy(PathBuf),
    /// A path in the packet that is none.
    #[error("the packet has a file with an impossible name: {0}")]
    Name(String),
    /// What the operating system said.
    #[error("cannot write {}: {why}", .path.display())]
    Failed { path: PathBuf, why: String },
}

impl Refusal {
    pub(super) fn failed(path: &Path, error: &io::Error) -> Self {
        Self::Failed { path: path.to_owned(), why: plain(error) }
    }

    /// What to do about it.
    pub(super) fn help(&self) -> Option<&'static str> {
        match self {
            Self::InTheWay(_) | Self::Manifest(_) => Some("move it away, or choose another folder with --out"),
            Self::Changed(_) => Some("keep your version under another name, then remove or move this one"),
            Self::NotAFolder(_) | Self::Link(_) => Some("choose another folder with --out"),
            Self::Busy(_) => Some("wait for it to end and try again"),
            Self::Name(_) | Self::Failed { .. } => None,
        }
    }
}

/// What has to be done to turn a folder's contents into a packet.
#[derive(Debug)]
pub(super) struct Plan<'a> {
    target: PathBuf,
    bundle: &'a Bundle,
    before: Manifest,
    /// Files that are not there yet or differ.
    put: Vec<&'a str>,
    /// The program's own files that are no longer part of the packet.
    remove: Vec<String>,
    /// Obsolete ones that were changed by hand: left alone.
    kept: Vec<String>,
}

/// What was done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Written {
    /// The output folder.
    pub(super) folder: PathBuf,
    /// Files in the packet.
    pub(super) files: usize,
    /// How many of these were there already, byte for byte.
    pub(super) unchanged: usize,
    /// Obsolete files removed.
    pub(super) removed: usize,
    /// Obsolete files left because they had been changed by hand.
    pub(super) kept: Vec<String>,
}

/// Compares a packet with what stands in `target`, and refuses where writing would touch what is not the program's.
pub(super) fn plan<'a>(target: &Path, bundle: &'a Bundle) -> Result<Plan<'a>, Refusal> {
    match fs::symlink_metadata(target) {
        Ok(metadata) if metadata.is_symlink() => return Err(Refusal::Link(target.to_owned())),
        Ok(metadata) if !metadata.is_dir() => return Err(Refusal::NotAFolder(target.to_owned())),
        Err(error) if error.kind() != ErrorKind::NotFound => return Err(Refusal::failed(target, &error)),
        _ => {}
    }
    let before = read_manifest(target)?;
    let mut plan =
        Plan { target: target.to_owned(), bundle, before, put: Vec::new(), remove: Vec::new(), kept: Vec::new() };
    for (path, bytes) in &bundle.files {
        if !manifest::is_plain(path) {
            return Err(Refusal::Name(shown(path)));
        }
        match standing(target, path)? {
            Some(found) if found == *bytes => {}
            Some(found) if !plan.before.knows(path, &found) => {
                let at = target.join(path);
                let ours = plan.before.0.contains_key(path);
                return Err(if ours { Refusal::Changed(at) } else { Refusal::InTheWay(at) });
            }
            _ => plan.put.push(path),
        }
    }
    for path in plan.before.0.keys().filter(|path| !bundle.files.contains_key(*path)) {
        match standing(target, path) {
            Ok(None) => {}
            Ok(Some(found)) if plan.before.knows(path, &found) => plan.remove.push(path.clone()),
            _ => plan.kept.push(path.clone()),
        }
    }
    Ok(plan)
}

/// True where the program has written a packet into this folder before.
pub(super) fn holds_packet(target: &Path) -> bool {
    fs::symlink_metadata(target.join(manifest::NAME)).is_ok()
}

fn read_manifest(target: &Path) -> Result<Manifest, Refusal> {
    let path = target.join(manifest::NAME);
    let unreadable = || Refusal::Manifest(path.clone());
    match standing(target, manifest::NAME) {
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

impl Plan<'_> {
    /// Carries the plan out; where a step fails, the folder is as it was before.
    pub(super) fn write(self) -> Result<Written, Refusal> {
        let after = self.manifest();
        let done = Written {
            folder: self.target.clone(),
            files: self.bundle.files.len(),
            unchanged: self.bundle.files.len() - self.put.len(),
            removed: self.remove.len(),
            kept: self.kept.clone(),
        };
        if self.put.is_empty() && self.remove.is_empty() && self.before == after {
            return Ok(done);
        }
        let mut staging = Staging::open(&self.target)?;
        let mut steps = Vec::new();
        let swapped = self.swap_in(&after, &mut staging, &mut steps);
        if let Err(refusal) = swapped {
            undo(steps);
            return Err(refusal);
        }
        self.remove_empty_folders();
        Ok(done)
    }

    fn swap_in(&self, after: &Manifest, staging: &mut Staging, steps: &mut Vec<Step>) -> Result<(), Refusal> {
        let mut ready = Vec::new();
        for path in &self.put {
            ready.push((staging.put(self.bundle.files.get(*path).map_or(&[], Vec::as_slice))?, self.target.join(path)));
        }
        let mut both = self.before.clone();
        for (path, digests) in &after.0 {
            both.0.entry(path.clone()).or_default().extend(digests.iter().cloned());
        }
        let list = self.target.join(manifest::NAME);
        let transitional = staging.put(both.print().as_bytes())?;
        let settled = staging.put(after.print().as_bytes())?;

        place(&transitional, &list, staging, steps)?;
        for (new, at) in &ready {
            place(new, at, staging, steps)?;
        }
        for path in &self.remove {
            let at = self.target.join(path);
            let kept = staging.keep(&at).map_err(|error| Refusal::failed(&at, &error))?;
            fs::remove_file(&at).map_err(|error| Refusal::failed(&at, &error))?;
            steps.push(Step::Replaced { at, kept });
        }
        place(&settled, &list, staging, steps)
    }

    /// The manifest of the packet; an obsolete file that was changed by hand is no longer the program's.
    fn manifest(&self) -> Manifest {
        let mut manifest = Manifest::default();
        for (path, bytes) in &self.bundle.files {
            manifest.add(path, manifest::digest(bytes));
        }
        manifest
    }

    fn remove_empty_folders(&self) {
        for path in &self.remove {
            let inner = Path::new(path).ancestors().skip(1).filter(|folder| !folder.as_os_str().is_empty());
            let folders: Vec<PathBuf> = inner.map(|folder| self.target.join(folder)).collect();
            remove_empty(&folders.into_iter().rev().collect::<Vec<_>>());
        }
    }
}

/// Something done to the folder, with what it takes to undo it.
enum Step {
    /// Folders made, outermost first.
    Made(Vec<PathBuf>),
    /// A file put where none was.
    Added(PathBuf),
    /// A file put in the place of one, or one removed; a copy of the old one is kept.
    Replaced { at: PathBuf, kept: PathBuf },
}

/// Moves a finished file to its place.
fn place(new: &Path, at: &Path, staging: &mut Staging, steps: &mut Vec<Step>) -> Result<(), Refusal> {
    let failed = |error: io::Error| Refusal::failed(at, &error);
    let mut made = Vec::new();
    let folders = make_folders(at.parent().unwrap_or(at), &mut made);
    steps.push(Step::Made(made));
    folders.map_err(|(path, error)| Refusal::failed(&path, &error))?;
    let step = match fs::symlink_metadata(at) {
        Err(_) => Step::Added(at.to_owned()),
        Ok(_) => Step::Replaced { at: at.to_owned(), kept: staging.keep(at).map_err(failed)? },
    };
    fs::rename(new, at).map_err(failed)?;
    steps.push(step);
    Ok(())
}

/// Undoes what was done, last first; what cannot be undone stays, as whole files that the manifest knows.
fn undo(steps: Vec<Step>) {
    for step in steps.into_iter().rev() {
        match step {
            Step::Made(folders) => remove_empty(&folders),
            Step::Added(at) => drop(fs::remove_file(at)),
            Step::Replaced { at, kept } => drop(fs::rename(kept, at)),
        }
    }
}

#[cfg(test)]
mod tests;
