//! Owner's guide: one page in large print for everybody who lives there. No secret has a place on it.
//!
//! Out of scope: how to work the keypad, which its own paper tells.

use std::collections::BTreeSet;

use serde::Serialize;
use serde_json::Value;

use super::natural::natural;
use super::{Document, Orientation, View, value};
use crate::base::Id;
use crate::base::wording::{capital, list};
use crate::calc::power::path::{self, Lives};
use crate::calc::power::standby;
use crate::calc::sound::{self, Pattern};
use crate::calc::timing::{self, Disarms};
use crate::compiled::Compiled;
use crate::model::{Area, Board, DeviceKind, OpeningKind, Site, Zone};
use crate::quantity::Seconds;
use crate::terms::{EmergencyKey, Senses, ZoneType};
use crate::words::{self, Paper};

/// The document.
pub(crate) static DOCUMENT: Document = Document {
    name: "owners-guide",
    title: "Guide for the household",
    about: "one page in large print: doors, delays, sounds, false alarms, whom to call",
    orientation: Orientation::Portrait,
    template: crate::template!("owners-guide"),
    view: View::Plain(view),
    table: None,
};

#[derive(Serialize)]
struct Guide {
    areas: Vec<AreaRow>,
    /// True where every area that is armed has a keypad or a key switch for it.
    disarms: bool,
    keypads: String,
    /// True where somebody who moves in a room may set it off.
    moves: bool,
    /// True where each watched door or window that starts no delay is an alarm at once.
    at_once: bool,
    /// What sets it off also while it is disarmed: "Pool gate".
    always: String,
    /// What is told at the keypad while it is disarmed: "Yard gate".
    told: String,
    sounds: Vec<Sound>,
    /// What calls for help by hand, and how.
    help: Vec<Help>,
    keys: String,
    /// What nobody in the house can call false: "Fire or carbon monoxide".
    deadly: String,
    unseen: bool,
    burglary: bool,
    abort: String,
    /// Alarms that mean no danger to life: "Water or frost".
    others: String,
    /// True where water is watched for.
    water: bool,
    /// How long the house's boards run on their batteries: "goes on by its battery, …"; empty where all is off.
    lasts: String,
    /// What is off without mains: "the whole alarm is", "Panel A and Panel B are".
    off: String,
    /// What of an alarm still leaves the house in that time, where it is less than all of it.
    sent: String,
    /// True where a way leads to the monitoring service.
    reports: bool,
    /// True where an alarm of fire, carbon monoxide or gas is sent.
    reports_deadly: bool,
    /// True where a burglar alarm is sent.
    reports_burglary: bool,
    /// True where a key or button for help is sent.
    reports_keys: bool,
    /// What is not sent, where other alarms are: "7 Annex door; 8 Annex window".
    unsent: String,
    sounders: bool,
}

/// A way in and out.
#[derive(Serialize)]
struct AreaRow {
    area: String,
    /// The doors that start its entry delay; empty where it is disarmed before anything is opened.
    doors: String,
    entry: String,
    exit: String,
    /// Those of them on whose way to the keypad something alarms at once.
    hasty: String,
    /// Its key switches.
    by: String,
    /// True where all of these, and every keypad, hang where one comes only past what is watched.
    inside: bool,
    /// True where a keypad or a key switch arms it.
    disarms: bool,
    /// Zones of it that none arms, where one arms others: "7 Annex door".
    unarmed: String,
}

/// Buttons and keys for help of one kind.
#[derive(Serialize)]
struct Help {
    /// "Silent", "Medical and fire".
    how: String,
    /// Where they are.
    by: String,
}

/// A sound and what to do.
#[derive(Serialize)]
struct Sound {
    heard: &'static str,
    means: &'static str,
    act: &'static str,
}

