//! `loopwright readings`: a record of readings to fill in, and one that was filled in with a spreadsheet.

use std::path::Path;

use super::disk::DiskFiles;
use super::report;
use super::screen::Screen;
use super::{Exit, Stop, new, question};
use crate::session;

/// Prints the record of a day, or without one the table.
pub(super) fn run(screen: &mut Screen, path: &Path, date: Option<jiff::civil::Date>) -> Result<Exit, Stop> {
    let folder = question::one_site(path)?;
    let files = DiskFiles::open(&folder)?;
    let made = date.map_or_else(|| session::readings_table(&files), |date| session::readings(&files, date));
    match made {
        (outcome, Some(text)) if !outcome.failed() => {
            screen.print(&text)?;
            Ok(Exit::Clean)
        }
        (outcome, _) => report::unanswered(screen, folder, outcome),
    }
}

/// Prints the record that a filled-in table gives, or what is wrong with its rows.
pub(super) fn from(screen: &mut Screen, path: &Path, date: jiff::civil::Date, table: &Path) -> Result<Exit, Stop> {
    let folder = question::one_site(path)?;
    let files = DiskFiles::open(&folder)?;
    let bytes = new::bytes(table)?;
    match session::readings_from(&files, date, &bytes) {
        (outcome, Some(made)) if !outcome.failed() => match made {
            Ok(text) => {
                screen.print(&text)?;
                Ok(Exit::Clean)
            }
            Err(faults) => {
                new::tell(screen, table, &faults, "printed");
                Ok(Exit::CouldNotRun)
            }
        },
        (outcome, _) => report::unanswered(screen, folder, outcome),
    }
}
