//! The list of zones for the monitoring service's form.
//!
//! Terms: the *form* is the service's own; its width is what it keeps of a description. *Handling* is what the service
//! is to do on an event. Account, passphrases, keyholders and the like are blanks to be filled in by hand: they have
//! no place in the spec, so they cannot come from it.

use serde::Serialize;

use super::{Document, Orientation, Reader, Table, value};
use crate::base::Id;
use crate::base::wording::cut;
use crate::calc::State;
use crate::compiled::Compiled;
use crate::model::{Board, KeyInUse, Site, Zone};
use crate::profiles::events;
use crate::terms::{EventGroup, Format};
use crate::words::Paper;

/// The document.
pub(crate) static DOCUMENT: Document = Document {
    name: "zone-descriptions",
    title: "Zone descriptions for the monitoring service",
    readers: &[Reader::MonitoringService],
    about: "number, description, event code and handling of every zone, and the blanks of its form",
    orientation: Orientation::Portrait,
    template: crate::template!("zone-descriptions"),
    view: |compiled| value(&ZoneDescriptions::of(compiled)),
    table: Some(table),
    drawings: None,
};

/// What the form asks for and no spec may hold, in the order of a usual form.
const BLANKS: &[&str] = &[
    "Account number",
    "Receiver: first and second number or address",
    "Address of the premises, nearest cross street",
    "Telephone of the premises",
    "Passphrase of the household",
    "Passphrase under duress",
    "Keyholder 1: name, telephone",
    "Keyholder 2: name, telephone",
    "Keyholder 3: name, telephone",
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
    width: String,
    format: &'static str,
    test_every: String,
    paths: Vec<String>,
    rows: Vec<Row>,
    keys: Vec<KeyRow>,
    cut: String,
    handling: Vec<Handling>,
    proposed: bool,
    blanks: &'static [&'static str],
}

#[derive(Serialize)]
struct Row {
    number: String,
    description: String,
    area: String,
    code: String,
    meaning: String,
    group: &'static str,
    remark: String,
}

/// An emergency key of a keypad.
#[derive(Serialize)]
struct KeyRow {
    key: &'static str,
    keypad: String,
    number: String,
    code: String,
    meaning: &'static str,
    group: &'static str,
}

#[derive(Serialize)]
struct Handling {
    group: &'static str,
    events: &'static str,
    zones: String,
    action: String,
    basis: &'static str,
}

/// An event of a zone: the code of the spec, or the usual one of its type.
struct Event {
    code: u32,
    /// The number behind it is a user's.
    by_user: bool,
    meaning: String,
    group: EventGroup,
}

impl ZoneDescriptions {
    fn of(compiled: &Compiled) -> Self {
        let site = &compiled.site;
        let monitoring = site.monitoring.as_ref();
        let width = width(site);
        let rows: Vec<Row> = reported(site).map(|zone| row(site, zone, width)).collect();
        let handling = handling(compiled);
        Self {
            width: width.map(|width| width.to_string()).unwrap_or_default(),
            format: format_words(monitoring.and_then(|monitoring| monitoring.format)),
            test_every: monitoring
                .and_then(|monitoring| monitoring.test_every)
                .map(|every| every.to_string())
                .unwrap_or_default(),
            paths: site
                .communicators
                .iter()
                .map(|line| match line.path.as_ref().map(|path| path.value.word()) {
                    Some(path) if !line.title.to_lowercase().contains(path) => format!("{} ({path})", line.title),
                    _ => line.title.clone(),
                })
                .collect(),
            cut: cut_zones(site, width),
            proposed: handling.iter().any(|handling| handling.basis != GIVEN),
            rows,
            keys: keys(site),
            handling,
            blanks: BLANKS,
        }
    }
}

/// The zones that the service hears of: those that are not kept for later.
fn reported(site: &Site) -> impl Iterator<Item = &Zone> {
    site.zones.iter().filter(|zone| zone.reserved.is_none())
}

/// The emergency keys in use, keypad by keypad.
fn keys(site: &Site) -> Vec<KeyRow> {
    let of_board = |(id, board)| of_keypad(site, id, board);
    site.boards.entries().flat_map(of_board).collect()
}

fn of_keypad(site: &Site, id: Id<Board>, board: &Board) -> Vec<KeyRow> {
    let row = |in_use: &KeyInUse| {
        let code = events::of_key(in_use.key.value);
        KeyRow {
            key: in_use.key.value.printed(),
            keypad: Paper.board(site, id),
            number: in_use.number.map(|number| number.to_string()).unwrap_or_default(),
            code: code.to_string(),
            meaning: events::find(code).map_or("", |event| event.meaning),
            group: events::group(code).word(),
        }
    };
    board.emergency_keys.iter().map(row).collect()
}

/// Characters that the form keeps; `None` where the spec does not say: then nothing is cut.
fn width(site: &Site) -> Option<u32> {
    site.monitoring.as_ref().map(|monitoring| monitoring.description_width.value)
}

