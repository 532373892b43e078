//! What in a site calls for a note, as words.
//!
//! Each function returns the facts it found, one a line; none means that the note is not printed. Nothing is
//! concluded from what the spec leaves out: [`unknown`] lists that instead.

use super::scope::{Facts, Touched};
use crate::base::Id;
use crate::base::wording::{count, list};
use crate::calc::power::{Consumer, trees};
use crate::model::{Device, DeviceKind, Room, Run, Site, Source};
use crate::profiles::{jackets, limits};
use crate::quantity::{Metres, print};
use crate::register::Cable;
use crate::terms::{Framing, JackKind, Passage, Path, RoomKind, Senses, Service, Works, ZoneType};
use crate::words::{self, Paper};

/// The most labels that one fact lists.
const MOST_LABELS: usize = 12;

/// Transformers, with the outlet they are on.
pub(crate) fn transformers(facts: Facts<'_>) -> Vec<String> {
    let mut found = Vec::new();
    for (id, board) in facts.supplied() {
        let Some(transformer) = &board.transformer else { continue };
        let outlet =
            transformer.outlet.as_deref().map_or("; its outlet is not named".into(), |at| format!("; outlet: {at}"));
        let switched = if transformer.switched { "; that outlet can be switched off" } else { "" };
        let (volts, rating) = (words::rated(transformer.volts.value), transformer.rating.value);
        found.push(format!("{}: transformer {volts}, {rating}{outlet}{switched}", Paper.board(facts.site, id)));
    }
    found
}

/// Standby batteries, with the day they were put in.
pub(crate) fn batteries(facts: Facts<'_>) -> Vec<String> {
    let mut found = Vec::new();
    for (id, board) in facts.supplied() {
        let Some(battery) = &board.battery else { continue };
        let day = battery.installed.map_or("day of fitting not given".to_owned(), |day| format!("put in {day}"));
        found.push(format!("{}: battery {}, {day}", Paper.board(facts.site, id), words::battery(battery)));
    }
    found
}

/// The alarm itself, where the site has zones.
pub(crate) fn alarm(facts: Facts<'_>) -> Vec<String> {
    match facts.site.zones_in_use().count() {
        0 => Vec::new(),
        zones => vec![format!("an alarm of {}", count(zones, "zone", None))],
    }
}

/// Boards on which conductors are landed.
pub(crate) fn landed(facts: Facts<'_>) -> Vec<String> {
    let boards = facts.boards().filter(|(_, board)| !board.kind.offers_nothing());
    match boards.count() {
        0 => Vec::new(),
        _ if facts.wiring.cables.is_empty() => Vec::new(),
        boards => vec![count(boards, "board", None)],
    }
}

/// Walls of masonry that cables go through.
pub(crate) fn masonry(facts: Facts<'_>) -> Vec<String> {
    let built = match facts.site.building.framing {
        Some(Framing::Masonry) => "the house is of masonry",
        Some(Framing::Mixed) => "the house is of masonry in part",
        Some(Framing::TimberStud) | None => return Vec::new(),
    };
    if indoor_cables(facts).is_empty() { Vec::new() } else { vec![format!("{built}, and cables run inside it")] }
}

/// Buried cable and crawlspaces.
pub(crate) fn lonely_places(facts: Facts<'_>) -> Vec<String> {
    let mut found = underground(facts);
    let narrow = facts.rooms().filter(|(_, room)| room.kind == Some(RoomKind::Crawlspace));
    found.extend(narrow.map(|(_, room)| format!("{} is a crawlspace", room.title)));
    found
}

/// Telephone lines, with what is known of the service.
pub(crate) fn telephone_lines(facts: Facts<'_>) -> Vec<String> {
    telephones(facts, |_| true).into_iter().map(|(line, service, _)| format!("{line}: {service}")).collect()
}

/// Telephone lines, with what is known of the jack.
pub(crate) fn jacks(facts: Facts<'_>) -> Vec<String> {
    telephones(facts, |_| true).into_iter().map(|(line, _, jack)| format!("{line}: {jack}")).collect()
}

