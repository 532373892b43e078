//! `loopwright compile`: reads sites and writes the packet of each one without errors.
//!
//! All sites are compiled and all output folders looked at before anything is written: a name taken twice or a file
//! in the way stops the run with nothing changed. A site's register is written before its packet: a label that is on
//! paper and in no register would be given a second time.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::{Path, PathBuf};

use super::check::{self, Compiler};
use super::output::{self, Refusal, Written};
use super::report::{self, Site};
use super::screen::Screen;
use super::{Exit, Stop, disk, manifest, register};
use crate::base::wording::count;
use crate::diag::neutral::shown;
use crate::register_file;

/// Compiles every site that `paths` mean into a folder of its name in `out`.
pub(super) fn run(screen: &mut Screen, paths: &[PathBuf], out: &Path, compiler: Compiler) -> Result<Exit, Stop> {
    let (sites, unsearched) = check::read(paths, compiler)?;
    let exit = finish(screen, sites, out)?;
    Ok(report::end(screen, exit, &unsearched))
}

/// Writes the packets of sites that were compiled, and prints what was found.
pub(super) fn finish(screen: &mut Screen, mut sites: Vec<Site>, out: &Path) -> Result<Exit, Stop> {
    let written = write(&mut sites, out);
    for site in &mut sites {
        site.packet = packet(site, out);
    }
    // The findings are worth printing also where the packets could not be written.
    let exit = report::print(screen, &sites)?;
    written.map(|()| exit)
}

fn write(sites: &mut [Site], out: &Path) -> Result<(), Stop> {
    let folders = folders(sites, out)?;
    let mut plans = Vec::new();
    for (index, site) in sites.iter().enumerate() {
        if let (Some(folder), Some(bundle)) = (folders.get(&index), &site.outcome.bundle) {
            plans.push((index, output::plan(folder, bundle).map_err(|refusal| stop(&refusal))?));
        }
    }
    let mut done: Vec<(usize, Written)> = Vec::new();
    let mut failed = None;
    for (index, plan) in plans {
        let kept = sites.get(index).map_or(Ok(()), keep_register);
        match kept.and_then(|()| plan.write()) {
            Ok(written) => done.push((index, written)),
            Err(refusal) => {
                failed = Some(stop(&refusal));
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

fn keep_register(site: &Site) -> Result<(), Refusal> {
    match &site.outcome.register {
        Some(text) => register::write(&site.folder, text),
        None => {
            register::clear(&site.folder);
            Ok(())
        }
    }
}

/// The output folder of each site that has a packet, by the site's rank.
fn folders(sites: &[Site], out: &Path) -> Result<BTreeMap<usize, PathBuf>, Stop> {
    let mut taken: BTreeMap<String, &Path> = BTreeMap::new();
    let mut folders = BTreeMap::new();
    for (index, site) in sites.iter().enumerate().filter(|(_, site)| site.outcome.bundle.is_some()) {
        let name = site.outcome.site.as_deref().unwrap_or_default();
        if !names_a_folder(name) {
            return Err(Stop::new(format!("{}: the name \"{name}\" cannot name a folder", site.folder.display()))
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

/// True for a name that stays in the output folder and that every system can store; some keep names for devices.
fn names_a_folder(name: &str) -> bool {
    let stem = name.split('.').next().unwrap_or_default().to_ascii_lowercase();
    let device = matches!(stem.as_str(), "con" | "prn" | "aux" | "nul")
        || (stem.len() == 4
            && (stem.starts_with("com") || stem.starts_with("lpt"))
            && stem.ends_with(char::is_numeric));
    manifest::is_plain(name) && !name.contains('/') && !name.starts_with('.') && !name.ends_with('.') && !device
}

fn stop(refusal: &Refusal) -> Stop {
    let stop = Stop::new(refusal.to_string());
    match refusal.help() {
        Some(help) => stop.help(help),
        None => stop,
    }
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
        let bundle = site.outcome.bundle.as_ref();
        if let Some(first) = bundle.and_then(|bundle| bundle.files.keys().find(|path| *path == "index.html")) {
            let _ = writeln!(text, "start with {folder}/{first}");
        }
    } else if site.outcome.failed() {
        text.push_str("no packet written because of the errors");
        let name = site.outcome.site.as_deref().filter(|name| !name.is_empty());
        if let Some(folder) = name.map(|name| out.join(name)).filter(|folder| output::holds_packet(folder)) {
            let _ = write!(text, "; the one in {} is from an earlier run", shown(&folder.to_string_lossy()));
        }
        text.push('\n');
    }
    text
}

#[cfg(test)]
mod tests;
