//! `loopwright fmt`: lays out spec files in their places, or says which ones it would change.
//!
//! A folder means its sites, each with all files that it is made of; a file means itself. A site's files are found as the
//! compiler finds them, so none outside its folder and the shared parts is ever written.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};

use super::disk::{self, DiskFiles};
use super::screen::Screen;
use super::{Exit, Stop, plain, sites, write};
use crate::base::wording::{count, cut};
use crate::diag::Format;
use crate::diag::neutral::shown;
use crate::resolve::load::FileSource;
use crate::resolve::secrets;
use crate::session::{self, Formatted};

/// How many differing lines are shown of a file.
const SHOWN: usize = 12;

/// Lays out everything that `paths` mean; with `check` nothing is written.
pub(super) fn run(screen: &mut Screen, paths: &[PathBuf], check: bool) -> Result<Exit, Stop> {
    if paths.iter().any(|path| path == Path::new("-")) {
        return if paths.len() == 1 {
            stream(screen, check)
        } else {
            Err(Stop::new("`-` is the input, and stands alone"))
        };
    }
    let (files, unread) = find(paths)?;
    let mut exit = Exit::Clean;
    for stop in &unread {
        screen.stop(stop);
        exit = Exit::CouldNotRun;
    }
    let (mut changed, mut as_is, mut in_part, mut left) = (0, 0, 0, unread.len());
    for file in &files {
        match file.lay_out(screen, check) {
            Ok(Laid::Out) => changed += 1,
            Ok(Laid::AsItIs) => as_is += 1,
            Ok(Laid::InPart { differs }) => {
                exit = exit.max(Exit::Faults);
                in_part += 1;
                changed += usize::from(differs);
            }
            Err((stop, code)) => {
                screen.stop(&stop);
                exit = exit.max(code);
                left += 1;
            }
        }
    }
    if check && changed > 0 {
        exit = exit.max(Exit::Faults);
    }
    if matches!(screen.format, Format::Human(_)) {
        screen.print(&summary(check, changed, as_is, in_part, left))?;
    }
    Ok(exit)
}

fn summary(check: bool, changed: usize, as_is: usize, in_part: usize, left: usize) -> String {
    let changes = match (check, changed) {
        (_, 0) => "nothing to change".to_owned(),
        (true, _) => format!("{} would change", count(changed, "file", None)),
        (false, _) => format!("{} laid out", count(changed, "file", None)),
    };
    let mut text = changes;
    if as_is > 0 {
        let _ = write!(text, ", {as_is} as {} should be", if as_is == 1 { "it" } else { "they" });
    }
    if in_part > 0 {
        let _ = write!(text, ", {in_part} understood in part");
    }
    if left > 0 {
        let _ = write!(text, ", {left} left alone");
    }
    text + "\n"
}

/// From the input to the output.
fn stream(screen: &mut Screen, check: bool) -> Result<Exit, Stop> {
    let mut bytes = Vec::new();
    let read = std::io::stdin().lock().take(disk::LIMIT + 1).read_to_end(&mut bytes);
    read.map_err(|error| Stop::new(format!("cannot read the input: {}", plain(&error))))?;
    let file = File { named: "the input".into(), path: PathBuf::new(), bytes };
    match file.formatted() {
        Err(stop) => {
            screen.stop(&stop);
            Ok(Exit::Faults)
        }
        Ok(formatted) if check => {
            screen.complain(&file.kept(&formatted));
            let differs = file.differs(&formatted);
            if differs {
                screen.print(&file.told(screen.format, &formatted))?;
            }
            Ok(if differs || !formatted.kept.is_empty() { Exit::Faults } else { Exit::Clean })
        }
        Ok(formatted) => {
            screen.complain(&file.kept(&formatted));
            screen.print(&formatted.text)?;
            Ok(Exit::Clean)
        }
    }
}

/// What became of a file.
enum Laid {
    /// It differs from how it should be.
    Out,
    /// It is as it should be.
    AsItIs,
    /// Some of it is not understood, and stays; whether the rest differs.
    InPart { differs: bool },
}

/// A file to lay out.
struct File {
    /// As it is shown.
    named: String,
    path: PathBuf,
    bytes: Vec<u8>,
}

