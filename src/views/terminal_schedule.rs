//! Terminal schedule: what is under every screw of every board, and at the devices which colour goes where.
//!
//! Every end of every conductor in the house has one row: at a board under its terminal, in a joint of its enclosure, or
//! under no screw; in a joint box;
//! elsewhere in its room, for the person who stands there. Links, and leads of resistors, have theirs as well. In the CSV
//! each conductor has a row of its own.

mod shields;

use serde::Serialize;
use serde_json::Value;

use super::natural::natural;
use super::{Document, Orientation, Reader, Table, procedure, room_ends, value};
use crate::base::Id;
use crate::base::wording::{count, list};
use crate::calc::power::Consumer;
use crate::compiled::Compiled;
use crate::model::terminal::{Role, capacity, terminals};
use crate::model::{Board, BoardKind, Site};
use crate::register::{Cable, ConductorUse, DeadCable, End, FittedKind, Function, OnTerminal, Place, Point};
use crate::template;
use crate::terms::WireUse;
use crate::words::{self, Paper};

use super::ends::{meets, socket, there};

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
    rooms: Vec<room_ends::RoomSheet>,
}

#[derive(Serialize)]
struct BoardSheet {
    title: String,
    facts: String,
    /// How it is switched on and off.
    power: String,
    rows: Vec<Row>,
    joints: Vec<Joint>,
    /// Cables that are joined here, or conductors of them, under no screw.
    ends: Vec<room_ends::EndRow>,
    /// A box that has no terminals.
    is_box: bool,
    spares: Vec<Spare>,
    dead: Vec<Capped>,
    /// What the board's outputs feed by cables that the spec does not have.
    unwired: String,
}

#[derive(Default, Serialize)]
struct Row {
    mark: String,
    /// The terminal's first row.
    first: bool,
    /// Nothing is under this screw.
    free: bool,
    /// What is under this screw is not told by the spec.
    unsaid: bool,
    /// A conductor of a dead cable, which is to come off.
    dead: bool,
    /// A conductor that is kept for later.
    #[serde(skip)]
    reserved: bool,
    /// Which end of its cable it is; `None` for a link or a lead.
    #[serde(skip)]
    end: Option<End>,
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

/// A dead cable that is off its terminals.
#[derive(Serialize)]
struct Capped {
    cable: String,
    /// Where its other end is.
    other: String,
    because: String,
}

fn view(compiled: &Compiled) -> Value {
    let boards = in_order(&compiled.site).into_iter().map(|board| sheet(compiled, board)).collect();
    value(&Schedule { boards, rooms: room_ends::by_room(compiled) })
}

fn table(compiled: &Compiled) -> Table {
    let site = &compiled.site;
    let columns = vec!["board", "place", "terminal", "state", "cable", "conductor", "function", "goes to", "end"];
    let mut table = Table { columns, rows: Vec::new() };
    for board in in_order(site) {
        let title = Paper.board(site, board);
        let place = words::room(site, site.boards[board].room);
        let mut add = |cells: [String; 6], end: &str| {
            table.rows.push([title.clone(), place.clone()].into_iter().chain(cells).chain([end.to_owned()]).collect());
        };
        for row in rows(compiled, board) {
            let state = match (row.free, row.unsaid, row.dead) {
                (true, ..) => "free",
                (_, true, _) => NOT_TOLD,
                (.., true) => "dead",
                (false, false, false) if row.reserved => "reserved",
                (false, false, false) => "in use",
            };
            let Row { mark, cable, conductor, function, goes, end, .. } = row;
            add([mark, state.to_owned(), cable, conductor, function, goes], end.map_or("", end_word));
        }
        for (cable, used, end, joint) in joined_at(compiled, board) {
            let conductor = words::conductor(site, cable, used.position);
            let function = words::function(site, used.run, used.function);
            let state = "in use".to_owned();
            add(["joint".to_owned(), state, cable.label.clone(), conductor, function, joint], end_word(end));
        }
        for row in room_ends::in_enclosure(compiled, board) {
            let end = if row.starts { "near" } else { "far" };
            for conductor in row.conductors {
                let (state, cable) = (row.state.to_owned(), row.cable.clone());
                add(["joint".to_owned(), state, cable, conductor, row.function.clone(), row.goes.clone()], end);
            }
        }
        for (cable, end) in spare_at(compiled, board) {
            for position in &cable.spare {
                let conductor = words::conductor(site, cable, *position);
                let goes = "park it, marked".to_owned();
                add(
                    [String::new(), "spare".to_owned(), cable.label.clone(), conductor, "spare".to_owned(), goes],
                    end_word(end),
                );
            }
        }
        for (cable, end) in capped_at(compiled, board) {
            let goes = format!("{}: {}", words::dead_end(cable), cable.because);
            add(
                [String::new(), "dead".to_owned(), cable.label.clone(), "all".to_owned(), "dead".to_owned(), goes],
                end_word(end),
            );
        }
    }
    for sheet in room_ends::by_room(compiled) {
        for row in sheet.rows {
            for conductor in row.conductors {
                let end = if row.starts { End::Near } else { End::Far };
                let cells = ["", &sheet.place, "", row.state, &row.cable, &conductor, &row.function, &row.goes];
                table.rows.push(cells.into_iter().chain([end_word(end)]).map(str::to_owned).collect());
            }
        }
    }
    table
}

/// Of a terminal whose purpose is known, or unknown, and of which the spec does not say what is on it.
const NOT_TOLD: &str = "not in the spec";

fn end_word(end: End) -> &'static str {
    match end {
        End::Near => "near",
        End::Far => "far",
    }
}

