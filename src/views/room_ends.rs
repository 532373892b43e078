//! The ends of cables that are at no board, room by room: which colour goes where at the devices and joints.
//!
//! Every conductor's end that is under no screw has its row here; those at boards stand with the boards.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::board_marks;
use super::ends::{at_start, meets};
use super::loop_path;
use super::natural::natural;
use super::terminal_schedule::State;
use crate::base::Id;
use crate::compiled::Compiled;
use crate::model::{Board, Communicator, Owner, Room, Site};
use crate::profiles::connectors;
use crate::register::{Cable, ConductorUse, DeadCable, End, Function, Place};
use crate::terms::{Path, PinOrder, WireUse};
use crate::words::{self, Paper};

/// What is done with a conductor that has nothing to do yet.
const PARK: &str = "park it here, marked";

/// What ends in one room.
#[derive(Serialize)]
pub(crate) struct RoomSheet {
    /// Room and level.
    title: String,
    /// The room, as other sheets call it.
    #[serde(skip)]
    pub(crate) place: String,
    /// What is mounted here at a height that the spec gives, and the jacks of lines.
    mounted: Vec<String>,
    pub(crate) rows: Vec<EndRow>,
}

/// A conductor, or a loop's pair, at an end of its cable.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct EndRow {
    pub(crate) cable: String,
    /// The cable's first row.
    first: bool,
    /// True where the cable starts here, towards its board.
    pub(crate) starts: bool,
    /// Conductors with nothing to do, and those of a dead cable.
    idle: bool,
    #[serde(skip)]
    pub(crate) state: State,
    /// Each conductor.
    pub(crate) conductors: Vec<String>,
    /// What each of them does, where it is in use.
    #[serde(skip)]
    pub(crate) used: Vec<ConductorUse>,
    pub(crate) function: String,
    pub(crate) goes: String,
    /// The place of its row on the page.
    pub(crate) place: String,
}

/// Rooms from the lowest level up; cables by label. Ends of which no room is known come last.
pub(crate) fn by_room(compiled: &Compiled) -> Vec<RoomSheet> {
    let site = &compiled.site;
    let mut rooms: Vec<(Id<Room>, &Room)> = site.rooms.entries().collect();
    rooms.sort_by(|(a, one), (b, other)| {
        let storey = |room: &Room| site.levels[room.level].storey;
        storey(one).cmp(&storey(other)).then_with(|| natural(&one.title, &other.title)).then_with(|| a.cmp(b))
    });
    let places = rooms.into_iter().map(|(id, _)| Some(id)).chain(std::iter::once(None));
    let mut ends = Ends::of(compiled);
    let sheet = |room: Option<Id<Room>>| {
        let mounted = mounted(compiled, room);
        let rows = ends.0.remove(&Place::Room(room)).unwrap_or_default();
        let place = words::room(site, room);
        (!rows.is_empty() || !mounted.is_empty()).then_some(RoomSheet {
            title: title(site, room),
            place,
            mounted,
            rows,
        })
    };
    let mut sheets: Vec<RoomSheet> = places.filter_map(sheet).collect();
    for (number, sheet) in (1..).zip(&mut sheets) {
        for (nth, row) in sheet.rows.iter_mut().enumerate() {
            row.place = board_marks::room(number, nth);
        }
    }
    sheets
}

/// Detectors and sounders of a room with their heights (boards have theirs above their terminals), and the jacks of lines
/// with their positions.
fn mounted(compiled: &Compiled, room: Option<Id<Room>>) -> Vec<String> {
    let site = &compiled.site;
    let devices = site.devices.entries().filter(|(_, device)| device.room == room && device.mount.is_some());
    let lines = site.communicators.entries().flat_map(|(id, line)| plugs(compiled, id, line, room));
    devices
        .map(|(id, device)| format!("{}: {}", Paper.device(site, id), words::height(site, device.mount)))
        .chain(lines)
        .collect()
}

/// Of a way to the monitoring service: the jack that it has here, and the table by which its network cables are wired that
/// have an end here.
fn plugs(compiled: &Compiled, id: Id<Communicator>, line: &Communicator, room: Option<Id<Room>>) -> Vec<String> {
    let Compiled { site, wiring, .. } = compiled;
    let mut runs = site.runs_of(Owner::Communicator(id));
    match line.path.as_ref().map(|path| path.value) {
        Some(Path::Telephone) => {
            line.jack.filter(|_| runs.any(|(_, run)| run.room == room)).map(connectors::jack).into_iter().collect()
        }
        Some(Path::Internet) => {
            let here = runs.filter(|(id, run)| run.room == room || site.start_room(*id) == room);
            let cables = here.filter_map(|(id, _)| wiring.cable_of(id));
            let orders: BTreeSet<PinOrder> = cables.filter_map(|cable| words::wired_by(site, cable)).collect();
            orders.into_iter().map(connectors::pins).collect()
        }
        Some(Path::Radio) | None => Vec::new(),
    }
}

fn title(site: &Site, room: Option<Id<Room>>) -> String {
    match room {
        Some(room) => format!("{}, {}", site.rooms[room].title, site.levels[site.rooms[room].level].title),
        None => "In no room that the spec or the register tells".to_owned(),
    }
}

/// What ends in each room and in the enclosure of each board, cables by label: gathered once, for every place asks for it.
pub(crate) struct Ends(BTreeMap<Place, Vec<EndRow>>);

