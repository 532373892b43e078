//! `loopwright readings`: a record of readings to fill in.

use std::path::Path;

use super::disk::DiskFiles;
use super::report::{self, Site};
use super::screen::Screen;
use super::{Exit, Stop, question};
use crate::session;

/// Prints the record.
pub(super) fn run(screen: &mut Screen, path: &Path, date: jiff::civil::Date) -> Result<Exit, Stop> {
    let folder = question::one_site(path)?;
    let files = DiskFiles::open(&folder)?;
    match session::readings(&files, date) {
        (outcome, Some(text)) if !outcome.failed() => {
            screen.print(&text)?;
            Ok(Exit::Clean)
        }
        (outcome, _) => report::print(screen, &[Site::new(folder, outcome, None)]),
    }
}
