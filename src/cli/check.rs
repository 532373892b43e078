//! `loopwright check`: reads sites and prints what is found.

use std::path::{Path, PathBuf};

use rayon::prelude::*;

use super::arguments::{CheckForm, CheckHow, Denied, Fixes, Least};
use super::disk::DiskFiles;
use super::report::{self, Site};
use super::screen::Screen;
use super::{Exit, Stop, sites, write};
use crate::base::wording::{count, list};
use crate::diag::neutral::shown;
use crate::diag::{Certainty, Counts, Diagnostic, Format, Severity, annotations, json, sarif};
use crate::resolve::load::FileSource;
use crate::session::{self, FixedFile, Outcome};

/// The compiler as the commands see it: the real one, or a plain function in a test.
pub(super) type Compiler<'a> = &'a (dyn Fn(&dyn FileSource) -> Outcome + Sync);

/// Checks every site that `paths` mean.
pub(super) fn run(screen: &mut Screen, paths: &[PathBuf], how: CheckHow, compiler: Compiler) -> Result<Exit, Stop> {
    screen.least = how.least.map(Least::severity);
    if let Some(fixes) = how.fix {
        fix(screen, paths, fixes)?;
    }
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
        None => {
            let exit = report::print(screen, &sites)?;
            hint(screen, found().flat_map(|(_, list)| list), how.fix)?;
            exit
        }
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

/// Says to people how many of the findings bring a change that the program can make.
fn hint<'d>(screen: &mut Screen, found: impl Iterator<Item = &'d Diagnostic>, made: Option<Fixes>) -> Result<(), Stop> {
    let fixes = found.filter(|finding| finding.accepted.is_none()).filter_map(|finding| finding.fix.as_ref());
    let fixes: Vec<_> = fixes.map(|fix| fix.certainty).collect();
    let count = |certainty| fixes.iter().filter(|of| **of == certainty).count();
    let (certain, likely) = (count(Certainty::Certain), count(Certainty::Likely));
    // Those that were certain are made already where they were asked for.
    let shown = if made.is_some() { fixes.len() - certain } else { fixes.len() };
    let told = match (certain, likely, made) {
        (_, _, Some(Fixes::Likely)) | (0, 0, _) => return Ok(()),
        (certain @ 1.., 0, None) => format!("`loopwright check --fix` makes {}", changes(certain, shown)),
        (certain @ 1.., likely, None) => format!(
            "`loopwright check --fix` makes {}, `--fix=likely` {}, which you then confirm",
            changes(certain, shown),
            certain + likely
        ),
        (_, likely, _) => {
            format!("`loopwright check --fix=likely` makes {}, which you then confirm", changes(likely, shown))
        }
    };
    let rest =
        if count(Certainty::House) > 0 { "; what changes the house with the text is yours to write" } else { "" };
    let told = told + rest;
    match screen.format {
        Format::Human(look) => screen.print(&look.fit(&format!("{told}\n"))),
        Format::Short | Format::Json => Ok(()),
    }
}

fn changes(number: usize, shown: usize) -> String {
    match (number, shown) {
        (1, 1) => "the change shown".to_owned(),
        (number, shown) if number == shown => format!("all {number} changes shown"),
        (number, shown) => format!("{number} of the {shown} changes shown"),
    }
}

/// Writes the files of every site with its fixes made.
fn fix(screen: &mut Screen, paths: &[PathBuf], fixes: Fixes) -> Result<(), Stop> {
    let least = match fixes {
        Fixes::Certain => Certainty::Certain,
        Fixes::Likely => Certainty::Likely,
    };
    // What cannot be searched is told by who reads the sites after this.
    let (folders, _) = sites::find_all(paths)?;
    for folder in folders {
        let files = DiskFiles::open(&folder)?;
        let fixed = session::fix(&files, least);
        for FixedFile { path, old, new } in &fixed.files {
            write::replace(&folder.join(path), old, new).map_err(|refusal| Stop::new(refusal.to_string()))?;
        }
        if fixed.fixes > 0 {
            let named: Vec<String> = fixed.files.iter().map(|file| shown(&files.shown(&file.path))).collect();
            let fixes = count(fixed.fixes, "finding", None);
            screen.complain(&format!("fixed {fixes} in {}\n", list(&named, "and")));
        }
    }
    Ok(())
}

/// Runs the compiler over every site that `paths` mean; with what could not be searched.
pub(super) fn read(paths: &[PathBuf], compiler: Compiler) -> Result<(Vec<Site>, Vec<Stop>), Stop> {
    let (folders, unsearched) = sites::find_all(paths)?;
    let sites: Result<_, Stop> = folders.into_par_iter().map(|folder| read_site(&folder, compiler)).collect();
    Ok((sites?, unsearched))
}

fn read_site(folder: &Path, compiler: Compiler) -> Result<Site, Stop> {
    let files = DiskFiles::open(folder)?;
    let outcome = compiler(&files);
    Ok(Site::new(folder.to_owned(), outcome, files.register()))
}