/// Panels, power supplies, strips, modules, receivers, keypads, joint boxes; each kind by title.
pub(crate) fn in_order(site: &Site) -> Vec<Id<Board>> {
    let rank = |kind: &BoardKind| match kind {
        BoardKind::Panel => 0,
        BoardKind::PowerSupply => 1,
        BoardKind::Strip { .. } => 2,
        BoardKind::Module { .. } => 3,
        BoardKind::Receiver => 4,
        BoardKind::Keypad => 5,
        BoardKind::JointBox { .. } => 6,
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
        power: procedure::of_board(&compiled.site, board).unwrap_or_default(),
        rows: rows(compiled, board),
        joints: joints(compiled, board),
        ends: room_ends::in_enclosure(compiled, board),
        is_box: matches!(compiled.site.boards[board].kind, BoardKind::JointBox { .. }),
        spares: spares(compiled, board),
        dead: capped(compiled, board),
        unwired: list(&unwired(compiled, board), "and"),
    }
}

/// The powered devices on a way to the monitoring service that an output of this board feeds: their cables are no runs.
fn unwired(compiled: &Compiled, board: Id<Board>) -> Vec<String> {
    let site = &compiled.site;
    let mut fed = Vec::new();
    for feeding in &compiled.power.feedings {
        for (node, load) in feeding.tree.loads().filter(|(_, load)| matches!(load.consumer, Consumer::Hop(..))) {
            let source = feeding.tree.outlet_of(node);
            if source.board() == board && words::is_by_no_cable(site, &feeding.tree, node, load.consumer) {
                fed.push(format!("{} from {}", Paper.consumer(site, load.consumer), Paper.outlet(site, source)));
            }
        }
    }
    fed
}

