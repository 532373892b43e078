//! What `why` and `diagnose` share: one site is read, and one zone's loop is asked about.

use std::path::{Path, PathBuf};

use super::disk::DiskFiles;
use super::report::{self, Site};
use super::screen::Screen;
use super::{Exit, Stop, sites};
use crate::base::wording::list;
use crate::diag::neutral::words;
use crate::resolve::load::FileSource;
use crate::session::{Asked, NoAnswer};

/// Asks about something (`of`: "zone 7") of the one site that `path` means, and prints the answer; where the spec is too broken for one,
/// prints what is wrong with it.
pub(super) fn ask<T>(
    screen: &mut Screen,
    path: &Path,
    of: &str,
    asked: impl Fn(&dyn FileSource) -> Asked<T>,
    print: impl Fn(&Screen, &T) -> String,
) -> Result<Exit, Stop> {
    let folder = one_site(path)?;
    let files = DiskFiles::open(&folder)?;
    let Asked { outcome, answer } = asked(&files);
    match answer {
        Ok(answer) => {
            let text = print(screen, &answer);
            screen.print(&text)?;
            Ok(Exit::Clean)
        }
        Err(reason) if outcome.failed() && reason != NoAnswer::NoLoop && reason != NoAnswer::NoSensing => {
            report::print(screen, &[Site::new(folder, outcome, None)])
        }
        Err(reason) => Err(stop(of, reason)),
    }
}

/// The folder of the one site that `path` means.
pub(super) fn one_site(path: &Path) -> Result<PathBuf, Stop> {
    sites::only(path, sites::find(&[path.to_owned()])?)
}

fn stop(of: &str, reason: NoAnswer) -> Stop {
    match reason {
        NoAnswer::UnknownZone(numbers) if numbers.is_empty() => Stop::new("the site has no zones"),
        NoAnswer::UnknownZone(numbers) => {
            let numbers: Vec<String> = ranges(&numbers);
            let noun =
                if numbers.len() == 1 && !numbers.iter().any(|one| one.contains("to")) { "zone" } else { "zones" };
            Stop::new(format!("there is no {of}")).help(format!("the site has {noun} {}", list(&numbers, "and")))
        }
        NoAnswer::UnknownName(names) if names.is_empty() => {
            Stop::new(format!("there is no {of}, and none of its kind"))
        }
        NoAnswer::UnknownName(names) => {
            let names: Vec<String> = names.iter().map(|name| words(name)).collect();
            Stop::new(format!("there is no {}", words(of))).help(format!("the site has {}", list(&names, "and")))
        }
        NoAnswer::NoLoop => {
            Stop::new(format!("{of} has no wired loop")).help("only loops have readings; a wireless detector has none")
        }
        NoAnswer::NoSensing => Stop::new(format!("nobody says how the board of {of} senses, so volts tell nothing"))
            .help("measure ohms with both leads off, or give the board's part a `sensing` node"),
        NoAnswer::NoSite | NoAnswer::NotWhole => {
            Stop::new(format!("the figures of {of} cannot be calculated")).help("`loopwright check` says why")
        }
    }
}

/// "1 to 6", "8": rising numbers in few words.
fn ranges(numbers: &[u32]) -> Vec<String> {
    let mut runs: Vec<(u32, u32)> = Vec::new();
    for number in numbers {
        match runs.last_mut() {
            Some((_, last)) if last.checked_add(1) == Some(*number) => *last = *number,
            _ => runs.push((*number, *number)),
        }
    }
    runs.into_iter().map(|(a, b)| if a == b { a.to_string() } else { format!("{a} to {b}") }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_in_few_words() {
        assert_eq!(ranges(&[1, 2, 3, 5, 8, 9]), ["1 to 3", "5", "8 to 9"]);
        assert_eq!(ranges(&[u32::MAX]), [u32::MAX.to_string()]);
    }
}
