//! A data bus as its cable lies: the board first, then from box to box in rows, the stubs in rows of their own below.
//!
//! A *path* is the trunk, or what leaves it or another path at a place. A *cell* is one box with the cable that comes to
//! it. Cells stand in columns; where a row is full, the cable goes on at the left of the next one. What does not fit a
//! page goes on in a further scene. Only the order is to scale with the wall.

mod cell;
mod rows;
#[cfg(test)]
mod tests;

use super::legend::{self, Words};
use super::role::Role;
use super::scene::{Scene, Size};
use super::sheet::{self, INSET, TitleBlock};
use rows::{Grid, Row};

/// A bus.
#[derive(Clone, Debug)]
pub(crate) struct Line {
    /// Its title block.
    pub(crate) block: TitleBlock,
    /// The trunk, then its stubs and theirs.
    pub(crate) paths: Vec<Path>,
}

/// A way along the cable without branches.
#[derive(Clone, Debug)]
pub(crate) struct Path {
    /// Number of the place that it leaves; empty for the trunk.
    pub(crate) from: String,
    /// Its places, outwards.
    pub(crate) places: Vec<Place>,
}

/// A place on it.
#[derive(Clone, Debug)]
pub(crate) struct Place {
    /// Its number.
    pub(crate) number: String,
    /// Label of the cable that comes here; empty at the first place of the trunk.
    pub(crate) cable: String,
    /// Length of that.
    pub(crate) length: String,
    /// Where it is.
    pub(crate) room: String,
    /// What is here, one behind the other along the wires; never empty.
    pub(crate) blocks: Vec<Block>,
}

/// What stands in a box of its own.
#[derive(Clone, Debug)]
pub(crate) struct Block {
    /// What it is.
    pub(crate) kind: Kind,
    /// What it is called.
    pub(crate) title: String,
    /// Its address; empty where it has none.
    pub(crate) address: String,
    /// Resistors across the data pair here, each in words.
    pub(crate) terminators: Vec<String>,
    /// Numbers of the places that paths of their own lead to from here.
    pub(crate) stubs: Vec<String>,
}

/// What a block is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// The board that the bus starts at.
    Board,
    /// A module, keypad or receiver.
    Module,
    /// A joint or a cable's end.
    Bare,
}

impl Kind {
    fn role(self) -> Role {
        match self {
            Self::Board => Role::Board,
            Self::Module => Role::Device,
            Self::Bare => Role::Bare,
        }
    }
}

/// What the marks mean.
const LEGEND: &Words = &[
    (Role::Board, "the board that the bus starts at"),
    (Role::Device, "module: no., address, name, room"),
    (Role::Cable, "cable: label above, length below"),
    (Role::Conductor, "short wires between modules at one place"),
    (Role::Resistor, "below a module: terminator, A to B"),
    (Role::Bare, "joint or end of a cable, no module"),
    (Role::Joint, "goes on from the place of that number"),
];
const LEGEND_COLUMNS: usize = 2;

/// Between rows, and above the legend.
const BETWEEN: f64 = 5.0;

/// The drawing, in as many scenes as it needs where none may be larger than `room`.
pub(crate) fn draw(line: &Line, room: Size) -> Vec<Scene> {
    let sheet = sheet::room(room);
    let grid = Grid::new(sheet.width);
    let paths: Vec<_> = line.paths.iter().map(|path| cell::cells(path, &grid)).collect();
    let rows = line.paths.iter().zip(&paths).flat_map(|(path, cells)| rows::of(path, cells, &grid)).collect();
    let column = sheet.width / 2.0;
    let around = BETWEEN + legend::most_height(LEGEND, column, LEGEND_COLUMNS);
    let pages = rows::pages(rows, sheet.height - around);
    let of = pages.len();
    let page = |(number, rows): (usize, Vec<Row>)| {
        let mut scene = Scene::default();
        let bottom = rows::add(&mut scene, &rows, &grid, (INSET, INSET));
        let bottom = legend::add(&mut scene, LEGEND, (INSET, bottom + BETWEEN), column, LEGEND_COLUMNS);
        let block = TitleBlock { part: (number, of), ..line.block.clone() };
        sheet::finish(scene, room.width, bottom, &block)
    };
    (1..).zip(pages).map(page).collect()
}
