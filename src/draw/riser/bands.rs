//! Bands and their strips: which boxes stand beside each other, and how high each strip is.

use std::collections::BTreeMap;

use super::cell::Cell;
use super::grid::{Grid, Side};
use super::wires::{self, Routed, Slot};
use super::{Level, Riser, Storey};
use crate::draw::role::Role;
use crate::draw::text::{count, height, wrap};

/// From lane to lane.
pub(crate) const LANE: f64 = 2.2;
/// Below a strip.
const BELOW: f64 = 2.0;
/// Lines that say where a box's wires go on.
const MOST_ON: usize = 2;

/// All that is drawn, strip by strip.
#[derive(Debug)]
pub(crate) struct Plan<'r> {
    pub(crate) grid: Grid,
    pub(crate) storeys: Vec<Vec<Band>>,
    /// The storey with which the rooms of all levels begin, where the boards of all stand before them.
    pub(crate) rooms_from: Option<usize>,
    pub(crate) strips: Vec<Strip<'r>>,
    pub(crate) wires: Vec<Routed<'r>>,
}

/// A level on its side of the drawing.
#[derive(Clone, Debug)]
pub(crate) struct Band {
    pub(crate) title: String,
    pub(crate) side: Side,
    /// How many of its strips are of boards.
    boards: usize,
    /// Its strips, among all.
    pub(crate) strips: Vec<usize>,
}

/// A row of boxes.
#[derive(Debug, Default)]
pub(crate) struct Strip<'r> {
    pub(crate) boxes: Vec<Boxed<'r>>,
    /// Lanes above it.
    pub(crate) lanes: usize,
    /// Height of the words between lanes and boxes.
    pub(crate) flags: f64,
}

/// A box with what is said above it.
#[derive(Debug)]
pub(crate) struct Boxed<'r> {
    pub(crate) cell: Cell<'r>,
    /// The board that it is, where it is one's first.
    pub(crate) board: Option<(usize, &'r str)>,
}

impl Strip<'_> {
    /// Its height with lanes, words and the room below.
    pub(crate) fn height(&self) -> f64 {
        self.above() + self.boxes.iter().map(|one| one.cell.height()).fold(0.0, f64::max) + BELOW
    }

    /// From its upper edge to its boxes.
    pub(crate) fn above(&self) -> f64 {
        count(self.lanes) * LANE + self.flags
    }
}

impl<'r> Plan<'r> {
    /// The plan of a house. Where `parted`, above each box is room for words that tell where its wires go on: pages may
    /// part it from other boxes.
    pub(crate) fn new(riser: &'r Riser, grid: &Grid, parted: bool) -> Self {
        let mut plan =
            Self { grid: *grid, storeys: Vec::new(), rooms_from: None, strips: Vec::new(), wires: Vec::new() };
        let mut slots = BTreeMap::new();
        for Storey { house, apart } in &riser.storeys {
            let house = house.iter().map(|level| (level, Side::House));
            let levels = house.chain(apart.iter().map(|level| (level, Side::Apart)));
            let bands = levels.map(|(level, side)| plan.band(level, side, &mut slots)).collect();
            plan.storeys.push(bands);
        }
        let (wires, lanes) = wires::route(&riser.wires, &slots, grid);
        let numbers = plan.numbers();
        for (at, strip) in plan.strips.iter_mut().enumerate() {
            strip.lanes = lanes.get(&at).copied().unwrap_or_default();
            let flags = strip.boxes.iter().filter_map(|one| one.board).map(|(board, _)| {
                let flags = Flags::of(&wires, board, &numbers, grid, |wire| {
                    (parted && !wire.is_drawn_for_sure()).then(|| "part 88".to_owned())
                });
                flags.height()
            });
            strip.flags = flags.fold(0.0, f64::max);
        }
        plan.wires = wires;
        plan
    }

