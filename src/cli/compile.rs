//! `loopwright compile`: reads sites and writes the packet of each one without errors.
//!
//! All sites are compiled and all output folders looked at before anything is written: a name taken twice or a file
//! in the way stops the run with nothing changed. Then one site after the other is written, as [`write`] says.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::{Path, PathBuf};

use super::check::{self, Compiler};
use super::git::Repository;
use super::report::{self, Site};
use super::screen::Screen;
use super::write::{self, Job, Refusal, Written};
use super::{Exit, Stop, disk, pdf};
use crate::base::wording::{count, list};
use crate::diag::neutral::shown;
use crate::register_file;
use crate::session;

/// Where packets are written.
#[derive(Clone, Copy, Debug)]
pub(super) struct Target<'t> {
    /// The folder of their folders.
    pub(super) out: &'t Path,
    /// Whether the joined files are printed as PDF as well.
    pub(super) pdf: bool,
}

/// Compiles every site that `paths` mean into a folder of its name in the target.
pub(super) fn run(screen: &mut Screen, paths: &[PathBuf], target: Target, compiler: Compiler) -> Result<Exit, Stop> {
    let (sites, unsearched) = check::read(paths, compiler)?;
    let exit = finish(screen, sites, target)?;
    Ok(report::end(screen, exit, &unsearched))
}

/// Writes the packets of sites that were compiled, and prints what was found.
pub(super) fn finish(screen: &mut Screen, mut sites: Vec<Site>, target: Target) -> Result<Exit, Stop> {
    let Target { out, pdf: printed } = target;
    let mut bundles = sites.iter_mut().filter_map(|site| site.outcome.bundle.as_mut()).filter(|_| printed);
    let printed = bundles.try_for_each(pdf::add);
    let written = printed.and_then(|()| write_all(&mut sites, out));
    for site in &mut sites {
        site.packet = packet(site, out);
    }
    // The findings are worth printing also where the packets could not be written.
    let exit = report::print(screen, &sites)?;
    for site in sites.iter().filter(|site| is_lost(site)) {
        let file = shown(&disk::shown(&site.folder, register_file::FILE));
        screen.complain(&format!(
            "{file} was not there, and the last commit has it: without it labels and terminals are given anew, also to what is in the wall\n  help: `git checkout HEAD -- {file}` takes it back; then compile again\n"
        ));
    }
    written.map(|()| exit)
}

/// Whether a site's register is gone that its last commit has. git is asked only where there is no register.
fn is_lost(site: &Site) -> bool {
    let folder = site.folder.canonicalize().ok().filter(|_| site.register.is_none());
    let in_git = folder.is_some_and(|folder| folder.ancestors().any(|above| above.join(".git").exists()));
    in_git && Repository::of(Some(&site.folder)).is_ok_and(|repository| repository.has(register_file::FILE))
}

fn write_all(sites: &mut [Site], out: &Path) -> Result<(), Stop> {
    refuse_links(out)?;
    let folders = folders(sites, out)?;
    for site in sites.iter().filter(|site| site.outcome.bundle.is_none()) {
        let name = site.outcome.site.as_deref().filter(|name| write::unstorable(name).is_none());
        write::tidy(&site.folder, name.map(|name| out.join(name)).as_deref());
    }
    let mut jobs = Vec::new();
    let texts: Vec<Option<String>> =
        sites.iter().map(|site| site.outcome.register.as_ref().map(session::NextRegister::text)).collect();
    for (index, (site, text)) in sites.iter().zip(&texts).enumerate() {
        if let (Some(target), Some(bundle)) = (folders.get(&index), &site.outcome.bundle) {
            let (register, text) = (site.register.as_deref(), text.as_deref());
            jobs.push((index, Job { site: &site.folder, register, text, target, bundle }));
        }
    }
    for (_, job) in &jobs {
        write::look(job).map_err(|refusal| stop(&refusal, &[]))?;
    }
    let mut done: Vec<(usize, Written)> = Vec::new();
    let mut failed = None;
    for (index, job) in jobs {
        match write::write(&job) {
            Ok(written) => done.push((index, written)),
            Err(refusal) => {
                failed = Some(stop(&refusal, &done));
                break;
            }
        }
    }
    for (index, written) in done {
        if let Some(site) = sites.get_mut(index) {
            site.written = Some(written);
        }
    }
    failed.map_or(Ok(()), Err)
}

