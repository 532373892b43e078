//! Enclosures: every board of the terminal schedule as a drawing, made of the same rows.
//!
//! Each line of a drawing leads to its row on the schedule, and the row leads back. Out of scope: what stands in rooms
//! (the schedule's second part, and the device sketches).

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;
use serde_json::Value;

use super::room_ends::Ends;
use super::terminal_schedule::{self, At, Row, State, Thing};
use super::{Document, Drawing, Drawings, Orientation, Shown, View, colours, parts, title_block, value};
use crate::base::Id;
use crate::base::wording::list;
use crate::compiled::Compiled;
use crate::draw::Link;
use crate::draw::enclosure::{self, Enclosure, Into, Kind, Leaves, Station, Wire};
use crate::model::Board;
use crate::quantity::Colour;
use crate::quantity::colour::Hue;
use crate::register::wiring::OnTerminal;
use crate::register::{End, Lead, Place, Point};
use crate::template;
use crate::words::Paper;

/// The enclosures.
pub(crate) static DOCUMENT: Document = Document {
    name: "enclosures",
    title: "Enclosures",
    about: "every board's terminals as a drawing: each conductor in its colour, in its cable, to where it goes",
    orientation: Orientation::Portrait,
    template: template!("enclosures"),
    view: View::Drawn(view),
    table: None,
};

#[derive(Serialize)]
struct Sheet {
    /// What the letters of colours mean.
    colours: String,
    boards: Vec<BoardDrawings>,
}

#[derive(Serialize)]
struct BoardDrawings {
    title: String,
    drawings: Vec<Shown>,
    /// What the board's outputs feed by cables that the spec does not have.
    unwired: String,
}

fn view(compiled: &Compiled, drawings: &mut Drawings) -> Value {
    let joined = joined(compiled);
    let ends = Ends::of(compiled);
    let board = |(number, board): (usize, Id<Board>)| BoardDrawings {
        title: Paper.board(&compiled.site, board),
        drawings: drawings.show(of(compiled, &ends, (number, board), joined.get(&board))),
        unwired: terminal_schedule::unwired(compiled, board),
    };
    value(&Sheet { colours: colours::of(&compiled.wiring), boards: numbered(compiled).map(board).collect() })
}

/// The boards with the numbers that they have on the schedule.
fn numbered(compiled: &Compiled) -> impl Iterator<Item = (usize, Id<Board>)> {
    (1..).zip(terminal_schedule::in_order(&compiled.site))
}

/// For each board the drawings of those that cables and links go to from it.
fn joined(compiled: &Compiled) -> BTreeMap<Id<Board>, BTreeSet<usize>> {
    let Compiled { site, wiring, .. } = compiled;
    let numbers: BTreeMap<Id<Board>, usize> = numbered(compiled).map(|(number, board)| (board, number)).collect();
    let mut joined: BTreeMap<Id<Board>, BTreeSet<usize>> = BTreeMap::new();
    let mut join = |one: Id<Board>, other: Id<Board>| {
        for (from, to) in [(one, other), (other, one)] {
            joined.entry(from).or_default().extend(numbers.get(&to).filter(|_| from != to));
        }
    };
    for cable in &wiring.cables {
        // A pair may land on another board than the rest of its cable: on a power supply beside the panel, or on the fault
        // contact of one in another room.
        let points = cable.conductors.iter().flat_map(|used| used.near.iter().chain(&used.far));
        let mut boards: BTreeSet<Id<Board>> = points.filter_map(Point::terminal).map(|(board, _)| board).collect();
        boards.extend([End::Near, End::Far].into_iter().filter_map(|end| match cable.place(site, end) {
            Place::Board(board) => Some(board),
            Place::Room(_) => None,
        }));
        for one in &boards {
            for other in &boards {
                join(*one, *other);
            }
        }
    }
    for ((board, _), things) in &wiring.terminals {
        for thing in things {
            if let OnTerminal::Link(to, _) = thing {
                join(*board, *to);
            }
        }
    }
    joined
}

