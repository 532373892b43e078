//! Terminal schedule: what is under every screw of every board, and at the devices which colour goes where.
//!
//! One row is one conductor, link or lead under one screw. Boards come first, then the far ends of the cables room by
//! room, for the person who stands there.

use serde::Serialize;
use serde_json::Value;

use super::natural::natural;
use super::{Document, Orientation, Reader, Table, far_ends, value};
use crate::base::Id;
use crate::base::wording::count;
use crate::compiled::Compiled;
use crate::model::terminal::{capacity, terminals};
use crate::model::{Board, BoardKind, Mounted, Run, Site};
use crate::register::{Cable, FittedKind, Function, OnTerminal, Point};
use crate::template;
use crate::words::{self, Paper};

use super::ends::meets;

/// The terminal schedule.
pub(crate) static DOCUMENT: Document = Document {
    name: "terminal-schedule",
    title: "Terminal schedule",
    readers: &[Reader::Installer],
    about: "what is under every screw, and which colour goes where at the devices",
    orientation: Orientation::Portrait,
    template: template!("terminal-schedule"),
    view,
    table: Some(table),
    drawings: None,
};

#[derive(Serialize)]
struct Schedule {
    boards: Vec<BoardSheet>,
    rooms: Vec<far_ends::RoomSheet>,
}

#[derive(Serialize)]
struct BoardSheet {
    title: String,
    facts: String,
    rows: Vec<Row>,
    joints: Vec<Joint>,
    spares: Vec<Spare>,
}

#[derive(Serialize)]
struct Row {
    mark: String,
    /// The terminal's first row.
    first: bool,
    /// Nothing is under this screw.
    free: bool,
    cable: String,
    conductor: String,
    function: String,
    goes: String,
}

#[derive(Serialize)]
struct Joint {
    one: String,
    other: String,
    function: String,
}

#[derive(Serialize)]
struct Spare {
    cable: String,
    conductors: String,
}

fn view(compiled: &Compiled) -> Value {
    let boards = in_order(&compiled.site).into_iter().map(|board| sheet(compiled, board)).collect();
    value(&Schedule { boards, rooms: far_ends::by_room(compiled) })
}

fn table(compiled: &Compiled) -> Table {
    let mut table = Table {
        columns: vec!["board", "place", "terminal", "state", "cable", "conductor", "function", "goes to"],
        rows: Vec::new(),
    };
    for board in in_order(&compiled.site) {
        let place = words::room(&compiled.site, compiled.site.boards[board].room);
        for row in rows(compiled, board) {
            let state = if row.free { "free" } else { "in use" };
            let title = Paper.board(&compiled.site, board);
            let Row { mark, cable, conductor, function, goes, .. } = row;
            table.rows.push(vec![title, place.clone(), mark, state.to_owned(), cable, conductor, function, goes]);
        }
    }
    table
}

/// Panels, strips, modules, receivers, keypads; each kind by title.
fn in_order(site: &Site) -> Vec<Id<Board>> {
    let rank = |kind: &BoardKind| match kind {
        BoardKind::Panel => 0,
        BoardKind::Strip { .. } => 1,
        BoardKind::Module { .. } => 2,
        BoardKind::Receiver => 3,
        BoardKind::Keypad => 4,
    };
    let mut boards: Vec<Id<Board>> = site.boards.entries().map(|(id, _)| id).collect();
    boards.sort_by(|a, b| {
        let (one, other) = (&site.boards[*a], &site.boards[*b]);
        rank(&one.kind).cmp(&rank(&other.kind)).then_with(|| natural(&one.title, &other.title)).then_with(|| a.cmp(b))
    });
    boards
}

fn sheet(compiled: &Compiled, board: Id<Board>) -> BoardSheet {
    BoardSheet {
        title: Paper.board(&compiled.site, board),
        facts: facts(&compiled.site, board),
        rows: rows(compiled, board),
        joints: joints(compiled, board),
        spares: spares(compiled, board),
    }
}

fn facts(site: &Site, id: Id<Board>) -> String {
    let board = &site.boards[id];
    let mut facts = vec![board.kind.noun().to_owned()];
    if let Some(room) = board.room {
        let level = &site.levels[site.rooms[room].level].title;
        facts.push(format!("in {}, {level}", site.rooms[room].title));
    }
    facts.extend(site.part_of(id).map(|part| part.title.clone()));
    facts.extend(board.address.as_ref().map(|address| format!("address {}", address.value)));
    if let Some(most) = capacity(site, id) {
        facts.push(format!("at most {} under a screw", count(most as usize, "conductor", None)));
    }
    facts.join(" · ")
}

