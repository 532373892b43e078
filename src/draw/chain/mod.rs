//! Boxes along a cable, from the board outwards: box to box in rows, what leaves the line in rows of its own below.
//!
//! A *path* is the line itself, or what leaves it or another path at a place. A *cell* is one box with the cable that
//! comes to it, and with what hangs on it. Cells stand in columns; where a row is full, the cable goes on at the left of
//! the next one. What does not fit a page goes on in a further scene. Only the order is to scale with the wall.

mod cell;
mod rows;
#[cfg(test)]
mod tests;

use super::legend::{self, Words};
use super::role::Role;
use super::scene::{Link, Scene, Size};
use super::sheet::{self, INSET, TitleBlock};
use rows::{Grid, Row};

/// A line of boxes.
#[derive(Clone, Debug)]
pub(crate) struct Chain {
    /// Its title block.
    pub(crate) block: TitleBlock,
    /// The line itself, then what leaves it and that.
    pub(crate) paths: Vec<Path>,
}

/// A way along the cable without branches.
#[derive(Clone, Debug)]
pub(crate) struct Path {
    /// Number of the place that it leaves; empty for the line itself.
    pub(crate) from: String,
    /// Its places, outwards.
    pub(crate) places: Vec<Place>,
}

/// A place on it.
#[derive(Clone, Debug)]
pub(crate) struct Place {
    /// Its number.
    pub(crate) number: String,
    /// How it is joined to the place before it.
    pub(crate) comes: Comes,
    /// Label of the cable that comes here.
    pub(crate) cable: String,
    /// Length of that.
    pub(crate) length: String,
    /// Where it is.
    pub(crate) room: String,
    /// Where its number leads on screen.
    pub(crate) link: Option<Link>,
    /// What is here, one behind the other along the wires; never empty.
    pub(crate) blocks: Vec<Block>,
}

/// What comes to a box.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Comes {
    /// Nothing: the line starts here.
    Nothing,
    /// A cable.
    Cable,
    /// Wires from the box before, at the same place.
    Wires,
    /// Something of which the spec has no cable.
    Unwritten,
}

/// What stands in a box of its own.
#[derive(Clone, Debug)]
pub(crate) struct Block {
    /// What it is.
    pub(crate) kind: Kind,
    /// What it is called.
    pub(crate) title: String,
    /// What stands beside its number; may be empty.
    pub(crate) beside: String,
    /// What hangs on it.
    pub(crate) hanging: Vec<Hanging>,
    /// Numbers of the places that paths of their own lead to from here.
    pub(crate) stubs: Vec<String>,
}

/// What a block is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// The board that the line starts at.
    Board,
    /// A module, or another powered device.
    Module,
    /// What has no supply: a joint, a cable's end, a jack.
    Bare,
}

/// What hangs on a box, in words.
#[derive(Clone, Debug)]
pub(crate) struct Hanging {
    /// What it is.
    pub(crate) what: Hangs,
    /// What is said of it.
    pub(crate) words: String,
}

/// What hangs on a box.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Hangs {
    /// A resistor.
    Resistor,
    /// A supply.
    Supply,
    /// A place to measure at.
    Meter,
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

impl Comes {
    fn role(self) -> Option<Role> {
        match self {
            Self::Nothing => None,
            Self::Cable => Some(Role::Cable),
            Self::Wires => Some(Role::Conductor),
            Self::Unwritten => Some(Role::Unwritten),
        }
    }
}

impl Hangs {
    fn role(self) -> Role {
        match self {
            Self::Resistor => Role::Resistor,
            Self::Supply => Role::Supply,
            Self::Meter => Role::Meter,
        }
    }
}

const LEGEND_COLUMNS: usize = 2;

/// Between rows, and above the legend.
const BETWEEN: f64 = 5.0;

/// The drawing, in as many scenes as it needs where none may be larger than `room`.
pub(crate) fn draw(chain: &Chain, legend: &Words, room: Size) -> Vec<Scene> {
    let sheet = sheet::room(room);
    let grid = Grid::new(sheet.width);
    let paths: Vec<_> = chain.paths.iter().map(|path| cell::cells(path, &grid)).collect();
    let rows = chain.paths.iter().zip(&paths).flat_map(|(path, cells)| rows::of(path, cells, &grid)).collect();
    let column = sheet.width / 2.0;
    let around = BETWEEN + legend::most_height(legend, column, LEGEND_COLUMNS);
    let pages = rows::pages(rows, sheet.height - around);
    let of = pages.len();
    let page = |(number, rows): (usize, Vec<Row>)| {
        let mut scene = Scene::default();
        let bottom = rows::add(&mut scene, &rows, &grid, (INSET, INSET));
        let bottom = legend::add(&mut scene, legend, (INSET, bottom + BETWEEN), column, LEGEND_COLUMNS);
        let block = TitleBlock { part: (number, of), ..chain.block.clone() };
        sheet::finish(scene, room.width, bottom, &block)
    };
    (1..).zip(pages).map(page).collect()
}
