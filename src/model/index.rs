//! What would be looked for again and again in a site: found once, when all of it is known.

use std::collections::BTreeMap;

use crate::base::{Id, Span};

use super::board::Board;
use super::device::Device;
use super::place::{Opening, Room};
use super::run::{Bus, Mounted, Owner};
use super::site::Site;
use super::zone::Zone;
use crate::quantity::Resistance;

/// See the module's head.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Index {
    /// Devices by the opening that they watch.
    pub(super) watchers: BTreeMap<Id<Opening>, Vec<Id<Device>>>,
    /// Buses by the port that they start at.
    pub(super) from: BTreeMap<(Id<Board>, usize), Vec<Id<Bus>>>,
    /// Boards by the bus that they hang on.
    pub(super) on_bus: BTreeMap<Id<Bus>, Vec<Id<Board>>>,
    /// Devices by their room.
    pub(super) in_room: BTreeMap<Id<Room>, Vec<Id<Device>>>,
    /// Where circuits feed a device, and what the run there belongs to.
    pub(super) feeds: BTreeMap<Id<Device>, Vec<(Span, Owner)>>,
    /// The values of the resistors in loops, each with the zone of every use, in order, and its rank among all uses.
    resistors: Vec<Used>,
    /// The first device of each name.
    pub(super) devices: BTreeMap<String, Id<Device>>,
    /// How many rooms, boards and devices have a title.
    titles: [BTreeMap<String, usize>; 3],
    /// How many openings have a title, in all the house and in a room.
    openings: BTreeMap<(String, Option<Id<Room>>), usize>,
    /// How many devices have a title and a mark that may tell them apart.
    marks: BTreeMap<(String, usize, String), usize>,
}

impl Index {
    /// Of a site all of whose runs, boards and devices are known.
    pub(crate) fn of(site: &Site) -> Self {
        // `Arena::of_key` relies on it.
        debug_assert!(site.runs.iter().is_sorted_by_key(|run| run.owner));
        debug_assert!(site.devices.iter().is_sorted_by_key(|device| (device.zone.is_none(), device.zone)));
        let mut index = Self::default();
        for (id, device) in site.devices.entries() {
            if let Some(opening) = &device.opening {
                index.watchers.entry(opening.value).or_default().push(id);
            }
            if let Some(room) = device.room {
                index.in_room.entry(room).or_default().push(id);
            }
            if let Some(name) = &device.name {
                index.devices.entry(name.value.clone()).or_insert(id);
            }
        }
        for run in &site.runs {
            for fed in run.mounted.iter().filter_map(Mounted::feed) {
                index.feeds.entry(fed.value).or_default().push((fed.span, run.owner));
            }
        }
        index.resistors = resistors(site);
        for (id, bus) in site.buses.entries() {
            if let (Some(board), Some(port)) = (&bus.board, bus.port) {
                index.from.entry((board.value, port)).or_default().push(id);
            }
        }
        for (id, board) in site.boards.entries() {
            if let Some((bus, _)) = board.bus {
                index.on_bus.entry(bus).or_default().push(id);
            }
        }
        let [rooms, boards, devices] = &mut index.titles;
        site.rooms.iter().for_each(|room| count(rooms, &room.title));
        site.boards.iter().for_each(|board| count(boards, &board.title));
        site.devices.iter().for_each(|device| count(devices, &device.title));
        for opening in &site.openings {
            for room in [None, Some(opening.room)] {
                *index.openings.entry((opening.title.clone(), room)).or_default() += 1;
            }
        }
        for device in &site.devices {
            for (kind, mark) in index.marks_of(site, device).into_iter().enumerate() {
                *index.marks.entry((device.title.clone(), kind, mark)).or_default() += 1;
            }
        }
        index
    }

    /// What may tell a device from another of its title: its room, its opening, its name; empty where it has none.
    fn marks_of(&self, site: &Site, device: &Device) -> [String; 3] {
        [
            device.room.map_or_else(String::new, |room| self.room(site, room)),
            device.opening.as_ref().map_or_else(String::new, |at| {
                self.opening_mark(site, at.value).unwrap_or_else(|| site.openings[at.value].title.clone())
            }),
            device.name.as_ref().map_or_else(String::new, |name| name.value.clone()),
        ]
    }

    /// What tells an opening from the others of its title: its room, and its name where that has two of them.
    fn opening_mark(&self, site: &Site, opening: Id<Opening>) -> Option<String> {
        let opening = &site.openings[opening];
        let is_alone = |room| self.openings.get(&(opening.title.clone(), room)).is_none_or(|count| *count == 1);
        let room = || self.room(site, opening.room);
        match (is_alone(None), is_alone(Some(opening.room))) {
            (true, _) => None,
            (false, true) => Some(room()),
            (false, false) => Some(format!("{}, {}", room(), opening.name.value)),
        }
    }

