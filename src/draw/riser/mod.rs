//! The house from top to bottom: levels as bands in their order, in each the boards with their bus and the rooms with
//! the cables that end there.
//!
//! A *band* is a level; one that stands apart, as an outbuilding, is a band beside those of the house. A *strip* is a row
//! of boxes in a band: first those of boards, then those of rooms. A *wire* is a cable of a bus from one board to the
//! next: it leaves a box at its upper right, runs in a *lane* above the boxes and, where the other is on another strip,
//! in the *channel* beside the house, and comes to a box at its upper left. All other cables are told in the box in which
//! they end, with the letter of the board from which they come. Only the order of the levels is to scale.
//!
//! What does not fit goes to a further part: a band goes there whole where it can, and a wire says where it goes on.

mod bands;
mod cell;
mod grid;
mod page;
#[cfg(test)]
mod tests;
mod wires;

use super::legend::{self, Words};
use super::role::Role;
use super::scene::{Link, Scene, Size};
use super::sheet::{self, INSET, TitleBlock};

/// A house.
#[derive(Clone, Debug)]
pub(crate) struct Riser {
    /// Its title block.
    pub(crate) block: TitleBlock,
    /// From the highest down.
    pub(crate) storeys: Vec<Storey>,
    /// The cables of buses.
    pub(crate) wires: Vec<Wire>,
}

/// What is at one height.
#[derive(Clone, Debug, Default)]
pub(crate) struct Storey {
    /// The level of the house itself.
    pub(crate) house: Option<Level>,
    /// Levels that stand apart from it.
    pub(crate) apart: Vec<Level>,
}

/// A level.
#[derive(Clone, Debug, Default)]
pub(crate) struct Level {
    /// What it is called.
    pub(crate) title: String,
    /// What cables start or are joined in, in the order along the bus.
    pub(crate) boards: Vec<Board>,
    /// Rooms with the cables that end there.
    pub(crate) rooms: Vec<Room>,
}

/// A board, a joint box, or a joint of a bus.
#[derive(Clone, Debug)]
pub(crate) struct Board {
    /// By which wires refer to it; none has that of another.
    pub(crate) id: usize,
    /// What it is.
    pub(crate) kind: Kind,
    /// Its number along the bus; empty where it is on none.
    pub(crate) number: String,
    /// The letter of the cables that start here; empty where none does.
    pub(crate) letter: String,
    /// What it is called.
    pub(crate) title: String,
    /// Where it is.
    pub(crate) room: String,
    /// Its address, what feeds it.
    pub(crate) lines: Vec<String>,
    /// The cables that end in it.
    pub(crate) ends: Vec<Bundle>,
    /// Where it leads on screen.
    pub(crate) link: Option<Link>,
}

/// What a board is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// One with a supply of its own.
    Supply,
    /// One that is fed by its bus.
    Fed,
    /// A strip, a joint box, a joint.
    Bare,
}

/// A room.
#[derive(Clone, Debug, Default)]
pub(crate) struct Room {
    /// What it is called.
    pub(crate) title: String,
    /// The cables that end in it, under no board.
    pub(crate) ends: Vec<Bundle>,
    /// The ways out of the house from here.
    pub(crate) exits: Vec<String>,
}

/// Cables of one type from one place to another.
#[derive(Clone, Debug)]
pub(crate) struct Bundle {
    /// Where they come from, and how many of which type: "A: 3 × 22 AWG, 2 conductors".
    pub(crate) words: String,
    /// Their labels.
    pub(crate) labels: Vec<Label>,
}

/// A cable's label.
#[derive(Clone, Debug)]
pub(crate) struct Label {
    /// The label.
    pub(crate) text: String,
    /// Where it leads on screen.
    pub(crate) link: Option<Link>,
}

/// A cable of a bus, or the short wires between two boards at one place.
#[derive(Clone, Debug)]
pub(crate) struct Wire {
    /// Where it starts.
    pub(crate) from: usize,
    /// Where it ends. No two end at one board.
    pub(crate) to: usize,
    /// Its label, length and what it passes; empty for short wires.
    pub(crate) words: String,
    /// Where these lead on screen.
    pub(crate) link: Option<Link>,
}

impl Kind {
    fn role(self) -> Role {
        match self {
            Self::Supply => Role::Board,
            Self::Fed => Role::Device,
            Self::Bare => Role::Bare,
        }
    }
}

impl Wire {
    fn role(&self) -> Role {
        if self.words.is_empty() { Role::Conductor } else { Role::Cable }
    }
}

/// What the marks mean.
const LEGEND: &Words = &[
    (Role::Level, "level; one beside another stands apart"),
    (Role::Board, "board with a supply of its own"),
    (Role::Device, "module, keypad or receiver, with its number along the bus"),
    (Role::Bare, "strip, joint box or joint"),
    (Role::Room, "room, with the cables that end there"),
    (Role::Cable, "cable; a short piece: from the board of that letter"),
    (Role::Conductor, "short wires between boards at one place"),
    (Role::Joint, "goes on from or to the board of that number"),
    (Role::Exit, "way out of the house"),
];
const LEGEND_COLUMNS: usize = 2;

/// Between bands, and above the legend.
const BETWEEN: f64 = 3.0;

/// The drawing, in as many scenes as it needs where none may be larger than `room`.
pub(crate) fn draw(riser: &Riser, room: Size) -> Vec<Scene> {
    let sheet = sheet::room(room);
    let grid = grid::Grid::new(sheet.width, riser.storeys.iter().any(|storey| !storey.apart.is_empty()));
    let plan = bands::Plan::new(riser, &grid);
    let column = sheet.width / 2.0;
    let free = sheet.height - BETWEEN - legend::most_height(LEGEND, column, LEGEND_COLUMNS);
    let pages = page::pages(&plan, free);
    let of = pages.len();
    let draw = |(number, page): (usize, &page::Page)| {
        let mut scene = Scene::default();
        let bottom = page::add(&mut scene, &plan, &pages, page);
        let bottom = legend::add(&mut scene, LEGEND, (INSET, bottom + BETWEEN), column, LEGEND_COLUMNS);
        sheet::finish(scene, room.width, bottom, &TitleBlock { part: (number, of), ..riser.block.clone() })
    };
    (1..).zip(&pages).map(draw).collect()
}