/// Refuses an output folder that is a link: the packets would land elsewhere, perhaps where somebody wants them who wrote the
/// spec. What stands above an absolute path is the user's own.
fn refuse_links(out: &Path) -> Result<(), Stop> {
    // Without a slash at the end, which would follow the link.
    let out: PathBuf = out.components().collect();
    let checked = if out.is_absolute() { 1 } else { usize::MAX };
    match out.ancestors().take(checked).find(|path| path.is_symlink()) {
        Some(link) => Err(Stop::new(format!("{} is a link, and the packets would land elsewhere", link.display()))
            .help("name the folder that it leads to with --out")),
        None => Ok(()),
    }
}

/// The output folder of each site that has a packet, by the site's rank.
fn folders(sites: &[Site], out: &Path) -> Result<BTreeMap<usize, PathBuf>, Stop> {
    let mut taken: BTreeMap<String, &Path> = BTreeMap::new();
    let mut folders = BTreeMap::new();
    for (index, site) in sites.iter().enumerate().filter(|(_, site)| site.outcome.bundle.is_some()) {
        let name = site.outcome.site.as_deref().unwrap_or_default();
        if let Some(why) = write::unstorable(name) {
            let site = site.folder.display();
            return Err(Stop::new(format!("{site}: the name \"{name}\" cannot name a folder: {why}"))
                .help("the packet's folder has the site's name: choose one that every system can store"));
        }
        // Two names that differ in case only are one folder on many machines.
        if let Some(other) = taken.insert(name.to_lowercase(), &site.folder) {
            let (one, two) = (other.display(), site.folder.display());
            return Err(Stop::new(format!("{one} and {two} are both named \"{name}\", so their packets would mix"))
                .help("rename one of them, or compile them one at a time with an --out of its own"));
        }
        folders.insert(index, out.join(name));
    }
    Ok(folders)
}

fn stop(refusal: &Refusal, done: &[(usize, Written)]) -> Stop {
    let mut help = refusal.help().to_owned();
    if !done.is_empty() {
        let folders: Vec<String> = done.iter().map(|(_, written)| written.folder.display().to_string()).collect();
        let _ = write!(help, "; written before it: {}", list(&folders, "and"));
    }
    Stop::new(refusal.to_string()).help(help)
}

/// What became of the packet, and where to look first.
fn packet(site: &Site, out: &Path) -> String {
    let mut text = String::new();
    if let Some(written) = &site.written {
        let folder = shown(&written.folder.to_string_lossy());
        let _ = write!(text, "{} in {folder}", count(written.files, "file", None));
        if written.unchanged > 0 {
            let _ = write!(text, ", {} unchanged", written.unchanged);
        }
        if written.removed > 0 {
            let _ = write!(text, ", {} no longer needed and removed", written.removed);
        }
        text.push('\n');
        if site.outcome.register.is_some() {
            let file = shown(&disk::shown(&site.folder, register_file::FILE));
            let _ = writeln!(text, "{file} has changed: commit it with the spec");
        }
        for kept in &written.kept {
            let _ = writeln!(text, "  {kept} is no longer part of the packet but was changed by hand, so it stays");
        }
        for renamed in &written.renamed {
            let _ =
                writeln!(text, "  a file of yours is now called {}: another took its name meanwhile", shown(renamed));
        }
        let bundle = site.outcome.bundle.as_ref();
        if let Some(first) = bundle.and_then(|bundle| bundle.files.keys().find(|path| *path == "index.html")) {
            let _ = writeln!(text, "start with {folder}/{first}");
        }
    } else if site.outcome.failed() {
        text.push_str("no packet written because of the errors");
        let name = site.outcome.site.as_deref().filter(|name| !name.is_empty());
        if let Some(folder) = name.map(|name| out.join(name)).filter(|folder| write::holds_packet(folder)) {
            let _ = write!(text, "; the one in {} is from an earlier run", shown(&folder.to_string_lossy()));
        }
        text.push('\n');
    }
    text
}

#[cfg(test)]
mod tests;
