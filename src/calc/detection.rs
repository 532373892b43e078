//! Where the household figures ask for detectors of smoke and of carbon monoxide, and which detectors are there.
//!
//! Terms: a *sleeping level* has bedrooms; *outside the bedrooms* is every other room of that level that people live in.
//! A level where nobody lives (of a workshop, a garage, stores) is asked for nothing. A detector in an unsuited room counts
//! nowhere. The way from a bedroom's door is not known, so the gap between the detector's spot, or its room, and the bedroom
//! on the plan stands for it: the way is at least as long. Out of scope: houses whose alarms are not wired to a board, and the wording of findings.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::model::{Device, Level, Room, Site};
use crate::profiles::detectors::{SLEEPING, unsuited_to_smoke_detectors};
use crate::terms::{Profile, RoomKind, Senses};

/// A place that is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Place {
    /// In a bedroom.
    Bedroom(Id<Room>),
    /// Outside the bedrooms of a level, near this one.
    Outside(Id<Room>),
    /// Anywhere on a level without bedrooms.
    Level(Id<Level>),
}

/// A place with the detectors that are there; none where it lacks one.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Asked {
    /// The place.
    pub(crate) place: Place,
    /// Its detectors, in the order of the site.
    pub(crate) detectors: Vec<Id<Device>>,
}

/// The places that are asked for a smoke detector, level by level. Nothing is asked of a site without smoke detectors,
/// whose alarms may stand alone, or under another profile than that of households in the United States.
pub(crate) fn smoke(site: &Site) -> Vec<Asked> {
    let found = detectors(site, Senses::Smoke);
    if found.is_empty() || site.profile != Some(Profile::UsHousehold) {
        return Vec::new();
    }
    let mut asked = Vec::new();
    for (level, rooms) in lived_in(site) {
        let bedrooms = rooms.iter().copied().filter(|room| is_bedroom(site, *room));
        let mut sleeping = false;
        for bedroom in bedrooms {
            sleeping = true;
            let inside = found.iter().copied().filter(|of| of.room == bedroom);
            asked.push(of(Place::Bedroom(bedroom), inside));
            asked.push(of(Place::Outside(bedroom), outside(site, &found, level, bedroom)));
        }
        if !sleeping {
            asked.push(of(Place::Level(level), found.iter().copied().filter(|of| site.rooms[of.room].level == level)));
        }
    }
    asked
}

/// The places that are asked for a detector of carbon monoxide: outside the bedrooms, where the site has such detectors
/// or a garage.
pub(crate) fn carbon_monoxide(site: &Site) -> Vec<Asked> {
    let found = detectors(site, Senses::CarbonMonoxide);
    let garage = site.rooms.iter().any(|room| room.kind == Some(RoomKind::Garage));
    // A house whose alarms are only against burglary may have others that stand alone.
    let wired = !found.is_empty() || (garage && !detectors(site, Senses::Smoke).is_empty());
    if !wired || site.profile != Some(Profile::UsHousehold) {
        return Vec::new();
    }
    let mut asked = Vec::new();
    for (level, rooms) in lived_in(site) {
        for bedroom in rooms.into_iter().filter(|room| is_bedroom(site, *room)) {
            asked.push(of(Place::Outside(bedroom), outside(site, &found, level, bedroom)));
        }
    }
    asked
}

/// A detector in a room that suits it.
#[derive(Clone, Copy)]
struct Found {
    device: Id<Device>,
    room: Id<Room>,
}

fn of(place: Place, detectors: impl IntoIterator<Item = Found>) -> Asked {
    Asked { place, detectors: detectors.into_iter().map(|found| found.device).collect() }
}

fn detectors(site: &Site, senses: Senses) -> Vec<Found> {
    let senses_it = |id: Id<Device>| site.senses(id) == Some(senses);
    let devices = site.devices.entries().filter(|(id, device)| device.zone.is_some() && senses_it(*id));
    let suits = |room: Id<Room>| {
        senses != Senses::Smoke || site.rooms[room].kind.and_then(unsuited_to_smoke_detectors).is_none()
    };
    devices.filter_map(|(device, at)| Some(Found { device, room: at.room.filter(|room| suits(*room))? })).collect()
}

/// The rooms of each level that people live on, and of basements of whatever use ("including basements", NFPA 72 chapter 29): a furnace
/// burns where nobody lives.
fn lived_in(site: &Site) -> BTreeMap<Id<Level>, Vec<Id<Room>>> {
    let mut levels: BTreeMap<Id<Level>, Vec<Id<Room>>> = BTreeMap::new();
    for (id, room) in site.rooms.entries() {
        levels.entry(room.level).or_default().push(id);
    }
    levels.retain(|level, rooms| {
        let is_basement = site.levels[*level].storey < 0;
        let is_entered = |room: &Id<Room>| site.rooms[*room].kind != Some(RoomKind::Crawlspace);
        rooms.iter().any(|room| is_lived_in(site.rooms[*room].kind) || is_basement && is_entered(room))
    });
    levels
}

fn is_lived_in(kind: Option<RoomKind>) -> bool {
    match kind {
        Some(
            RoomKind::Living
            | RoomKind::Bedroom
            | RoomKind::Kitchen
            | RoomKind::Bathroom
            | RoomKind::Hall
            | RoomKind::Stair
            | RoomKind::Cellar,
        ) => true,
        Some(
            RoomKind::Attic
            | RoomKind::Crawlspace
            | RoomKind::Garage
            | RoomKind::Utility
            | RoomKind::Workshop
            | RoomKind::Outdoors,
        )
        | None => false,
    }
}

fn is_bedroom(site: &Site, room: Id<Room>) -> bool {
    site.rooms[room].kind == Some(RoomKind::Bedroom)
}

/// The detectors outside the bedrooms of a level that are near enough to one of them.
fn outside(site: &Site, found: &[Found], level: Id<Level>, bedroom: Id<Room>) -> Vec<Found> {
    let near = |of: &Found| {
        let (room, bedroom) = (&site.rooms[of.room], &site.rooms[bedroom]);
        // Of a room that the spec says nothing of, nothing is concluded.
        let lived_in = room.kind.is_none() || is_lived_in(room.kind);
        let at = site.devices[of.device].hung.as_ref().map(|hung| hung.at.value);
        let gap = at.map_or_else(|| room.gap(bedroom), |at| bedroom.nearest(at));
        let in_reach = gap.zip(SLEEPING.value.length()).is_none_or(|(gap, most)| gap.0 <= most.0);
        room.level == level && lived_in && !is_bedroom(site, of.room) && in_reach
    };
    found.iter().copied().filter(near).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NFPA 72 chapter 29, as quoted: 21 ft are 6.4 m.
    #[test]
    fn the_row_is_in_metres() {
        let most = SLEEPING.value.length().expect("a length");
        assert!((most.0 - 6.4).abs() < 0.01, "{most:?}");
    }
}
