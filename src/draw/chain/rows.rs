//! Cells in rows, and rows on pages.

use super::cell::Cell;
use super::{BETWEEN, Path};
use crate::draw::role::Role;
use crate::draw::scene::{Anchor, Scene};
use crate::draw::text::{self, wrap};

/// Columns as wide as this or wider.
const COLUMN: f64 = 44.0;
/// Where the cable goes back to the left, beside the last column.
const CHANNEL: f64 = 3.0;
/// Radius of the dot where a path starts.
const DOT: f64 = 1.1;

/// The columns.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Grid {
    columns: usize,
    column: f64,
    /// Between boxes, where a cable and its words are.
    pub(crate) gap: f64,
    /// Width of a box.
    pub(crate) box_width: f64,
}

impl Grid {
    /// As many columns as a width has room for.
    pub(crate) fn new(width: f64) -> Self {
        let mut columns = 1;
        while (f64::from(columns) + 1.0) * COLUMN <= width - CHANNEL {
            columns += 1;
        }
        let column = (width - CHANNEL) / f64::from(columns);
        let gap = column * 0.39;
        Self { columns: usize::try_from(columns).unwrap_or(1), column, gap, box_width: column - gap }
    }
}

/// A row of a path.
#[derive(Clone, Debug)]
pub(crate) struct Row<'l> {
    cells: &'l [Cell<'l>],
    /// Where its cable comes from, in words; empty where the line starts.
    from: Vec<String>,
    /// True where it comes from the row before, which a line tells.
    follows: bool,
}

/// What the cells of a row share.
#[derive(Clone, Copy, Debug)]
struct Heights {
    /// From the upper edge to the cable.
    axis: f64,
    /// Of the boxes.
    boxes: f64,
    /// With what hangs on the boxes.
    all: f64,
}

/// The rows of a path.
pub(crate) fn of<'l>(path: &'l Path, cells: &'l [Cell<'l>], grid: &Grid) -> Vec<Row<'l>> {
    let words = |number: &str| {
        let words = if number.is_empty() { String::new() } else { format!("from {number}") };
        wrap(&words, Role::Label.style().text, grid.gap - DOT, 3)
    };
    let mut from = words(&path.from);
    let mut rows = Vec::new();
    for cells in cells.chunks(grid.columns) {
        let next = cells.last().map_or("", |cell| cell.number);
        rows.push(Row { cells, from: std::mem::replace(&mut from, words(next)), follows: !rows.is_empty() });
    }
    rows
}

/// Rows on pages of some height. The first of a page follows none.
pub(crate) fn pages<'l>(rows: Vec<Row<'l>>, room: f64) -> Vec<Vec<Row<'l>>> {
    let mut pages: Vec<Vec<Row<'l>>> = Vec::new();
    let mut left = 0.0;
    for row in rows {
        let needs = BETWEEN + row.heights().all;
        match pages.last_mut().filter(|_| needs <= left) {
            Some(page) => {
                page.push(row);
                left -= needs;
            }
            None => {
                let row = Row { follows: false, ..row };
                left = room - row.heights().all;
                pages.push(vec![row]);
            }
        }
    }
    pages
}

/// Adds rows below one another from a place on; the lower edge of the last.
pub(crate) fn add(scene: &mut Scene, rows: &[Row], grid: &Grid, (x, y): (f64, f64)) -> f64 {
    let right = x + grid.column * text::count(grid.columns);
    let mut top = y;
    // The cable of the row before.
    let mut axis_before = 0.0;
    for row in rows {
        let heights = row.heights();
        let axis = top + heights.axis;
        if let Some(role) = row.comes().filter(|_| row.follows) {
            let (turn, beside) = (top - BETWEEN / 2.0, right + CHANNEL / 2.0);
            let way = [(right, axis_before), (beside, axis_before), (beside, turn), (x, turn), (x, axis)];
            scene.line(role, &[way.as_slice(), &[(x + grid.gap, axis)]].concat());
        }
        row.add(scene, grid, (x, top), heights);
        axis_before = axis;
        top += heights.all + BETWEEN;
    }
    top - BETWEEN
}

impl Row<'_> {
    /// Where the row comes from in words, if no line tells.
    fn tells(&self) -> &[String] {
        if self.follows { &[] } else { &self.from }
    }

    fn comes(&self) -> Option<Role> {
        self.cells.first().and_then(|cell| cell.comes.role())
    }

    fn heights(&self) -> Heights {
        let most = |heights: &mut dyn Iterator<Item = f64>| heights.fold(0.0, f64::max);
        let above = |at| if at == 0 { self.tells().len() } else { 0 };
        let axis = most(&mut self.cells.iter().enumerate().map(|(at, cell)| cell.axis(above(at))));
        let boxes = most(&mut self.cells.iter().map(|cell| cell.height(axis)));
        Heights { axis, boxes, all: boxes + most(&mut self.cells.iter().map(Cell::hanging)) }
    }

    fn add(&self, scene: &mut Scene, grid: &Grid, (x, top): (f64, f64), heights: Heights) {
        let axis = top + heights.axis;
        let mut left = x;
        for (at, cell) in self.cells.iter().enumerate() {
            if let Some(role) = cell.comes.role().filter(|_| at > 0 || !self.follows) {
                scene.line(role, &[(left, axis), (left + grid.gap, axis)]);
            }
            cell.add(scene, (left + grid.gap, top), heights.boxes, heights.axis, grid);
            left += grid.column;
        }
        if let Some(cell) = self.cells.first()
            && !self.tells().is_empty()
        {
            scene.circle(Role::Joint, (x + DOT, axis), DOT);
            let above = axis - cell.axis(self.tells().len());
            scene.text(Role::Label, (x, above), Anchor::Start, self.tells());
        }
    }
}
