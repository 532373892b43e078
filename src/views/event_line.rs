//! A line of ANSI/SIA DC-05 in words, with what a site's spec says of it where a site is given.

use serde::Serialize;

use crate::compiled::Compiled;
use crate::events::line::{Checked, Line, Qualifier};
use crate::model::Site;
use crate::profiles::events::{self, Subject};
use crate::profiles::handling;
use crate::words::Paper;

/// A line in words. The account is never repeated.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct EventLine {
    /// The line, without account and check digit: "1131 01 015".
    pub line: String,
    /// The code.
    pub code: u32,
    /// What it means, in a few words.
    pub meaning: String,
    /// What has become of it: "new", "restored", "still present", "opening", "closing".
    pub what: &'static str,
    /// The area, with its title where the site has it; empty for 00.
    pub area: String,
    /// Whose number it is, with the zone's description where the site has it; empty for 000.
    pub number: String,
    /// The group that it is handled with.
    pub group: &'static str,
    /// What the service is usually to do, or what the site's spec says.
    pub handling: String,
    /// How far the line could be checked.
    pub checked: String,
    /// What does not fit the spec, or is to be known besides.
    pub remarks: Vec<String>,
}

/// A line in words.
pub(crate) fn of(line: Line, checked: Checked, compiled: Option<&Compiled>) -> EventLine {
    let Line { qualifier, code, area, number } = line;
    let site = compiled.map(|compiled| &compiled.site);
    let event = events::find(code);
    let group = events::group(code);
    let mut remarks = Vec::new();
    if event.is_none() {
        remarks.push(format!(
            "code {code} is not in our list of DC-05; one that was added later may be known to your service"
        ));
    }
    let named = named(code, number, site, &mut remarks);
    if let Some(site) = site {
        remarks.extend(against_the_spec(site, line));
    }
    EventLine {
        line: line.to_string(),
        code,
        meaning: event.map_or("unknown event", |event| event.meaning).to_owned(),
        what: what(qualifier, code),
        area: area_words(area, site),
        number: named,
        group: if event.is_some() { group.word() } else { "unknown" },
        handling: handling(line, site),
        checked: match checked {
            Checked::Right => "the check digit is right".to_owned(),
            Checked::Without(digit) => format!("no check digit; it would be {digit}"),
            Checked::Short => "short form, which has no check digit".to_owned(),
        },
        remarks,
    }
}

/// What the service is to do on a line. That something is over sends nobody, and nothing is known of what is in no list.
fn handling(line: Line, site: Option<&Site>) -> String {
    let Line { qualifier, code, .. } = line;
    if events::find(code).is_none() {
        return "not in our list: ask the service".to_owned();
    }
    if qualifier == Qualifier::Restore && !events::is_opening(code) {
        return "it is over: this sends nobody by itself, and ends no response that has begun".to_owned();
    }
    let group = events::group(code);
    site.and_then(|site| site.handling_of(group)).unwrap_or_else(|| handling::usual(group).to_owned())
}

fn what(qualifier: Qualifier, code: u32) -> &'static str {
    match (qualifier, events::is_opening(code)) {
        (Qualifier::New, false) => "new",
        (Qualifier::Restore, false) => "restored",
        (Qualifier::New, true) => "opening: disarmed",
        (Qualifier::Restore, true) => "closing: armed",
        (Qualifier::Standing, _) => "reported before, still present",
    }
}

fn area_words(area: u32, site: Option<&Site>) -> String {
    if area == 0 {
        return String::new();
    }
    let title = site.and_then(|site| site.areas.iter().find(|one| one.number == area)).map(|one| &one.title);
    title.map_or_else(|| area.to_string(), |title| format!("{area}, {title}"))
}

/// Whose number stands behind a code: a zone by its description, a key, a user; of equipment the board's own number.
fn named(code: u32, number: u32, site: Option<&Site>, remarks: &mut Vec<String>) -> String {
    if number == 0 {
        return String::new();
    }
    if !events::is_numbered_by_the_spec(code) {
        remarks.push(
            "what equipment tells of itself has the number that the board gives it, which is no zone's".to_owned(),
        );
        return format!("number {number} of the board's own count");
    }
    if events::find(code).is_some_and(|event| event.subject == Subject::User) {
        return format!("user {number}");
    }
    let Some(site) = site else { return format!("zone {number}") };
    if let Some((_, zone)) = site.zone_numbered(number) {
        return format!("zone {number}, {}", zone.description.value);
    }
    let keys = site.boards.entries().flat_map(|(id, board)| board.emergency_keys.iter().map(move |key| (id, key)));
    for (board, key) in keys {
        if key.number == Some(number) {
            return format!("zone {number}: {}, key of {}", key.key.value.printed(), Paper.board(site, board));
        }
    }
    remarks.push(format!("the spec has no zone {number}"));
    format!("zone {number}")
}

/// Where area or code are not those that the spec has for the zone.
fn against_the_spec(site: &Site, line: Line) -> Vec<String> {
    let Line { code, area, number, .. } = line;
    let mut remarks = Vec::new();
    if area != 0 && !site.areas.iter().any(|one| one.number == area) {
        remarks.push(format!("the spec has no area {area}"));
    }
    let of_zone =
        events::is_numbered_by_the_spec(code) && events::find(code).is_none_or(|event| event.subject == Subject::Zone);
    let Some((_, zone)) = site.zone_numbered(number).filter(|_| of_zone) else { return remarks };
    if let Some(own) = site.area_of(zone).filter(|own| area != 0 && own.number != area) {
        remarks.push(format!("the spec has zone {number} in area {}, {}", own.number, own.title));
    }
    // Alarms only: a zone has many codes for its troubles.
    if let Some(spec) = crate::events::code(zone).filter(|spec| code < 200 && *spec != code) {
        let meaning = events::find(spec).map_or("", |event| event.meaning);
        remarks.push(format!("by the spec, zone {number} reports {spec} ({meaning}): the board may be set otherwise"));
    }
    remarks
}