fn view(compiled: &Compiled) -> Value {
    let site = &compiled.site;
    let sounders = site.devices.iter().any(|device| device.kind == DeviceKind::Sounder);
    let areas = area_rows(compiled);
    value(&Guide {
        disarms: areas.iter().all(|row| row.disarms),
        areas,
        keypads: keypads(site),
        moves: site.zones.entries().any(|(id, zone)| sleeps(zone) && notices_people(site, id)),
        at_once: at_once(site),
        sounds: if sounders { sounds(site) } else { Vec::new() },
        always: described(site, &[ZoneType::TwentyFourHour]),
        told: described(site, &[ZoneType::DayNight]),
        help: help(site),
        keys: keys(site),
        deadly: deadly(site),
        unseen: has(site, GAS),
        burglary: has(site, BURGLARY),
        abort: abort(site),
        others: others(site),
        water: has(site, &[ZoneType::Water]),
        lasts: lasts(compiled),
        off: off(site),
        sent: sent(compiled),
        reports: !site.communicators.is_empty(),
        reports_deadly: is_sent(site, |kind| [FIRE, GAS, &[ZoneType::Gas]].iter().any(|kinds| kinds.contains(&kind))),
        reports_burglary: is_sent(site, |kind| BURGLARY.contains(&kind)),
        reports_keys: is_sent(site, |kind| BUTTONS.contains(&kind)) || keypads_sent(site),
        unsent: unsent(site),
        sounders,
    })
}

const FIRE: &[ZoneType] = &[ZoneType::Fire, ZoneType::Smoke, ZoneType::Heat];

const GAS: &[ZoneType] = &[ZoneType::CarbonMonoxide];

/// What waits for nothing once its area is armed, unless the spec says otherwise.
const SHELL: &[ZoneType] = &[ZoneType::Perimeter, ZoneType::DayNight];

fn is(zone: &Zone, kinds: &[ZoneType]) -> bool {
    zone.reserved.is_none() && zone.kind.as_ref().is_some_and(|kind| kinds.contains(&kind.value))
}

fn has(site: &Site, kinds: &[ZoneType]) -> bool {
    site.zones.iter().any(|zone| is(zone, kinds))
}

/// The descriptions of the zones of these types. They may have commas of their own.
fn described(site: &Site, kinds: &[ZoneType]) -> String {
    let zones = site.zones.iter().filter(|zone| is(zone, kinds));
    zones.map(|zone| zone.description.value.clone()).collect::<Vec<_>>().join("; ")
}

fn titled(titles: impl Iterator<Item = String>) -> String {
    list(&titles.collect::<Vec<_>>(), "and")
}

/// "Fire, carbon monoxide or gas", of what the site watches for.
fn deadly(site: &Site) -> String {
    let kinds = [("fire", FIRE), ("carbon monoxide", GAS), ("gas", &[ZoneType::Gas])];
    let words: Vec<&str> = kinds.into_iter().filter(|(_, kinds)| has(site, kinds)).map(|(word, _)| word).collect();
    capital(&list(&words, "or"))
}

/// "Water or frost", of what the site watches for.
fn others(site: &Site) -> String {
    let kinds: [(&str, &[ZoneType]); 2] = [("water", &[ZoneType::Water]), ("frost", &[ZoneType::LowTemperature])];
    let words: Vec<&str> = kinds.into_iter().filter(|(_, kinds)| has(site, kinds)).map(|(word, _)| word).collect();
    capital(&list(&words, "or"))
}

/// How long a board with a battery runs at rest without mains, of the shortest and in the worst state that the power sheet has.
fn lasts(compiled: &Compiled) -> String {
    let site = &compiled.site;
    if site.is_off_without_mains() {
        return String::new();
    }
    let batteries = || site.boards.entries().filter(|(_, board)| board.battery.is_some()).map(|(id, _)| id);
    if batteries().any(|id| !standby::is_counted(site, id)) {
        return "goes on by its battery; for how long is not known".to_owned();
    }
    let times = batteries().map(|id| standby::least_time(site, &compiled.power, id).0);
    match times.min_by(f64::total_cmp) {
        None => String::new(),
        Some(time) if time >= 3600.0 => {
            format!("goes on by its battery, for at least {:.0} h while nothing happens", (time / 3600.0).floor())
        }
        Some(time) if time > 0.0 => "goes on by its battery, but do not count on an hour".to_owned(),
        Some(_) => "may be off at once: by the plan its battery may be too cold or too small".to_owned(),
    }
}