/// Telephone lines that are not known to be a copper pair.
pub(crate) fn telephone_over_internet(facts: Facts<'_>) -> Vec<String> {
    let other = |service| matches!(service, Some(Service::Voip | Service::Mobile | Service::Broadband));
    telephones(facts, other).into_iter().map(|(line, service, jack)| format!("{line}: {service}; {jack}")).collect()
}

/// Telephone lines of some kinds of service: title, service, jack.
fn telephones(facts: Facts<'_>, wanted: fn(Option<Service>) -> bool) -> Vec<(&str, &'static str, &'static str)> {
    let mut found = Vec::new();
    for line in &facts.site.communicators {
        if line.path.as_ref().map(|path| path.value) != Some(Path::Telephone) || !wanted(line.service) {
            continue;
        }
        let service = match line.service {
            Some(Service::Copper) => "copper pair",
            Some(Service::Voip) => "telephone over the internet connection",
            Some(Service::Mobile) => "over a mobile network",
            Some(Service::Broadband) => "over a broadband connection",
            None => "kind of service not given",
        };
        let jack = match line.jack {
            Some(JackKind::LineSeizure) => "line-seizure jack ahead of the house phones",
            Some(JackKind::Bridged) => "bridged with the house phones, so an off-hook phone blocks the report",
            None => "kind of jack not given",
        };
        found.push((line.title.as_str(), service, jack));
    }
    found
}

/// Cables that run inside the house.
pub(crate) fn indoor_cables(facts: Facts<'_>) -> Vec<String> {
    let inside: Vec<&Cable> = facts.cables().filter(|cable| is_indoors(facts, cable.run)).collect();
    if inside.is_empty() {
        Vec::new()
    } else {
        vec![format!("{} with an end in the house", count(inside.len(), "cable", None))]
    }
}

/// Cables that pass studs, or run inside a house of timber studs.
pub(crate) fn studs(facts: Facts<'_>) -> Vec<String> {
    framing(facts, Passage::Stud, "bored or notched studs")
}

/// Cables that pass joists, or run inside a house of timber framing.
pub(crate) fn joists(facts: Facts<'_>) -> Vec<String> {
    framing(facts, Passage::Joist, "bored or notched joists")
}

fn framing(facts: Facts<'_>, passage: Passage, words: &str) -> Vec<String> {
    let mut found = passing(facts, passage, words);
    let timber = match facts.site.building.framing {
        Some(Framing::TimberStud) => "timber studs and joists",
        Some(Framing::Mixed) => "timber in part",
        Some(Framing::Masonry) | None => return found,
    };
    if !indoor_cables(facts).is_empty() {
        found.push(format!("the house is framed in {timber}, and cables run inside it"));
    }
    found
}

/// Runs through attics and crawlspaces, and what is mounted there.
pub(crate) fn attics(facts: Facts<'_>) -> Vec<String> {
    let mut found = passing(facts, Passage::Attic, "an attic");
    for (id, room) in facts.site.rooms.entries() {
        let place = match room.kind {
            Some(RoomKind::Attic) => "an attic",
            Some(RoomKind::Crawlspace) => "a crawlspace",
            _ => continue,
        };
        let there: Vec<&Cable> = facts
            .cables()
            .filter(|cable| facts.site.runs[cable.run].room == Some(id) || facts.site.start_room(cable.run) == Some(id))
            .collect();
        if !there.is_empty() {
            found.push(format!("{} is {place}; there: {}", room.title, labels(&there)));
        }
    }
    found
}

/// What is mounted above the reach of a person, and smoke detectors on high ceilings.
pub(crate) fn high_mounts(facts: Facts<'_>) -> Vec<String> {
    let reach = Metres(f64::from(limits::LADDER_FEET) * print::FOOT);
    let site = facts.site;
    let feet = |height: Metres| print::length(height, site.lengths);
    let mut found = Vec::new();
    for (id, board) in facts.boards() {
        if let Some(mount) = board.mount.filter(|mount| *mount > reach) {
            found.push(format!(
                "{} at {}",
                words::in_room(&Paper.board(site, id), &words::room(site, board.room)),
                feet(mount)
            ));
        }
    }
    for (id, device) in facts.devices() {
        let title = words::placed(site, id);
        let ceiling = device.room.and_then(|room| site.levels[site.rooms[room].level].ceiling);
        match (device.mount, ceiling) {
            (Some(mount), _) if mount > reach => found.push(format!("{title} at {}", feet(mount))),
            (None, Some(ceiling)) if ceiling > reach && is_fire(site, device) => {
                found.push(format!("{title} under a ceiling of {}", feet(ceiling)));
            }
            _ => {}
        }
    }
    found
}

