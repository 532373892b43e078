//! The terminals of a board as they lie in its enclosure: the board at the left, the house at the right.
//!
//! A *station* is a terminal, or what holds conductors instead: a socket, a joint, a cap. From it go *wires*, one below
//! the other, each with the letters of its colour and what it does. Wires of one cable meet in a *piece* of it, a thick
//! line with the cable's label, behind which stands where each goes on. What is no cable (links, leads, resistors) has
//! its words in the same column; two wires that end in one thing, as in a battery, are a *pair*.
//!
//! What does not fit a page goes on in a further scene, cut where it parts the fewest cables; each piece tells where the
//! others of its cable are.

mod page;
mod piece;
mod symbol;
#[cfg(test)]
mod tests;
mod words;

use super::legend::{self, Words};
use super::role::Role;
use super::scene::{Link, Scene, Size};
use super::sheet::{self, INSET, TitleBlock};
use super::text;
use crate::quantity::Colour;

/// A board with everything that ends at it.
#[derive(Clone, Debug)]
pub(crate) struct Enclosure {
    /// Its title block.
    pub(crate) block: TitleBlock,
    /// What it is and where.
    pub(crate) facts: String,
    /// Its terminals in their order, then what is under none of them. Each has a wire.
    pub(crate) stations: Vec<Station>,
}

/// A terminal, or what holds conductors instead.
#[derive(Clone, Debug)]
pub(crate) struct Station {
    /// What it is.
    pub(crate) kind: Kind,
    /// Its mark.
    pub(crate) mark: String,
    /// What is under it.
    pub(crate) wires: Vec<Wire>,
}

/// What a station is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// A terminal.
    Terminal,
    /// A socket.
    Socket,
    /// A joint: its wires are joined to each other.
    Joint,
    /// Nothing: its wires are parked, capped or cut back.
    Cap,
    /// Something that nobody has written down.
    Unknown,
}

/// A conductor, a lead, or words for a station that has none.
#[derive(Clone, Debug)]
pub(crate) struct Wire {
    /// Letters of its colour, or what it is called.
    pub(crate) letters: String,
    /// Its colour.
    pub(crate) colour: Option<Colour>,
    /// What it does.
    pub(crate) does: String,
    /// How it leaves the station.
    pub(crate) leaves: Leaves,
    /// What it belongs to: a cable's label, or what the thing is called.
    pub(crate) of: String,
    /// What it ends in here.
    pub(crate) into: Into,
    /// Where it goes on.
    pub(crate) goes: String,
    /// Its row.
    pub(crate) link: Link,
}

/// How a wire leaves its station.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Leaves {
    /// Not at all: there is none.
    Nothing,
    /// As a conductor that does something.
    Live,
    /// As a conductor with nothing to do, or one of a dead cable.
    Idle,
    /// Behind the resistor in series of the same station.
    Behind,
}

/// What a wire ends in, as far as it is drawn.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Into {
    /// A cable.
    Cable,
    /// Another place in the house, or words alone.
    Words,
    /// The earth.
    Earth,
    /// Resistors one behind the other, in series with other wires of the station: the bands of each.
    InSeries(Vec<Vec<Colour>>),
    /// One thing with the other wire of that number.
    Pair(usize, Thing),
}

/// What stands between the two wires of a pair, the fuse in the first of them.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Thing {
    /// The wire itself: a link.
    Link,
    /// A resistor with its bands.
    Resistor(Vec<Colour>),
    /// A battery, and whether a fuse is in its lead; true of the one lead in which it is.
    Battery(bool),
    /// A transformer, likewise.
    Transformer(bool),
}

/// What the marks mean.
const LEGEND: &Words = &[
    (Role::Terminal, "terminal with its mark"),
    (Role::Bare, "socket, no terminal"),
    (Role::Joint, "joint, under no screw of the board"),
    (Role::Conductor, "conductor: letters of its colour, what it does"),
    (Role::Idle, "spare, reserved or dead conductor; a bar is a cap"),
    (Role::Cable, "cable; lines that cross are not joined"),
    (Role::Flag, "the cable's label; then where its conductors go"),
    (Role::Resistor, "resistor with its bands, or a fuse"),
    (Role::Pointer, "to the words that belong there"),
];
const LEGEND_COLUMNS: usize = 2;

/// Between the drawing and the legend.
const BETWEEN: f64 = 3.0;

/// The drawing, in as many scenes as it needs where none may be larger than `room`, and the first by `head` lower.
pub(crate) fn draw(enclosure: &Enclosure, room: Size, head: f64) -> Vec<Scene> {
    let column = sheet::room(room).width / 2.0;
    let legend = legend::most_height(LEGEND, column, LEGEND_COLUMNS);
    let bottom = INSET + sheet::room(room).height;
    legend::fitting(legend, bottom, |legend| with_legend(enclosure, room, head, legend))
}

/// The drawing with so much room for the legend, and the lower edge of the longest page.
fn with_legend(enclosure: &Enclosure, room: Size, head: f64, legend: f64) -> (Vec<Scene>, f64) {
    let sheet = sheet::room(room);
    let column = sheet.width / 2.0;
    let facts = text::lines(Role::Label, &enclosure.facts, sheet.width, 3);
    let top = super::text::height(facts.len(), Role::Label) + 2.0;
    let grid = page::Grid::new(enclosure, sheet.width);
    let pages = page::pages(enclosure, &grid, sheet.height - top - BETWEEN - legend, head);
    let of = pages.len();
    let mut lowest = 0.0_f64;
    let scene = |(number, page): (usize, &page::Page)| {
        let mut scene = Scene::default();
        scene.text(Role::Label, (INSET, INSET), super::scene::Anchor::Start, &facts);
        let bottom = page::add(&mut scene, page, &pages, &grid, (INSET, INSET + top));
        let bottom = legend::add(&mut scene, LEGEND, (INSET, bottom + BETWEEN), column, LEGEND_COLUMNS);
        lowest = lowest.max(bottom + if number == 1 { head } else { 0.0 });
        let block = TitleBlock { part: (number, of), ..enclosure.block.clone() };
        sheet::finish(scene, room.width, bottom, &block)
    };
    let scenes = (1..).zip(&pages).map(scene).collect();
    (scenes, lowest)
}
