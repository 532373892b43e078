//! Device sketches: what lands where behind the covers, one drawing for all devices that are wired alike, whatever their parts.
//!
//! Out of scope: boards (their drawings are the enclosures), and which colour lands where, which the table beside a sketch
//! says for each device.

mod ladder;

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;
use serde_json::Value;

use super::natural::natural;
use super::{Document, Drawing, Drawings, Orientation, Shown, View, colours, loop_marks, room_ends, value};
use crate::base::Id;
use crate::base::wording::list;
use crate::compiled::Compiled;
use crate::draw::device_sketch::{self, Sketch};
use crate::model::{Device, DeviceKind};
use crate::template;
use crate::words;

/// The device sketches.
pub(crate) static DOCUMENT: Document = Document {
    name: "device-sketches",
    title: "Device sketches",
    about: "what lands where behind the cover of each kind of device, and the devices that are wired so",
    orientation: Orientation::Portrait,
    template: template!("device-sketches"),
    view: View::Drawn(view),
    table: None,
};

#[derive(Serialize)]
struct Sheet {
    /// What the letters of colours mean.
    colours: String,
    kinds: Vec<Kind>,
    /// Devices without a sketch, each with the reason.
    others: Vec<Other>,
}

#[derive(Serialize)]
struct Kind {
    title: String,
    drawings: Vec<Shown>,
    devices: Vec<Wired>,
}

/// A device that is wired as its sketch shows.
#[derive(Serialize)]
struct Wired {
    device: String,
    /// Number of its zone; empty where it is in none.
    zone: String,
    /// The place of the zone's loop.
    loop_place: String,
    cables: Vec<Landed>,
}

/// The conductors of a cable that come to a device, or go on from it.
#[derive(Serialize)]
struct Landed {
    /// True of a cable that goes on from here.
    onward: bool,
    cable: String,
    /// Each with what it does.
    conductors: String,
    /// The place of its first row in its room on the schedule; empty where it is at a board.
    place: String,
}

#[derive(Serialize)]
struct Other {
    device: String,
    why: &'static str,
}

fn view(compiled: &Compiled, drawings: &mut Drawings) -> Value {
    let places = places(compiled);
    let landings = ladder::landings(compiled);
    let sketch = |(id, _)| Some((id, ladder::of(compiled, &landings, id)?));
    let sketches: BTreeMap<Id<Device>, Sketch> = compiled.site.devices.entries().filter_map(sketch).collect();
    let others = others(compiled, &sketches);
    let kind = |(nth, (sketch, devices)): (usize, (Sketch, Vec<Id<Device>>))| Kind {
        title: sketch.title.clone(),
        drawings: drawings.show([drawing(nth, &sketch, devices.len())]),
        devices: devices.into_iter().map(|device| wired(compiled, &landings, &places, device)).collect(),
    };
    let kinds = (1..).zip(kinds(compiled, sketches)).map(kind).collect();
    value(&Sheet { colours: colours::of(&compiled.wiring), kinds, others })
}

fn drawing(nth: usize, sketch: &Sketch, devices: usize) -> Drawing {
    let title = format!("{}, behind the cover", sketch.title);
    let rungs = sketch.rungs.iter().map(|rung| {
        let at = rung.mark.as_ref().map_or("a joint".to_owned(), |mark| format!("terminal {mark}"));
        format!("{at}: {}", rung.comes.join(", "))
    });
    let words = format!("{}. Wired so: {devices}.", rungs.collect::<Vec<_>>().join("; "));
    Drawing { name: format!("device-{nth}"), title, words, scene: device_sketch::draw(sketch) }
}

/// Every sketch with the devices that are wired so, of one part or of several, by their titles.
fn kinds(compiled: &Compiled, sketches: BTreeMap<Id<Device>, Sketch>) -> Vec<(Sketch, Vec<Id<Device>>)> {
    let mut alike: Vec<(Sketch, BTreeSet<String>, Vec<Id<Device>>)> = Vec::new();
    for (id, sketch) in sketches {
        let title = sketch.title.clone();
        match alike.iter_mut().find(|(other, ..)| other.rungs == sketch.rungs) {
            Some((_, parts, devices)) => {
                parts.insert(title);
                devices.push(id);
            }
            None => alike.push((sketch, BTreeSet::from([title]), vec![id])),
        }
    }
    let titled = |(sketch, parts, devices): (Sketch, BTreeSet<String>, Vec<Id<Device>>)| {
        let mut parts: Vec<String> = parts.into_iter().collect();
        parts.sort_by(|one, other| natural(one, other));
        (Sketch { title: list(&parts, "and"), ..sketch }, devices)
    };
    let mut kinds: Vec<(Sketch, Vec<Id<Device>>)> = alike.into_iter().map(titled).collect();
    tell_apart(compiled, &mut kinds);
    kinds.sort_by(|(one, _), (other, _)| natural(&one.title, &other.title));
    kinds
}

