//! Detection sheet: what watches each opening and each room, what can be crossed unseen, and where the figures for
//! households ask for detectors of smoke and carbon monoxide.
//!
//! Out of scope: why something is not as it should be, which the findings say; their accepted reasons stand here.

use serde::Serialize;
use serde_json::Value;

use super::accepted::accepted;
use super::natural::natural;
use super::{Document, Orientation, View, value};
use crate::base::Id;
use crate::base::wording::list;
use crate::calc::detection::{self, Asked, Place};
use crate::compiled::Compiled;
use crate::model::{Device, Level, Opening, Room, Site, Zone};
use crate::profiles::cited::CARBON_MONOXIDE;
use crate::profiles::detectors::{SLEEPING, distance};
use crate::quantity::print;
use crate::terms::{Profile, RoomKind, Senses};
use crate::words::{self, Paper};

/// The detection sheet.
pub(crate) static DOCUMENT: Document = Document {
    name: "detection-sheet",
    title: "Detection sheet",
    about: "what watches each opening and room, what can be crossed unseen, where smoke and gas are detected",
    orientation: Orientation::Portrait,
    template: crate::template!("detection-sheet"),
    view: View::Plain(view),
    table: None,
};

#[derive(Serialize)]
struct Sheet {
    levels: Vec<LevelRows>,
    unwatched: String,
    /// No room of the house has a motion detector.
    nobody_seen: bool,
    /// True where a mat tells a step.
    mats: bool,
    /// Detectors of smoke or carbon monoxide are there, and no profile asks where they must be.
    unasked: bool,
    smoke: Vec<AskedRow>,
    smoke_figure: String,
    gas: Vec<AskedRow>,
    gas_source: String,
    other: Vec<OtherRow>,
    near: Vec<NearRow>,
}

/// The rooms of a level.
#[derive(Serialize)]
struct LevelRows {
    title: String,
    rooms: Vec<RoomRow>,
}

/// A room with its openings.
#[derive(Serialize)]
struct RoomRow {
    outdoors: bool,
    title: String,
    openings: Vec<OpeningRow>,
    inside: String,
    unseen: bool,
}

/// An outside opening.
#[derive(Serialize)]
struct OpeningRow {
    title: String,
    /// Within reach from outside.
    reach: bool,
    by: String,
    remark: String,
}

/// A place that is asked for a detector.
#[derive(Serialize)]
struct AskedRow {
    place: String,
    by: String,
    /// Why it lacks one, where that is accepted.
    remark: String,
}

/// What else is detected.
#[derive(Serialize)]
struct OtherRow {
    what: &'static str,
    by: String,
}

/// A distance that the spec gives.
#[derive(Serialize)]
struct NearRow {
    detector: String,
    from: &'static str,
    distance: String,
    row: String,
}

fn view(compiled: &Compiled) -> Value {
    let site = &compiled.site;
    let mut levels: Vec<(Id<Level>, &Level)> = site.levels.entries().collect();
    levels
        .sort_by(|(_, one), (_, other)| one.storey.cmp(&other.storey).then_with(|| natural(&one.title, &other.title)));
    let levels: Vec<LevelRows> = levels.into_iter().map(|(id, level)| of_level(compiled, id, level)).collect();
    let in_rooms = |senses| {
        site.devices.entries().filter(move |(id, device)| device.room.is_some() && site.senses(*id) == Some(senses))
    };
    let openings = levels.iter().flat_map(|level| &level.rooms).flat_map(|room| &room.openings);
    value(&Sheet {
        unwatched: match openings.filter(|opening| opening.reach && opening.by.is_empty()).count() {
            0 => String::new(),
            count => count.to_string(),
        },
        nobody_seen: in_rooms(Senses::Motion).next().is_none(),
        mats: in_rooms(Senses::Step).next().is_some(),
        levels: levels.into_iter().filter(|level| !level.rooms.is_empty()).collect(),
        unasked: site.profile != Some(Profile::UsHousehold)
            && site
                .devices
                .entries()
                .any(|(id, _)| matches!(site.senses(id), Some(Senses::Smoke | Senses::CarbonMonoxide))),
        smoke: asked(compiled, "smoke-detector-missing", detection::smoke(site)),
        smoke_figure: SLEEPING.cited(),
        gas: asked(compiled, "carbon-monoxide-detector-missing", detection::carbon_monoxide(site)),
        gas_source: CARBON_MONOXIDE.cited(),
        other: other(site),
        near: near(site),
    })
}

fn of_level(compiled: &Compiled, level: Id<Level>, of: &Level) -> LevelRows {
    let site = &compiled.site;
    let mut rooms: Vec<(Id<Room>, &Room)> = site.rooms.entries().filter(|(_, room)| room.level == level).collect();
    rooms.sort_by(|(_, one), (_, other)| natural(&one.title, &other.title));
    let row = |(id, room): (Id<Room>, &Room)| {
        let openings = site.openings.entries().filter(|(_, opening)| opening.room == id && !opening.inside);
        let openings: Vec<OpeningRow> = openings.map(|(id, opening)| of_opening(compiled, id, opening)).collect();
        let seen = senses(site, id, Senses::Motion);
        let inside = [(&seen, Senses::Motion), (&senses(site, id, Senses::Step), Senses::Step)];
        let inside = inside.into_iter().filter(|(zones, _)| !zones.is_empty());
        let inside: Vec<String> =
            inside.map(|(zones, how)| format!("{} ({})", list(zones, "and"), how_it_senses(how))).collect();
        RoomRow {
            title: room.title.clone(),
            outdoors: room.is_outdoors(),
            openings,
            // Nobody is watched in open air or in a space that nobody passes.
            unseen: seen.is_empty() && !matches!(room.kind, Some(RoomKind::Outdoors | RoomKind::Crawlspace)),
            inside: inside.join("; "),
        }
    };
    LevelRows { title: of.title.clone(), rooms: rooms.into_iter().map(row).collect() }
}

