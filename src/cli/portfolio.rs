//! `loopwright portfolio`: a line for each of many sites, read on all cores. Of a site that has been read only its line is kept.

use std::path::PathBuf;

use rayon::prelude::*;

use super::disk::DiskFiles;
use super::screen::Screen;
use super::{Exit, Stop, list, report, sites};
use crate::base::wording::{count, thousands};
use crate::diag::{Counts, Format};
use crate::session;

/// A share of the sites: every so-manyth of them in their order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Shard {
    /// From 0.
    index: usize,
    of: usize,
}

impl std::str::FromStr for Shard {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let shard = text.split_once('/').and_then(|(number, of)| Some((number.parse().ok()?, of.parse().ok()?)));
        match shard {
            Some((number @ 1.., of)) if number <= of => Ok(Self { index: number - 1, of }),
            _ => Err("write it as 2/8: the second of eight shares".to_owned()),
        }
    }
}

/// Prints the lines that are wanted, and for people a sum of all that were read.
pub(super) fn run(
    screen: &mut Screen,
    paths: &[PathBuf],
    wanted: (&[String], &[String]),
    csv: bool,
    shard: Option<Shard>,
) -> Result<Exit, Stop> {
    let (mut folders, unsearched) = sites::find_all(paths)?;
    if let Some(Shard { index, of }) = shard {
        folders = folders.into_iter().skip(index).step_by(of).collect();
    }
    let read = |folder: &PathBuf| {
        let files = DiskFiles::open(folder)?;
        Ok(session::portfolio_row(&files, &report::named(folder)))
    };
    let read = folders.par_iter().map(read).collect::<Result<Vec<(Counts, Vec<String>)>, Stop>>()?;
    let (counts, rows): (Vec<Counts>, Vec<Vec<String>>) = read.into_iter().unzip();
    list::print(screen, session::portfolio(rows), wanted, csv)?;
    let broken = counts.iter().filter(|counts| counts.errors > 0).count();
    if let Format::Human(look) = screen.format
        && !csv
    {
        let errors = if broken == 0 { "none".to_owned() } else { thousands(broken) };
        let sum: Counts = counts.iter().sum();
        let sites = count(counts.len(), "site", None);
        screen.print(&look.fit(&format!("\n{sites}, {errors} with errors: {sum}\n")))?;
    }
    Ok(report::end(screen, if broken == 0 { Exit::Clean } else { Exit::Faults }, &unsearched))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_is_one_of_so_many() {
        assert_eq!("2/8".parse(), Ok(Shard { index: 1, of: 8 }));
        for text in ["0/3", "4/3", "2", "a/b", "1/0", "-1/2", "1/2/3", ""] {
            assert!(text.parse::<Shard>().is_err(), "{text}");
        }
    }
}
