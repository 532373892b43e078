//! The list as CSV: a row for every event of its own, zones first.

use super::super::Table;
use super::zones::{kept, meaning, width};
use super::{handling, is_spoken, others, sends_codes};
use crate::compiled::Compiled;
use crate::events::{About, Qualifier, Report};
use crate::words::Paper;

/// The table of a site.
pub(super) fn of(compiled: &Compiled) -> Table {
    let site = &compiled.site;
    let handled = handling::of_site(compiled);
    let own = compiled.events.iter().filter(|report| report.is_alarm_of_zone(site));
    let keys = compiled.events.iter().filter(|report| matches!(report.about, About::Key(..)));
    let reports = own.chain(keys).chain(others::reports(compiled));
    Table {
        columns: vec![
            "zone",
            "description on the form",
            "description",
            "area",
            "area title",
            "event code",
            "meaning",
            "group",
            "handling",
            "basis of handling",
            "sent when it happens",
            "sent when it is over",
            "area as sent",
            "number as sent",
            "letters of DC-03 when it happens",
            "letters of DC-03 when it is over",
        ],
        rows: reports.map(|report| row(compiled, report, &handled)).collect(),
    }
}

fn row(compiled: &Compiled, report: &Report, handled: &[handling::Handling]) -> Vec<String> {
    let site = &compiled.site;
    let (number, on_form, whole) = match report.about {
        About::Zone(id) => {
            let zone = &site.zones[id];
            (zone.number.value.to_string(), kept(zone, width(site)), zone.description.value.clone())
        }
        About::Key(..) => {
            let words = Paper.about(site, report.about);
            (key_number(report), words.clone(), words)
        }
        About::Board(_)
        | About::Output(_)
        | About::Circuit(_)
        | About::Bus(_)
        | About::Way(_)
        | About::Area(_)
        | About::Site => {
            let words = Paper.about(site, report.about);
            (String::new(), words.clone(), words)
        }
    };
    let area = report.area.map(|area| &site.areas[area]);
    let action = handled.iter().find(|handling| handling.group == report.group().word());
    let sent = |qualifier: Qualifier| report.sent.qualifiers().contains(&qualifier);
    let code = |qualifier: Qualifier| {
        if sent(qualifier) && sends_codes(site) {
            format!("{}{:03}", qualifier.digit(), report.code)
        } else {
            String::new()
        }
    };
    let spoken = is_spoken(site);
    let letters = |qualifier: Qualifier| report.letters(qualifier).filter(|_| !spoken && sent(qualifier));
    let (new, restore) = (letters(Qualifier::New), letters(Qualifier::Restore));
    vec![
        number,
        on_form,
        whole,
        area.map(|area| area.number.to_string()).unwrap_or_default(),
        area.map(|area| area.title.clone()).unwrap_or_default(),
        report.code.to_string(),
        meaning(report).to_owned(),
        report.group().word().to_owned(),
        action.map(|handling| handling.action.clone()).unwrap_or_default(),
        action.map(|handling| handling.basis.to_owned()).unwrap_or_default(),
        code(Qualifier::New),
        code(Qualifier::Restore),
        if spoken { String::new() } else { format!("{:02}", area.map_or(0, |area| area.number)) },
        report.number.digits().filter(|_| !spoken).unwrap_or_default(),
        new.unwrap_or_default().to_owned(),
        restore.unwrap_or_default().to_owned(),
    ]
}

/// The number of a key as the spec gives it.
fn key_number(report: &Report) -> String {
    if let crate::events::Number::Given(number) = report.number { number.to_string() } else { String::new() }
}