    /// The strips of a level: its boards, then what goes on of them and its rooms.
    fn band(&mut self, level: &'r Level, side: Side, slots: &mut BTreeMap<usize, Slot>) -> Band {
        let width = self.grid.box_width();
        let (mut boards, mut others) = (Vec::new(), Vec::new());
        for board in &level.boards {
            let mut cells = Cell::of_board(board, width).into_iter();
            boards.extend(cells.next().map(|cell| Boxed { cell, board: Some((board.id, board.number.as_str())) }));
            others.extend(cells.map(|cell| Boxed { cell, board: None }));
        }
        let mut rooms: Vec<Vec<Cell>> = level.rooms.iter().map(|room| Cell::of_room(room, width)).collect();
        // Boxes of like height stand beside one another, so that strips are low.
        rooms.sort_by(|one, other| highest(other).total_cmp(&highest(one)));
        others.extend(rooms.into_iter().flatten().map(|cell| Boxed { cell, board: None }));
        let mut band = Band { title: level.title.clone(), side, boards: 0, strips: Vec::new() };
        for mut boxes in [boards, others] {
            band.boards = band.strips.len();
            while !boxes.is_empty() {
                let rest = boxes.split_off(boxes.len().min(self.grid.columns(side)));
                let strip = self.strips.len();
                for (column, one) in boxes.iter().enumerate() {
                    if let Some((board, _)) = one.board {
                        slots.insert(board, Slot { strip, column, side });
                    }
                }
                band.strips.push(strip);
                self.strips.push(Strip { boxes, ..Strip::default() });
                boxes = rest;
            }
        }
        band
    }

    /// The same with the boards of all levels first, then the rooms level by level.
    pub(crate) fn boards_first(mut self) -> Self {
        let part =
            |band: &Band, strips: &[usize], title: String| Band { title, strips: strips.to_vec(), ..band.clone() };
        let boards = |band: &Band| {
            let strips = band.strips.get(..band.boards).unwrap_or_default();
            // A level without boards has its rooms behind, and is no empty box before them.
            (!strips.is_empty() || band.strips.is_empty()).then(|| part(band, strips, band.title.clone()))
        };
        let rooms = |band: &Band| {
            let strips = band.strips.get(band.boards..).unwrap_or_default();
            (!strips.is_empty()).then(|| part(band, strips, format!("{}, rooms", band.title)))
        };
        let parts = |part: &dyn Fn(&Band) -> Option<Band>| {
            let storeys = self.storeys.iter().map(|bands| bands.iter().filter_map(part).collect::<Vec<_>>());
            storeys.filter(|bands| !bands.is_empty()).collect::<Vec<_>>()
        };
        let (first, then) = (parts(&boards), parts(&rooms));
        self.rooms_from = Some(first.len());
        self.storeys = first.into_iter().chain(then).collect();
        self
    }

    /// The numbers of all boards along their bus.
    pub(crate) fn numbers(&self) -> BTreeMap<usize, &'r str> {
        self.strips.iter().flat_map(|strip| strip.boxes.iter().filter_map(|one| one.board)).collect()
    }
}

/// The height of the highest of some boxes.
fn highest(cells: &[Cell]) -> f64 {
    cells.iter().map(Cell::height).fold(0.0, f64::max)
}

/// What is said above a board: of the wire that comes, and where wires go on that are not drawn to their other end.
#[derive(Debug, Default)]
pub(crate) struct Flags {
    pub(crate) comes: Vec<String>,
    pub(crate) goes: Vec<String>,
}

impl Flags {
    /// Those of a board; `told` says of a wire in which part its other end is, where it is only told.
    pub(crate) fn of(
        wires: &[Routed],
        board: usize,
        numbers: &BTreeMap<usize, &str>,
        grid: &Grid,
        told: impl Fn(&Routed) -> Option<String>,
    ) -> Self {
        let room = grid.box_width() - wires::taken_at_left() - wires::taken_at_right(wires, board);
        let lines = |text: &str, most| wrap(text, Role::Label.style().text, room, most);
        let number = |board: usize| numbers.get(&board).copied().unwrap_or_default();
        let on = |other: usize, part: String| format!("{}, {part}", number(other));
        let mut flags = Self::default();
        for wire in wires.iter().filter(|wire| wire.wire.to == board) {
            flags.comes.extend(lines(&wire.wire.words, 4));
            flags.comes.extend(
                told(wire).map(|part| lines(&format!("from {}", on(wire.wire.from, part)), 1)).into_iter().flatten(),
            );
        }
        let goes: Vec<String> = wires
            .iter()
            .filter(|wire| wire.wire.from == board)
            .filter_map(|wire| told(wire).map(|part| on(wire.wire.to, part)))
            .collect();
        if !goes.is_empty() {
            flags.goes = lines(&format!("to {}", goes.join("; ")), MOST_ON);
        }
        flags
    }

    /// Their height.
    pub(crate) fn height(&self) -> f64 {
        height(self.comes.len() + self.goes.len(), Role::Label)
            + if self.comes.len() + self.goes.len() > 0 { 1.0 } else { 0.0 }
    }
}
