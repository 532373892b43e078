//! Writes `register.kdl`, atomically: whoever reads it, and whatever interrupts the program, finds the old or the
//! new one.
//!
//! The text is written in full into a temporary folder beside the file, forced to the disk, and moved into place.

use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};

use super::output::Refusal;
use super::staging::Staging;
use crate::register_file::FILE;

/// Puts the register's text into a site's folder.
pub(super) fn write(folder: &Path, text: &str) -> Result<(), Refusal> {
    let target = target(folder);
    let failed = |error: io::Error| Refusal::failed(&target, &error);
    let mut staging = Staging::open(&target)?;
    let ready = staging.put(text.as_bytes())?;
    File::open(&ready).and_then(|file| file.sync_all()).map_err(failed)?;
    if let Ok(old) = fs::metadata(&target) {
        fs::set_permissions(&ready, old.permissions()).map_err(failed)?;
    }
    fs::rename(&ready, &target).map_err(failed)
}

/// Clears away what a run left that was killed just after it had put the file in its place.
pub(super) fn clear(folder: &Path) {
    let target = target(folder);
    if Staging::is_left(&target) {
        drop(Staging::open(&target));
    }
}

/// The file itself where its name is a link: the link stays one.
fn target(folder: &Path) -> PathBuf {
    let named = folder.join(FILE);
    fs::canonicalize(&named).unwrap_or(named)
}