/// Every file that is meant, each once; with what could not be read.
fn find(paths: &[PathBuf]) -> Result<(Vec<File>, Vec<Stop>), Stop> {
    let mut known = BTreeSet::new();
    let (mut files, mut unread) = (Vec::new(), Vec::new());
    let mut add = |named: String, path: PathBuf, read: Result<Vec<u8>, String>| match read {
        Ok(bytes) => {
            if known.insert(fs::canonicalize(&path).unwrap_or_else(|_| path.clone())) {
                files.push(File { named, path, bytes });
            }
        }
        Err(why) => unread.push(Stop::new(format!("cannot read {named}: {why}"))),
    };
    let (mut unsearched, mut others) = (Vec::new(), Vec::new());
    for path in paths {
        if !path.is_dir() {
            // Other texts may lose what their indentation says.
            if path.extension().is_none_or(|extension| !extension.eq_ignore_ascii_case("kdl")) {
                others.push(Stop::new(format!("{} is left alone: it is no .kdl file", path.display())));
                continue;
            }
            let read = disk::read_any(path, disk::limit(&path.file_name().unwrap_or_default().to_string_lossy()));
            add(path.display().to_string(), path.clone(), read.map_err(|error| plain(&error)));
            continue;
        }
        let (folders, more) = sites::find_all(std::slice::from_ref(path))?;
        unsearched.extend(more);
        for folder in folders {
            let site = DiskFiles::open(&folder)?;
            for inside in session::files(&site) {
                let read = site.read(&inside).map_err(|fault| fault.to_string());
                add(site.shown(&secrets::hide(&inside)), folder.join(&inside), read);
            }
        }
    }
    unread.extend(unsearched);
    unread.extend(others);
    Ok((files, unread))
}

impl File {
    fn formatted(&self) -> Result<Formatted, Stop> {
        session::format(&self.path, self.bytes.clone()).map_err(|why| match why {
            session::Unformatted::NotText(why) => Stop::new(format!("{} is left alone: {why}", self.named))
                .help("it must be plain text in UTF-8, of at most 1 MiB"),
            session::Unformatted::Unsure(why) => Stop::new(format!("{} is left alone: {why}", self.named))
                .help("this is a fault of the program: please report it, with the file if you may"),
        })
    }

    fn differs(&self, formatted: &Formatted) -> bool {
        self.bytes != formatted.text.as_bytes()
    }

    /// Writes it, or with `check` tells what would change.
    fn lay_out(&self, screen: &mut Screen, check: bool) -> Result<Laid, (Stop, Exit)> {
        let could_not = |stop| (stop, Exit::CouldNotRun);
        let formatted = self.formatted().map_err(|stop| (stop, Exit::Faults))?;
        screen.complain(&self.kept(&formatted));
        let whole = formatted.kept.is_empty();
        if !self.differs(&formatted) {
            return Ok(if whole { Laid::AsItIs } else { Laid::InPart { differs: false } });
        }
        if check {
            screen.print(&self.told(screen.format, &formatted)).map_err(could_not)?;
        } else {
            write::replace(&self.path, &self.bytes, &formatted.text)
                .map_err(|refusal| could_not(Stop::new(refusal.to_string())))?;
            screen.print(&format!("{}\n", shown(&self.named))).map_err(could_not)?;
        }
        Ok(if whole { Laid::Out } else { Laid::InPart { differs: true } })
    }

    /// Says which nodes stay as they are because they are not understood.
    fn kept(&self, formatted: &Formatted) -> String {
        let named = shown(&self.named);
        match formatted.kept.as_slice() {
            [] => String::new(),
            [line] => format!("{named}:{line}: not understood, so its lines stay as they are\n"),
            [line, rest @ ..] => {
                format!(
                    "{named}:{line}: not understood, and {} more: their lines stay as they are\n",
                    count(rest.len(), "node", None)
                )
            }
        }
    }

    /// Its name, and for people the lines that would change.
    fn told(&self, format: Format, formatted: &Formatted) -> String {
        let mut text = format!("{}\n", shown(&self.named));
        if let Format::Human(look) = format {
            let lines = formatted.differences();
            for line in lines.iter().take(SHOWN) {
                let _ = writeln!(text, "{}", look.width.map_or_else(|| line.clone(), |width| cut(line, width)));
            }
            if lines.is_empty() {
                text.push_str("      the byte-order mark at its start would go\n");
            } else if lines.len() > SHOWN {
                let _ = writeln!(text, "      … {}", count(lines.len() - SHOWN, "more line", None));
            }
        }
        text
    }
}
