//! `loopwright check`: reads sites and prints what is found.

use std::path::{Path, PathBuf};

use super::arguments::{CheckForm, CheckHow, Denied};
use super::disk::DiskFiles;
use super::report::{self, Site};
use super::screen::Screen;
use super::{Exit, Stop, sites};
use crate::diag::{Counts, Diagnostic, Severity, annotations, json, sarif};
use crate::resolve::load::FileSource;
use crate::session::Outcome;

/// The compiler as the commands see it: the real one, or a plain function in a test.
pub(super) type Compiler<'a> = &'a dyn Fn(&dyn FileSource) -> Outcome;

/// Checks every site that `paths` mean.
pub(super) fn run(screen: &mut Screen, paths: &[PathBuf], how: CheckHow, compiler: Compiler) -> Result<Exit, Stop> {
    let (sites, unsearched) = read(paths, compiler)?;
    let found = || sites.iter().map(|Site { outcome, .. }| (&outcome.sources, outcome.diagnostics.as_slice()));
    let text = match how.form {
        Some(CheckForm::Sarif) => Some(json::print(&sarif::log(found()))),
        Some(CheckForm::Annotations) => {
            Some(found().map(|(sources, list)| annotations::lines(sources, list)).collect())
        }
        None => how.quiet.then(|| format!("{}\n", Counts::of(found().flat_map(|(_, list)| list)))),
    };
    let exit = match text {
        Some(text) => {
            screen.print(&text)?;
            report::exit(&sites)
        }
        None => report::print(screen, &sites)?,
    };
    let denied = |diagnostic: &Diagnostic| {
        let counts = how.deny.is_some_and(|denied| match denied {
            Denied::Warning => diagnostic.severity() >= Severity::Warning,
            Denied::Note => true,
        });
        counts && diagnostic.accepted.is_none()
    };
    let exit = if found().any(|(_, list)| list.iter().any(denied)) { exit.max(Exit::Faults) } else { exit };
    Ok(report::end(screen, exit, &unsearched))
}

/// Runs the compiler over every site that `paths` mean; with what could not be searched.
pub(super) fn read(paths: &[PathBuf], compiler: Compiler) -> Result<(Vec<Site>, Vec<Stop>), Stop> {
    let (folders, unsearched) = sites::find_all(paths)?;
    let sites: Result<_, Stop> = folders.into_iter().map(|folder| read_site(&folder, compiler)).collect();
    Ok((sites?, unsearched))
}

fn read_site(folder: &Path, compiler: Compiler) -> Result<Site, Stop> {
    let files = DiskFiles::open(folder)?;
    let outcome = compiler(&files);
    Ok(Site::new(folder.to_owned(), outcome, files.register()))
}
