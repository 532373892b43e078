//! Owner's guide: one page in large print for everybody who lives there. No secret has a place on it.
//!
//! Out of scope: how to work the keypad, which its own paper tells.

use serde::Serialize;
use serde_json::Value;

use super::{Document, Orientation, Reader, value};
use crate::base::Id;
use crate::base::wording::list;
use crate::compiled::Compiled;
use crate::model::{Area, BoardKind, DeviceKind, Site};
use crate::profiles::cited;
use crate::terms::{EmergencyKey, ZoneType};
use crate::words::{self, Paper};

/// The document.
pub(crate) static DOCUMENT: Document = Document {
    name: "owners-guide",
    title: "Guide for the household",
    readers: &[Reader::Household],
    about: "one page in large print: doors, delays, sounds, false alarms, whom to call",
    orientation: Orientation::Portrait,
    template: crate::template!("owners-guide"),
    view,
    table: None,
    drawings: None,
};

#[derive(Serialize)]
struct Guide {
    areas: Vec<AreaRow>,
    keypads: String,
    sounds: Vec<Sound>,
    sounders: String,
    keys: String,
    abort: String,
    reports: bool,
    fire: bool,
    /// Where the tones are from, where any is printed.
    tones: String,
}

/// A way in and out.
#[derive(Serialize)]
struct AreaRow {
    area: String,
    doors: String,
    entry: String,
    exit: String,
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
    let aborts: Vec<String> =
        site.areas.iter().filter_map(|area| area.abort.as_ref()).map(|abort| abort.value.to_string()).collect();
    let mut aborts_once = aborts;
    aborts_once.sort();
    aborts_once.dedup();
    let fire = has(site, FIRE) || has(site, GAS);
    value(&Guide {
        areas: area_rows(site),
        keypads: keypads(site),
        sounds: sounds(site),
        sounders: titled(
            site.devices
                .entries()
                .filter(|(_, device)| device.kind == DeviceKind::Sounder)
                .map(|(id, _)| words::placed(site, id)),
        ),
        keys: keys(site),
        abort: if let [one] = aborts_once.as_slice() { one.clone() } else { String::new() },
        reports: !site.communicators.is_empty(),
        fire,
        tones: if fire { cited::SIGNALS.cited() } else { String::new() },
    })
}

const FIRE: &[ZoneType] = &[ZoneType::Fire, ZoneType::Smoke, ZoneType::Heat];

const GAS: &[ZoneType] = &[ZoneType::CarbonMonoxide];

fn has(site: &Site, kinds: &[ZoneType]) -> bool {
    site.zones
        .iter()
        .filter(|zone| zone.reserved.is_none())
        .any(|zone| zone.kind.as_ref().is_some_and(|kind| kinds.contains(&kind.value)))
}

fn titled(titles: impl Iterator<Item = String>) -> String {
    list(&titles.collect::<Vec<_>>(), "and")
}

/// Each area with the doors that start its entry delay; a house without areas is one.
fn area_rows(site: &Site) -> Vec<AreaRow> {
    let doors = |area: Option<Id<Area>>| {
        let wanted = site.zones.iter().filter(|zone| {
            let is_door = zone.kind.as_ref().is_some_and(|kind| kind.value == ZoneType::EntryExit);
            is_door && zone.reserved.is_none() && (area.is_none() || zone.area == area)
        });
        // Descriptions have commas of their own.
        wanted.map(|zone| zone.description.value.as_str()).collect::<Vec<_>>().join("; ")
    };
    if site.areas.is_empty() {
        return vec![AreaRow { area: String::new(), doors: doors(None), entry: String::new(), exit: String::new() }];
    }
    let delay = |time: Option<crate::quantity::Seconds>| time.map(|time| time.to_string()).unwrap_or_default();
    let row = |(id, area): (Id<Area>, &Area)| AreaRow {
        area: if site.areas.len() > 1 { area.title.clone() } else { String::new() },
        doors: doors(Some(id)),
        entry: delay(area.entry.as_ref().map(|entry| entry.value)),
        exit: delay(area.exit.as_ref().map(|exit| exit.value)),
    };
    site.areas.entries().map(row).collect()
}

fn keypads(site: &Site) -> String {
    let keypads = site.boards.entries().filter(|(_, board)| board.kind == BoardKind::Keypad);
    titled(keypads.map(|(id, board)| words::in_room(&Paper.board(site, id), &words::room(site, board.room))))
}

/// The sounds that the site's zones call for, what kills first.
fn sounds(site: &Site) -> Vec<Sound> {
    let mut sounds = Vec::new();
    if has(site, FIRE) {
        sounds.push(Sound {
            heard: "three long tones, pause, again and again",
            means: "FIRE",
            act: "Everybody out, doors shut, call from outside. Never go back in.",
        });
    }
    if has(site, GAS) {
        sounds.push(Sound {
            heard: "four short tones, pause, again and again",
            means: "CARBON MONOXIDE",
            act: "Everybody into fresh air, count heads, call from outside.",
        });
    }
    if has(site, BURGLARY) {
        sounds.push(Sound {
            heard: "a steady or wailing tone",
            means: "BURGLARY",
            act: "If it was none of you: stay out or lock yourselves in, and call.",
        });
    }
    sounds.push(Sound {
        heard: "the keypad beeps",
        means: "DELAY or TROUBLE",
        act: "The delay runs; at other times read the keypad and tell the installer.",
    });
    sounds
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

/// The emergency keys in use, once each.
fn keys(site: &Site) -> String {
    let used = |key: &&EmergencyKey| {
        site.boards.iter().any(|board| board.emergency_keys.iter().any(|in_use| in_use.key.value == **key))
    };
    titled(EmergencyKey::ALL.iter().filter(used).map(|key| key.printed().to_owned()))
}
