//! `loopwright portfolio`: a line for each of many sites, read on all cores. Of a site that has been read only what its line
//! and the sums need is kept.

mod asked;

use std::path::Path;

use rayon::prelude::*;

pub(super) use asked::Asked;
use asked::Shard;

use super::disk::DiskFiles;
use super::screen::Screen;
use super::{Exit, Stop, list, report, sites};
use crate::base::wording::{count, thousands};
use crate::diag::{Counts, Format};
use crate::session;
use crate::session::portfolio::{self, Placed};

/// Prints the lines that are wanted, and for people a sum of all that were read.
pub(super) fn run(screen: &mut Screen, asked: &Asked) -> Result<Exit, Stop> {
    let (mut folders, unsearched) = sites::find_all(&asked.paths)?;
    if let Some(Shard { index, of }) = asked.shard {
        folders = folders.into_iter().skip(index).step_by(of).collect();
    }
    let sites = folders.par_iter().map(|folder| read(folder)).collect::<Result<Vec<Placed>, Stop>>()?;
    let table = if asked.by_rule { portfolio::rules::table(&sites) } else { portfolio::table(&sites) };
    list::print(screen, table, (&asked.only, &asked.columns), asked.csv)?;
    let broken = sites.iter().filter(|site| site.kept.counts.errors > 0).count();
    if let Format::Human(look) = screen.format
        && !asked.csv
    {
        let errors = if broken == 0 { "none".to_owned() } else { thousands(broken) };
        let sum: Counts = sites.iter().map(|site| &site.kept.counts).sum();
        let sites = count(sites.len(), "site", None);
        screen.print(&look.fit(&format!("\n{sites}, {errors} with errors: {sum}\n")))?;
    }
    Ok(report::end(screen, if broken == 0 { Exit::Clean } else { Exit::Faults }, &unsearched))
}

fn read(folder: &Path) -> Result<Placed, Stop> {
    let files = DiskFiles::open(folder)?;
    Ok(Placed { folder: report::named(folder), kept: session::of_portfolio(&files) })
}