/// What is off without mains: all of it, or the panels without a battery.
fn off(site: &Site) -> String {
    if site.is_off_without_mains() {
        return "the whole alarm is".to_owned();
    }
    let panels: Vec<String> = site.panels_without_battery().map(|board| Paper.board(site, board)).collect();
    match panels.len() {
        0 => String::new(),
        1 => format!("{} is", list(&panels, "and")),
        _ => format!("{} are", list(&panels, "and")),
    }
}

/// Whether alarms still leave the house without mains: by the way that lives longest.
fn sent(compiled: &Compiled) -> String {
    let site = &compiled.site;
    // What has nothing of its own is off at once, however short the panel lives.
    let is_off = |line| path::weakest(site, &compiled.power, line).is_some_and(|(_, time)| time.0 <= 0.0);
    let lives = |line| {
        if is_off(line) { Lives::Until(Vec::new(), Seconds(0.0)) } else { path::lives(site, &compiled.power, line) }
    };
    let ways: Vec<Lives<'_>> = site.communicators.entries().map(|(line, _)| lives(line)).collect();
    let until = |way: &Lives<'_>| if let Lives::Until(_, time) = way { Some(*time) } else { None };
    if ways.is_empty() || ways.iter().any(|way| matches!(way, Lives::AsThePanel(_))) {
        return String::new();
    }
    match ways.iter().map(until).collect::<Option<Vec<_>>>() {
        None => "Whether an alarm still leaves the house then is not known: try it.".to_owned(),
        Some(times) => match times.into_iter().max_by(|one, other| one.0.total_cmp(&other.0)) {
            Some(time) if time.0 > 0.0 => {
                format!("After {time} without mains no alarm leaves the house: nobody outside hears of it.")
            }
            _ => "Without mains no alarm leaves the house: nobody outside hears of it.".to_owned(),
        },
    }
}

/// How long after a burglar alarm nothing has been sent: "20 s", or by area; empty where no area has a window for it.
fn abort(site: &Site) -> String {
    let window = |area: &Area| area.abort.as_ref().map(|abort| abort.value).filter(|abort| abort.0 > 0.0);
    let windows: Vec<_> = site.areas.iter().map(|area| (area, window(area))).collect();
    match windows.as_slice() {
        [(_, first), rest @ ..] if rest.iter().all(|(_, other)| other == first) => {
            first.map(|abort| abort.to_string()).unwrap_or_default()
        }
        _ => {
            let each = windows.iter().filter_map(|(area, abort)| Some(format!("{} ({})", (*abort)?, area.title)));
            list(&each.collect::<Vec<_>>(), "or")
        }
    }
}

/// True where an alarm of a kind leaves the house, of one zone at least.
fn is_sent(site: &Site, wanted: impl Fn(ZoneType) -> bool) -> bool {
    let mut zones = site.zones_in_use().filter(|(_, zone)| zone.kind.as_ref().is_some_and(|kind| wanted(kind.value)));
    zones.any(|(_, zone)| site.is_sent(site.panel_of_zone(zone)))
}

/// True where an emergency key of a keypad calls somebody outside.
fn keypads_sent(site: &Site) -> bool {
    let mut keypads = site.boards.entries().filter(|(_, board)| !board.emergency_keys.is_empty());
    keypads.any(|(keypad, _)| site.is_sent(site.panel_of(Some(keypad))))
}

