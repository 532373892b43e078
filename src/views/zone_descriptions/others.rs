//! The events that are no zone's alarm, one row a code; and the numbers behind them that only the board knows.

use std::collections::BTreeMap;

use serde::Serialize;

use super::{sent_words, zones_words};
use crate::compiled::Compiled;
use crate::events::{About, Number, Report};
use crate::words::Paper;

/// A code with everything that reports it.
#[derive(Serialize)]
pub(in crate::views) struct OtherRow {
    pub(super) code: String,
    pub(super) meaning: &'static str,
    pub(super) about: String,
    pub(super) sent: String,
    pub(super) number: &'static str,
    pub(super) group: &'static str,
}

/// A number that the board gives.
#[derive(Serialize)]
pub(super) struct Blank {
    pub(super) about: String,
    pub(super) codes: String,
}

/// The reports beside those of zones in alarm and of keys.
pub(super) fn reports(compiled: &Compiled) -> impl Iterator<Item = &Report> {
    let site = &compiled.site;
    let other = |report: &&Report| !report.is_alarm_of_zone(site) && !matches!(report.about, About::Key(..));
    compiled.events.iter().filter(other)
}

/// One row a code, by code.
pub(in crate::views) fn rows(compiled: &Compiled) -> Vec<OtherRow> {
    let mut by_code: BTreeMap<u32, Vec<&Report>> = BTreeMap::new();
    for report in reports(compiled) {
        by_code.entry(report.code).or_default().push(report);
    }
    let row = |reports: &Vec<&Report>| {
        let first = reports.first()?;
        Some(OtherRow {
            code: first.code.to_string(),
            meaning: first.meaning().unwrap_or_default(),
            about: about(compiled, reports),
            sent: sent_words(&compiled.site, first),
            number: match first.number {
                Number::Given(_) => "the zone's",
                Number::User => "the user's",
                Number::OfBoard => "by the board",
                Number::Zero => "000",
            },
            group: first.group().word(),
        })
    };
    by_code.values().filter_map(row).collect()
}

/// "zones 1, 7–9", "Keypad in the hall, Network adapter".
fn about(compiled: &Compiled, reports: &[&Report]) -> String {
    let site = &compiled.site;
    let zone =
        |report: &&Report| if let About::Zone(id) = report.about { Some(site.zones[id].number.value) } else { None };
    let zones: Vec<u32> = reports.iter().filter_map(zone).collect();
    if !zones.is_empty() {
        return zones_words(&zones);
    }
    reports.iter().map(|report| Paper.about(site, report.about)).collect::<Vec<_>>().join(", ")
}

/// What the board counts by itself, each thing once with all of its codes.
pub(super) fn blanks(compiled: &Compiled) -> Vec<Blank> {
    let mut blanks: Vec<(About, Vec<String>)> = Vec::new();
    for report in reports(compiled).filter(|report| report.number == Number::OfBoard && report.about != About::Site) {
        // The reports of a thing stand side by side.
        match blanks.last_mut() {
            Some((about, codes)) if *about == report.about => codes.push(report.code.to_string()),
            _ => blanks.push((report.about, vec![report.code.to_string()])),
        }
    }
    let blank = |(about, codes): (About, Vec<String>)| Blank {
        about: Paper.about(&compiled.site, about),
        codes: codes.join(", "),
    };
    blanks.into_iter().map(blank).collect()
}