/// What the head of the sheet takes of its first page, in millimetres.
const HEAD: f64 = 20.0;

/// The drawing of a board, in one part or more; none where nothing ends at it.
fn of(
    compiled: &Compiled,
    ends: &Ends,
    (number, board): (usize, Id<Board>),
    joined: Option<&BTreeSet<usize>>,
) -> Vec<Drawing> {
    let site = &compiled.site;
    let title = format!("Drawing {number}: terminals of {}", Paper.board(site, board));
    let others: Vec<String> = joined.into_iter().flatten().map(usize::to_string).collect();
    let on = match others.as_slice() {
        [] => String::new(),
        [one] => format!(" · goes on in drawing {one}"),
        several => format!(" · goes on in drawings {}", list(several, "and")),
    };
    let facts = terminal_schedule::facts(site, board) + &on;
    let drawn = Enclosure {
        block: title_block::of(compiled, &DOCUMENT, &title, "not to scale"),
        facts: facts.clone(),
        stations: stations(terminal_schedule::rows(compiled, ends, number, board)),
    };
    // The first drawing stands below the head of the sheet.
    let head = if number == 1 { HEAD } else { 0.0 };
    let scenes = enclosure::draw(&drawn, DOCUMENT.orientation.room(), head);
    let words = format!("{facts}. Every line is a row of the terminal schedule, which says the same in words.");
    parts(&format!("enclosure-{number}"), &title, &words, scenes)
}

/// Rows of one terminal or joint in a row become wires of one station.
fn stations(rows: Vec<Row>) -> Vec<Station> {
    let pairs = pairs(&rows);
    let behind = behind(&rows);
    let mut stations: Vec<(At, String, Station)> = Vec::new();
    let mut placed = std::collections::BTreeSet::new();
    for ((row, pair), behind) in rows.into_iter().zip(pairs).zip(behind) {
        // What is under one mark, or in one joint, or of one cable and not connected.
        let of = match row.at {
            At::Screw => row.mark.clone(),
            At::Joint(_) => String::new(),
            At::Socket | At::Capped | At::Unknown => format!("{} {}", row.mark, row.cable),
        };
        let kind = match row.at {
            At::Screw => Kind::Terminal,
            At::Joint(_) => Kind::Joint,
            At::Socket => Kind::Socket,
            At::Capped => Kind::Cap,
            At::Unknown => Kind::Unknown,
        };
        let is_first = placed.insert(row.place.clone());
        let mark = if row.mark.is_empty() { row.state.word().to_owned() } else { row.mark.clone() };
        let at = row.at;
        let wire = wire(row, pair, behind, is_first);
        match stations.iter_mut().find(|(other, name, _)| *other == at && *name == of) {
            Some((.., station)) => station.wires.push(wire),
            None => stations.push((at, of, Station { kind, mark, wires: vec![wire] })),
        }
    }
    stations.into_iter().map(|(.., station)| station).collect()
}

