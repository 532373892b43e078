//! A single file on its way into its folder, a register or a file that is laid out: whoever reads it, and whatever interrupts
//! the program, finds the old or the new one.

use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use super::refusal::Refusal;
use super::steps;
use super::workspace::{COPY, NEW, Workspace, parent};

/// A file, locked where it is to change.
#[derive(Debug)]
pub(super) struct Single<'a> {
    target: PathBuf,
    old: Option<&'a [u8]>,
    new: Option<&'a str>,
    /// `None` where there is nothing to do.
    workspace: Option<Workspace>,
}

impl<'a> Single<'a> {
    /// Locks the file if it is to change, clears what an earlier run left, and refuses one that is not `old`, which was
    /// read. Where its name is a link, the file itself is meant: the link stays one.
    pub(super) fn open(named: &Path, old: Option<&'a [u8]>, new: Option<&'a str>) -> Result<Self, Refusal> {
        let target = file(named);
        if new.is_none() {
            tidy(&target);
        }
        let workspace = new.is_some().then(|| Workspace::open(&target)).transpose()?;
        if let Some(workspace) = &workspace {
            for name in [NEW, COPY] {
                workspace.clear(name).map_err(|error| Refusal::left(&workspace.path(name), &error))?;
            }
        }
        let found = match fs::read(&target) {
            Ok(bytes) => Some(bytes),
            Err(error) if error.kind() == ErrorKind::NotFound => None,
            Err(error) => return Err(Refusal::failed(&target, &error)),
        };
        if found.as_deref() != old {
            return Err(Refusal::Stale(target));
        }
        if new.is_some() && fs::metadata(&target).is_ok_and(|metadata| metadata.permissions().readonly()) {
            return Err(Refusal::ReadOnly(target));
        }
        Ok(Self { target, old, new, workspace })
    }

    /// Writes the new text beside the file, and a copy of the old one to put back.
    pub(super) fn prepare(&self) -> Result<(), Refusal> {
        let (Some(workspace), Some(new)) = (&self.workspace, self.new) else { return Ok(()) };
        let files = [(COPY, self.old), (NEW, Some(new.as_bytes()))];
        for (path, bytes) in files.into_iter().filter_map(|(name, bytes)| Some((workspace.path(name), bytes?))) {
            self.check(steps::write_file(&path, bytes))?;
            if let Ok(old) = fs::metadata(&self.target) {
                self.check(steps::permit(&path, old.permissions()))?;
            }
        }
        Ok(())
    }

    /// Puts the new file in the place of the old one, or leaves everything as it was.
    pub(super) fn put(&self) -> Result<(), Refusal> {
        let Some(workspace) = &self.workspace else { return Ok(()) };
        self.check(steps::rename(&workspace.path(NEW), &self.target))?;
        // On the disk before any paper is: a label that is on paper and in no register would be given again.
        match self.check(self.sync()) {
            Err(refusal) => Err(self.put_back(refusal)),
            done => done,
        }
    }

    /// Puts the old file back because of a refusal, and says so in it where that fails.
    pub(super) fn put_back(&self, refusal: Refusal) -> Refusal {
        let Some(workspace) = &self.workspace else { return refusal };
        let done = match self.old {
            Some(_) => steps::rename(&workspace.path(COPY), &self.target),
            None => steps::remove_file(&self.target),
        };
        match done.and_then(|()| self.sync()) {
            Ok(()) => refusal,
            Err(error) => refusal.with_register(&error),
        }
    }

    /// Removes what helped.
    pub(super) fn close(self) -> Result<(), Refusal> {
        self.workspace.map_or(Ok(()), Workspace::close)
    }

    fn sync(&self) -> io::Result<()> {
        steps::sync_folder(parent(&self.target))
    }

    fn check(&self, done: io::Result<()>) -> Result<(), Refusal> {
        done.map_err(|error| Refusal::failed(&self.target, &error))
    }
}

/// Clears what an interrupted run left beside a file, where it is not to be written now; as far as that is possible.
pub(super) fn tidy_beside(named: &Path) {
    tidy(&file(named));
}

fn tidy(target: &Path) {
    if Workspace::is_there(target) {
        drop(Workspace::open(target));
    }
}

fn file(named: &Path) -> PathBuf {
    fs::canonicalize(named).unwrap_or_else(|_| named.to_owned())
}