/// The zones of which nobody outside hears, where a way leads from another panel to the service. A key that arms calls nobody.
fn unsent(site: &Site) -> String {
    if site.communicators.is_empty() {
        return String::new();
    }
    let zones = site.zones_in_use().map(|(_, zone)| zone).filter(|zone| !is(zone, &[ZoneType::Keyswitch]));
    let zones = called(zones.filter(|zone| !site.is_sent(site.panel_of_zone(zone))));
    let keypads = site.boards.entries().filter(|(_, board)| !board.emergency_keys.is_empty());
    let keypads = keypads.filter(|(id, _)| !site.is_sent(site.panel_of(Some(*id))));
    let keypads = keypads.map(|(id, _)| format!("the keys for help of {}", Paper.board(site, id)));
    Some(zones).filter(|zones| !zones.is_empty()).into_iter().chain(keypads).collect::<Vec<_>>().join("; ")
}

/// Zones as the keypad has them. Descriptions have commas of their own.
fn called<'s>(zones: impl Iterator<Item = &'s Zone>) -> String {
    let zones = zones.map(|zone| format!("{} {}", zone.number.value, zone.description.value));
    zones.collect::<Vec<_>>().join("; ")
}

/// An area, `None` for what is in none, with its zones.
type ZonesOf<'s> = (Option<Id<Area>>, Vec<(Id<Zone>, &'s Zone)>);

/// Each area with the doors that start its entry delay, and what is in none of several; a house without areas is one.
fn area_rows(compiled: &Compiled) -> Vec<AreaRow> {
    let site = &compiled.site;
    let watched = timing::watched_rooms(site);
    let asked = || "(ask the installer)".to_owned();
    let delay = |time: Option<Seconds>| time.map_or_else(asked, |time| time.to_string());
    let row = |(id, zones): ZonesOf<'_>| {
        let area = id.map(|id| &site.areas[id]);
        let of = |kinds: &'static [ZoneType]| zones.iter().filter(move |(_, zone)| is(zone, kinds));
        let asleep = || zones.iter().filter(|(_, zone)| sleeps(zone));
        let (armed, unarmed): (Vec<_>, Vec<_>) = asleep().partition(|(_, zone)| timing::is_armed(site, zone));
        let entries = of(&[ZoneType::EntryExit]).filter(|(_, zone)| armed.is_empty() || timing::is_armed(site, zone));
        let none = area.and_then(|area| area.entry.as_ref()).is_some_and(|entry| entry.value.0 <= 0.0);
        let asleep: Vec<&Zone> = asleep().map(|(_, zone)| *zone).collect();
        let rooms = id.and_then(|id| watched.get(&id));
        let is_outside = |room| rooms.is_none_or(|all| timing::is_outside(site, all, room));
        let (outside, inside): (Vec<_>, Vec<_>) =
            timing::disarms(site, &asleep).partition(|(_, room)| is_outside(*room));
        // What hangs inside is named where nothing else is reached.
        let reached = if outside.is_empty() { &inside } else { &outside };
        let keys = reached.iter().filter_map(|(by, _)| match by {
            Disarms::Key(key) => Some(words::placed(site, *key)),
            Disarms::Keypad(_) => None,
        });
        let by = titled(keys);
        let hasty = compiled.doors.iter().filter(|door| Some(door.area) == id);
        let hasty = hasty.filter(|door| timing::alarm_on_way(site, door).next().is_some());
        let hasty: BTreeSet<String> = hasty.map(|door| Paper.opening(site, door.opening)).collect();
        let mut hasty: Vec<String> = hasty.into_iter().collect();
        hasty.sort_by(|one, other| natural(one, other));
        let lone = site.areas.is_empty() || (site.areas.len() == 1 && area.is_some());
        (!armed.is_empty() || !unarmed.is_empty()).then(|| AreaRow {
            area: if lone {
                String::new()
            } else {
                area.map_or_else(|| "In no area".to_owned(), |area| area.title.clone())
            },
            doors: if none { String::new() } else { doors(site, entries.map(|(id, _)| *id)) },
            entry: delay(area.and_then(|area| area.entry.as_ref()).map(|entry| entry.value)),
            exit: delay(area.and_then(|area| area.exit.as_ref()).map(|exit| exit.value)),
            hasty: hasty.join("; "),
            by,
            inside: outside.is_empty() && !inside.is_empty(),
            disarms: !armed.is_empty(),
            unarmed: if armed.is_empty() { String::new() } else { called(unarmed.iter().map(|(_, zone)| *zone)) },
        })
    };
    let of_area = |id| site.zones.entries().filter(move |(_, zone)| site.is_in(zone, id)).collect();
    let areas = site.areas.entries().map(|(id, _)| (Some(id), of_area(id)));
    let in_none = site.zones.entries().filter(|(_, zone)| site.arms_with(zone).is_none()).collect();
    areas.chain(std::iter::once((None, in_none))).filter_map(row).collect()
}