fn facts(site: &Site, id: Id<Board>) -> String {
    let board = &site.boards[id];
    let mut facts = vec![board.kind.noun().to_owned()];
    if let Some(room) = board.room {
        let level = &site.levels[site.rooms[room].level].title;
        facts.push(format!("in {}, {level}", site.rooms[room].title));
    }
    facts.extend(board.kind.joined().map(|how| format!("conductors are joined: {}", how.printed())));
    facts.extend(site.part_of(id).map(|part| part.title.clone()));
    facts.extend(board.mount.map(|mount| words::height(site, Some(mount))));
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
    let dead = wiring.dead.iter().flat_map(|cable| &cable.conductors);
    let dead = dead.flat_map(|conductor| conductor.near.iter().chain(&conductor.far));
    for (_, mark) in wiring.terminals.keys().chain(dead).filter(|(on, _)| *on == board) {
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
            cable,
            conductor,
            function,
            goes,
            ..Row::default()
        };
        for thing in things {
            match thing {
                OnTerminal::Conductor(cable, index) => {
                    let Some(cable) = wiring.cables.get(*cable) else { continue };
                    let Some(used) = cable.conductors.get(*index) else { continue };
                    let here = Point::Terminal(board, terminal.mark.clone());
                    let end = if used.near.contains(&here) { End::Near } else { End::Far };
                    rows.push(Row { end: Some(end), ..in_use(compiled, cable, used, end, terminal.mark.clone()) });
                }
                OnTerminal::Shield(cable) => {
                    let Some(cable) = wiring.cables.get(*cable) else { continue };
                    rows.extend(shields::under(compiled, cable, board, &terminal.mark));
                }
                OnTerminal::Lead(lead) => {
                    let lead = words::lead(site, board, *lead);
                    rows.push(row(lead.what.into(), lead.conductor, lead.function.into(), lead.goes));
                }
                OnTerminal::Link(to, mark) => {
                    let goes = format!("{}, terminal {mark}", Paper.board(site, *to));
                    rows.push(row("link".into(), "short wire".into(), role.clone(), goes));
                }
            }
        }
        for cable in &wiring.dead {
            for conductor in cable.on(board, &terminal.mark) {
                let here = Some((board, terminal.mark.clone()));
                let end = if conductor.near == here { End::Near } else { End::Far };
                let function = format!("dead: {}", cable.because);
                let what =
                    row(cable.label.clone(), words::dead_conductor(conductor), function, "take it off".to_owned());
                rows.push(Row { dead: true, end: Some(end), ..what });
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
            let free = !terminal.roles.is_empty() && terminal.roles.iter().copied().all(Role::is_wired_by_spec);
            let empty = row(String::new(), String::new(), role, String::new());
            rows.push(Row { free, unsaid: !free, ..empty });
        }
        if let Some(first) = rows.get_mut(start) {
            first.first = true;
        }
    }
    rows.extend(off_screws(compiled, board));
    rows.extend(shields::off_screws(compiled, board));
    rows.extend(dead_off_screws(compiled, board));
    rows
}

/// Conductors of dead cables that end at this board under no screw of it, of cables that are on others still.
fn dead_off_screws(compiled: &Compiled, board: Id<Board>) -> Vec<Row> {
    let ends = compiled.wiring.dead.iter().flat_map(|cable| [End::Near, End::Far].map(|end| (cable, end)));
    let here = ends.filter(|(cable, end)| !cable.off && cable.place(*end) == Place::Board(board));
    let rows = here.flat_map(|(cable, end)| {
        let loose = cable.conductors.iter().filter(move |conductor| match end {
            End::Near => conductor.near.is_none(),
            End::Far => conductor.far.is_none(),
        });
        loose.map(move |conductor| Row {
            mark: "no screw".to_owned(),
            first: true,
            dead: true,
            end: Some(end),
            cable: cable.label.clone(),
            conductor: words::dead_conductor(conductor),
            function: format!("dead: {}", cable.because),
            goes: "out of its joint or socket, and cap it".to_owned(),
            ..Row::default()
        })
    });
    rows.collect()
}

/// A conductor's row at one of its ends.
fn in_use(compiled: &Compiled, cable: &Cable, used: &ConductorUse, end: End, mark: String) -> Row {
    let Compiled { site, wiring, .. } = compiled;
    Row {
        mark,
        reserved: used.function.wire_use() == WireUse::Reserved,
        end: Some(end),
        cable: cable.label.clone(),
        conductor: words::conductor(site, cable, used.position),
        function: words::function(site, used.run, used.function),
        goes: there(site, wiring, used, end.other()),
        ..Row::default()
    }
}

