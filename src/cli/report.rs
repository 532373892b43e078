//! What was read, found and written, printed in the chosen form: a part for each site, or one document for all.

use std::fmt::Write;
use std::path::{Path, PathBuf};

use super::screen::Screen;
use super::write::Written;
use super::{Exit, Stop, disk};
use crate::base::wording::count;
use crate::diag::neutral::shown;
use crate::diag::render::render_from;
use crate::diag::{Format, json, render};
use crate::session::Outcome;

/// One site after its run.
pub(super) struct Site {
    /// Its folder, as the user named it.
    pub(super) folder: PathBuf,
    pub(super) outcome: Outcome,
    /// The bytes of its register as they were read; `None` where there was none.
    pub(super) register: Option<Vec<u8>>,
    /// A few lines on its packet, for people.
    pub(super) packet: String,
    pub(super) written: Option<Written>,
}

impl Site {
    /// A site of which nothing has been written.
    pub(super) fn new(folder: PathBuf, outcome: Outcome, register: Option<Vec<u8>>) -> Self {
        Self { folder, outcome, register, packet: String::new(), written: None }
    }
}

/// Prints the sites and says how the run ended.
pub(super) fn print(screen: &mut Screen, sites: &[Site]) -> Result<Exit, Stop> {
    let text = match screen.format {
        Format::Json => json::print(&json::Run { version: json::VERSION, sites: sites.iter().map(document).collect() }),
        Format::Human(_) | Format::Short => for_people(screen, sites),
    };
    screen.print(&text)?;
    Ok(exit(sites))
}

/// Tells why a site gives no answer. People are told beside the output, which may be going into a file of readings or a
/// table.
pub(super) fn unanswered(screen: &mut Screen, folder: PathBuf, outcome: Outcome) -> Result<Exit, Stop> {
    let sites = [Site::new(folder, outcome, None)];
    if screen.format == Format::Json {
        return print(screen, &sites);
    }
    screen.complain(&for_people(screen, &sites));
    Ok(exit(&sites))
}

/// How a run over some sites ends.
pub(super) fn exit(sites: &[Site]) -> Exit {
    if sites.iter().any(|site| site.outcome.failed()) { Exit::Faults } else { Exit::Clean }
}

/// Tells what could not be searched: then the program has not done what was asked, whatever it found elsewhere.
pub(super) fn end(screen: &mut Screen, exit: Exit, unsearched: &[Stop]) -> Exit {
    for stop in unsearched {
        screen.stop(stop);
    }
    if unsearched.is_empty() { exit } else { Exit::CouldNotRun }
}

fn document(site: &Site) -> json::Site {
    json::Site {
        name: site.outcome.site.clone(),
        path: named(&site.folder),
        written: site.written.as_ref().map(|written| written.folder.to_string_lossy().into_owned()),
        // A program can take them all.
        findings: json::Findings::new(&site.outcome.sources, &site.outcome.diagnostics, usize::MAX),
    }
}

/// A site's folder as its files are shown: without a leading `./`.
pub(super) fn named(folder: &Path) -> String {
    let name = disk::shown(folder, "");
    if name.is_empty() { ".".to_owned() } else { name }
}

fn for_people(screen: &Screen, sites: &[Site]) -> String {
    let Screen { format, least, .. } = *screen;
    let mut text = String::new();
    for site in sites {
        if sites.len() > 1 {
            let folder = shown(&named(&site.folder));
            let heading = match &site.outcome.site {
                Some(name) => format!("{} ({folder})", shown(name)),
                None => folder,
            };
            let heading = if let Format::Human(look) = format { look.heading(&heading) } else { heading };
            let _ = writeln!(text, "{heading}");
        }
        text.push_str(&render_from(format, &site.outcome.sources, &site.outcome.diagnostics, (render::LIMIT, least)));
        if let Format::Human(look) = format {
            text.push_str(&look.fit(&site.packet));
            if sites.len() > 1 {
                text.push('\n');
            }
        }
    }
    if sites.len() > 1 {
        let failed = sites.iter().filter(|site| site.outcome.failed()).count();
        let sum = if failed == 0 { "none with errors".to_owned() } else { format!("{failed} with errors") };
        let _ = writeln!(text, "{}, {sum}", count(sites.len(), "site", None));
    }
    text
}
