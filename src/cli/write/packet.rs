//! A packet on its way into its folder.

use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use super::names::MANIFEST;
use super::plan::{self, Plan, Written};
use super::refusal::Refusal;
use super::steps;
use super::sweep::{self, sweep};
use super::workspace::{NEW, OLD, SWAP, Workspace, make_folders, parent};
use crate::emit::Bundle;

/// A packet, with its folder locked; or one that is in place already.
#[derive(Debug)]
pub(super) struct Packet<'a> {
    target: &'a Path,
    bundle: &'a Bundle,
    plan: Plan,
    /// `None` where there is nothing to do.
    workspace: Option<Workspace>,
    /// True as long as `swap` in the workspace holds nothing but the new packet.
    aside: bool,
    /// Files of others that got another name when an earlier run was completed.
    renamed: Vec<String>,
}

impl<'a> Packet<'a> {
    /// Locks the folder, clears what an earlier run left, and makes the plan.
    pub(super) fn open(site: &Path, target: &'a Path, bundle: &'a Bundle) -> Result<Self, Refusal> {
        let packet = |plan, workspace, renamed| Self { target, bundle, plan, workspace, aside: true, renamed };
        if !Workspace::is_there(target)
            && let Some(plan) = Plan::of(site, target, bundle).ok().filter(Plan::is_done)
        {
            return Ok(packet(plan, None, Vec::new()));
        }
        replaceable(site, target)?;
        let workspace = Workspace::open(target)?;
        let renamed = recover(&workspace, target)?;
        let plan = Plan::of(site, target, bundle)?;
        let workspace = (!plan.is_done()).then_some(workspace);
        Ok(packet(plan, workspace, renamed))
    }

    /// Writes the whole packet beside its folder, and forces it to the disk.
    pub(super) fn prepare(&self) -> Result<(), Refusal> {
        let Some(workspace) = &self.workspace else { return Ok(()) };
        let new = workspace.path(NEW);
        let list = self.plan.list.print();
        let mut folders = vec![new.clone()];
        check(&new, steps::make_folder(&new))?;
        let files = self.bundle.files.iter().map(|(path, bytes)| (path.as_str(), bytes.as_slice()));
        for (path, bytes) in files.chain([(MANIFEST, list.as_bytes())]) {
            let at = new.join(path);
            make_folders(at.parent().unwrap_or(&new), &mut folders)
                .map_err(|(path, error)| Refusal::failed(&path, &error))?;
            check(&at, steps::write_file(&at, bytes))?;
        }
        for folder in folders.iter().rev() {
            check(folder, steps::sync_folder(folder))?;
        }
        if let Ok(old) = fs::metadata(self.target) {
            sweep::check(self.target, &new)?;
            check(&new, steps::permit(&new, old.permissions()))?;
        }
        let swap = workspace.path(SWAP);
        check(&swap, steps::rename(&new, &swap))?;
        check(&swap, steps::sync_folder(parent(&swap)))
    }

    /// Puts the new packet in the place of the old one, or leaves everything as it was.
    pub(super) fn swap(&mut self) -> Result<(), Refusal> {
        let Some(workspace) = &self.workspace else { return Ok(()) };
        let swap = workspace.path(SWAP);
        let done = if fs::symlink_metadata(self.target).is_err() {
            check(self.target, steps::rename(&swap, self.target))
        } else {
            match steps::exchange(&swap, self.target) {
                // Some systems can move a folder that they cannot exchange.
                Err(error) if matches!(error.kind(), ErrorKind::Unsupported | ErrorKind::CrossesDevices) => {
                    replace(&swap, self.target, &workspace.path(OLD))
                }
                done => check(self.target, done),
            }
        };
        self.aside = done.is_err();
        done
    }

    /// Clears away what was replaced.
    pub(super) fn close(mut self) -> Result<Written, Refusal> {
        let mut written = std::mem::take(&mut self.plan).written(self.target);
        written.renamed = std::mem::take(&mut self.renamed);
        if let Some(workspace) = self.workspace.take() {
            let uncleared = |(path, error): (PathBuf, io::Error)| Refusal::uncleared(&path, &error);
            let swap = workspace.path(SWAP);
            // On the disk before anything of the old packet goes: after a power cut it may be the one that stands.
            for folder in [parent(self.target), parent(&swap)] {
                steps::sync_folder(folder).map_err(|error| uncleared((folder.to_owned(), error)))?;
            }
            for left in [swap, workspace.path(OLD)] {
                written.renamed.extend(sweep(&left, self.target).map_err(uncleared)?);
            }
            workspace.close()?;
        }
        Ok(written)
    }
}

impl Drop for Packet<'_> {
    fn drop(&mut self) {
        if let Some(workspace) = self.workspace.as_ref().filter(|_| self.aside) {
            let _ = workspace.clear(SWAP);
        }
    }
}

/// Puts a folder in the place of another in two steps, where the system cannot do it in one.
fn replace(new: &Path, target: &Path, old: &Path) -> Result<(), Refusal> {
    check(target, steps::rename(target, old))?;
    let Err(error) = steps::rename(new, target) else { return Ok(()) };
    match steps::rename(old, target) {
        Ok(()) => Err(Refusal::failed(target, &error)),
        Err(error) => Err(Refusal::astray(target, old, &error)),
    }
}

/// Completes what an interrupted run began, where nothing is to be written now; as far as that is possible.
pub(super) fn tidy(site: &Path, target: &Path) {
    if Workspace::is_there(target)
        && replaceable(site, target).is_ok()
        && let Ok(workspace) = Workspace::open(target)
    {
        let _ = recover(&workspace, target);
    }
}

/// Refuses a folder that cannot be replaced as a whole.
fn replaceable(site: &Path, target: &Path) -> Result<(), Refusal> {
    let Some(metadata) = plan::folder(target)? else { return Ok(()) };
    if metadata.permissions().readonly() {
        return Err(Refusal::ReadOnly(target.to_owned()));
    }
    let refused = |why| Err(Refusal::Irreplaceable { folder: target.to_owned(), why });
    let real = fs::canonicalize(target).map_err(|error| Refusal::failed(target, &error))?;
    if fs::canonicalize(site).is_ok_and(|site| site.starts_with(&real)) {
        return refused("holds the spec");
    }
    #[cfg(unix)]
    if sweep::is_mounted(&real) {
        return refused("is a file system of its own");
    }
    Ok(())
}

/// Completes or undoes what an interrupted run began. Gives the files of others that got another name.
fn recover(workspace: &Workspace, target: &Path) -> Result<Vec<String>, Refusal> {
    let left = |(path, error): (PathBuf, io::Error)| Refusal::left(&path, &error);
    let old = workspace.path(OLD);
    workspace.clear(NEW).map_err(|error| left((workspace.path(NEW), error)))?;
    if fs::symlink_metadata(&old).is_ok() && fs::symlink_metadata(target).is_err() {
        steps::rename(&old, target).map_err(|error| left((old.clone(), error)))?;
    }
    let mut renamed = Vec::new();
    for from in [workspace.path(SWAP), old] {
        renamed.extend(sweep(&from, target).map_err(left)?);
    }
    Ok(renamed)
}

fn check(path: &Path, done: io::Result<()>) -> Result<(), Refusal> {
    done.map_err(|error| Refusal::failed(path, &error))
}
