//! Riser: the house from top to bottom, with what is on each level and the cables between.
//!
//! For the electrician, who sees what comes through which floor, and for the installer. Every cable of the spec stands in
//! it: one of a bus between its boards, each other where it ends, and where that is in a board, in its room once more.
//! Dead cables stand where their ends are known. Out of scope: how long a cable is and which way it
//! takes (wire-label list), and what lands where (terminal schedule).

mod cables;
mod house;

use serde::Serialize;
use serde_json::Value;

use super::{Document, Drawing, Drawings, Orientation, Shown, View, cable_marks, parts, title_block, value};
use crate::compiled::Compiled;
use crate::draw::riser::{self, Bundle, Level, Riser};
use crate::register::DeadCable;

/// The riser.
pub(crate) static DOCUMENT: Document = Document {
    name: "riser",
    title: "Riser",
    about: "levels with their boards and the bus from board to board; printed by itself, it also has the cables that end in each room, and the ways out",
    orientation: Orientation::Landscape,
    template: crate::template!("riser"),
    view: View::Drawn(view),
    table: None,
};

/// What the head of the first page takes: the first drawing stands below it.
const HEAD: f64 = 17.0;

#[derive(Serialize)]
struct Sheet {
    drawings: Vec<Shown>,
}

fn view(compiled: &Compiled, drawings: &mut Drawings) -> Value {
    value(&Sheet { drawings: drawings.show(drawn(compiled)) })
}

fn drawn(compiled: &Compiled) -> Vec<Drawing> {
    let (storeys, wires) = house::of(compiled);
    if storeys.is_empty() {
        return Vec::new();
    }
    let block = title_block::of(compiled, &DOCUMENT, "Riser", "not to scale");
    let riser = Riser { block, storeys, wires };
    let scenes = riser::draw(&riser, DOCUMENT.orientation.room(), HEAD);
    parts("riser", "Riser, not to scale", &said(&riser), scenes)
}

/// True where the riser has a place for a dead cable.
pub(crate) fn has_dead(cable: &DeadCable) -> bool {
    cables::dead_end(cable).is_some()
}

/// The riser in words.
fn said(riser: &Riser) -> String {
    let levels = riser.storeys.iter().flat_map(|storey| storey.house.iter().chain(&storey.apart));
    let levels: Vec<String> = levels.map(of_level).collect();
    levels.join(". ")
}

fn of_level(level: &Level) -> String {
    let named = |words: &[&str]| words.iter().filter(|word| !word.is_empty()).copied().collect::<Vec<_>>().join(" ");
    let boards = level.boards.iter().map(|board| {
        named(&[&board.letter, &board.number, &board.title]) + &board.ends.iter().map(of_bundle).collect::<String>()
    });
    let rooms = level.rooms.iter().map(|room| {
        let exits = room.exits.iter().map(|exit| format!(", {exit}"));
        room.title.clone() + &room.ends.iter().map(of_bundle).chain(exits).collect::<String>()
    });
    format!("{}: {}", level.title, boards.chain(rooms).collect::<Vec<_>>().join("; "))
}

fn of_bundle(bundle: &Bundle) -> String {
    let labels: Vec<&str> = bundle.labels.iter().map(|label| label.text.as_str()).collect();
    format!(", {} ({})", bundle.words, labels.join(" "))
}