/// Sketches of the same parts, wired in more than one way, are told apart by the first device of each, and where that does not
/// do, by number.
fn tell_apart(compiled: &Compiled, kinds: &mut [(Sketch, Vec<Id<Device>>)]) {
    let mut count: BTreeMap<String, usize> = BTreeMap::new();
    for (sketch, _) in kinds.iter() {
        *count.entry(sketch.title.clone()).or_default() += 1;
    }
    let mut told: BTreeMap<String, usize> = BTreeMap::new();
    for (sketch, devices) in kinds {
        if count.get(&sketch.title).is_none_or(|count| *count == 1) {
            continue;
        }
        let first = devices.first().map(|id| words::placed(&compiled.site, *id)).unwrap_or_default();
        let more = if devices.len() > 1 { format!(" and {} more", devices.len() - 1) } else { String::new() };
        sketch.title = format!("{}, wired as {first}{more}", sketch.title);
        let nth = told.entry(sketch.title.clone()).or_default();
        *nth += 1;
        if *nth > 1 {
            sketch.title = format!("{} ({nth})", sketch.title);
        }
    }
}

fn others(compiled: &Compiled, sketches: &BTreeMap<Id<Device>, Sketch>) -> Vec<Other> {
    let site = &compiled.site;
    let other = |(id, device): (Id<Device>, &Device)| {
        let why = match device.kind {
            _ if sketches.contains_key(&id) => return None,
            DeviceKind::Wireless => "wireless: nothing lands in it",
            DeviceKind::Fault => "a contact of a board: drawn with that board\u{2019}s terminals",
            DeviceKind::Contact | DeviceKind::Detector | DeviceKind::Sounder | DeviceKind::Load => {
                "no conductor of the spec comes to it, or its part is not known"
            }
        };
        Some(Other { device: words::placed(site, id), why })
    };
    site.devices.entries().filter_map(other).collect()
}

/// The first row of each cable that ends in a room.
fn places(compiled: &Compiled) -> BTreeMap<String, String> {
    let mut places = BTreeMap::new();
    for row in room_ends::by_room(compiled).into_iter().flat_map(|sheet| sheet.rows).filter(|row| !row.starts) {
        places.entry(row.cable).or_insert(row.place);
    }
    places
}

fn wired(
    compiled: &Compiled,
    landings: &ladder::Landings<'_>,
    places: &BTreeMap<String, String>,
    id: Id<Device>,
) -> Wired {
    let site = &compiled.site;
    let zone = site.devices[id].zone.map(|zone| site.zones[zone].number.value);
    let mut cables: Vec<Landed> = Vec::new();
    let comes = landings.get(&id).into_iter().flatten().map(|(cable, used)| (false, *cable, *used));
    let goes = ladder::onward(compiled, landings, id).into_iter().map(|(cable, used)| (true, cable, used));
    for (onward, cable, used) in comes.chain(goes) {
        let conductor = words::conductor_mark(site, cable, used.position);
        let conductor = format!("{conductor} {}", used.function.wire_use().printed());
        match cables.iter_mut().find(|landed| landed.cable == cable.label) {
            Some(landed) => landed.conductors = format!("{}; {conductor}", landed.conductors),
            None => cables.push(Landed {
                onward,
                cable: cable.label.clone(),
                conductors: conductor,
                place: places.get(&cable.label).cloned().unwrap_or_default(),
            }),
        }
    }
    Wired {
        device: words::placed(site, id),
        zone: zone.map(|number| number.to_string()).unwrap_or_default(),
        loop_place: zone.map(loop_marks::zone).unwrap_or_default(),
        cables,
    }
}
