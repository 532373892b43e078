//! Sheets of labels: where on the paper each label stands, and what on the label.
//!
//! A *grid* is the paper with its labels, in millimetres alone. A label has two lines, the cable's label and where the other
//! end is. A wrap that covers itself has a *printed zone*, on which the lines are repeated so that they are read from every
//! side, and below it a clear tail. Both labels of a cable stand side by side. Text has one size: a label that it does not fit
//! is no label of the grid.

use super::code::Code;
use super::role::Role;
use super::scene::{Anchor, Point, Scene, Size};
use super::text;

/// What is kept free at the left and the right of a label, for a printer that feeds askew.
const SIDE: f64 = 2.0;
/// The same above and below.
const EDGE: f64 = 1.0;
/// Between the lines and their repetition, and between lines and code.
const GAP: f64 = 1.0;

/// Paper with labels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Grid {
    /// The paper.
    pub(crate) paper: Size,
    /// Labels beside one another.
    pub(crate) columns: usize,
    /// Labels below one another.
    pub(crate) rows: usize,
    /// One label.
    pub(crate) label: Size,
    /// The upper left corner of the first label.
    pub(crate) corner: Point,
    /// From a label to the next, to the right and down.
    pub(crate) pitch: Size,
    /// The height of the printed zone of a wrap; `None` where all of the label is printed.
    pub(crate) printed: Option<f64>,
    /// Whether each label has a code.
    pub(crate) coded: bool,
}

/// A label: its lines, the cable's label first.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Label(pub(crate) [String; 2]);

impl Label {
    fn lines(&self) -> [(Role, &String); 2] {
        let Self([name, end]) = self;
        [(Role::CableName, name), (Role::CableEnd, end)]
    }

    fn code(&self) -> Option<Code> {
        let Self([name, _]) = self;
        Code::of(name)
    }
}

/// How long a second line is.
pub(crate) fn length(line: &str) -> f64 {
    text::width(line, Role::CableEnd.style().text)
}

impl Grid {
    /// How long a second line may be, beside the code of a short label.
    pub(crate) fn line(&self) -> f64 {
        let code = if self.coded { Code::of("Z999-99").map_or(0.0, |code| code.side() + GAP) } else { 0.0 };
        self.label.width - 2.0 * SIDE - code
    }

    /// True where a label has room.
    pub(crate) fn holds(&self, label: &Label) -> bool {
        let code = if self.coded { label.code().map_or(f64::INFINITY, |code| code.side()) } else { 0.0 };
        let beside = if self.coded { code + GAP } else { 0.0 };
        let widest =
            label.lines().map(|(role, line)| text::width(line, role.style().text)).into_iter().fold(0.0, f64::max);
        widest <= self.label.width - 2.0 * SIDE - beside && block().max(code) <= self.zone() - 2.0 * EDGE
    }

    /// The height of what is printed of a label.
    pub(crate) fn zone(&self) -> f64 {
        self.printed.unwrap_or(self.label.height)
    }

    /// How many labels a sheet has.
    pub(crate) fn count(&self) -> usize {
        self.columns * self.rows
    }

    /// The upper left corner of a label, by its number on the sheet.
    fn cell(&self, number: usize) -> (f64, f64) {
        let far = |many: usize, pitch: f64| text::count(many) * pitch;
        let (row, column) = (number / self.columns.max(1), number % self.columns.max(1));
        (self.corner.x + far(column, self.pitch.width), self.corner.y + far(row, self.pitch.height))
    }

    /// The places of a sheet in the order of use, two for a cable side by side, or below one another in a column that is
    /// left over; the first `used` are gone already. Where two have no room on a sheet, one by one.
    fn order(&self, used: usize) -> Vec<Vec<usize>> {
        let (columns, rows) = (self.columns, self.rows);
        if self.is_single() {
            return (used..self.count()).map(|place| vec![place]).collect();
        }
        let beside = (0..rows).flat_map(|row| (0..columns / 2).map(move |pair| row * columns + 2 * pair));
        let mut pairs: Vec<[usize; 2]> = beside.map(|first| [first, first + 1]).collect();
        if columns % 2 == 1 {
            pairs.extend(
                (0..rows / 2).map(|pair| 2 * pair * columns + columns - 1).map(|first| [first, first + columns]),
            );
        }
        pairs.sort_unstable();
        pairs.into_iter().filter(|[first, second]| *first.min(second) >= used).map(Vec::from).collect()
    }

    /// True where a sheet has no room for two labels.
    fn is_single(&self) -> bool {
        self.count() < 2
    }
}

/// The height of the lines of a label.
fn block() -> f64 {
    text::height(1, Role::CableName) + text::height(1, Role::CableEnd)
}

/// The labels of cables, one or two of each, on their sheets, of whose first some are used already. All of them must be such as
/// the grid holds. Beside the only label of a cable a place stays empty.
pub(crate) fn draw(grid: &Grid, cables: &[&[Label]], used: usize) -> Vec<Scene> {
    let together = if grid.is_single() { 1 } else { 2 };
    let cables: Vec<&[Label]> = cables.iter().flat_map(|labels| labels.chunks(together)).collect();
    let mut left = cables.as_slice();
    let mut used = used;
    let mut scenes = Vec::new();
    while !left.is_empty() && grid.count() > 0 {
        let places = grid.order(std::mem::take(&mut used));
        let (here, rest) = left.split_at(places.len().min(left.len()));
        left = rest;
        let mut scene = Scene { size: grid.paper, ..Scene::default() };
        for (places, labels) in places.into_iter().zip(here) {
            for (place, label) in places.into_iter().zip(*labels) {
                one(&mut scene, grid, grid.cell(place), label);
            }
        }
        // Of a sheet with one label left a cable has no use.
        if !here.is_empty() {
            scenes.push(scene);
        }
    }
    scenes
}

