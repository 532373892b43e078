//! `loopwright textconv`: one spec file as a plain list, for `git diff`; two of them as what differs, for `git difftool`.

use std::path::Path;

use super::screen::Screen;
use super::{Exit, Stop, disk, plain};
use crate::diag::neutral;
use crate::session;

/// Prints the list, or what differs between the lists of two files. git hands over temporary files of its own, and the
/// empty device for a file that is not there, so any file will do, whatever its name.
pub(super) fn run(screen: &mut Screen, file: &Path, other: Option<&Path>) -> Result<Exit, Stop> {
    let text = match other {
        None => session::textconv(read(file)?),
        Some(other) => session::textconv_two(read(file)?, read(other)?),
    };
    screen.print(&neutral::lines(&text))?;
    Ok(Exit::Clean)
}

fn read(file: &Path) -> Result<Vec<u8>, Stop> {
    disk::read_any(file, disk::LIMIT)
        .map_err(|error| Stop::new(format!("cannot read {}: {}", file.display(), plain(&error))))
}