/// Every end of a used conductor that is at a board.
fn ends_at(compiled: &Compiled, board: Id<Board>) -> impl Iterator<Item = (&Cable, &ConductorUse, End)> {
    let Compiled { site, wiring, .. } = compiled;
    let used = wiring.cables.iter().flat_map(|cable| cable.conductors.iter().map(move |used| (cable, used)));
    used.flat_map(|(cable, used)| [End::Near, End::Far].map(|end| (cable, used, end)))
        .filter(move |(cable, used, end)| used.place(site, cable, *end) == Place::Board(board))
}

/// Conductors that end in a socket of the board, and those for which it has no terminal.
fn off_screws(compiled: &Compiled, board: Id<Board>) -> Vec<Row> {
    let row = |(cable, used, end): (&Cable, &ConductorUse, End)| {
        if used.joined_at(&compiled.site, end).is_some() {
            return None;
        }
        let points = used.points(end);
        let held = |point: &Point| matches!(point, Point::Terminal(..) | Point::Joint(..));
        let mark = match points {
            points if points.iter().any(held) => return None,
            [Point::Socket(_)] => socket(used.function),
            _ if used.function.wire_use() == WireUse::Reserved => "parked".to_owned(),
            _ => "no terminal".to_owned(),
        };
        Some(Row { first: true, ..in_use(compiled, cable, used, end, mark) })
    };
    ends_at(compiled, board).filter_map(row).collect()
}

/// The conductors in joints of a board's enclosure, each with what it is joined to.
fn joined_at(compiled: &Compiled, board: Id<Board>) -> Vec<(&Cable, &ConductorUse, End, String)> {
    let Compiled { site, wiring, .. } = compiled;
    let mut found = Vec::new();
    for (cable, used, end) in ends_at(compiled, board) {
        let joints = used.points(end).iter().filter(|point| matches!(point, Point::Joint(..)));
        let here: Vec<Point> = joints.cloned().collect();
        if !here.is_empty() {
            found.push((cable, used, end, meets(site, wiring, used, &here)));
        }
    }
    found
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

/// Cables with conductors that end at this board with nothing to do, by label.
fn spare_at(compiled: &Compiled, board: Id<Board>) -> Vec<(&Cable, End)> {
    let Compiled { site, wiring, .. } = compiled;
    let cables = wiring.cables.iter().filter(|cable| !cable.spare.is_empty());
    let ends = cables.flat_map(|cable| [End::Near, End::Far].map(|end| (cable, end)));
    let mut here: Vec<(&Cable, End)> =
        ends.filter(|(cable, end)| cable.place(site, *end) == Place::Board(board)).collect();
    here.sort_by(|(a, _), (b, _)| natural(&a.label, &b.label));
    here
}

fn spares(compiled: &Compiled, board: Id<Board>) -> Vec<Spare> {
    let spare = |(cable, _): (&Cable, End)| Spare {
        cable: cable.label.clone(),
        conductors: words::spare(&compiled.site, cable),
    };
    spare_at(compiled, board).into_iter().map(spare).collect()
}

/// Dead cables with an end at this board that is off the terminals.
fn capped_at(compiled: &Compiled, board: Id<Board>) -> Vec<(&DeadCable, End)> {
    let ends = compiled.wiring.dead.iter().flat_map(|cable| [End::Near, End::Far].map(|end| (cable, end)));
    ends.filter(|(cable, end)| cable.off && cable.place(*end) == Place::Board(board)).collect()
}

fn capped(compiled: &Compiled, board: Id<Board>) -> Vec<Capped> {
    let site = &compiled.site;
    let one = |(cable, end): (&DeadCable, End)| {
        let other = match end {
            End::Near => cable.place(End::Far),
            End::Far => cable.place(End::Near),
        };
        let other = match other {
            Place::Board(board) => Paper.board(site, board),
            Place::Room(room) => words::room(site, room),
        };
        Capped { cable: cable.label.clone(), other, because: cable.because.clone() }
    };
    capped_at(compiled, board).into_iter().map(one).collect()
}