fn wire(row: Row, pair: Option<usize>, behind: bool, is_first: bool) -> Wire {
    let colour = match &row.thing {
        Thing::Conductor(colour) | Thing::Lead(_, colour, _) => *colour,
        Thing::Nothing | Thing::Link(_) | Thing::Across(..) | Thing::InSeries(..) => None,
    };
    let leaves = match row.state {
        State::Free | State::StaysEmpty | State::NotTold => Leaves::Nothing,
        State::Reserved | State::Spare | State::Dead => Leaves::Idle,
        State::InUse if behind => Leaves::Behind,
        State::InUse => Leaves::Live,
    };
    let into = match (&row.thing, pair) {
        (Thing::Conductor(_), _) => Into::Cable,
        (Thing::InSeries(_, resistors), _) => Into::InSeries(resistors.iter().map(|bands| inks(bands)).collect()),
        (Thing::Lead(Lead::Earth, ..), _) => Into::Earth,
        (Thing::Link(_), Some(pair)) => Into::Pair(pair, enclosure::Thing::Link),
        (Thing::Across(_, bands), Some(pair)) => {
            Into::Pair(pair, enclosure::Thing::Resistor(inks(bands.as_deref().unwrap_or_default())))
        }
        (Thing::Lead(Lead::BatteryPositive | Lead::BatteryNegative, _, fused), Some(pair)) => {
            Into::Pair(pair, enclosure::Thing::Battery(*fused))
        }
        (Thing::Lead(Lead::AcA | Lead::AcB, _, fused), Some(pair)) => {
            Into::Pair(pair, enclosure::Thing::Transformer(*fused))
        }
        (Thing::Nothing | Thing::Link(_) | Thing::Across(..) | Thing::Lead(..), None | Some(_)) => Into::Words,
    };
    let letters = if leaves == Leaves::Nothing { row.state.word().to_owned() } else { row.letters() };
    let id = if is_first { row.place.clone() } else { String::new() };
    let link = Link { to: format!("{}.html#{}", terminal_schedule::DOCUMENT.name, row.place), id };
    Wire { letters, colour, does: row.function, leaves, of: row.cable, into, goes: row.goes, link }
}

fn inks(bands: &[Hue]) -> Vec<Colour> {
    bands.iter().map(|hue| Colour::new(*hue, None)).collect()
}

/// For each row the number of the pair that it is in, where the other of the two is a row of this board too.
fn pairs(rows: &[Row]) -> Vec<Option<usize>> {
    let mut pairs = vec![None; rows.len()];
    let mut number = 0;
    for (at, row) in rows.iter().enumerate() {
        if pairs.get(at).is_some_and(Option::is_some) {
            continue;
        }
        let other =
            rows.iter().enumerate().skip(at + 1).find(|(other_at, other)| {
                pairs.get(*other_at).is_some_and(Option::is_none) && are_ends_of_one(row, other)
            });
        if let Some((other, _)) = other {
            number += 1;
            for end in [at, other] {
                if let Some(pair) = pairs.get_mut(end) {
                    *pair = Some(number);
                }
            }
        }
    }
    pairs
}

/// True for the two leads of one thing.
fn are_ends_of_one(one: &Row, other: &Row) -> bool {
    match (&one.thing, &other.thing) {
        (Thing::Link(Some(to)), Thing::Link(Some(from))) => *to == other.mark && *from == one.mark,
        (Thing::Across(to, bands), Thing::Across(from, others)) => {
            *to == other.mark && *from == one.mark && bands == others && one.function == other.function
        }
        (Thing::Lead(one, ..), Thing::Lead(other, ..)) => matches!(
            (one, other),
            (Lead::BatteryPositive, Lead::BatteryNegative)
                | (Lead::BatteryNegative, Lead::BatteryPositive)
                | (Lead::AcA, Lead::AcB)
                | (Lead::AcB, Lead::AcA)
        ),
        (
            Thing::Nothing
            | Thing::Conductor(_)
            | Thing::Link(_)
            | Thing::Across(..)
            | Thing::InSeries(..)
            | Thing::Lead(..),
            _,
        ) => false,
    }
}

/// For each row whether it is a conductor that starts at a resistor in series under the same screw.
fn behind(rows: &[Row]) -> Vec<bool> {
    let in_series = |row: &Row| match row.thing {
        Thing::InSeries(zone, _) => Some((row.mark.clone(), zone)),
        Thing::Nothing | Thing::Conductor(_) | Thing::Link(_) | Thing::Lead(..) | Thing::Across(..) => None,
    };
    let fitted: Vec<_> = rows.iter().filter_map(in_series).collect();
    let zone = |row: &Row| row.key.filter(|_| row.at == At::Screw)?.function?.zone();
    rows.iter().map(|row| zone(row).is_some_and(|zone| fitted.contains(&(row.mark.clone(), zone)))).collect()
}
