//! A line of ANSI/SIA DC-05 in words, with what a site's spec says of it where a site is given.

use serde::Serialize;

use crate::base::Id;
use crate::base::wording::list;
use crate::compiled::Compiled;
use crate::events::line::{Checked, Line, Qualifier};
use crate::model::{Board, Site, Zone};
use crate::profiles::events::{self, Subject};
use crate::profiles::handling;
use crate::terms::EmergencyKey;
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
    let whose = whose(code, number, site);
    if number != 0 && matches!(whose, Whose::OfBoard) {
        remarks.push(
            "what equipment tells of itself has the number that the board gives it, which is no zone's".to_owned(),
        );
    }
    if let Some(site) = site {
        remarks.extend(against_the_spec(site, line, &whose));
    }
    EventLine {
        line: line.to_string(),
        code,
        meaning: event.map_or("unknown event", |event| event.meaning).to_owned(),
        what: what(qualifier, code),
        area: area_words(area, site),
        number: named(&whose, number, site),
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

/// What a number counts, and the thing of the site that has it.
enum Whose<'s> {
    Zone(&'s Zone),
    /// The keys with this number, all of one kind.
    Keys(EmergencyKey, Vec<Id<Board>>),
    User,
    /// Equipment, as the board counts it.
    OfBoard,
    /// A zone or key that is not known.
    Unknown,
}

/// Whose number stands behind a code. Where a zone and a key have one number, the code tells which of them is meant.
fn whose(code: u32, number: u32, site: Option<&Site>) -> Whose<'_> {
    if events::find(code).is_some_and(|event| event.subject == Subject::User) {
        return Whose::User;
    }
    let zone = site.and_then(|site| site.zone_numbered(number)).map(|(_, zone)| zone);
    // A zone may have a code of its own that equipment has too, as that of a relay that tells a fault.
    if let Some(zone) = zone.filter(|zone| crate::events::code(zone) == Some(code)) {
        return Whose::Zone(zone);
    }
    if !events::is_numbered_by_the_spec(code) {
        return Whose::OfBoard;
    }
    let keys: Vec<_> = site.into_iter().flat_map(|site| keys_numbered(site, number)).collect();
    let sends = |key: EmergencyKey| u32::from(events::of_key(key)) == code;
    let key = keys.iter().find(|(_, key)| sends(*key)).or_else(|| keys.first().filter(|_| zone.is_none()));
    match (key, zone) {
        (Some((_, kind)), _) => {
            Whose::Keys(*kind, keys.iter().filter(|(_, key)| key == kind).map(|(board, _)| *board).collect())
        }
        (None, Some(zone)) => Whose::Zone(zone),
        (None, None) => Whose::Unknown,
    }
}

/// The emergency keys whose reports carry a number.
fn keys_numbered(site: &Site, number: u32) -> impl Iterator<Item = (Id<Board>, EmergencyKey)> {
    let keys = site.boards.entries().flat_map(|(id, board)| board.emergency_keys.iter().map(move |key| (id, key)));
    let numbered = keys.filter(move |(_, key)| key.number.as_ref().is_some_and(|own| own.value == number));
    numbered.map(|(board, key)| (board, key.key.value))
}

/// A number in words: of a zone with its description, of a key with its keypad.
fn named(whose: &Whose<'_>, number: u32, site: Option<&Site>) -> String {
    if number == 0 {
        return String::new();
    }
    match whose {
        Whose::OfBoard => format!("number {number} of the board's own count"),
        Whose::User => format!("user {number}"),
        Whose::Zone(zone) => format!("zone {number}, {}", zone.description.value),
        Whose::Keys(key, boards) => {
            let boards: Vec<String> =
                site.into_iter().flat_map(|site| boards.iter().map(|board| Paper.board(site, *board))).collect();
            format!("zone {number}: {}, key of {}", key.printed(), list(&boards, "or"))
        }
        Whose::Unknown => format!("zone {number}"),
    }
}

/// Where area, number or code are not those that the spec has.
fn against_the_spec(site: &Site, line: Line, whose: &Whose<'_>) -> Vec<String> {
    let Line { code, area, number, .. } = line;
    let mut remarks = Vec::new();
    if area != 0 && !site.areas.iter().any(|one| one.number == area) {
        remarks.push(format!("the spec has no area {area}"));
    }
    let (thing, reports) = match whose {
        Whose::User | Whose::OfBoard => return remarks,
        Whose::Unknown => {
            remarks.extend((number != 0).then(|| format!("the spec has no zone {number}")));
            return remarks;
        }
        Whose::Keys(key, _) => ("the key with number", Some(u32::from(events::of_key(*key)))),
        Whose::Zone(zone) => {
            if let Some(own) = site.area_of(zone).filter(|own| area != 0 && own.number != area) {
                remarks.push(format!("the spec has zone {number} in area {}, {}", own.number, own.title));
            }
            if zone.reserved.is_some() {
                remarks.push(format!("zone {number} is kept for later: nothing is wired to it by the spec"));
            }
            ("zone", crate::events::code(zone))
        }
    };
    // Alarms only: a zone has many codes for its troubles.
    if let Some(spec) = reports.filter(|spec| code < 200 && *spec != code) {
        let meaning = events::find(spec).map_or("", |event| event.meaning);
        remarks
            .push(format!("by the spec, {thing} {number} reports {spec} ({meaning}): the board may be set otherwise"));
    }
    remarks
}
