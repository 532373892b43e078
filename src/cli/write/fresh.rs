//! A folder where none is: put together in a workspace beside it, and renamed to its place.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use super::refusal::Refusal;
use super::steps;
use super::workspace::{NEW, Workspace, make_folders, parent};

/// Writes a folder with some files, by their paths in it, or nothing. A file that begins with `#!` may be run.
pub(in crate::cli) fn fresh(target: &Path, files: &BTreeMap<String, String>) -> Result<(), Refusal> {
    let workspace = Workspace::open(target)?;
    let failed = |error: std::io::Error| Refusal::failed(target, &error);
    let new = workspace.path(NEW);
    workspace.clear(NEW).map_err(|error| Refusal::left(&new, &error))?;
    steps::make_folder(&new).map_err(failed)?;
    for (path, text) in files {
        let path = new.join(path);
        make_folders(parent(&path), &mut Vec::new()).map_err(|(_, error)| failed(error))?;
        steps::write_file(&path, text.as_bytes()).map_err(failed)?;
        #[cfg(unix)]
        if text.starts_with("#!") {
            use std::os::unix::fs::PermissionsExt;
            steps::permit(&path, fs::Permissions::from_mode(0o755)).map_err(failed)?;
        }
    }
    if fs::symlink_metadata(target).is_ok() {
        return Err(Refusal::InTheWay(target.to_owned()));
    }
    steps::rename(&new, target).map_err(failed)?;
    steps::sync_folder(parent(target)).map_err(|error| Refusal::uncleared(target, &error))?;
    workspace.close()
}
