//! `loopwright portfolio`: a line for each of many sites, read on all cores. Of a site that has been read only what its line
//! and the sums need is kept, in a cache also until the next run.

mod asked;
mod cache;
mod traced;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use indicatif::{ProgressBar, ProgressFinish, ProgressStyle};
use rayon::prelude::*;

pub(super) use asked::Asked;
use asked::Shard;
use cache::Cache;
use traced::{Reads, Traced};

use super::disk::DiskFiles;
use super::revision::Revision;
use super::screen::Screen;
use super::{Exit, Stop, list, report, sites};
use crate::base::wording::{count, thousands};
use crate::diag::neutral::shown;
use crate::diag::{Counts, Format};
use crate::emit;
use crate::resolve::text::Remembered;
use crate::session;
use crate::session::portfolio::{self, Placed};

/// Prints the lines that are wanted, and for people a sum of all that were read.
pub(super) fn run(screen: &mut Screen, asked: &Asked) -> Result<Exit, Stop> {
    let (mut folders, unsearched) = sites::find_all(&asked.paths)?;
    if let Some(Shard { index, of }) = asked.shard {
        folders = folders.into_iter().skip(index).step_by(of).collect();
    }
    let since = asked.since.as_deref().map(Revision::named).transpose()?;
    // Sites that are gone are in no share; the first tells them.
    let tells = asked.shard.is_none_or(|shard| shard.index == 0);
    let gone = since.as_ref().filter(|_| tells).map_or(Ok(Vec::new()), |since| gone(since, &asked.paths))?;
    let cache = asked.cache.as_deref().map(Cache::open).transpose();
    let (cache, trouble) = cache.map_or_else(|trouble| (None, Some(trouble)), |cache| (cache, None));
    let progress = progress(screen, folders.len());
    let shared = Remembered::of_shared();
    let read = |folder: &PathBuf| {
        let placed = place(folder, &shared, cache.as_ref(), since.as_ref());
        progress.inc(1);
        placed
    };
    let sites = folders.par_iter().map(read).collect::<Result<Vec<Placed>, Stop>>();
    // It clears its line.
    drop(progress);
    let sites = sites?;
    print(screen, asked, &sites, &gone)?;
    if let Some(trouble) = trouble.or_else(|| cache.and_then(Cache::into_trouble)) {
        screen.complain(&format!("note: {}\n", shown(&trouble)));
    }
    let broken = sites.iter().any(|site| site.kept.counts.errors > 0);
    Ok(report::end(screen, if broken { Exit::Faults } else { Exit::Clean }, &unsearched))
}

/// The columns that a narrow screen shows; the folder's name is mostly the site's.
const FIRST: &[&str] = &["folder", "errors", "warnings", "next due", "what is due"];

fn print(screen: &mut Screen, asked: &Asked, sites: &[Placed], gone: &[String]) -> Result<(), Stop> {
    if asked.html {
        let since = asked.since.as_ref().map(|since| format!(" · since {since}")).unwrap_or_default();
        let line = format!("{}{since} · loopwright {}", count(sites.len(), "site", None), env!("CARGO_PKG_VERSION"));
        return screen.print(&emit::summary("Portfolio", &line, &portfolio::summary::sections(sites, gone)));
    }
    let table = if asked.by_rule { portfolio::rules::table(sites) } else { portfolio::table(sites) };
    list::print(screen, table, (&asked.only, &asked.columns), FIRST, asked.csv)?;
    let told = match portfolio::summary::told_of(gone) {
        told if told.is_empty() => told,
        told => shown(&told) + "\n",
    };
    let look = match screen.format {
        Format::Human(look) if !asked.csv => look,
        // A program reads the lines: what has none is told beside them.
        _ if told.is_empty() => return Ok(()),
        _ => {
            screen.complain(&format!("note: {told}"));
            return Ok(());
        }
    };
    let broken = sites.iter().filter(|site| site.kept.counts.errors > 0).count();
    let errors = if broken == 0 { "none".to_owned() } else { thousands(broken) };
    let sum: Counts = sites.iter().map(|site| &site.kept.counts).sum();
    let counted = count(sites.len(), "site", None);
    screen.print(&look.fit(&format!("\n{counted}, {errors} with errors: {sum}\n{told}")))
}

/// A site, from the cache where that knows it.
fn place(folder: &Path, shared: &Remembered, cache: Option<&Cache>, since: Option<&Revision>) -> Result<Placed, Stop> {
    let files = DiskFiles::open(folder)?;
    let named = report::named(folder);
    let (kept, reads) = cache.and_then(|cache| cache.get(&named, &files)).unwrap_or_else(|| {
        let traced = Traced::new(&files, shared);
        let kept = session::of_portfolio(&traced);
        let reads = traced.into_reads();
        if let Some(cache) = cache {
            cache.put(&named, &kept, &reads);
        }
        (kept, reads)
    });
    let changed = since.map(|since| changed(since, folder, (&files, &reads))).transpose()?;
    Ok(Placed { folder: named, changed, kept })
}

/// What became of a site since a revision.
fn changed(since: &Revision, folder: &Path, (files, reads): (&DiskFiles, &Reads)) -> Result<String, Stop> {
    let Some(old) = since.site(folder)? else { return Ok("new".to_owned()) };
    // Most sites are as they were: the same texts need no comparison.
    let said = if reads.are_those_of(&old) { "no change".to_owned() } else { session::changed(&old, files) };
    old.whole()?;
    Ok(said)
}

/// The folders that were sites in a revision and are none now, wherever they are looked for.
fn gone(since: &Revision, paths: &[PathBuf]) -> Result<Vec<String>, Stop> {
    let folders = paths.iter().filter(|path| path.is_dir() && !path.join(sites::SITE_FILE).exists());
    let gone = folders.map(|folder| since.gone(folder)).collect::<Result<Vec<_>, Stop>>()?;
    let named: BTreeSet<String> = gone.iter().flatten().map(|folder| report::named(folder)).collect();
    Ok(named.into_iter().collect())
}

/// A bar that shows how many sites have been read, where people look on, and is gone when it is dropped.
fn progress(screen: &Screen, sites: usize) -> ProgressBar {
    if !screen.is_watched {
        return ProgressBar::hidden();
    }
    let bar = ProgressBar::new(sites as u64).with_finish(ProgressFinish::AndClear);
    match ProgressStyle::with_template("{wide_bar} {pos} of {len} sites") {
        // Signs that every terminal has.
        Ok(style) => bar.with_style(style.progress_chars("=> ")),
        Err(_) => bar,
    }
}