fn one(scene: &mut Scene, grid: &Grid, (x, y): (f64, f64), label: &Label) {
    scene.rectangle(Role::Cell, (x, y), (grid.label.width, grid.label.height));
    let zone = grid.zone();
    let room = zone - 2.0 * EDGE + GAP;
    let times = if grid.printed.is_some() { (room / (block() + GAP)).floor().max(1.0) } else { 1.0 };
    let lines = times * block() + (times - 1.0) * GAP;
    let mut top = y + (zone - lines) / 2.0;
    let mut left = times;
    while left > 0.0 {
        for (role, line) in label.lines() {
            top = scene.text(role, (x + SIDE, top), Anchor::Start, std::slice::from_ref(line));
        }
        top += GAP;
        left -= 1.0;
    }
    if let Some(code) = label.code().filter(|_| grid.coded) {
        let corner = (x + grid.label.width - SIDE - code.side(), y + (zone - code.side()) / 2.0);
        code.draw(scene, corner);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::scene::Shape;
    use proptest::prelude::*;

    fn grid(columns: usize, rows: usize) -> Grid {
        Grid {
            paper: Size { width: 210.0, height: 297.0 },
            columns,
            rows,
            label: Size { width: 40.0, height: 15.0 },
            corner: Point { x: 5.0, y: 6.0 },
            pitch: Size { width: 42.0, height: 16.0 },
            printed: None,
            coded: false,
        }
    }

    #[test]
    fn both_ends_stand_side_by_side() {
        assert_eq!(grid(3, 2).order(0), [[0, 1], [2, 5], [3, 4]]);
        assert_eq!(grid(3, 2).order(1), [[2, 5], [3, 4]]);
        assert_eq!(grid(2, 2).order(3), [[0_usize; 0]; 0]);
        assert_eq!(grid(1, 1).order(0), [[0]]);
        assert_eq!(grid(1, 3).order(0), [[0, 1]]);
    }

    /// A cable whose far end was not found has one label; those behind it stay side by side.
    #[test]
    fn beside_a_lone_label_a_place_stays_empty() {
        let label = |name: &str| Label([name.to_owned(), "to Hall".to_owned()]);
        let (lone, pair) = (vec![label("A1")], vec![label("Z1"), label("Z1")]);
        let cells = |grid: &Grid| -> Vec<Vec<(f64, f64)>> {
            let cell = |mark: &crate::draw::scene::Mark| {
                if let Shape::Rectangle(area) = &mark.shape { Some((area.corner.x, area.corner.y)) } else { None }
            };
            let sheets = draw(grid, &[&lone, &pair], 0);
            sheets.iter().map(|sheet| sheet.marks.iter().filter_map(cell).collect()).collect()
        };
        assert_eq!(cells(&grid(2, 2)), [[(5.0, 6.0), (5.0, 22.0), (47.0, 22.0)]]);
        assert_eq!(cells(&grid(1, 1)).concat(), [(5.0, 6.0); 3]);
    }

    #[test]
    fn the_lines_of_a_wrap_are_repeated_in_its_printed_zone() {
        let wrap = Grid { printed: Some(24.0), label: Size { width: 40.0, height: 60.0 }, ..grid(2, 2) };
        let label = Label(["Z7".to_owned(), "to Hall".to_owned()]);
        let [sheet] = draw(&wrap, &[&[label.clone(), label]], 0).try_into().unwrap();
        let texts = sheet.marks.iter().filter(|mark| matches!(mark.shape, Shape::Text { .. }));
        assert_eq!(texts.count(), 2 * 2 * 2);
    }

    proptest! {
        #[test]
        fn every_label_is_printed_once_inside_its_own(
            columns in 1_usize..5, rows in 1_usize..6, cables in 0_usize..30, used in 0_usize..12,
            printed in prop::option::of(12.0..15.0_f64), coded: bool,
        ) {
            let grid = Grid { printed, coded, label: Size { width: 40.0, height: 15.5 }, ..grid(columns, rows) };
            let ends = |cable: usize| ["to Hall", "from Panel"].map(|end| Label([format!("Z{cable}"), end.to_owned()]));
            let labels: Vec<[Label; 2]> = (0..cables).map(ends).filter(|ends| ends.iter().all(|label| grid.holds(label))).collect();
            prop_assert!(labels.len() == cables || coded && printed.is_some_and(|zone| zone < 13.7));
            let of_cables: Vec<&[Label]> = labels.iter().map(<[Label; 2]>::as_slice).collect();
            let sheets = draw(&grid, &of_cables, used);
            let mut cells = 0;
            for sheet in &sheets {
                let mut cell = (0.0, 0.0);
                for mark in &sheet.marks {
                    let inside = |x: f64, y: f64| x >= cell.0 && y >= cell.1 && x <= cell.0 + 40.0 && y <= cell.1 + grid.zone();
                    match &mark.shape {
                        Shape::Rectangle(area) if mark.role == Role::Cell => {
                            cell = (area.corner.x, area.corner.y);
                            cells += 1;
                        }
                        Shape::Rectangle(area) => {
                            prop_assert!(inside(area.corner.x, area.corner.y));
                            prop_assert!(inside(area.corner.x + area.size.width, area.corner.y + area.size.height));
                        }
                        Shape::Text { at, text: line, .. } => {
                            let size = mark.role.style().text;
                            prop_assert!(inside(at.x, at.y - text::ASCENT * size));
                            prop_assert!(inside(at.x + text::width(line, size), at.y + text::DESCENT * size));
                        }
                        Shape::Line(_) | Shape::Polygon(_) | Shape::Circle { .. } => {}
                    }
                }
            }
            prop_assert_eq!(cells, 2 * labels.len());
        }
    }
}