/// The doors that zones watch. Titles have commas of their own.
fn doors(site: &Site, zones: impl Iterator<Item = Id<Zone>>) -> String {
    let mut doors = Vec::new();
    for zone in zones {
        let before = doors.len();
        let openings = site.devices_of(zone).filter_map(|(_, device)| device.opening.as_ref());
        let ways = openings.map(|opening| opening.value);
        let ways = ways.filter(|way| site.openings[*way].kind != OpeningKind::Window);
        doors.extend(ways.map(|way| Paper.opening(site, way)));
        if doors.len() == before {
            doors.push(site.zones[zone].description.value.clone());
        }
    }
    let mut named = BTreeSet::new();
    doors.retain(|door| named.insert(door.clone()));
    doors.join("; ")
}

/// False where a watched door or window may wait: it follows a delay, another zone must confirm it, or it is a window of
/// a zone with a delay. Also where there is none.
fn at_once(site: &Site) -> bool {
    let delayed = site.zones.entries().filter(|(_, zone)| is(zone, &[ZoneType::EntryExit]));
    let mut openings =
        delayed.flat_map(|(id, _)| site.devices_of(id)).filter_map(|(_, device)| device.opening.as_ref());
    has(site, SHELL)
        && site
            .zones
            .iter()
            .filter(|zone| is(zone, SHELL))
            .all(|zone| !zone.follows && site.confirmed_by(zone).is_none())
        && openings.all(|opening| site.openings[opening.value].kind != OpeningKind::Window)
}

/// True for a zone with a detector of whoever moves.
fn notices_people(site: &Site, zone: Id<Zone>) -> bool {
    site.devices_of(zone).any(|(id, _)| matches!(site.senses(id), Some(Senses::Motion | Senses::Step)))
}

fn keypads(site: &Site) -> String {
    let place = |(id, board): (Id<Board>, &Board)| match words::room(site, board.room) {
        room if room.is_empty() => Paper.board(site, id),
        room => room,
    };
    let mut places: Vec<String> = site.keypads().map(place).collect();
    places.sort_by(|one, other| natural(one, other));
    places.dedup();
    list(&places, "and")
}