fn row(site: &Site, zone: &Zone, width: Option<u32>) -> Row {
    let event = event(zone);
    let kept = kept(zone, width);
    let lost = zone.description.value.get(kept.len()..).unwrap_or_default().trim();
    let cut = (!lost.is_empty()).then(|| format!("cut; the form loses “{lost}”"));
    let by_user = event.as_ref().is_some_and(|event| event.by_user);
    let by_user = by_user.then(|| "the report has the number of a user, not of this zone".to_owned());
    Row {
        number: zone.number.value.to_string(),
        remark: [cut, by_user].into_iter().flatten().collect::<Vec<_>>().join("; "),
        description: kept,
        area: site.area_of(zone).map(|area| format!("{} {}", area.number, area.title)).unwrap_or_default(),
        code: event.as_ref().map(|event| event.code.to_string()).unwrap_or_default(),
        group: event.as_ref().map_or("", |event| event.group.word()),
        meaning: event.map(|event| event.meaning).unwrap_or_default(),
    }
}

/// The part of a description that the form keeps.
fn kept(zone: &Zone, width: Option<u32>) -> String {
    let whole = &zone.description.value;
    width.map_or_else(|| whole.clone(), |width| cut(whole, width as usize))
}

fn event(zone: &Zone) -> Option<Event> {
    let code = match (&zone.event, &zone.kind) {
        (Some(code), _) => code.value,
        (None, Some(kind)) => events::usual(kind.value).into(),
        (None, None) => return None,
    };
    let found = events::find(code);
    let by_user = found.is_some_and(|event| event.subject == events::Subject::User);
    let meaning =
        found.map_or_else(|| "not in our list of DC-05; ask the service".to_owned(), |e| e.meaning.to_owned());
    Some(Event { code, by_user, meaning, group: events::group(code) })
}

/// The zones whose description the form cuts; that two become equal is an error, so it cannot reach this sheet.
fn cut_zones(site: &Site, width: Option<u32>) -> String {
    let cut: Vec<u32> = reported(site)
        .filter(|zone| kept(zone, width) != zone.description.value.trim_end())
        .map(|zone| zone.number.value)
        .collect();
    ranges(&cut)
}

const GIVEN: &str = "given in the spec";
const PROPOSED: &str = "proposal, common practice; to be agreed with the service";

/// The handling of every group that a zone of the site reports in, or that the spec gives one for.
fn handling(compiled: &Compiled) -> Vec<Handling> {
    let site = &compiled.site;
    let mut found = Vec::new();
    for group in EventGroup::ALL {
        let reports = |id: Id<Zone>, zone: &Zone| {
            zone.reserved.is_none() && event(zone).is_some_and(|event| event.group == *group)
                || (*group == EventGroup::Trouble && sends_a_trouble(compiled, id))
        };
        let zones = site.zones.entries().filter(|(id, zone)| reports(*id, zone)).map(|(_, zone)| zone.number.value);
        let zones: Vec<u32> = zones.collect();
        let given: Vec<&str> = site
            .monitoring
            .iter()
            .flat_map(|monitoring| &monitoring.handling)
            .filter(|(of, _)| of.value == *group)
            .map(|(_, action)| action.as_str())
            .collect();
        let keys = keys(site).iter().any(|row| row.group == group.word());
        if zones.is_empty() && given.is_empty() && !keys {
            continue;
        }
        let events = EventGroup::WORDS.iter().find(|word| word.word == group.word()).map_or("", |word| word.doc);
        found.push(Handling {
            group: group.word(),
            events,
            zones: match (zones.is_empty(), keys) {
                (true, false) => "none".to_owned(),
                (true, true) => KEYS.to_owned(),
                (false, false) => ranges(&zones),
                (false, true) => format!("{}; {KEYS}", ranges(&zones)),
            },
            action: if given.is_empty() { usual_handling(*group).to_owned() } else { given.join("; ") },
            basis: if given.is_empty() { PROPOSED } else { GIVEN },
        });
    }
    found
}

const KEYS: &str = "keys of keypads";

/// True where a zone sends a trouble besides its own event: a cover off, the detectors' supply lost, or a wireless
/// detector that is silent or has a low battery.
fn sends_a_trouble(compiled: &Compiled, id: Id<Zone>) -> bool {
    let states = compiled.loops.get(&id).into_iter().flat_map(|readings| &readings.states);
    let mut troubles = states.filter(|reading| matches!(reading.state, State::Cover(_) | State::SupplyLost(_)));
    compiled.site.zones[id].wireless.is_some() || troubles.next().is_some()
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

/// Common practice, printed as a proposal.
fn usual_handling(group: EventGroup) -> &'static str {
    match group {
        EventGroup::Intrusion => {
            "call the premises, then a second number; without the passphrase send the police and call the keyholders"
        }
        EventGroup::Fire => "send the fire service first, then call the premises and the keyholders",
        EventGroup::Gas => {
            "send the fire service first; call the premises and have everybody leave; then the keyholders"
        }
        EventGroup::Panic => {
            "audible: call the premises, then send the police; silent: send the police and do not call the premises"
        }
        EventGroup::Medical => "call the premises; without an answer send medical help; then call the keyholders",
        EventGroup::Technical => "call the premises, then the keyholders; send nobody",
        EventGroup::Arming => {
            "record it and call nobody; where opening hours are agreed, call the keyholders when they are missed"
        }
        EventGroup::Trouble => "call the owner, then the installer; send nobody",
    }
}