impl Ends {
    /// The ends of a site.
    pub(crate) fn of(compiled: &Compiled) -> Self {
        let Compiled { site, wiring, .. } = compiled;
        let mut ends: BTreeMap<Place, Vec<(&str, Vec<EndRow>)>> = BTreeMap::new();
        for cable in &wiring.cables {
            for end in [End::Far, End::Near] {
                let places = cable.conductors.iter().map(|used| used.place(site, cable, end));
                let places: BTreeSet<Place> = places.chain([cable.place(site, end)]).collect();
                // A far end that was not found is in no place where anything is done to it.
                for place in places.into_iter().filter(|place| end == End::Near || *place != Place::Room(None)) {
                    ends.entry(place).or_default().push((&cable.label, at_end(compiled, cable, end, place)));
                }
            }
        }
        for cable in &wiring.dead {
            for end in [End::Far, End::Near] {
                let place = cable.place(end);
                if matches!(place, Place::Room(_)) {
                    ends.entry(place).or_default().push((&cable.label, vec![dead_row(cable, end)]));
                }
            }
        }
        Self(ends.into_iter().map(|(place, ends)| (place, by_label(ends))).collect())
    }

    /// What is joined in the enclosure of a board, or in a joint box, under no screw.
    pub(crate) fn in_enclosure(&self, board: Id<Board>) -> &[EndRow] {
        self.0.get(&Place::Board(board)).map_or(&[], Vec::as_slice)
    }
}

fn by_label(mut ends: Vec<(&str, Vec<EndRow>)>) -> Vec<EndRow> {
    ends.sort_by(|(a, _), (b, _)| natural(a, b));
    for (_, rows) in &mut ends {
        if let Some(first) = rows.first_mut() {
            first.first = true;
        }
    }
    ends.into_iter().flat_map(|(_, rows)| rows).collect()
}

/// The rows of a cable's conductors that have this end in a place; at a board only those that are under no screw of it.
fn at_end(compiled: &Compiled, cable: &Cable, end: End, place: Place) -> Vec<EndRow> {
    let Compiled { site, wiring, .. } = compiled;
    let row = |conductors: Vec<String>, function: String, goes: String| EndRow {
        cable: cable.label.clone(),
        first: false,
        starts: end == End::Near,
        idle: false,
        state: State::InUse,
        conductors,
        used: Vec::new(),
        function,
        goes,
        place: String::new(),
    };
    // At a board those that are under a screw of it stand there.
    let lies = |used: &ConductorUse| matches!(place, Place::Room(_)) || used.joined_in(site, end).is_some();
    let here = |used: &&ConductorUse| used.place(site, cable, end) == place && lies(used);
    let how = |used: &ConductorUse| used.joined_in(site, end).and_then(|(_, run)| site.joining(run));
    let mut rows = Vec::new();
    for used in cable.conductors.iter().filter(here) {
        if let Function::LoopOut(zone) = used.function {
            // The pair has one row, with its path.
            let pair = cable.conductors.iter().filter(|other| other.run == used.run && other.function.zone().is_some());
            let goes = match end {
                End::Near => loop_path::at_start_of(site, wiring, used.run, zone),
                End::Far => loop_path::at_end_of(site, wiring, used.run, zone),
            };
            let goes = words::joined_by(goes, how(used));
            let pair: Vec<ConductorUse> = pair.cloned().collect();
            let conductors = pair.iter().map(|other| words::conductor(site, cable, other.position)).collect();
            let function = words::pair(site, used.run, used.function);
            rows.push(EndRow { used: pair, ..row(conductors, function, goes) });
        } else if used.function.zone().is_none() {
            let met = match end {
                End::Near => at_start(site, wiring, used),
                End::Far => meets(site, wiring, used, &used.far),
            };
            let reserved = used.function.wire_use() == WireUse::Reserved;
            let goes = match met.is_empty() {
                true if reserved => PARK.to_owned(),
                true => "nowhere: cap it".to_owned(),
                false => words::joined_by(met, how(used)),
            };
            let function = words::function(site, cable, used);
            let conductor = vec![words::conductor(site, cable, used.position)];
            let row = EndRow { used: vec![used.clone()], ..row(conductor, function, goes) };
            rows.push(if reserved { EndRow { idle: true, state: State::Reserved, ..row } } else { row });
        }
    }
    if matches!(place, Place::Board(_)) {
        return rows;
    }
    if cable.shield.is_some() && cable.place(site, end) == place {
        let what = vec![words::shield(site, cable).to_owned()];
        rows.push(row(what, "shield".to_owned(), words::shield_end(site, wiring, cable, end)));
    }
    if !cable.spare.is_empty() && cable.place(site, end) == place {
        let spare = cable.spare.iter().map(|position| words::conductor(site, cable, *position)).collect();
        rows.push(EndRow { idle: true, state: State::Spare, ..row(spare, "spare".into(), PARK.into()) });
    }
    rows
}

fn dead_row(cable: &DeadCable, end: End) -> EndRow {
    EndRow {
        cable: cable.label.clone(),
        first: false,
        starts: end == End::Near,
        idle: true,
        state: State::Dead,
        conductors: vec!["all".to_owned()],
        used: Vec::new(),
        function: "dead".to_owned(),
        goes: format!("{}: {}", words::dead_end(cable), cable.because),
        place: String::new(),
    }
}