/// The sounds that the site's zones call for, what kills first.
fn sounds(site: &Site) -> Vec<Sound> {
    let mut sounds = Vec::new();
    let heard_as = |wanted| sound::is_heard(site, |kind| sound::pattern(kind) == Some(wanted));
    if heard_as(Pattern::Fire) {
        sounds.push(Sound {
            heard: "three long tones, a pause, again",
            means: "FIRE",
            act: "everybody out, doors shut, call from outside. Never go back in.",
        });
    }
    if heard_as(Pattern::CarbonMonoxide) {
        sounds.push(Sound {
            heard: "four short tones, a pause, again",
            means: "CARBON MONOXIDE",
            act: "everybody out into fresh air, call from there.",
        });
    }
    let burglary = sound::is_heard(site, |kind| BURGLARY.contains(&kind));
    if sound::is_heard(site, |kind| kind == ZoneType::Gas) {
        sounds.push(Sound {
            heard: if burglary { "steady or wailing, like a burglary" } else { "steady or wailing" },
            means: "GAS",
            act: "everybody out, touch no switch, light no flame, call from outside.",
        });
    }
    if burglary {
        sounds.push(Sound {
            heard: "steady or wailing",
            means: "BURGLARY",
            act: "if it was none of you, stay out or lock yourselves in, and call.",
        });
    }
    sounds
}

/// True for what is watched while its area is armed.
fn sleeps(zone: &Zone) -> bool {
    zone.reserved.is_none() && zone.kind.as_ref().is_some_and(|kind| kind.value.sleeps_unarmed())
}

const BURGLARY: &[ZoneType] = &[
    ZoneType::EntryExit,
    ZoneType::Perimeter,
    ZoneType::Interior,
    ZoneType::DayNight,
    ZoneType::TwentyFourHour,
    ZoneType::PanicAudible,
    ZoneType::Tamper,
];

const BUTTONS: &[ZoneType] = &[ZoneType::PanicAudible, ZoneType::PanicSilent, ZoneType::Medical];

fn has_key(site: &Site, key: EmergencyKey) -> bool {
    site.boards.iter().any(|board| board.emergency_keys.iter().any(|in_use| in_use.key.value == key))
}

/// Said of what calls in silence: whoever forces somebody in reads this page too.
const NOT_HERE: &str = "where you were shown; this page hangs in the open";

/// The buttons and the emergency keys, by what becomes of them; those that are in the same places together.
fn help(site: &Site) -> Vec<Help> {
    let by = |kind: Option<ZoneType>, key| {
        let zones = kind.map(|kind| described(site, &[kind])).filter(|zones| !zones.is_empty());
        let keypads =
            site.boards.entries().filter(|(_, board)| board.emergency_keys.iter().any(|of| of.key.value == key));
        let keypads: Vec<String> = keypads.map(|(id, _)| Paper.board(site, id)).collect();
        let keys = (!keypads.is_empty()).then(|| format!("key of {}", list(&keypads, "and")));
        zones.into_iter().chain(keys).collect::<Vec<_>>().join("; ")
    };
    let silent = by(Some(ZoneType::PanicSilent), EmergencyKey::PanicSilent);
    let rows = [
        ("with sounders", by(Some(ZoneType::PanicAudible), EmergencyKey::PanicAudible)),
        ("silent", if silent.is_empty() { silent } else { NOT_HERE.to_owned() }),
        ("medical", by(Some(ZoneType::Medical), EmergencyKey::Medical)),
        ("fire", by(None, EmergencyKey::Fire)),
    ];
    let rows: Vec<_> = rows.into_iter().filter(|(_, by)| !by.is_empty()).collect();
    let alike = rows.chunk_by(|(_, one), (_, other)| one == other).map(|alike| {
        let how: Vec<&str> = alike.iter().map(|(how, _)| *how).collect();
        let by = alike.first().map(|(_, by)| by.clone()).unwrap_or_default();
        Help { how: capital(&list(&how, "and")), by }
    });
    alike.collect()
}

/// What calls by hand: emergency keys in use, once each, and buttons.
fn keys(site: &Site) -> String {
    let used = |key: &&EmergencyKey| has_key(site, **key);
    let keys = EmergencyKey::ALL.iter().any(|key| used(&key)).then_some("keys");
    let buttons = has(site, BUTTONS);
    let all: Vec<&str> = keys.into_iter().chain(buttons.then_some("buttons")).collect();
    if all.is_empty() { String::new() } else { capital(&format!("{} for help", list(&all, "and"))) }
}
