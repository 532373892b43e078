//! `loopwright event`: a line of ANSI/SIA DC-05 in words, or written.

use std::fmt::Write;
use std::path::Path;

use serde::Serialize;

use super::disk::DiskFiles;
use super::report;
use super::screen::Screen;
use super::{Exit, Stop, question};
use crate::diag::neutral::words;
use crate::diag::{Format, Look, json};
use crate::session::{self, Asked, EventLine, Unreadable};

/// What is to be written.
#[derive(Clone, Copy, Debug)]
pub(super) struct Wanted {
    pub(super) code: u32,
    pub(super) area: u32,
    pub(super) number: u32,
    pub(super) restored: bool,
}

/// An answer for programs.
#[derive(Serialize)]
struct Document<'a> {
    /// The line with a blank account, where it was to be written.
    #[serde(skip_serializing_if = "Option::is_none")]
    written: Option<&'a str>,
    #[serde(flatten)]
    told: &'a EventLine,
}

/// Writes a line with a blank account, and tells it in words.
pub(super) fn write(screen: &mut Screen, wanted: Wanted, site: Option<&Path>) -> Result<Exit, Stop> {
    let Wanted { code, area, number, restored } = wanted;
    let line = session::event_line(code, area, number, restored);
    tell(screen, &line, site, Some(&line))
}

/// Tells a line in words; with a site, its zone and area by name.
pub(super) fn read(screen: &mut Screen, line: &str, site: Option<&Path>) -> Result<Exit, Stop> {
    tell(screen, line, site, None)
}

fn tell(screen: &mut Screen, line: &str, site: Option<&Path>, written: Option<&str>) -> Result<Exit, Stop> {
    let told = match site {
        None => session::event(line).map_err(stop)?,
        Some(path) => {
            let folder = question::one_site(path)?;
            let files = DiskFiles::open(&folder)?;
            let Asked { outcome, answer } = session::event_of(&files, line).map_err(stop)?;
            match answer {
                Ok(told) => told,
                Err(_) => return report::unanswered(screen, folder, outcome),
            }
        }
    };
    let text = match screen.format {
        Format::Human(look) => look.fit(&for_people(look, &told, written)),
        Format::Short => short(&told, written),
        Format::Json => json::print(&Document { written, told: &told }),
    };
    screen.print(&text)?;
    Ok(Exit::Clean)
}

fn for_people(look: Look, told: &EventLine, written: Option<&str>) -> String {
    let heading = format!("{}, {}", told.meaning, told.what);
    let mut text = format!("{}  {}\n", words(written.unwrap_or(&told.line)), look.heading(&words(&heading)));
    let code = format!("{:03}", told.code);
    let handled = format!("as {}: {}", told.group, told.handling);
    let lines = [
        ("code", &code),
        ("area", &told.area),
        ("number", &told.number),
        ("handled", &handled),
        ("checked", &told.checked),
    ];
    for (name, line) in lines.into_iter().filter(|(_, line)| !line.is_empty()) {
        let _ = writeln!(text, "  {name:8} {}", words(line));
    }
    if written.is_some() {
        let _ = writeln!(text, "  account  0000 stands for it: the check digit is that of this placeholder");
    }
    for remark in &told.remarks {
        let _ = writeln!(text, "  note     {}", words(remark));
    }
    text
}

/// One line.
fn short(told: &EventLine, written: Option<&str>) -> String {
    let mut parts = vec![written.unwrap_or(&told.line).to_owned(), format!("{}, {}", told.meaning, told.what)];
    if !told.area.is_empty() {
        parts.push(format!("area {}", told.area));
    }
    parts.extend([&told.number, &told.checked].into_iter().filter(|part| !part.is_empty()).cloned());
    parts.extend(told.remarks.iter().cloned());
    words(&parts.join(": ")) + "\n"
}

fn stop(reason: Unreadable) -> Stop {
    let help = match reason {
        Unreadable::Length(_) => {
            "write account, 18, qualifier and code, area, number, check digit, as 0000 18 1131 01 015 8; or 1131 01 015"
        }
        Unreadable::Digit { .. } => "the digits are 0 to 9, and B to F in the account and at the end",
        Unreadable::Letter { .. } => "letters stand in the account, which has four places, and at the end",
        Unreadable::Message(_) => "the two digits after the account say which format it is; this is another one",
        Unreadable::Qualifier(_) => "the qualifier stands before the code: 1131 is a new 131",
        Unreadable::Check { .. } => "compare it with the log digit by digit; a receiver refuses such a line",
    };
    Stop::new(reason.to_string()).help(help)
}
