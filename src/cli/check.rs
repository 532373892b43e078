//! `loopwright check`: reads sites and prints what is found.

use std::path::{Path, PathBuf};

use super::disk::DiskFiles;
use super::report::{self, Site};
use super::screen::Screen;
use super::{Exit, Stop, plain, sites};
use crate::resolve::load::FileSource;
use crate::session::Outcome;

/// The compiler as the commands see it: the real one, or a plain function in a test.
pub(super) type Compiler<'a> = &'a dyn Fn(&dyn FileSource) -> Outcome;

/// Checks every site that `paths` mean.
pub(super) fn run(screen: &mut Screen, paths: &[PathBuf], compiler: Compiler) -> Result<Exit, Stop> {
    let (sites, unsearched) = read(paths, compiler)?;
    let exit = report::print(screen, &sites)?;
    Ok(report::end(screen, exit, &unsearched))
}

/// Runs the compiler over every site that `paths` mean; with what could not be searched.
pub(super) fn read(paths: &[PathBuf], compiler: Compiler) -> Result<(Vec<Site>, Vec<Stop>), Stop> {
    let (folders, unsearched) = sites::find_all(paths)?;
    let sites: Result<_, Stop> = folders.into_iter().map(|folder| read_site(&folder, compiler)).collect();
    Ok((sites?, unsearched))
}

fn read_site(folder: &Path, compiler: Compiler) -> Result<Site, Stop> {
    let files = DiskFiles::open(folder)
        .map_err(|error| Stop::new(format!("cannot read {}: {}", folder.display(), plain(&error))))?;
    let outcome = compiler(&files);
    Ok(Site::new(folder.to_owned(), outcome, files.register()))
}