fn format_words(format: Option<Format>) -> &'static str {
    match format {
        Some(Format::ContactId) => "ANSI/SIA DC-05: the event codes below are sent as they stand",
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

fn table(compiled: &Compiled) -> Table {
    let site = &compiled.site;
    let width = width(site);
    let handling = handling(compiled);
    let rows = reported(site)
        .map(|zone| {
            let row = row(site, zone, width);
            let action = handling.iter().find(|handling| handling.group == row.group);
            vec![
                row.number,
                row.description,
                zone.description.value.clone(),
                site.area_of(zone).map(|area| area.number.to_string()).unwrap_or_default(),
                site.area_of(zone).map(|area| area.title.clone()).unwrap_or_default(),
                row.code,
                row.meaning,
                row.group.to_owned(),
                action.map(|handling| handling.action.clone()).unwrap_or_default(),
                action.map(|handling| handling.basis.to_owned()).unwrap_or_default(),
            ]
        })
        .chain(keys(site).into_iter().map(|row| {
            let action = handling.iter().find(|handling| handling.group == row.group);
            vec![
                row.number,
                format!("{}, key of {}", row.key, row.keypad),
                format!("{}, key of {}", row.key, row.keypad),
                String::new(),
                String::new(),
                row.code,
                row.meaning.to_owned(),
                row.group.to_owned(),
                action.map(|handling| handling.action.clone()).unwrap_or_default(),
                action.map(|handling| handling.basis.to_owned()).unwrap_or_default(),
            ]
        }))
        .collect();
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
        ],
        rows,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::terms::{EmergencyKey, ZoneType};

    #[test]
    fn rows_of_numbers_become_ranges() {
        assert_eq!(ranges(&[1, 2, 3, 5, 6, 8]), "1–3, 5, 6, 8");
        assert_eq!(ranges(&[]), "");
    }

    /// The pairs of the table "Typical zone type → code mapping": practice over the numbers of ANSI/SIA DC-05-1999.
    #[test]
    fn every_type_has_its_usual_code_and_the_group_that_fits_it() {
        use EventGroup::{Arming, Fire, Gas, Intrusion, Medical, Panic, Technical, Trouble};
        for (kind, code, group) in [
            (ZoneType::EntryExit, 134, Intrusion),
            (ZoneType::Perimeter, 131, Intrusion),
            (ZoneType::Interior, 132, Intrusion),
            (ZoneType::DayNight, 135, Intrusion),
            (ZoneType::TwentyFourHour, 133, Intrusion),
            (ZoneType::Fire, 110, Fire),
            (ZoneType::Smoke, 111, Fire),
            (ZoneType::Heat, 114, Fire),
            (ZoneType::CarbonMonoxide, 162, Gas),
            (ZoneType::PanicAudible, 123, Panic),
            (ZoneType::PanicSilent, 122, Panic),
            (ZoneType::Medical, 100, Medical),
            (ZoneType::Water, 154, Technical),
            (ZoneType::LowTemperature, 159, Technical),
            (ZoneType::Gas, 151, Gas),
            (ZoneType::Tamper, 137, Intrusion),
            (ZoneType::Trouble, 330, Trouble),
            (ZoneType::Keyswitch, 409, Arming),
        ] {
            let usual = u32::from(events::usual(kind));
            assert_eq!((usual, events::group(usual)), (code, group), "{kind:?}");
            assert!(events::find(usual).is_some(), "{code} is in the list");
        }
    }

    /// By the names in the list of ANSI/SIA DC-05-1999: medical, fire, audible and silent panic.
    #[test]
    fn every_emergency_key_has_its_code_and_the_group_that_fits_it() {
        for (key, code, group) in [
            (EmergencyKey::Fire, 110, EventGroup::Fire),
            (EmergencyKey::Medical, 100, EventGroup::Medical),
            (EmergencyKey::PanicAudible, 123, EventGroup::Panic),
            (EmergencyKey::PanicSilent, 122, EventGroup::Panic),
        ] {
            let usual = u32::from(events::of_key(key));
            assert_eq!((usual, events::group(usual)), (code, group), "{key:?}");
            assert!(events::find(usual).is_some(), "{code} is in the list");
        }
    }
}