fn of_opening(compiled: &Compiled, id: Id<Opening>, opening: &Opening) -> OpeningRow {
    let site = &compiled.site;
    let mut by: Vec<String> = site
        .watchers(id)
        .filter(|(device, _)| site.notices(device))
        .map(|(device, zone)| {
            let how = site.senses_of(device);
            format!(
                "{}{} ({})",
                zone_of(site, zone),
                confirmed(site, zone),
                how.map_or("by what is not in the spec", how_it_senses)
            )
        })
        .collect();
    by.dedup();
    let name = &opening.name.value;
    let remark = match accepted(compiled, "opening-unwatched", name) {
        none if none.is_empty() => accepted(compiled, "opening-only-heard", name),
        reason => reason,
    };
    OpeningRow { title: site.opening_title(id), reach: site.is_within_reach(opening), by: list(&by, "and"), remark }
}

fn zone_of(site: &Site, zone: Id<Zone>) -> String {
    format!("zone {}", site.zones[zone].number.value)
}

fn how_it_senses(senses: Senses) -> &'static str {
    match senses {
        Senses::Opening => "contact",
        Senses::Glass => "breaking glass",
        Senses::Vibration => "vibration",
        Senses::Step => "floor mat",
        Senses::Motion => "motion",
        Senses::Smoke => "smoke",
        Senses::Heat => "heat",
        Senses::CarbonMonoxide => "carbon monoxide",
        Senses::Gas => "fuel gas",
        Senses::Water => "water",
        Senses::Temperature => "temperature",
        Senses::Button => "button",
        Senses::Tamper => "cover",
        Senses::Supply => "supply",
    }
}

/// The zones whose devices in a room sense something, each once.
fn senses(site: &Site, room: Id<Room>, what: Senses) -> Vec<String> {
    let of = site.devices_in(room).filter(|device| site.senses_of(device) == Some(what));
    let mut zones: Vec<Id<Zone>> = of.filter_map(|device| device.zone).collect();
    zones.dedup();
    zones.into_iter().map(|zone| zone_of(site, zone) + &confirmed(site, zone)).collect()
}

/// Of a zone that is no alarm by itself, which ones confirm it: ", only with zone 46".
fn confirmed(site: &Site, zone: Id<Zone>) -> String {
    let number = site.zones[zone].number.value;
    let Some(group) = site.confirmed_by(&site.zones[zone]) else { return String::new() };
    let others = group.zones.iter().map(|other| other.value).filter(|other| *other != number);
    let others: Vec<String> = others.map(|other| other.to_string()).collect();
    format!(", only with zone {}", list(&others, "or"))
}

fn asked(compiled: &Compiled, rule: &str, asked: Vec<Asked>) -> Vec<AskedRow> {
    let site = &compiled.site;
    // A finding outside the bedrooms is about their level.
    let reason = |place: Place| match place {
        Place::Bedroom(room) => accepted(compiled, rule, &site.rooms[room].name.value),
        Place::Outside(room) => accepted(compiled, rule, &site.levels[site.rooms[room].level].name.value),
        Place::Level(level) => accepted(compiled, rule, &site.levels[level].name.value),
    };
    let place = |place: Place| match place {
        Place::Bedroom(room) => format!("in {}", words::room(site, Some(room))),
        Place::Outside(room) => format!("outside {}", words::room(site, Some(room))),
        Place::Level(level) => format!("on {}", site.levels[level].title),
    };
    let devices = |ids: &[Id<Device>]| list(&ids.iter().map(|id| words::placed(site, *id)).collect::<Vec<_>>(), "and");
    let row = |asked: Asked| AskedRow {
        place: place(asked.place),
        by: devices(&asked.detectors),
        remark: if asked.detectors.is_empty() { reason(asked.place) } else { String::new() },
    };
    asked.into_iter().map(row).collect()
}

/// What is detected besides people and smoke.
fn other(site: &Site) -> Vec<OtherRow> {
    let kinds = [Senses::Smoke, Senses::Heat, Senses::CarbonMonoxide, Senses::Gas, Senses::Water, Senses::Temperature];
    let row = |senses: Senses| {
        let is_it = |(id, device): &(Id<Device>, &Device)| device.zone.is_some() && site.senses(*id) == Some(senses);
        let found: Vec<String> = site.devices.entries().filter(is_it).map(|(id, _)| words::placed(site, id)).collect();
        (!found.is_empty()).then(|| OtherRow { what: how_it_senses(senses), by: found.join("; ") })
    };
    kinds.into_iter().filter_map(row).collect()
}

/// The distances of smoke detectors: of others none is called for.
fn near(site: &Site) -> Vec<NearRow> {
    let held = site.devices.entries().filter(|(id, _)| site.senses(*id) == Some(Senses::Smoke));
    let rows = held.flat_map(|(id, device)| {
        device.near.iter().map(move |near| NearRow {
            detector: Paper.device(site, id),
            from: near.what.value.printed(),
            distance: print::length(near.distance, site.lengths),
            row: distance(near.what.value).1.cited(),
        })
    });
    rows.collect()
}
