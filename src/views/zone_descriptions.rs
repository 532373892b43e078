//! The list of zones and of all other events for the monitoring service's form.
//!
//! Terms: the *form* is the service's own; its width is what it keeps of a description: the first so many characters,
//! and nothing else is shortened. *Handling* is what the service is to do on an event. Account, passphrases, keyholders,
//! the order of calls and the like are blanks to be filled in by hand: they have no place in the spec, so they cannot come
//! from it.

mod handling;
pub(super) mod lines;
pub(super) mod others;
mod table;
mod ways;
mod zones;

use serde::Serialize;

use super::{Document, Orientation, View, value};
use crate::compiled::Compiled;
use crate::events::line::Line;
use crate::events::{About, Number, Qualifier, Report, is_sent};
use crate::model::{Monitoring, Site};
use crate::profiles::{events, letters};
use crate::terms::Format;
use handling::{GIVEN, Handling};
use others::{Blank, OtherRow};
use ways::{Cause, Way};
use zones::{KeyRow, Row};

/// The document.
pub(crate) static DOCUMENT: Document = Document {
    name: "zone-descriptions",
    title: "Zone descriptions for the monitoring service",
    about: "number, description, event code and handling of every zone, all other events, the ways of the report, and the blanks of its form",
    orientation: Orientation::Portrait,
    template: crate::template!("zone-descriptions"),
    view: View::Plain(|compiled| value(&ZoneDescriptions::of(compiled))),
    table: Some(table::of),
};

/// What the form asks for and no spec may hold, in the order of a usual form.
const BLANKS: &[&str] = &[
    "Account number",
    "Receiver: first and second number or address",
    "Address of the premises, nearest cross street",
    "Telephone of the premises",
    "Passphrase of the household",
    "Passphrase under duress",
    "Called first: name, telephone",
    "Called second: name, telephone",
    "Called third: name, telephone",
    "Holds a key and comes: name, telephone",
    "Police: name and telephone",
    "Fire service: name and telephone",
    "Medical service: name and telephone",
    "Alarm permit: number and day it ends",
    "Day and time of the test report",
    "Who may change this form, and how they prove it",
    "Special instructions: animals, people who need help",
    "Date and signature",
];

#[derive(Serialize)]
struct ZoneDescriptions {
    /// True where nothing of the site reaches a service.
    local: bool,
    width: String,
    format: &'static str,
    letters: String,
    /// True where the codes of DC-05 are sent, or may be.
    codes: bool,
    /// True where no code of any list is sent.
    spoken: bool,
    /// A line as it is sent, and what it says; empty where no zone reports.
    example: String,
    example_words: String,
    /// True where a code for use under threat is set up.
    duress: bool,
    test_every: String,
    ways: Vec<Way>,
    causes: Vec<Cause>,
    supervision: Vec<String>,
    rows: Vec<Row>,
    keys: Vec<KeyRow>,
    others: Vec<OtherRow>,
    numbers: Vec<Blank>,
    areas: Vec<AreaRow>,
    cut: String,
    handling: Vec<Handling>,
    proposed: bool,
    blanks: &'static [&'static str],
}

#[derive(Serialize)]
struct AreaRow {
    number: String,
    title: String,
    zones: String,
}

impl ZoneDescriptions {
    fn of(compiled: &Compiled) -> Self {
        let site = &compiled.site;
        let monitoring = site.monitoring.as_ref();
        let width = zones::width(site);
        let handling = handling::of_site(compiled);
        let (example, example_words) = example(compiled).unwrap_or_default();
        let every = monitoring.and_then(Monitoring::test_interval);
        Self {
            local: site.communicators.is_empty(),
            width: width.map(|width| width.to_string()).unwrap_or_default(),
            format: format_words(format_of(site)),
            codes: sends_codes(site),
            spoken: is_spoken(site),
            example,
            example_words,
            duress: monitoring.is_some_and(|monitoring| monitoring.duress),
            letters: if sends_letters(site) { letters::SOURCE.cited() } else { String::new() },
            test_every: every.map(|every| every.to_string()).unwrap_or_default(),
            ways: ways::of_site(compiled),
            causes: ways::causes(compiled),
            supervision: ways::supervision(site),
            rows: zones::rows(compiled, width),
            keys: zones::keys(compiled),
            others: others::rows(compiled),
            numbers: others::blanks(compiled),
            areas: areas(site),
            cut: zones::cut_zones(site, width),
            proposed: handling.iter().any(|handling| handling.basis != GIVEN),
            handling,
            blanks: BLANKS,
        }
    }
}

