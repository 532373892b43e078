//! The levels with their boards and rooms, and the wires of the buses between the boards.

use std::collections::BTreeMap;

use super::cable_marks;
use super::cables::{Cables, Place};
use crate::base::Id;
use crate::base::wording::letters;
use crate::calc::bus::BusFigures;
use crate::compiled::Compiled;
use crate::draw::Link;
use crate::draw::riser::{Board as Drawn, Bundle, Kind, Label, Level as Band, Room as Box, Storey, Wire};
use crate::model::{Board, Bus, Level, Owner, Room};
use crate::quantity::print;
use crate::views::natural::natural;
use crate::views::{bus_sheet, terminal_schedule};
use crate::words::{self, Paper};

/// What stands in a box of its own: a board, or a place of a bus without one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Thing {
    Board(Id<Board>),
    Bare(Id<Bus>, usize),
}

/// A thing with its number along its bus, and that of its row on the bus sheet.
#[derive(Clone, Debug)]
struct Numbered {
    thing: Thing,
    number: String,
    link: Option<Link>,
}

/// The storeys from the highest down, and the wires between what is in them.
pub(super) fn of(compiled: &Compiled) -> (Vec<Storey>, Vec<Wire>) {
    let house = House::new(compiled);
    let site = &compiled.site;
    let mut storeys: Vec<Storey> = site
        .storeys()
        .into_iter()
        .map(|storey| Storey {
            house: Some(house.level(Some(storey.house))),
            apart: storey.beside.into_iter().map(|level| house.level(Some(level))).collect(),
        })
        .collect();
    let nowhere = house.level(None);
    if !nowhere.boards.is_empty() || !nowhere.rooms.is_empty() {
        storeys.push(Storey { house: Some(nowhere), apart: Vec::new() });
    }
    (storeys, house.wires())
}

struct House<'c> {
    compiled: &'c Compiled,
    cables: Cables<'c>,
    /// In the order along the buses, then as on the terminal schedule. A thing is known by its position.
    things: Vec<Numbered>,
    positions: BTreeMap<Thing, usize>,
    letters: BTreeMap<Id<Board>, String>,
    exits: BTreeMap<Option<Id<Room>>, Vec<String>>,
    /// The positions of the things of a room.
    in_rooms: BTreeMap<Option<Id<Room>>, Vec<usize>>,
}

impl<'c> House<'c> {
    fn new(compiled: &'c Compiled) -> Self {
        let site = &compiled.site;
        let (mut things, mut positions) = (Vec::<Numbered>::new(), BTreeMap::new());
        let mut add = |thing: Thing, number: String, link: Option<Link>| {
            positions.entry(thing).or_insert_with(|| {
                things.push(Numbered { thing, number, link });
                things.len() - 1
            });
        };
        for (bus, figures) in &compiled.buses {
            for (at, position) in figures.layout.in_order() {
                let Some(place) = figures.layout.places.get(at) else { continue };
                let number = match compiled.buses.len() {
                    1 => position,
                    _ => format!("{} {position}", site.buses[*bus].name.value),
                };
                let link = Some(bus_sheet::row_link(site, *bus, at));
                if place.boards.is_empty() {
                    add(Thing::Bare(*bus, at), number, link);
                    continue;
                }
                for board in &place.boards {
                    add(Thing::Board(*board), number.clone(), link.clone());
                }
            }
        }
        for board in terminal_schedule::in_order(site) {
            add(Thing::Board(board), String::new(), None);
        }
        let cables = Cables::new(compiled);
        let boards =
            things.iter().filter_map(|one| if let Thing::Board(board) = one.thing { Some(board) } else { None });
        let starts = boards.filter(|board| cables.start_at(*board)).enumerate();
        let letters = starts.map(|(at, board)| (board, letters(at).to_uppercase())).collect();
        let mut exits: BTreeMap<Option<Id<Room>>, Vec<String>> = BTreeMap::new();
        // One without a cable is nothing for whoever reads of cables.
        for (id, way) in site.communicators.entries().filter(|(_, way)| way.path.is_some()) {
            let Some(room) = site.runs_of(Owner::Communicator(id)).last().map(|(_, run)| run.room) else { continue };
            exits.entry(room).or_default().push(format!("{}: {}", way.title, words::way_out(way)));
        }
        let mut house = Self { compiled, cables, things, positions, letters, exits, in_rooms: BTreeMap::new() };
        for (position, one) in house.things.iter().enumerate() {
            house.in_rooms.entry(house.room_of(one.thing)).or_default().push(position);
        }
        house
    }

