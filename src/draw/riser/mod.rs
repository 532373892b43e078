//! The house from top to bottom: levels as bands in their order, in each the boards with their bus and the rooms with
//! the cables that end there.
//!
//! A *band* is a level; one that stands apart, as an outbuilding, is a band beside those of the house. A *strip* is a row
//! of boxes in a band: first those of boards, then those of rooms. A *wire* is a cable of a bus from one board to the
//! next: it leaves a box at its upper right, runs in a *lane* above the boxes and, where the other is on another strip,
//! in the *channel* beside the house, and comes to a box at its upper left. All other cables are told in the box in which
//! they end, with the letter of the board from which they come. Only the order of the levels is to scale.
//!
//! What does not fit goes to further parts: the boards of all levels first, so that the bus stays whole where it can, then
//! the rooms. A wire that a page parts says where it goes on.
//!
//! A wire turns by a slanted corner, so that one that crosses it, or ends at the same height, is not read as joined.

mod bands;
mod cell;
mod channel;
mod grid;
mod page;
#[cfg(test)]
mod tests;
mod wires;

use super::legend::{self, Words};
use super::role::Role;
use super::scene::{Link, Point, Scene, Shape, Size};
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
    /// Nothing uses them: spare, or dead.
    pub(crate) idle: bool,
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
    (Role::Device, "board that its bus feeds, by number"),
    (Role::Bare, "strip, joint box or joint"),
    (Role::Room, "room, with the cables that end there"),
    (Role::Exit, "way out of the house"),
    (Role::Cable, WIRE),
    (Role::Cable, PIECE),
    (Role::Idle, "cable without use: spare, or dead"),
    (Role::Conductor, "short wires at one place"),
    (Role::Joint, "goes on from or to that number"),
    (Role::Heading, "18/2 CL2R: 18 AWG, 2 conductors, jacket"),
];
const LEGEND_COLUMNS: usize = 3;
/// Words of two signs of one role: a wire, and the short piece of cable in a box.
const WIRE: &str = "cable; lines that cross are not joined";
const PIECE: &str = "short: cable from that board or room";

/// Between bands, and above the legend.
const BETWEEN: f64 = 3.0;

/// The drawing, in as many scenes as it needs where none may be larger than `room`, and the first by
/// `head` lower if its first strip allows that.
pub(crate) fn draw(riser: &Riser, room: Size, head: f64) -> Vec<Scene> {
    let column = sheet::room(room).width / 3.0;
    let legend = legend::most_height(LEGEND, column, LEGEND_COLUMNS);
    let bottom = INSET + sheet::room(room).height;
    legend::fitting(legend, bottom, |legend| with_legend(riser, room, head, legend))
}

/// The legend without words of a sign that a page has not, where another sign has the same role.
fn legend_of(scene: &Scene) -> Vec<(Role, &'static str)> {
    let lines = || {
        let cables = scene.marks.iter().filter(|mark| mark.role == Role::Cable);
        cables.filter_map(|mark| if let Shape::Line(points) = &mark.shape { Some(points.as_slice()) } else { None })
    };
    // A wire leaves its box upwards.
    let is_piece = |points: &[Point]| matches!(points, [one, other] if (one.y - other.y).abs() < 1e-6);
    let (pieces, wires) = (lines().any(is_piece), lines().any(|points| !is_piece(points)));
    let has = |words: &str| (words != WIRE || wires) && (words != PIECE || pieces);
    LEGEND.iter().copied().filter(|(_, words)| has(words)).collect()
}

/// The drawing with so much room for the legend, and the lower edge of the longest page.
fn with_legend(riser: &Riser, room: Size, head: f64, legend: f64) -> (Vec<Scene>, f64) {
    let sheet = sheet::room(room);
    let grid = grid::Grid::new(sheet.width, riser.storeys.iter().any(|storey| !storey.apart.is_empty()));
    let column = sheet.width / 3.0;
    let free = sheet.height - BETWEEN - legend;
    let plan = |parted| bands::Plan::new(riser, &grid, parted);
    // All on one page; else the bus on one, and the rooms behind; else as it comes.
    let mut found = plan(false);
    let mut on = page::pages(&found, free, head);
    if on.len() > 1 || !page::are_all_drawn(&found, &on) {
        found = found.boards_first();
        on = page::pages(&found, free, head);
    }
    if !page::are_all_drawn(&found, &on) {
        found = plan(true).boards_first();
        on = page::pages(&found, free, head);
    }
    let (plan, pages) = (found, on);
    let of = pages.len();
    let mut lowest = 0.0_f64;
    let draw = |(number, page): (usize, &page::Page)| {
        let mut scene = Scene::default();
        let bottom = page::add(&mut scene, &plan, &pages, page);
        let words = legend_of(&scene);
        let bottom = legend::add(&mut scene, &words, (INSET, bottom + BETWEEN), column, LEGEND_COLUMNS);
        lowest = lowest.max(bottom + if number == 1 { head } else { 0.0 });
        let block = TitleBlock { part: (number, of), ..riser.block.clone() };
        Scene { lists_rooms: !page.has_boards(&plan), ..sheet::finish(scene, room.width, bottom, &block) }
    };
    let scenes = (1..).zip(&pages).map(draw).collect();
    (scenes, lowest)
}
