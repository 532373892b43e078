//! The calendar of upkeep as plain data: events with identities that stay, days and recurrences. `emit` writes the file.
//!
//! The order in which two files were made is that of their revisions: their day is the stamp, and counted in days the
//! sequence. What falls on the 29th to 31st falls on the last day of a month that has no such day.

use jiff::civil::{Date, date};

use super::days::{self, Entry};
use crate::calc::wear::Period;
use crate::compiled::Compiled;

/// A calendar.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Calendar {
    /// What it is called.
    pub(crate) title: String,
    /// The day of the revision.
    pub(crate) stamp: Date,
    /// That day as a number that grows.
    pub(crate) sequence: i32,
    /// What is in it.
    pub(crate) events: Vec<Event>,
}

/// An event of whole days.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Event {
    /// Its identity: the site's name and that of the thing.
    pub(crate) uid: String,
    /// What is to be done.
    pub(crate) summary: String,
    /// Why then.
    pub(crate) description: String,
    /// Its next day.
    pub(crate) day: Date,
    /// The value of its RRULE (RFC 5545, 3.3.10).
    pub(crate) rule: Option<String>,
    /// Days before it on which it is announced.
    pub(crate) notice: Option<f64>,
}

/// The calendar of a site; `None` where its revision has no day, from which everything is counted.
pub(crate) fn of(compiled: &Compiled) -> Option<Calendar> {
    let site = &compiled.site;
    let revision = site.revision.as_ref()?;
    let stamp = revision.date?.value;
    let event = |entry: Entry| {
        let day = entry.due?;
        let since = entry.since.map(|since| format!("From {since}. ")).unwrap_or_default();
        let served = !site.communicators.is_empty() && entry.every.is_some() && entry.notice.is_none();
        let told = if served { "Tell the monitoring service before and after. " } else { "" };
        let basis = if entry.basis.is_empty() { String::new() } else { format!(" ({})", entry.basis) };
        let life = if entry.life.is_empty() { String::new() } else { format!("Every {}{basis}. ", entry.life) };
        Some(Event {
            uid: format!("{}.{}@loopwright.invalid", site.name.value, entry.key),
            summary: format!("{}: {}", site.title, entry.title),
            description: format!("{since}{life}{told}Sheet Upkeep of revision {}.", revision.mark),
            day,
            rule: entry.every.map(|every| rule(every, entry.since.unwrap_or(day))),
            notice: entry.notice,
        })
    };
    Some(Calendar {
        title: format!("{}: upkeep of the alarm", site.title),
        stamp,
        sequence: date(1970, 1, 1).until(stamp).map_or(0, |span| span.get_days().max(0)),
        events: days::entries(compiled).into_iter().filter_map(event).collect(),
    })
}

/// The recurrence of what began on a day.
fn rule(every: Period, began: Date) -> String {
    match every {
        Period::Days(days) => format!("FREQ=DAILY;INTERVAL={days}"),
        Period::Months(months) if began.day() > 28 => {
            let days: Vec<String> = (28..=began.day()).map(|day| day.to_string()).collect();
            format!("FREQ=MONTHLY;INTERVAL={months};BYMONTHDAY={};BYSETPOS=-1", days.join(","))
        }
        Period::Months(months) if months % 12 == 0 => format!("FREQ=YEARLY;INTERVAL={}", months / 12),
        Period::Months(months) => format!("FREQ=MONTHLY;INTERVAL={months}"),
    }
}
