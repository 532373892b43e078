//! Who is sent to what: each group of events with what reports in it and what the service is to do.

use serde::Serialize;

use super::zones_words;
use crate::compiled::Compiled;
use crate::events::{About, Report};
use crate::profiles::handling;
use crate::terms::EventGroup;

/// A group of events and its handling.
#[derive(Serialize)]
pub(super) struct Handling {
    pub(super) group: &'static str,
    pub(super) events: &'static str,
    pub(super) who: String,
    pub(super) action: String,
    pub(super) basis: &'static str,
}

pub(super) const GIVEN: &str = "given in the spec";
const PROPOSED: &str = "proposal, common practice; to be agreed with the service";

/// The handling of every group that the site reports in, or that the spec gives one for.
pub(super) fn of_site(compiled: &Compiled) -> Vec<Handling> {
    let site = &compiled.site;
    let mut found = Vec::new();
    for group in EventGroup::ALL {
        let reports: Vec<&Report> = compiled.events.iter().filter(|report| report.group() == *group).collect();
        let given = site.handling_of(*group);
        if reports.is_empty() && given.is_none() {
            continue;
        }
        found.push(Handling {
            group: group.word(),
            events: EventGroup::WORDS.iter().find(|word| word.word == group.word()).map_or("", |word| word.doc),
            who: who(compiled, &reports),
            basis: if given.is_some() { GIVEN } else { PROPOSED },
            action: given.unwrap_or_else(|| handling::usual(*group).to_owned()),
        });
    }
    found
}

/// What reports: zones by number, and the rest in a word each. A zone that is bypassed is there already.
fn who(compiled: &Compiled, reports: &[&Report]) -> String {
    let bypasses = 570..=577;
    let zones = reports.iter().filter(|report| !bypasses.contains(&report.code));
    let mut numbers: Vec<u32> = zones
        .filter_map(|report| if let About::Zone(id) = report.about { Some(id) } else { None })
        .map(|id| compiled.site.zones[id].number.value)
        .collect();
    numbers.dedup();
    let mut words = Vec::new();
    if !numbers.is_empty() {
        words.push(zones_words(&numbers));
    }
    let others = [
        ("keys of keypads", reports.iter().any(|report| matches!(report.about, About::Key(..)))),
        ("equipment", reports.iter().any(|report| is_equipment(report.about))),
        ("users, by area", reports.iter().any(|report| matches!(report.about, About::Area(_)))),
        ("the site", reports.iter().any(|report| matches!(report.about, About::Site))),
    ];
    words.extend(others.into_iter().filter(|(_, there)| *there).map(|(word, _)| word.to_owned()));
    if words.is_empty() { "none".to_owned() } else { words.join("; ") }
}

fn is_equipment(about: About) -> bool {
    match about {
        About::Board(_) | About::Output(_) | About::Circuit(_) | About::Bus(_) | About::Way(_) => true,
        About::Zone(_) | About::Key(..) | About::Area(_) | About::Site => false,
    }
}