fn rows(compiled: &Compiled, board: Id<Board>) -> Vec<Row> {
    let Compiled { site, wiring, .. } = compiled;
    let mut listed = terminals(site, board);
    // A mark that the part does not list is printed all the same: what is in the wall must be on the paper.
    for (_, mark) in wiring.terminals.keys().filter(|(on, _)| *on == board) {
        if !listed.iter().any(|terminal| terminal.mark == *mark) {
            listed.push(crate::model::Terminal { mark: mark.clone(), roles: Vec::new() });
        }
    }
    let mut rows = Vec::new();
    for terminal in listed {
        let role = words::roles(site, board, &terminal.roles);
        let things = wiring.terminals.get(&(board, terminal.mark.clone())).map(Vec::as_slice).unwrap_or_default();
        let start = rows.len();
        let row = |cable: String, conductor: String, function: String, goes: String| Row {
            mark: terminal.mark.clone(),
            first: false,
            free: false,
            cable,
            conductor,
            function,
            goes,
        };
        for thing in things {
            match thing {
                OnTerminal::Conductor(cable, index) => {
                    let Some(cable) = wiring.cables.get(*cable) else { continue };
                    let Some(used) = cable.conductors.get(*index) else { continue };
                    let here = Point::Terminal(board, terminal.mark.clone());
                    let other = if used.near.contains(&here) { &used.far } else { &used.near };
                    rows.push(row(
                        cable.label.clone(),
                        words::conductor(site, cable, used.position),
                        words::function(site, used.run, used.function),
                        meets(site, wiring, used, other),
                    ));
                }
                OnTerminal::Link(to, mark) => {
                    let goes = format!("{}, terminal {mark}", Paper.board(site, *to));
                    rows.push(row("link".into(), "short wire".into(), role.clone(), goes));
                }
            }
        }
        for fitted in wiring.fitted.iter().filter(|fitted| fitted.board == board) {
            let across = |other: &str| format!("across to terminal {other}");
            let goes = match (fitted.across.0 == terminal.mark, fitted.across.1 == terminal.mark) {
                (true, _) if fitted.in_series() => "in series between this terminal and the cable".to_owned(),
                (true, _) => across(&fitted.across.1),
                (_, true) if !fitted.in_series() => across(&fitted.across.0),
                _ => continue,
            };
            let (what, function, figure) = match &fitted.kind {
                FittedKind::Resistor { value, zone, .. } => {
                    ("resistor", format!("zone {}", site.zones[*zone].number.value), words::resistor(value))
                }
                FittedKind::Terminator(value) => ("terminator", "end of the bus".to_owned(), words::terminator(*value)),
            };
            rows.push(row(what.into(), "lead".into(), function, format!("{goes}: {figure}")));
        }
        if rows.len() == start {
            rows.push(Row { free: true, ..row(String::new(), String::new(), role, String::new()) });
        }
        if let Some(first) = rows.get_mut(start) {
            first.first = true;
        }
    }
    rows
}

/// Joints of a series loop's cables that all start at this board.
fn joints(compiled: &Compiled, board: Id<Board>) -> Vec<Joint> {
    let Compiled { site, wiring, .. } = compiled;
    let mut joints = Vec::new();
    for cable in &wiring.cables {
        for used in &cable.conductors {
            for point in &used.near {
                let (Point::Joint(at, run), Function::LoopBack(zone)) = (point, used.function) else { continue };
                let partner = wiring.conductor_for(*run, Function::LoopOut(zone));
                if let Some((next, other)) = partner.filter(|_| *at == board) {
                    joints.push(Joint {
                        one: words::labelled(site, cable, used),
                        other: words::labelled(site, next, other),
                        function: words::pair(site, used.run, used.function),
                    });
                }
            }
        }
    }
    joints
}

/// Conductors that end at this board with nothing to do.
fn spares(compiled: &Compiled, board: Id<Board>) -> Vec<Spare> {
    let Compiled { site, wiring, .. } = compiled;
    let has_board = |run: Id<Run>| site.runs[run].mounted.contains(&Mounted::Board(board));
    let ends_here = |cable: &&Cable| {
        let near = match site.runs[cable.run].upstream {
            Some(upstream) => has_board(upstream),
            None => site.start_board(cable.run) == Some(board),
        };
        !cable.spare.is_empty() && (near || has_board(cable.run))
    };
    let mut cables: Vec<&Cable> = wiring.cables.iter().filter(ends_here).collect();
    cables.sort_by(|a, b| natural(&a.label, &b.label));
    cables
        .into_iter()
        .map(|cable| Spare { cable: cable.label.clone(), conductors: words::spare(site, cable) })
        .collect()
}
