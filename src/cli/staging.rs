//! The temporary folder in which files are put together before they are swapped in, beside the output folder or the
//! register.
//!
//! Its name is fixed, so that a folder left by an interrupted run is found and cleared by the next one; a lock on a
//! file in it, which the system drops when a program ends in whatever way, tells such a folder from one in use.

use std::fs::{self, File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

use super::output::Refusal;

const LOCK: &str = "lock";

/// The folder; removed again when dropped, together with the folders that were made to hold it.
#[derive(Debug)]
pub(super) struct Staging {
    folder: PathBuf,
    made: Vec<PathBuf>,
    lock: Option<File>,
    files: usize,
}

impl Staging {
    /// Makes the folder for `target`, or takes over what an interrupted run left.
    pub(super) fn open(target: &Path) -> Result<Self, Refusal> {
        let parent = target.parent().unwrap_or(Path::new(""));
        let mut staging = Self { folder: folder_for(target), made: Vec::new(), lock: None, files: 0 };
        make_folders(parent, &mut staging.made).map_err(|(path, error)| Refusal::failed(&path, &error))?;
        staging.claim()?;
        Ok(staging)
    }

    /// True where an interrupted run has left its folder.
    pub(super) fn is_left(target: &Path) -> bool {
        fs::symlink_metadata(folder_for(target)).is_ok()
    }

    fn claim(&mut self) -> Result<(), Refusal> {
        let failed = |error: io::Error| Refusal::failed(&self.folder, &error);
        match fs::create_dir(&self.folder) {
            Ok(()) => {}
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
                // Only a folder with our lock in it is ours to clear, or one that has nothing in it.
                let ours = fs::symlink_metadata(&self.folder).is_ok_and(|folder| folder.is_dir())
                    && (fs::symlink_metadata(self.folder.join(LOCK)).is_ok_and(|lock| lock.is_file())
                        || fs::read_dir(&self.folder).is_ok_and(|mut files| files.next().is_none()));
                if !ours {
                    return Err(Refusal::InTheWay(self.folder.clone()));
                }
            }
            Err(error) => return Err(failed(error)),
        }
        let lock = File::create(self.folder.join(LOCK)).map_err(failed)?;
        match lock.try_lock() {
            Err(TryLockError::WouldBlock) => return Err(Refusal::Busy(self.folder.clone())),
            // A file system without locks: then there is none to respect either.
            Ok(()) | Err(TryLockError::Error(_)) => self.lock = Some(lock),
        }
        for left in fs::read_dir(&self.folder).map_err(failed)? {
            let left = left.map_err(failed)?;
            if left.file_name() != LOCK {
                fs::remove_file(left.path()).map_err(failed)?;
            }
        }
        Ok(())
    }

    /// A new name in the folder, for a file that will be moved from here or has to be kept for a while.
    fn next(&mut self) -> PathBuf {
        self.files += 1;
        self.folder.join(format!("{:05}", self.files))
    }

    /// Puts a file into the folder.
    pub(super) fn put(&mut self, bytes: &[u8]) -> Result<PathBuf, Refusal> {
        let path = self.next();
        fs::write(&path, bytes).map_err(|error| Refusal::failed(&path, &error))?;
        Ok(path)
    }

    /// Keeps a copy of a file in the folder.
    pub(super) fn keep(&mut self, file: &Path) -> io::Result<PathBuf> {
        let path = self.next();
        fs::copy(file, &path)?;
        Ok(path)
    }
}

impl Drop for Staging {
    fn drop(&mut self) {
        // Only a folder that this run holds, and the lock until it is gone; one that another run is using stays.
        if let Some(lock) = self.lock.take() {
            let _ = fs::remove_dir_all(&self.folder);
            drop(lock);
        }
        remove_empty(&self.made);
    }
}

fn folder_for(target: &Path) -> PathBuf {
    let name = target.file_name().unwrap_or_default().to_string_lossy();
    target.parent().unwrap_or(Path::new("")).join(format!(".loopwright-{name}"))
}

/// Makes a folder and what it stands in, and notes each one made, outermost first.
pub(super) fn make_folders(folder: &Path, made: &mut Vec<PathBuf>) -> Result<(), (PathBuf, io::Error)> {
    let missing: Vec<&Path> = folder
        .ancestors()
        .take_while(|path| !path.as_os_str().is_empty() && fs::symlink_metadata(path).is_err())
        .collect();
    for path in missing.into_iter().rev() {
        fs::create_dir(path).map_err(|error| (path.to_owned(), error))?;
        made.push(path.to_owned());
    }
    match fs::metadata(folder) {
        Ok(metadata) if !metadata.is_dir() => Err((folder.to_owned(), io::ErrorKind::NotADirectory.into())),
        _ => Ok(()),
    }
}

/// Removes folders, innermost first, as far as they are empty.
pub(super) fn remove_empty(folders: &[PathBuf]) {
    for folder in folders.iter().rev() {
        let _ = fs::remove_dir(folder);
    }
}