/// Cables noted to run beside mains.
pub(crate) fn beside_mains(facts: Facts<'_>) -> Vec<String> {
    passing(facts, Passage::Mains, "mains cable alongside")
}

/// Cables through plenums and risers, each type with what its jacket is.
pub(crate) fn plenums_and_risers(facts: Facts<'_>) -> Vec<String> {
    let mut found = Vec::new();
    for (passage, words, suits) in [
        (Passage::Plenum, "a plenum", jackets::suits_plenum as fn(&str) -> Option<bool>),
        (Passage::Riser, "a riser", jackets::suits_riser),
    ] {
        for (kind, cable_type) in facts.site.cables.entries() {
            let these: Vec<&Cable> =
                cables_passing(facts, passage).into_iter().filter(|cable| cable.kind == kind).collect();
            if these.is_empty() {
                continue;
            }
            let jacket = match &cable_type.jacket {
                None => "its jacket type is not given".to_owned(),
                Some(jacket) => match suits(&jacket.value) {
                    Some(true) => format!("jacket {}, a type for {words}", jacket.value),
                    Some(false) => format!("jacket {}, not a type for {words}", jacket.value),
                    None => format!("jacket {}, a type that is not in our list", jacket.value),
                },
            };
            let verb = if these.len() == 1 { "passes" } else { "pass" };
            found.push(format!("{} ({}) {verb} {words}: {jacket}", labels(&these), cable_type.title));
        }
    }
    found
}

/// Cables in open air or in the ground, and what hangs outdoors.
pub(crate) fn outdoors(facts: Facts<'_>) -> Vec<String> {
    let mut found = passing(facts, Passage::Outdoors, "open air");
    found.extend(underground(facts));
    let site = facts.site;
    let outside = |room: Option<Id<Room>>| room.is_some_and(|room| site.rooms[room].is_outdoors());
    let boards = facts.boards().filter(|(_, board)| outside(board.room));
    let boards = boards.map(|(id, board)| words::in_room(&Paper.board(site, id), &words::room(site, board.room)));
    let devices = facts.devices().filter(|(_, device)| outside(device.room));
    let hanging: Vec<String> = boards.chain(devices.map(|(id, _)| words::placed(site, id))).collect();
    if !hanging.is_empty() {
        found.push(format!("outdoors hang: {}", hanging.join("; ")));
    }
    found
}

/// Buried cables.
pub(crate) fn underground(facts: Facts<'_>) -> Vec<String> {
    passing(facts, Passage::Underground, "the ground")
}

/// Cables through walls and floors that hold back fire.
pub(crate) fn fire_walls(facts: Facts<'_>) -> Vec<String> {
    passing(facts, Passage::FireWall, "a wall or floor that holds back fire")
}

/// Zones for fire, smoke and heat.
pub(crate) fn fire_zones(facts: Facts<'_>) -> Vec<String> {
    zones(facts, &[ZoneType::Fire, ZoneType::Smoke, ZoneType::Heat])
}

/// Zones for carbon monoxide.
pub(crate) fn carbon_monoxide_zones(facts: Facts<'_>) -> Vec<String> {
    zones(facts, &[ZoneType::CarbonMonoxide])
}

/// Zones for fuel gas.
pub(crate) fn gas_zones(facts: Facts<'_>) -> Vec<String> {
    zones(facts, &[ZoneType::Gas])
}

/// Fire, carbon monoxide and gas detectors with a supply of their own, by what feeds them.
pub(crate) fn powered_fire_detectors(facts: Facts<'_>) -> Vec<String> {
    let site = facts.site;
    let mut groups: Vec<(String, Vec<String>)> = Vec::new();
    for (id, device) in site.devices.entries() {
        if device.kind != DeviceKind::Detector || !is_fire(site, device) {
            continue;
        }
        if device.part.is_none_or(|part| site.parts[part].supply.is_none()) {
            continue;
        }
        let supply = supply_words(site, device);
        let title = words::placed(site, id);
        match groups.iter_mut().find(|(known, _)| *known == supply) {
            Some((_, titles)) => titles.push(title),
            None => groups.push((supply, vec![title])),
        }
    }
    groups.into_iter().map(|(supply, titles)| format!("{supply}: {}", titles.join("; "))).chain(watched(site)).collect()
}

