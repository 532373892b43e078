//! Where the household figures ask for detectors of smoke and of carbon monoxide, and which detectors are there.
//!
//! Terms: a *sleeping level* has bedrooms; *outside the bedrooms* is every other room of that level that people live in.
//! A level where nobody lives (of a workshop, a garage, stores) is asked for nothing. A detector in an unsuited room counts
//! nowhere. The way from a bedroom's door is not known, so the gap between the two rooms on the plan stands for it: the
//! way is at least as long. Out of scope: houses whose alarms are not wired to a board, and the wording of findings.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::model::{Device, Level, Room, Site};
use crate::profiles::detectors::{SLEEPING, unsuited_to_smoke_detectors};
use crate::quantity::Metres;
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
    let senses_it = |id: Id<Device>| site.device_part(id).and_then(|part| part.senses) == Some(senses);
    let devices = site.devices.entries().filter(|(id, device)| device.zone.is_some() && senses_it(*id));
    let suits = |room: Id<Room>| {
        senses != Senses::Smoke || site.rooms[room].kind.and_then(unsuited_to_smoke_detectors).is_none()
    };
    devices.filter_map(|(device, at)| Some(Found { device, room: at.room.filter(|room| suits(*room))? })).collect()
}

/// The rooms of each level that people live on.
fn lived_in(site: &Site) -> BTreeMap<Id<Level>, Vec<Id<Room>>> {
    let mut levels: BTreeMap<Id<Level>, Vec<Id<Room>>> = BTreeMap::new();
    for (id, room) in site.rooms.entries() {
        levels.entry(room.level).or_default().push(id);
    }
    levels.retain(|_, rooms| rooms.iter().any(|room| is_lived_in(site.rooms[*room].kind)));
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
        site.rooms[of.room].level == level
            && !is_bedroom(site, of.room)
            && gap(&site.rooms[of.room], &site.rooms[bedroom])
                .zip(SLEEPING.value.length())
                .is_none_or(|(gap, most)| gap.0 <= most.0)
    };
    found.iter().copied().filter(near).collect()
}

/// The gap between two rooms of a level on the plan; `None` where one has no measures.
fn gap(one: &Room, other: &Room) -> Option<Metres> {
    let ([x, y, width, depth], [to_x, to_y, to_width, to_depth]) = (one.rect?, other.rect?);
    let apart = |from: Metres, side: Metres, to: Metres, to_side: Metres| {
        (to.0 - (from.0 + side.0)).max(from.0 - (to.0 + to_side.0)).max(0.0)
    };
    Some(Metres(apart(x, width, to_x, to_width).hypot(apart(y, depth, to_y, to_depth))))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::{Arena, Span, Spanned};

    fn room(rect: [f64; 4]) -> Room {
        let mut levels: Arena<Level> = Arena::default();
        let name = |name: &str| Spanned::new(name.to_owned(), Span::default());
        let level = levels.push(Level { name: name("l"), title: String::new(), storey: 0, ceiling: None });
        Room { name: name("r"), title: String::new(), kind: None, level, rect: Some(rect.map(Metres)) }
    }

    /// Rooms that touch have no gap; those across a corner have the hypotenuse of 3, 4 and 5.
    #[test]
    fn the_gap_is_the_shortest_line_between_two_rooms() {
        let one = room([0.0, 0.0, 4.0, 3.0]);
        assert_eq!(gap(&one, &room([4.0, 0.0, 2.0, 2.0])), Some(Metres(0.0)));
        assert_eq!(gap(&one, &room([1.0, 1.0, 1.0, 1.0])), Some(Metres(0.0)));
        assert_eq!(gap(&one, &room([6.0, 1.0, 2.0, 2.0])), Some(Metres(2.0)));
        assert_eq!(gap(&one, &room([7.0, 7.0, 2.0, 2.0])), Some(Metres(5.0)));
        assert_eq!(gap(&room([7.0, 7.0, 2.0, 2.0]), &one), Some(Metres(5.0)));
        assert_eq!(gap(&one, &Room { rect: None, ..one.clone() }), None);
    }

    /// NFPA 72 chapter 29, as quoted: 21 ft are 6.4 m.
    #[test]
    fn the_row_is_in_metres() {
        let most = SLEEPING.value.length().expect("a length");
        assert!((most.0 - 6.4).abs() < 0.01, "{most:?}");
    }
}