    fn room_of(&self, thing: Thing) -> Option<Id<Room>> {
        let site = &self.compiled.site;
        match thing {
            Thing::Board(board) => site.boards[board].room,
            Thing::Bare(bus, at) => {
                let place = self.compiled.buses.get(&bus)?.layout.places.get(at)?;
                site.runs[place.run?].room
            }
        }
    }

    fn level(&self, level: Option<Id<Level>>) -> Band {
        let site = &self.compiled.site;
        let is_here = |room: Option<Id<Room>>| room.map(|room| site.rooms[room].level) == level;
        let things = self.things.iter().enumerate().filter(|(_, one)| is_here(self.room_of(one.thing)));
        let mut rooms: Vec<Option<Id<Room>>> = site.rooms.entries().map(|(id, _)| Some(id)).chain([None]).collect();
        rooms.sort_by(|one, other| natural(&words::room(site, *one), &words::room(site, *other)));
        let rooms = rooms.into_iter().filter(|room| is_here(*room));
        let rooms = rooms.map(|room| (room, self.ends_in(room)));
        let rooms = rooms.filter(|(room, ends)| !ends.is_empty() || self.exits.contains_key(room));
        Band {
            title: level.map_or_else(|| NOWHERE.to_owned(), |level| site.levels[level].title.clone()),
            boards: things.map(|(id, one)| self.board(id, one)).collect(),
            rooms: rooms
                .map(|(room, ends)| Box {
                    title: if room.is_some() { words::room(site, room) } else { "room not told".to_owned() },
                    ends,
                    exits: self.exits.get(&room).cloned().unwrap_or_default(),
                })
                .collect(),
        }
    }

    /// The bundles that end in a room, and once more those that end in its boards.
    fn ends_in(&self, room: Option<Id<Room>>) -> Vec<Bundle> {
        let mut ends = self.cables.bundles(Place::Room(room), &self.letters);
        for position in self.in_rooms.get(&room).into_iter().flatten() {
            let Some(Numbered { thing: Thing::Board(board), number, .. }) = self.things.get(*position) else {
                continue;
            };
            let called = match self.letters.get(board) {
                Some(letter) => letter.clone(),
                None if !number.is_empty() => format!("no. {number}"),
                None => Paper.board(&self.compiled.site, *board),
            };
            for bundle in self.cables.bundles(Place::Board(*board), &self.letters) {
                // The label's own place is at the board.
                let label =
                    |label: Label| Label { link: label.link.map(|link| Link { id: String::new(), ..link }), ..label };
                let labels = bundle.labels.into_iter().map(label).collect();
                ends.push(Bundle { words: format!("{}, into {called}", bundle.words), labels, ..bundle });
            }
        }
        ends
    }