/// Of which of these detectors a relay watches the supply, and of which none does.
fn watched(site: &Site) -> impl Iterator<Item = String> {
    let (mut seen, mut unseen) = (Vec::new(), Vec::new());
    for tree in trees::of_site(site).0 {
        for ((_, load), by_relay) in tree.loads().zip(tree.watched(site)) {
            let Consumer::Device(id) = load.consumer else { continue };
            if is_fire(site, &site.devices[id]) {
                let list = if by_relay { &mut seen } else { &mut unseen };
                list.push(words::placed(site, id));
            }
        }
    }
    let told = [("a relay watches the supply of", seen), ("nothing shows a lost supply of", unseen)];
    told.into_iter()
        .filter(|(_, titles)| !titles.is_empty())
        .map(|(what, titles)| format!("{what}: {}", titles.join("; ")))
}

fn supply_words(site: &Site, device: &Device) -> String {
    if let Some(supply) = &device.supply {
        let output = site.output(supply.value);
        let reset = if output.is_some_and(|output| output.switched) { ", which resets them" } else { "" };
        return format!("fed from {}{reset}", Paper.source(site, Source::Output(supply.value)));
    }
    let circuits: Vec<&str> = device.fed_by.iter().map(|circuit| site.circuits[*circuit].title.as_str()).collect();
    if circuits.is_empty() {
        "no supply given".to_owned()
    } else {
        format!("fed by the circuit {}", list(&circuits, "and"))
    }
}

/// Wireless detectors; those of fire zones are named.
pub(crate) fn wireless(facts: Facts<'_>) -> Vec<String> {
    let site = facts.site;
    let numbers: Vec<String> =
        site.zones.iter().filter(|zone| zone.wireless.is_some()).map(|zone| zone.number.value.to_string()).collect();
    if numbers.is_empty() {
        return Vec::new();
    }
    let mut found =
        vec![format!("wireless {}: {}", if numbers.len() == 1 { "zone" } else { "zones" }, list(&numbers, "and"))];
    for zone in site.zones.iter().filter(|zone| zone.wireless.is_some()) {
        if zone.kind.as_ref().is_some_and(|kind| LIFE_SAFETY.contains(&kind.value)) {
            found.push(format!(
                "zone {} ({}) is for life safety and wireless",
                zone.number.value, zone.description.value
            ));
        }
    }
    found
}

const LIFE_SAFETY: &[ZoneType] =
    &[ZoneType::Fire, ZoneType::Smoke, ZoneType::Heat, ZoneType::CarbonMonoxide, ZoneType::Gas, ZoneType::Medical];

/// Sounders.
pub(crate) fn sounders(facts: Facts<'_>) -> Vec<String> {
    let site = facts.site;
    let sounders = facts.devices().filter(|(_, device)| device.kind == DeviceKind::Sounder);
    sounders.map(|(id, _)| words::placed(site, id)).collect()
}

/// Locks that an output works.
pub(crate) fn locks(facts: Facts<'_>) -> Vec<String> {
    loads(facts, Works::Lock)
}

/// Doors and gates that a contact moves.
pub(crate) fn operators(facts: Facts<'_>) -> Vec<String> {
    loads(facts, Works::Operator)
}

/// Relays whose contact may carry mains.
pub(crate) fn load_relays(facts: Facts<'_>) -> Vec<String> {
    loads(facts, Works::Relay)
}

fn loads(facts: Facts<'_>, works: Works) -> Vec<String> {
    let site = facts.site;
    let loads = facts.devices().filter(|(_, device)| device.kind == DeviceKind::Load);
    let these = loads.filter(|(id, _)| site.device_part(*id).is_some_and(|part| part.works == Some(works)));
    these.map(|(id, _)| words::placed(site, id)).collect()
}

