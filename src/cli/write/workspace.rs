//! The folder beside a packet or a register in which the next one is prepared.
//!
//! Its name is fixed, so that the next run finds what an interrupted one left, and what it holds has fixed names, so that
//! nothing of somebody else's is ever taken for ours. Only the run that has locked the file `lock` in it may touch the rest.

use std::fs::{self, File, TryLockError};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use walkdir::WalkDir;

use super::refusal::Refusal;
use super::steps;

/// Before the name of what is prepared.
pub(super) const PREFIX: &str = ".loopwright-";

const LOCK: &str = "lock";
/// What is being written.
pub(super) const NEW: &str = "new";
/// A whole packet: the new one before the exchange, the one that was replaced after it.
pub(super) const SWAP: &str = "swap";
/// The packet that was replaced, where the system cannot exchange folders.
pub(super) const OLD: &str = "old";
/// A copy of the register that is replaced.
pub(super) const COPY: &str = "copy";

const NAMES: [&str; 5] = [LOCK, NEW, SWAP, OLD, COPY];

/// How often a workspace is asked for that other runs keep making and removing.
const MOST_TRIES: usize = 100;

/// A workspace that this run holds. When dropped, it is removed as far as possible, with the folders made to hold it.
#[derive(Debug)]
pub(super) struct Workspace {
    folder: PathBuf,
    made: Vec<PathBuf>,
    lock: Option<File>,
}

impl Workspace {
    /// Makes the workspace of `target`, or takes over what an interrupted run left.
    pub(super) fn open(target: &Path) -> Result<Self, Refusal> {
        let mut workspace = Self { folder: folder_of(target), made: Vec::new(), lock: None };
        for _ in 0..MOST_TRIES {
            if workspace.claim()? {
                return Ok(workspace);
            }
        }
        Err(Refusal::failed(&workspace.folder, &ErrorKind::NotFound.into()))
    }

    /// True where a run has its workspace, or has left it.
    pub(super) fn is_there(target: &Path) -> bool {
        fs::symlink_metadata(folder_of(target)).is_ok()
    }

    /// The path of something in the workspace.
    pub(super) fn path(&self, name: &str) -> PathBuf {
        self.folder.join(name)
    }

    /// Makes and locks the folder; false where another run has removed it in between.
    fn claim(&mut self) -> Result<bool, Refusal> {
        let failed = |error: io::Error| Refusal::failed(&self.folder, &error);
        match make_folders(parent(&self.folder), &mut self.made) {
            Ok(()) => {}
            Err((_, error)) if matches!(error.kind(), ErrorKind::NotFound | ErrorKind::AlreadyExists) => {
                return Ok(false);
            }
            Err((path, error)) => return Err(Refusal::failed(&path, &error)),
        }
        match steps::make_folder(&self.folder) {
            Ok(()) => {}
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(false),
            Err(error) if error.kind() == ErrorKind::AlreadyExists => match is_ours(&self.folder) {
                Ok(true) => {}
                Ok(false) => return Err(Refusal::InTheWay(self.folder.clone())),
                Err(error) if error.kind() == ErrorKind::NotFound => return Ok(false),
                Err(error) => return Err(failed(error)),
            },
            Err(error) => return Err(failed(error)),
        }
        let path = self.path(LOCK);
        let lock = match steps::open_lock(&path) {
            Ok(lock) => lock,
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(false),
            Err(error) => {
                // Only an empty folder can be removed this way.
                let _ = steps::remove_folder(&self.folder);
                return Err(failed(error));
            }
        };
        match lock.try_lock() {
            Err(TryLockError::WouldBlock) => return Err(Refusal::Busy(self.folder.clone())),
            // A file system without locks: then there is none to respect either.
            Ok(()) | Err(TryLockError::Error(_)) => {}
        }
        // The run that had it before removes it before it lets go.
        if !is_at(&lock, &path) {
            return Ok(false);
        }
        self.lock = Some(lock);
        Ok(true)
    }

    /// Removes something in the workspace, with all that is in it, if it is there.
    pub(super) fn clear(&self, name: &str) -> io::Result<()> {
        remove_all(&self.path(name))
    }

    /// Removes the workspace after its work is done.
    pub(super) fn close(mut self) -> Result<(), Refusal> {
        self.made.clear();
        self.remove().map_err(|error| Refusal::uncleared(&self.folder, &error))
    }

    /// Contents first, then the lock. A packet is left, because files of others may be in it: sweeping is for that.
    fn remove(&mut self) -> io::Result<()> {
        let Some(lock) = self.lock.take() else { return Ok(()) };
        for name in [NEW, COPY, LOCK] {
            self.clear(name)?;
        }
        drop(lock);
        match steps::remove_folder(&self.folder) {
            // Another run has taken it over, or a packet is left in it.
            Err(error) if matches!(error.kind(), ErrorKind::NotFound | ErrorKind::DirectoryNotEmpty) => Ok(()),
            done => done,
        }
    }
}

impl Drop for Workspace {
    fn drop(&mut self) {
        // What cannot be removed is recognised by the next run.
        let _ = self.remove();
        for folder in self.made.iter().rev() {
            let _ = steps::remove_folder(folder);
        }
    }
}

fn folder_of(target: &Path) -> PathBuf {
    let name = target.file_name().unwrap_or_default().to_string_lossy();
    target.parent().unwrap_or(Path::new("")).join(format!("{PREFIX}{name}"))
}

/// True for a folder in which nothing is but what a run of ours leaves.
fn is_ours(folder: &Path) -> io::Result<bool> {
    if !fs::symlink_metadata(folder)?.is_dir() {
        return Ok(false);
    }
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let name = entry.file_name();
        if !NAMES.iter().any(|ours| name == *ours) || (name == LOCK && !entry.file_type()?.is_file()) {
            return Ok(false);
        }
    }
    Ok(true)
}

/// The folder that something stands in.
pub(super) fn parent(path: &Path) -> &Path {
    path.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

#[cfg(unix)]
fn is_at(file: &File, path: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    let identity = |metadata: fs::Metadata| (metadata.dev(), metadata.ino());
    file.metadata().map(identity).ok() == fs::symlink_metadata(path).map(identity).ok()
}

/// Where an open file cannot be removed, it is where it was.
#[cfg(not(unix))]
fn is_at(_file: &File, _path: &Path) -> bool {
    true
}

/// Makes a folder and what it stands in, and notes each one made, outermost first.
pub(super) fn make_folders(folder: &Path, made: &mut Vec<PathBuf>) -> Result<(), (PathBuf, io::Error)> {
    let missing: Vec<&Path> = folder
        .ancestors()
        .take_while(|path| !path.as_os_str().is_empty() && fs::symlink_metadata(path).is_err())
        .collect();
    for path in missing.into_iter().rev() {
        steps::make_folder(path).map_err(|error| (path.to_owned(), error))?;
        made.push(path.to_owned());
    }
    match fs::metadata(folder) {
        Ok(metadata) if !metadata.is_dir() => Err((folder.to_owned(), ErrorKind::NotADirectory.into())),
        _ => Ok(()),
    }
}

/// Removes a file, or a folder with all that is in it; no link is followed.
fn remove_all(path: &Path) -> io::Result<()> {
    if fs::symlink_metadata(path).is_err() {
        return Ok(());
    }
    for entry in WalkDir::new(path).contents_first(true).sort_by_file_name() {
        let entry = entry?;
        let remove = if entry.file_type().is_dir() { steps::remove_folder } else { steps::remove_file };
        remove(entry.path())?;
    }
    Ok(())
}