    fn room(&self, site: &Site, room: Id<Room>) -> String {
        let [rooms, ..] = &self.titles;
        let room = &site.rooms[room];
        let twins = rooms.get(&room.title).is_some_and(|count| *count > 1);
        if twins { format!("{} ({})", room.title, site.levels[room.level].title) } else { room.title.clone() }
    }
}

/// A value with the zone and the rank of each use.
type Used = (Resistance, Vec<(Id<Zone>, usize)>);

fn resistors(site: &Site) -> Vec<Used> {
    let mut values: BTreeMap<[u64; 2], Used> = BTreeMap::new();
    let zones = site.zones.entries().map(|(zone, _)| zone);
    let uses = zones.flat_map(|zone| site.resistors_of(zone).map(move |(_, value)| (zone, value.value)));
    for (rank, (zone, value)) in uses.enumerate() {
        let key = [value.nominal.0.to_bits(), value.tolerance.0.to_bits()];
        values.entry(key).or_insert_with(|| (value, Vec::new())).1.push((zone, rank));
    }
    values.into_values().collect()
}

fn count(titles: &mut BTreeMap<String, usize>, title: &str) {
    *titles.entry(title.to_owned()).or_default() += 1;
}

impl Site {
    /// A room's title, with its level's where another room has the same title.
    pub(crate) fn room_title(&self, room: Id<Room>) -> String {
        self.index.room(self, room)
    }

    /// True where another board has the title of this one.
    pub(crate) fn shares_title(&self, board: Id<Board>) -> bool {
        let [_, boards, _] = &self.index.titles;
        boards.get(&self.boards[board].title).is_some_and(|count| *count > 1)
    }

    /// An opening's title, with its room's where another has the same title, and its name where that is there too.
    pub(crate) fn opening_title(&self, opening: Id<Opening>) -> String {
        let title = &self.openings[opening].title;
        self.index.opening_mark(self, opening).map_or_else(|| title.clone(), |mark| format!("{title} ({mark})"))
    }

    /// The first of room, opening and name that tells a device from all others of its title; `None` where nothing does, or
    /// where its title is its own.
    pub(crate) fn device_mark(&self, device: Id<Device>) -> Option<String> {
        let [.., devices] = &self.index.titles;
        let device = &self.devices[device];
        devices.get(&device.title).filter(|count| **count > 1)?;
        let marks = self.index.marks_of(self, device).into_iter().enumerate();
        let alone = |kind: usize, mark: &String| {
            self.index.marks.get(&(device.title.clone(), kind, mark.clone())).is_some_and(|count| *count == 1)
        };
        marks.filter(|(kind, mark)| !mark.is_empty() && alone(*kind, mark)).map(|(_, mark)| mark).next()
    }

    /// The values of the resistors in all loops but that of a zone: the one that most of them have first, then in the order of
    /// the zones.
    pub(crate) fn resistors_beside(&self, zone: Id<Zone>) -> Vec<Resistance> {
        let others = self.index.resistors.iter().filter_map(|(value, uses)| {
            let first = uses.partition_point(|(other, _)| *other < zone);
            let behind = uses.partition_point(|(other, _)| *other <= zone);
            let number = uses.len() - (behind - first);
            let (_, rank) = uses.first().filter(|_| first > 0).or_else(|| uses.get(behind))?;
            Some((std::cmp::Reverse(number), *rank, *value))
        });
        let mut others: Vec<_> = others.collect();
        others.sort_by_key(|(number, rank, _)| (*number, *rank));
        others.into_iter().map(|(.., value)| value).collect()
    }

    /// The devices of a room, in order.
    pub(crate) fn devices_in(&self, room: Id<Room>) -> impl Iterator<Item = &Device> {
        self.index.in_room.get(&room).into_iter().flatten().map(|device| &self.devices[*device])
    }

    /// Where circuits feed a device, and what the run there belongs to, in order.
    pub(crate) fn feeds_of(&self, device: Id<Device>) -> &[(Span, Owner)] {
        self.index.feeds.get(&device).map_or(&[], Vec::as_slice)
    }

    /// The boards that hang on a bus, by name.
    pub(crate) fn boards_on(&self, bus: Id<Bus>) -> impl Iterator<Item = (Id<Board>, &Board)> {
        self.index.on_bus.get(&bus).into_iter().flatten().map(|board| (*board, &self.boards[*board]))
    }
}
