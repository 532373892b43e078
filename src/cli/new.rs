//! `loopwright new`: a folder for a new site, written whole or not at all.

use std::fs;
use std::path::{Component, Path};

use super::screen::Screen;
use super::{Exit, Stop, disk, plain, write};
use crate::base::unseen;
use crate::base::wording::{count, is_control, list};
use crate::diag::Format;
use crate::diag::neutral::shown;
use crate::session::start;

/// How many faults of a table are told.
const MOST_FAULTS: usize = 20;

/// What shows that the shared parts are beside a site.
const PARTS: &str = "parts/generic.kdl";

/// Makes the folder, with the rooms and openings of a table if there is one. Where the shared parts are beside it already,
/// it is the site's own folder; else it holds everything: the site, the parts, and what git is to know.
pub(super) fn run(screen: &mut Screen, folder: &Path, table: Option<&Path>) -> Result<Exit, Stop> {
    let named = match folder.components().next_back() {
        Some(Component::Normal(name)) => name.to_string_lossy().into_owned(),
        _ => return Err(Stop::new(format!("{} names no new folder", folder.display()))),
    };
    if fs::symlink_metadata(folder).is_ok() {
        return Err(Stop::new(format!("{} is there already", folder.display()))
            .help("choose another name; a folder that is there is never touched"));
    }
    let name = start::plain_name(&named);
    let misleads = named.chars().any(is_control) || unseen::misleading(&named).is_some();
    if name.is_empty() || misleads || write::unstorable(&name).is_some() {
        return Err(Stop::new(format!("\"{named}\" cannot be the name of a site"))
            .help("take letters and digits, as in loopwright new cottage"));
    }
    let table = match table {
        None => None,
        Some(path) => match read(path)? {
            Ok(table) => Some(table),
            Err(faults) => {
                tell(screen, path, &faults, "written");
                return Ok(Exit::CouldNotRun);
            }
        },
    };
    let shares = folder.parent().is_some_and(|parent| parent.join(PARTS).is_file());
    let date = jiff::tz::Offset::UTC.to_datetime(jiff::Timestamp::now()).date().to_string();
    let files = if shares {
        start::site(&named, &date, table.as_ref())
    } else {
        start::repository(&named, &date, table.as_ref())
    };
    write::fresh(folder, &files).map_err(|refusal| match &refusal {
        write::Refusal::Uncleared { .. } => Stop::new(refusal.to_string()),
        _ => Stop::new(refusal.to_string()).help("nothing has been written"),
    })?;
    if let Format::Json = screen.format {
        return Ok(Exit::Clean);
    }
    let made = shown(&folder.display().to_string());
    let word = if made.contains(char::is_whitespace) { format!("\"{made}\"") } else { made.clone() };
    let (enter, site) = if shares { (String::new(), word) } else { (format!("  cd {word}\n"), "specs".to_owned()) };
    let files = count(files.len(), "file", None);
    let left_out = table.map(|table| table.left_out).unwrap_or_default();
    let left_out = if left_out.is_empty() {
        String::new()
    } else {
        format!("Not read from the table: {}. Write what they say into the spec.\n", shown(&list(&left_out, "and")))
    };
    screen.print(&format!(
        "{made}: {files}\n{left_out}\nNext:\n{enter}  loopwright check {site}      what is still open\n  loopwright compile {site}    writes the paper to out/{name}/\n"
    ))?;
    Ok(Exit::Clean)
}

type Read = Result<start::Table, Vec<start::Fault>>;

fn read(path: &Path) -> Result<Read, Stop> {
    Ok(start::read(&bytes(path)?))
}

/// The bytes of a table.
pub(super) fn bytes(path: &Path) -> Result<Vec<u8>, Stop> {
    let bytes = disk::read_any(path, disk::LIMIT)
        .map_err(|error| Stop::new(format!("cannot read {}: {}", path.display(), plain(&error))))?;
    if bytes.len() as u64 > disk::LIMIT {
        return Err(Stop::new(format!("{} is larger than 1 MiB, and no table of a house", path.display())));
    }
    Ok(bytes)
}

/// Tells what is wrong with a table; `nothing` has been done.
pub(super) fn tell(screen: &mut Screen, path: &Path, faults: &[start::Fault], nothing: &str) {
    for start::Fault { line, what } in faults.iter().take(MOST_FAULTS) {
        let at = line.map(|line| format!(":{line}")).unwrap_or_default();
        screen.stop(&Stop::new(format!("{}{at}: {what}", path.display())));
    }
    let more = faults.len().saturating_sub(MOST_FAULTS);
    let more = if more == 0 { String::new() } else { format!("{} more; ", count(more, "fault", None)) };
    screen.complain(&format!("{more}nothing has been {nothing}\n"));
}
