//! The rows of zones, and of the emergency keys of keypads.

use std::collections::BTreeMap;

use serde::Serialize;

use super::{ranges, sends_letters, sent_words};
use crate::base::Id;
use crate::base::wording::cut;
use crate::compiled::Compiled;
use crate::events::{About, Number, Report, is_sent};
use crate::model::{Site, Zone};
use crate::words::Paper;

#[derive(Serialize)]
pub(super) struct Row {
    pub(super) number: String,
    pub(super) description: String,
    pub(super) area: String,
    pub(super) code: String,
    pub(super) meaning: String,
    /// What is sent in letters; empty where the codes are sent.
    pub(super) letters: String,
    pub(super) group: &'static str,
    pub(super) remark: String,
}

/// An emergency key of a keypad.
#[derive(Serialize)]
pub(super) struct KeyRow {
    pub(super) key: &'static str,
    pub(super) keypad: String,
    pub(super) number: String,
    pub(super) code: String,
    pub(super) meaning: &'static str,
    pub(super) group: &'static str,
}

/// The zones that the service hears of: those in use of the panels that have a way to it.
pub(super) fn reported(site: &Site) -> impl Iterator<Item = (Id<Zone>, &Zone)> {
    site.zones_in_use().filter(|(id, _)| is_sent(site, About::Zone(*id)))
}

/// Characters that the form keeps; `None` where the spec does not say: then nothing is cut.
pub(super) fn width(site: &Site) -> Option<u32> {
    site.monitoring.as_ref().map(|monitoring| monitoring.description_width.value)
}

/// The part of a description that the form keeps.
pub(super) fn kept(zone: &Zone, width: Option<u32>) -> String {
    let whole = &zone.description.value;
    width.map_or_else(|| whole.clone(), |width| cut(whole, width as usize))
}

/// The meaning of a report's code.
pub(super) fn meaning(report: &Report) -> &'static str {
    report.meaning().unwrap_or("not in our list of DC-05; ask the service")
}

/// One row a zone, by number.
pub(super) fn rows(compiled: &Compiled, width: Option<u32>) -> Vec<Row> {
    let site = &compiled.site;
    let own = |report: &&Report| report.is_alarm_of_zone(site);
    let mut reports: BTreeMap<Id<Zone>, &Report> = BTreeMap::new();
    for report in compiled.events.iter().filter(own) {
        if let About::Zone(id) = report.about {
            reports.insert(id, report);
        }
    }
    reported(site).map(|(id, zone)| row(site, zone, reports.get(&id).copied(), width)).collect()
}

fn row(site: &Site, zone: &Zone, report: Option<&Report>, width: Option<u32>) -> Row {
    let kept = kept(zone, width);
    let lost = zone.description.value.get(kept.len()..).unwrap_or_default().trim();
    let cut = (!lost.is_empty()).then(|| format!("cut; the form loses “{lost}”"));
    let by_user = report.is_some_and(|report| report.number == Number::User);
    let by_user = by_user.then(|| "the report has the number of a user, not of this zone".to_owned());
    Row {
        number: zone.number.value.to_string(),
        remark: [cut, by_user].into_iter().flatten().collect::<Vec<_>>().join("; "),
        description: kept,
        area: site
            .area_of(zone)
            .map_or_else(|| "00 no area".to_owned(), |area| format!("{:02} {}", area.number, area.title)),
        code: report.map(|report| report.code.to_string()).unwrap_or_default(),
        letters: report.filter(|_| sends_letters(site)).map(|report| sent_words(site, report)).unwrap_or_default(),
        group: report.map_or("", |report| report.group().word()),
        meaning: report.map(meaning).unwrap_or_default().to_owned(),
    }
}

/// The emergency keys in use, keypad by keypad.
pub(super) fn keys(compiled: &Compiled) -> Vec<KeyRow> {
    let row = |report: &Report| match report.about {
        About::Key(board, key) => Some(KeyRow {
            key: key.printed(),
            keypad: Paper.board(&compiled.site, board),
            number: if let Number::Given(number) = report.number { number.to_string() } else { String::new() },
            code: report.code.to_string(),
            meaning: meaning(report),
            group: report.group().word(),
        }),
        About::Zone(_)
        | About::Board(_)
        | About::Output(_)
        | About::Circuit(_)
        | About::Bus(_)
        | About::Way(_)
        | About::Area(_)
        | About::Site => None,
    };
    compiled.events.iter().filter_map(row).collect()
}

/// The zones whose description the form cuts; that two become equal is an error, so it cannot reach this sheet.
pub(super) fn cut_zones(site: &Site, width: Option<u32>) -> String {
    let cut: Vec<u32> = reported(site)
        .filter(|(_, zone)| kept(zone, width) != zone.description.value.trim_end())
        .map(|(_, zone)| zone.number.value)
        .collect();
    ranges(&cut)
}