    fn board(&self, id: usize, one: &Numbered) -> Drawn {
        let Compiled { site, buses, .. } = self.compiled;
        let room = words::room(site, self.room_of(one.thing));
        let drawn = Drawn {
            id,
            kind: Kind::Bare,
            number: one.number.clone(),
            letter: String::new(),
            title: String::new(),
            room,
            lines: Vec::new(),
            ends: Vec::new(),
            link: one.link.clone(),
        };
        match one.thing {
            Thing::Bare(bus, at) => {
                let title = buses.get(&bus).map(|figures| bus_sheet::places::title(self.compiled, figures, at));
                Drawn { title: title.unwrap_or_default(), ..drawn }
            }
            Thing::Board(board) => {
                let (item, title) = (&site.boards[board], Paper.board(site, board));
                let address = item.address.as_ref().map(|address| format!("addr. {}", address.value));
                let transformer = item.transformer.as_ref();
                let transformer = transformer
                    .map(|found| format!("transformer {}, {}", words::rated(found.volts.value), found.rating.value));
                let battery = item.battery.as_ref().map(|battery| format!("battery {}", words::battery(battery)));
                Drawn {
                    kind: if item.has_own_supply() {
                        Kind::Supply
                    } else if item.kind.hangs_on_bus() {
                        Kind::Fed
                    } else {
                        Kind::Bare
                    },
                    letter: self.letters.get(&board).cloned().unwrap_or_default(),
                    room: if words::in_room(&title, &drawn.room) == title { String::new() } else { drawn.room.clone() },
                    title,
                    lines: [address, transformer, battery].into_iter().flatten().collect(),
                    ends: self.cables.bundles(Place::Board(board), &self.letters),
                    ..drawn
                }
            }
        }
    }

    fn wires(&self) -> Vec<Wire> {
        self.compiled.buses.iter().flat_map(|(bus, figures)| self.wires_of(*bus, figures)).collect()
    }

    /// The cables of a bus, and the short wires between boards at one place. A cable comes to the first board of a place
    /// and goes on from the last, but all cables of the bus's own board are at that.
    fn wires_of(&self, bus: Id<Bus>, figures: &BusFigures) -> Vec<Wire> {
        let places = &figures.layout.places;
        let id = |thing: Thing| self.positions.get(&thing).copied();
        let mut wires = Vec::new();
        for (at, place) in places.iter().enumerate() {
            let here = |board: Option<&Id<Board>>| board.map_or(Thing::Bare(bus, at), |board| Thing::Board(*board));
            if let Some(before) = places.get(place.before).filter(|_| place.before != at) {
                let last = if before.run.is_none() { before.boards.first() } else { before.boards.last() };
                let from = last.map_or(Thing::Bare(bus, place.before), |board| Thing::Board(*board));
                if let (Some(from), Some(to)) = (id(from), id(here(place.boards.first()))) {
                    wires.push(self.cable(place, from, to));
                }
            }
            for pair in place.boards.windows(2) {
                let [one, other] = pair else { continue };
                if let (Some(from), Some(to)) = (id(Thing::Board(*one)), id(Thing::Board(*other))) {
                    wires.push(Wire { from, to, words: String::new(), link: None });
                }
            }
        }
        wires
    }

    fn cable(&self, place: &crate::calc::bus::layout::Place, from: usize, to: usize) -> Wire {
        let Compiled { site, wiring, .. } = self.compiled;
        let length = print::length(place.length, site.lengths);
        let label = place.run.map(|run| words::cable(wiring, run)).unwrap_or_default();
        let level = |at: usize| {
            let room = self.things.get(at).and_then(|one| self.room_of(one.thing));
            room.map(|room| site.rooms[room].level)
        };
        let passes = place.run.and_then(|run| words::passes(&site.runs[run])).filter(|_| level(from) != level(to));
        let kind = place.run.and_then(|run| wiring.cable_of(run)).map(|cable| self.cables.kind(cable.kind));
        let label = match kind {
            Some(kind) => format!("{label}: {kind}"),
            None => label.to_owned(),
        };
        let words = [label, length].into_iter().chain(passes).collect::<Vec<_>>().join(", ");
        let at = place.run.and_then(|run| cable_marks::of_run(wiring, run));
        Wire { from, to, words, link: at.map(cable_marks::riser_link) }
    }
}

/// The band of what is in no room.
const NOWHERE: &str = "In no room that the spec tells";
