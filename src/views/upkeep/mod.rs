//! Upkeep: what the owner tests, cleans, replaces and renews, and when, computed from the days of the spec. No clock.

mod calendar;
mod days;
mod tests_by_owner;

use serde::Serialize;
use serde_json::Value;

use super::{Document, Orientation, View, value};
use crate::compiled::Compiled;
use crate::model::DeviceKind;

pub(crate) use calendar::{Calendar, Event, of as calendar};
use days::Entry;
pub(crate) use days::{TEST, entries};
use tests_by_owner::{Trial, faults, trials};

/// The document.
pub(crate) static DOCUMENT: Document = Document {
    name: "upkeep",
    title: "Upkeep",
    about: "what to test, clean, replace and renew, and when",
    orientation: Orientation::Portrait,
    template: crate::template!("upkeep"),
    view: View::Plain(view),
    table: None,
};

/// How the file of the calendar is taken in. What is gone could be cancelled in a newer file (RFC 5546), which many programs do not
/// heed when they import one; and what is called otherwise would stand there twice.
pub(crate) const HOW: &str = "Import it into a calendar of its own, and delete that calendar before a newer file comes in: an import does not take out what is gone or has another name now";

/// The same as a step, where the upkeep is another than that of an older revision.
pub(crate) fn to_import(old: &Compiled, new: &Compiled) -> Option<&'static str> {
    // The next day of what comes again moves on with each revision.
    let lasting = |side: &Compiled| {
        let mut all = entries(side);
        all.iter_mut().filter(|entry| entry.every.is_some()).for_each(|entry| entry.due = None);
        all
    };
    (calendar(old).is_some() && calendar(new).is_some() && lasting(old) != lasting(new)).then_some(
        "Whoever has maintenance.ics in a calendar program deletes that calendar, and imports the new file into one of its own",
    )
}

#[derive(Serialize)]
struct Upkeep {
    calendar: bool,
    how: &'static str,
    test: Again,
    cleaning: Again,
    trials: Vec<Trial>,
    keypads: bool,
    sounders: bool,
    reports: bool,
    batteries: bool,
    faults: String,
    permit: String,
    replaced: Vec<Row>,
}

/// What is done again and again.
#[derive(Serialize)]
struct Again {
    every: String,
    basis: String,
    first: String,
    /// The day it is counted from.
    since: String,
    /// What that day is.
    what: &'static str,
}

/// What is replaced.
#[derive(Serialize)]
struct Row {
    what: String,
    since: String,
    life: String,
    basis: String,
    due: String,
}

fn view(compiled: &Compiled) -> Value {
    let site = &compiled.site;
    let mut entries = days::entries(compiled);
    let mut again = |key: &str| {
        let found = entries.iter().position(|entry| entry.key == key).map(|at| entries.remove(at));
        let first = found.as_ref().and_then(|entry| entry.due).map(|due| due.to_string()).unwrap_or_default();
        let since = found.as_ref().and_then(|entry| entry.since).map(|day| day.to_string()).unwrap_or_default();
        let (every, basis) = found.map(|entry| (entry.life, entry.basis)).unwrap_or_default();
        Again { every, basis, first, since, what: days::first(site).1 }
    };
    let (test, cleaning) = (again("test"), again("cleaning"));
    entries.retain(|entry| entry.key != "permit");
    entries.sort_by_key(|entry| (entry.due.is_none(), entry.due));
    value(&Upkeep {
        calendar: calendar(compiled).is_some(),
        how: HOW,
        test,
        cleaning,
        trials: trials(compiled),
        keypads: site.keypads().next().is_some(),
        sounders: site.devices.iter().any(|device| device.kind == DeviceKind::Sounder),
        reports: !site.communicators.is_empty(),
        batteries: site.boards.iter().any(|board| board.battery.is_some()),
        faults: faults(site),
        permit: site.upkeep.permit_ends.map(|day| day.value.to_string()).unwrap_or_default(),
        replaced: entries.into_iter().map(row).collect(),
    })
}

fn row(entry: Entry) -> Row {
    let day = |day: Option<jiff::civil::Date>| day.map(|day| day.to_string()).unwrap_or_default();
    Row { what: entry.title, since: day(entry.since), life: entry.life, basis: entry.basis, due: day(entry.due) }
}
