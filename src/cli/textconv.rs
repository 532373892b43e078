//! `loopwright textconv`: one spec file as a plain list, for `git diff`.

use std::fs;
use std::path::Path;

use super::screen::Screen;
use super::{Exit, Stop, plain};
use crate::diag::neutral;
use crate::session;

/// Prints the list. git hands over a temporary file of its own, so any regular file will do, whatever its name.
pub(super) fn run(screen: &mut Screen, file: &Path) -> Result<Exit, Stop> {
    let bytes =
        fs::read(file).map_err(|error| Stop::new(format!("cannot read {}: {}", file.display(), plain(&error))))?;
    let text: String = session::textconv(bytes).lines().map(|line| format!("{}\n", neutral::shown(line))).collect();
    screen.print(&text)?;
    Ok(Exit::Clean)
}