fn areas(site: &Site) -> Vec<AreaRow> {
    let of_area = |(id, area): (crate::base::Id<crate::model::Area>, &crate::model::Area)| {
        let zones = zones::reported(site).filter(|(_, zone)| zone.area == Some(id));
        let numbers: Vec<u32> = zones.map(|(_, zone)| zone.number.value).collect();
        AreaRow { number: format!("{:02}", area.number), title: area.title.clone(), zones: ranges(&numbers) }
    };
    let sent = site.areas_by_number().into_iter().filter(|(id, _)| is_sent(site, About::Area(*id)));
    sent.map(of_area).collect()
}

/// The first zone that reports with its number, as a line and in words.
fn example(compiled: &Compiled) -> Option<(String, String)> {
    let site = &compiled.site;
    let mut reports = compiled.events.iter().filter(|report| report.is_alarm_of_zone(site));
    let found = reports.find_map(|report| match (report.about, report.number) {
        (About::Zone(id), Number::Given(number)) => Some((report, &site.zones[id], number)),
        _ => None,
    });
    let (report, zone, number) = found?;
    let area = site.area_of(zone);
    let line = Line { qualifier: Qualifier::New, code: report.code, area: area.map_or(0, |area| area.number), number };
    let place = area.map_or_else(|| "no area".to_owned(), |area| format!("area {}, {}", area.number, area.title));
    let words = format!(
        "a new event {} ({}) of zone {number}, {}; {place}",
        report.code,
        zones::meaning(report),
        zone.description.value
    );
    Some((line.to_string(), words))
}

fn format_of(site: &Site) -> Option<Format> {
    site.monitoring.as_ref().and_then(|monitoring| monitoring.format.as_ref()).map(|format| format.value)
}

/// True where the form's format has the letters of DC-03 in place of the codes of DC-05.
fn sends_letters(site: &Site) -> bool {
    format_of(site) == Some(Format::SiaDc03)
}

/// True where no code is sent at all.
fn is_spoken(site: &Site) -> bool {
    format_of(site) == Some(Format::Voice)
}

/// True where the codes of DC-05 are sent: by its own format, by one that carries them, or by one that is yet to be agreed.
fn sends_codes(site: &Site) -> bool {
    !sends_letters(site) && !is_spoken(site)
}

/// What is sent of a report: "1301, 3301", or the letters of the same where the format has these; of a spoken message, when.
fn sent_words(site: &Site, report: &Report) -> String {
    let word = |qualifier: &Qualifier| {
        if is_spoken(site) {
            return match (qualifier, events::is_opening(report.code)) {
                (Qualifier::New | Qualifier::Standing, false) => "when it happens",
                (Qualifier::Restore, false) => "when it is over",
                (Qualifier::New | Qualifier::Standing, true) => "when opened",
                (Qualifier::Restore, true) => "when closed",
            }
            .to_owned();
        }
        if !sends_letters(site) {
            return format!("{}{}", qualifier.digit(), report.code);
        }
        report.letters(*qualifier).map_or_else(|| "ask".to_owned(), str::to_owned)
    };
    report.sent.qualifiers().iter().map(word).collect::<Vec<_>>().join(", ")
}

/// Numbers in order, three and more in a row as a range: `1–8, 10, 11`.
fn ranges(numbers: &[u32]) -> String {
    let mut rows: Vec<(u32, u32)> = Vec::new();
    for number in numbers {
        match rows.last_mut() {
            Some((_, end)) if *end + 1 == *number => *end = *number,
            _ => rows.push((*number, *number)),
        }
    }
    let words = rows.into_iter().map(|(from, to)| match to - from {
        0 => from.to_string(),
        1 => format!("{from}, {to}"),
        _ => format!("{from}–{to}"),
    });
    words.collect::<Vec<_>>().join(", ")
}

/// "zone 3", "zones 1, 7–9".
fn zones_words(numbers: &[u32]) -> String {
    format!("{} {}", if numbers.len() == 1 { "zone" } else { "zones" }, ranges(numbers))
}

fn format_words(format: Option<Format>) -> &'static str {
    match format {
        Some(Format::SiaDc05) => "ANSI/SIA DC-05: the event codes below are sent as they stand",
        Some(Format::SiaDc03) => {
            "ANSI/SIA DC-03: the report carries two-letter codes; the codes of DC-05 below say which event is meant"
        }
        Some(Format::SiaDc09) => {
            "ANSI/SIA DC-09: the report travels over the internet and may carry the codes of DC-05 below"
        }
        Some(Format::Voice) => {
            "a spoken message: no event code is sent; the codes of DC-05 below only say what is meant"
        }
        None => "not given in the spec: agree it with the service",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_of_numbers_become_ranges() {
        assert_eq!(ranges(&[1, 2, 3, 5, 6, 8]), "1–3, 5, 6, 8");
        assert_eq!(ranges(&[]), "");
    }
}