/// A house built before 1980, in which something is drilled or mounted.
pub(crate) fn old_house(facts: Facts<'_>) -> Vec<String> {
    let untouched = facts.only.is_some_and(|only| {
        let Touched { runs, boards, supplied: _, devices } = only;
        runs.is_empty() && boards.is_empty() && devices.is_empty()
    });
    match facts.site.building.built {
        Some(year) if year < 1980 && !untouched => vec![format!("the oldest part of the house is of {year}")],
        _ => Vec::new(),
    }
}

/// What the spec does not say, and what to assume until it does.
pub(crate) fn unknown(facts: Facts<'_>) -> Vec<String> {
    let mut found = Vec::new();
    let inside = !indoor_cables(facts).is_empty();
    if facts.site.building.built.is_none() && inside {
        found.push(
            "When the house was built: if any part of it is older than 1980, expect lead paint and asbestos before you drill.".into(),
        );
    }
    if facts.site.building.framing.is_none() && inside {
        found.push("What walls and floors are made of: no figures for boring studs and joists are printed.".into());
    }
    if facts.site.runs.iter().all(|run| run.passes.is_none()) && !facts.site.runs.is_empty() {
        found.push(
            "What the cables pass on their way (attic, plenum, riser, outdoors, underground, mains, fire wall): \
             notes on these are printed only for cables that say so."
                .into(),
        );
    }
    found
}

/// The jacket types whose substitutes are of use here: those of cables through plenums and risers, and the least
/// that these spaces call for.
pub(crate) fn jackets_of_interest(facts: Facts<'_>) -> Vec<&'static jackets::Substitution> {
    let mut wanted: Vec<&str> = Vec::new();
    for (passage, least) in [(Passage::Plenum, "CL2P"), (Passage::Riser, "CL2R")] {
        let these = cables_passing(facts, passage);
        if these.is_empty() {
            continue;
        }
        wanted.push(least);
        let of_cable =
            |cable: &&Cable| facts.site.cables[cable.kind].jacket.as_ref().map(|jacket| jacket.value.as_str());
        wanted.extend(these.iter().filter_map(of_cable));
    }
    jackets::SUBSTITUTIONS.iter().filter(|row| wanted.contains(&row.wanted)).collect()
}

fn zones(facts: Facts<'_>, kinds: &[ZoneType]) -> Vec<String> {
    facts
        .site
        .zones
        .iter()
        .filter(|zone| zone.reserved.is_none() && zone.kind.as_ref().is_some_and(|kind| kinds.contains(&kind.value)))
        .map(|zone| format!("zone {}: {}", zone.number.value, zone.description.value))
        .collect()
}

fn is_fire(site: &Site, device: &Device) -> bool {
    site.senses_of(device).is_some_and(Senses::is_deadly)
}

fn passing(facts: Facts<'_>, passage: Passage, words: &str) -> Vec<String> {
    let these = cables_passing(facts, passage);
    match these.len() {
        0 => Vec::new(),
        1 => vec![format!("cable {} passes {words}", labels(&these))],
        _ => vec![format!("cables {} pass {words}", labels(&these))],
    }
}

/// The cables of which some run passes it: a guest goes the way of its host.
fn cables_passing(facts: Facts<'_>, passage: Passage) -> Vec<&Cable> {
    let passes = |run: &Id<Run>| facts.site.runs[*run].passes.as_ref().is_some_and(|passes| passes.value == passage);
    facts.cables().filter(|cable| cable.carries.iter().any(passes)).collect()
}

fn labels(cables: &[&Cable]) -> String {
    let names: Vec<&str> = cables.iter().map(|cable| cable.label.as_str()).collect();
    match names.get(MOST_LABELS..) {
        Some(rest) if rest.len() > 1 => {
            format!("{} and {} more", names.get(..MOST_LABELS).unwrap_or_default().join(", "), rest.len())
        }
        _ => list(&names, "and"),
    }
}

/// True where one of a run's ends is not outdoors: there is a wall to go through.
fn is_indoors(facts: Facts<'_>, run: Id<Run>) -> bool {
    [facts.site.runs[run].room, facts.site.start_room(run)]
        .into_iter()
        .flatten()
        .any(|room| !facts.site.rooms[room].is_outdoors())
}
