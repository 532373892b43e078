//! Terminal schedule: what is under every screw of every board, and at the devices which colour goes where.
//!
//! Every end of every conductor in the house has one row: at a board under its terminal, in a joint of its enclosure, or
//! under no screw; in a joint box;
//! elsewhere in its room, for the person who stands there. Links, and leads of resistors, have theirs as well. In the CSV
//! each conductor has a row of its own, and so it has a line of its own in the drawing of the enclosure.

mod loose;
mod nets;
mod row;
mod screws;
mod shields;

use serde::Serialize;
use serde_json::Value;

use super::natural::natural;
use super::room_ends::Ends;
use super::{Document, Orientation, Table, View, board_marks, procedure, room_ends, value};
use crate::base::Id;
use crate::base::wording::{count, list};
use crate::calc::power::Consumer;
use crate::compiled::Compiled;
use crate::model::terminal::capacity;
use crate::model::{Board, BoardKind, Site};
use crate::register::{Cable, DeadCable, End, Place};
use crate::template;
use crate::words::{self, Paper};

pub(crate) use nets::{Key, met as joined_with};
use row::end_word;
pub(crate) use row::{At, Row, State, Thing};

/// The terminal schedule.
pub(crate) static DOCUMENT: Document = Document {
    name: "terminal-schedule",
    title: "Terminal schedule",
    about: "what is under every screw, and which colour goes where at the devices",
    orientation: Orientation::Portrait,
    template: template!("terminal-schedule"),
    view: View::Plain(view),
    table: Some(table),
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

#[derive(Serialize)]
struct Joint {
    one: String,
    other: String,
    function: String,
    place: String,
}

#[derive(Serialize)]
struct Spare {
    cable: String,
    conductors: String,
    place: String,
}

/// A dead cable that is off its terminals.
#[derive(Serialize)]
struct Capped {
    cable: String,
    /// Where its other end is.
    other: String,
    because: String,
    place: String,
}

fn view(compiled: &Compiled) -> Value {
    let ends = Ends::of(compiled);
    let boards = (1..).zip(in_order(&compiled.site));
    let boards = boards.map(|(number, board)| sheet(compiled, &ends, number, board)).collect();
    value(&Schedule { boards, rooms: room_ends::by_room(compiled) })
}

fn table(compiled: &Compiled) -> Table {
    let site = &compiled.site;
    let columns = vec!["board", "place", "terminal", "state", "cable", "conductor", "function", "goes to", "end"];
    let mut table = Table { columns, rows: Vec::new() };
    let ends = Ends::of(compiled);
    for (number, board) in (1..).zip(in_order(site)) {
        let title = Paper.board(site, board);
        let place = words::room(site, site.boards[board].room);
        for row in rows(compiled, &ends, number, board) {
            let (state, end) = (row.state.word().to_owned(), row.end.map_or("", end_word).to_owned());
            let Row { mark, cable, conductor, function, goes, .. } = row;
            table.rows.push(vec![title.clone(), place.clone(), mark, state, cable, conductor, function, goes, end]);
        }
    }
    for sheet in room_ends::by_room(compiled) {
        for row in sheet.rows {
            for conductor in row.conductors {
                let end = if row.starts { End::Near } else { End::Far };
                let state = row.state.word();
                let cells = ["", &sheet.place, "", state, &row.cable, &conductor, &row.function, &row.goes];
                table.rows.push(cells.into_iter().chain([end_word(end)]).map(str::to_owned).collect());
            }
        }
    }
    table
}

/// Panels, power supplies, strips, modules, receivers, keypads, joint boxes; each kind by title.
pub(crate) fn in_order(site: &Site) -> Vec<Id<Board>> {
    let rank = |kind: &BoardKind| match kind {
        BoardKind::Panel => 0,
        BoardKind::PowerSupply => 1,
        BoardKind::Strip { .. } => 2,
        BoardKind::Module { .. } => 3,
        BoardKind::Receiver => 4,
        BoardKind::Keypad { .. } => 5,
        BoardKind::JointBox { .. } => 6,
    };
    let mut boards: Vec<Id<Board>> = site.boards.entries().map(|(id, _)| id).collect();
    boards.sort_by(|a, b| {
        let (one, other) = (&site.boards[*a], &site.boards[*b]);
        rank(&one.kind).cmp(&rank(&other.kind)).then_with(|| natural(&one.title, &other.title)).then_with(|| a.cmp(b))
    });
    boards
}

/// The powered devices on a way to the monitoring service that an output of this board feeds: their cables are no runs.
pub(crate) fn unwired(compiled: &Compiled, board: Id<Board>) -> String {
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
    list(&fed, "and")
}

fn sheet(compiled: &Compiled, ends: &Ends, number: usize, board: Id<Board>) -> BoardSheet {
    BoardSheet {
        title: Paper.board(&compiled.site, board),
        facts: facts(&compiled.site, board),
        power: procedure::of_board(&compiled.site, board).unwrap_or_default(),
        rows: at_terminals(compiled, number, board),
        joints: joints(compiled, number, board),
        ends: in_enclosure(ends, number, board),
        is_box: matches!(compiled.site.boards[board].kind, BoardKind::JointBox { .. }),
        spares: spares(compiled, number, board),
        dead: capped(compiled, number, board),
        unwired: unwired(compiled, board),
    }
}

/// Every row of a board, which has a number in the order of the boards: a conductor each.
pub(crate) fn rows(compiled: &Compiled, ends: &Ends, number: usize, board: Id<Board>) -> Vec<Row> {
    let mut rows = at_terminals(compiled, number, board);
    for (pair, row) in loose::joined(compiled, board) {
        let place = pair.map(|nth| board_marks::joint(number, nth)).unwrap_or_default();
        rows.push(Row { place, ..row });
    }
    for end in in_enclosure(ends, number, board) {
        rows.extend(row::of_ends(&end));
    }
    for (nth, at) in loose::spare_at(compiled, board).into_iter().enumerate() {
        let place = board_marks::spare(number, nth);
        rows.extend(loose::spare(compiled, at).into_iter().map(|row| Row { place: place.clone(), ..row }));
    }
    for (nth, at) in loose::capped_at(compiled, board).into_iter().enumerate() {
        rows.push(Row { place: board_marks::dead(number, nth), ..loose::capped(at) });
    }
    nets::number(compiled, rows.iter_mut());
    rows
}

/// The rows of the table of terminals.
fn at_terminals(compiled: &Compiled, number: usize, board: Id<Board>) -> Vec<Row> {
    let mut rows = screws::rows(compiled, board);
    rows.extend(loose::off_screws(compiled, board));
    rows.extend(shields::off_screws(compiled, board));
    rows.extend(loose::dead_off_screws(compiled, board));
    let placed = |(nth, row)| Row { place: board_marks::row(number, nth), ..row };
    rows.into_iter().enumerate().map(placed).collect()
}

/// What is joined in the enclosure, under no screw of the board.
fn in_enclosure(ends: &Ends, number: usize, board: Id<Board>) -> Vec<room_ends::EndRow> {
    let mut rows = ends.in_enclosure(board).to_vec();
    for (nth, row) in rows.iter_mut().enumerate() {
        row.place = board_marks::end(number, nth);
    }
    rows
}

/// What a board is, where, and how much a terminal of it takes.
pub(crate) fn facts(site: &Site, id: Id<Board>) -> String {
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

/// Joints of a series loop's cables that all start at this board.
fn joints(compiled: &Compiled, number: usize, board: Id<Board>) -> Vec<Joint> {
    let site = &compiled.site;
    let joint = |(nth, [(cable, used), (next, other)]): (usize, loose::Pair<'_>)| Joint {
        one: words::labelled(site, cable, used),
        other: words::labelled(site, next, other),
        function: words::pair(site, used.run, used.function),
        place: board_marks::joint(number, nth),
    };
    loose::pairs(compiled, board).into_iter().enumerate().map(joint).collect()
}

fn spares(compiled: &Compiled, number: usize, board: Id<Board>) -> Vec<Spare> {
    let spare = |(nth, (cable, _)): (usize, (&Cable, End))| Spare {
        cable: cable.label.clone(),
        conductors: words::spare(&compiled.site, cable),
        place: board_marks::spare(number, nth),
    };
    loose::spare_at(compiled, board).into_iter().enumerate().map(spare).collect()
}

fn capped(compiled: &Compiled, number: usize, board: Id<Board>) -> Vec<Capped> {
    let site = &compiled.site;
    let one = |(nth, (cable, end)): (usize, (&DeadCable, End))| {
        let other = match cable.place(end.other()) {
            Place::Board(board) => Paper.board(site, board),
            Place::Room(room) => words::room(site, room),
        };
        let (label, because) = (cable.label.clone(), cable.because.clone());
        Capped { cable: label, other, because, place: board_marks::dead(number, nth) }
    };
    loose::capped_at(compiled, board).into_iter().enumerate().map(one).collect()
}
