//! Columns: those of the house at the left, then the channel, then those of what stands apart.

use crate::draw::sheet::INSET;
use crate::draw::text::count;

/// Columns as wide as this or wider.
const COLUMN: f64 = 40.0;
/// Columns of what stands apart.
const APART: usize = 2;
/// Width of the channel, and of a track in it.
const CHANNEL: f64 = 8.0;
const TRACK: f64 = 1.6;
/// How many tracks it has.
pub(crate) const TRACKS: usize = 4;
/// From the side of a column to its box.
const SIDE: f64 = 1.5;

/// Which part of the drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Side {
    /// The house.
    House,
    /// What stands apart.
    Apart,
}

/// The columns.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Grid {
    house: usize,
    apart: usize,
    column: f64,
}

impl Grid {
    /// As many columns as a width has room for; some of them for what stands apart, where anything does.
    pub(crate) fn new(width: f64, has_apart: bool) -> Self {
        let mut columns = 3;
        while (count(columns) + 1.0) * COLUMN <= width - CHANNEL {
            columns += 1;
        }
        let apart = if has_apart { APART } else { 0 };
        Self { house: columns - apart, apart, column: (width - CHANNEL) / count(columns) }
    }

    /// How many columns a part has; at least one.
    pub(crate) fn columns(&self, side: Side) -> usize {
        match side {
            Side::House => self.house,
            Side::Apart => self.apart.max(1),
        }
    }

    /// Left and right edge of a part.
    pub(crate) fn edges(&self, side: Side) -> (f64, f64) {
        let house = INSET + count(self.house) * self.column;
        match side {
            Side::House => (INSET, house),
            Side::Apart => (house + CHANNEL, house + CHANNEL + count(self.apart) * self.column),
        }
    }

    /// The left edge of a box in a column.
    pub(crate) fn left(&self, side: Side, column: usize) -> f64 {
        self.edges(side).0 + count(column) * self.column + SIDE
    }

    /// The width of a box.
    pub(crate) fn box_width(&self) -> f64 {
        self.column - 2.0 * SIDE
    }

    /// A track of the channel.
    pub(crate) fn track(&self, number: usize) -> f64 {
        self.edges(Side::House).1 + (count(number) + 1.0) * TRACK
    }

    /// The ends of a horizontal piece from a place to the channel, whichever track it takes there.
    pub(crate) fn reaching_channel(&self, x: f64) -> (f64, f64) {
        let (near, far) = (self.track(0), self.track(TRACKS - 1));
        (x.min(near), x.max(far))
    }
}
