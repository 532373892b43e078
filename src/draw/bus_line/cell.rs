//! A box with what comes to it and what hangs on it.

use super::rows::Grid;
use super::{Block, Path, Place};
use crate::draw::role::Role;
use crate::draw::scene::{Anchor, Scene};
use crate::draw::text::{height, width, wrap};

/// Between the outline of a box and its text.
const PAD: f64 = 1.0;
/// Between a cable and the words along it.
const CLEAR: f64 = 1.2;
/// Between words and what is at their sides.
const SIDE: f64 = 0.8;
/// From a box to what hangs on it.
const DROP: f64 = 2.0;
/// The part of a box's width below which its stubs leave; the terminator hangs on the rest.
const STUBS: f64 = 0.45;

/// From the upper edge of a box to the cable, at least.
const LEAST_AXIS: f64 = 6.0;

/// What comes to a box.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Comes {
    /// Nothing: the line starts here.
    Nothing,
    /// A cable.
    Cable,
    /// Wires from the box before, at the same place.
    Wires,
}

/// A box, its texts in lines.
#[derive(Clone, Debug)]
pub(crate) struct Cell<'l> {
    /// What comes to it.
    pub(crate) comes: Comes,
    /// Number of its place.
    pub(crate) number: &'l str,
    block: &'l Block,
    label: Vec<String>,
    length: Vec<String>,
    address: Vec<String>,
    /// True where number and address stand side by side.
    is_short: bool,
    title: Vec<String>,
    room: Vec<String>,
    terminators: Vec<String>,
    stubs: Vec<String>,
}

/// The cells of a path.
pub(crate) fn cells<'l>(path: &'l Path, grid: &Grid) -> Vec<Cell<'l>> {
    let of_place = |place: &'l Place| place.blocks.iter().enumerate().map(move |(at, block)| (place, at, block));
    let all = path.places.iter().flat_map(of_place);
    all.map(|(place, at, block)| Cell::new(place, block, at == 0, grid)).collect()
}

impl<'l> Cell<'l> {
    fn new(place: &'l Place, block: &'l Block, is_first: bool, grid: &Grid) -> Self {
        let comes = match (is_first, place.cable.is_empty()) {
            (false, _) => Comes::Wires,
            (true, true) => Comes::Nothing,
            (true, false) => Comes::Cable,
        };
        let along = |text: &str, most| {
            let text = if comes == Comes::Cable { text } else { "" };
            lines(Role::Label, text, grid.gap - 2.0 * SIDE, most)
        };
        let inner = grid.box_width - 2.0 * PAD;
        let address = if block.address.is_empty() { String::new() } else { format!("addr. {}", block.address) };
        let size = Role::Label.style().text;
        let stubs = block.stubs.join(", ");
        let stubs = if stubs.is_empty() { stubs } else { format!("to {stubs}") };
        let for_stubs = grid.box_width * STUBS;
        let for_terminators = grid.box_width - for_stubs - 2.0 * PAD;
        Self {
            comes,
            number: &place.number,
            label: along(&place.cable, 4),
            length: along(&place.length, 2),
            is_short: width(&format!("{} {address}", place.number), size) <= inner,
            address: lines(Role::Label, &address, inner, 2),
            title: lines(Role::Label, &block.title, inner, 4),
            room: lines(Role::Place, &place.room, inner, 3),
            terminators: lines(Role::Label, &block.terminators.join(", "), for_terminators, 6),
            stubs: lines(Role::Label, &stubs, for_stubs - SIDE, 4),
            block,
        }
    }

    /// From its upper edge to the cable, with some lines of words above its own label.
    pub(crate) fn axis(&self, above: usize) -> f64 {
        (height(self.label.len() + above, Role::Label) + CLEAR).max(LEAST_AXIS)
    }

    /// The height of its box and of the words along the cable, where the cable is that far down.
    pub(crate) fn height(&self, axis: f64) -> f64 {
        let head = if self.is_short { 1 } else { 1 + self.address.len() };
        let inside = height(head + self.title.len() + self.room.len(), Role::Label) + 2.0 * PAD;
        let along = axis + CLEAR + height(self.length.len(), Role::Label);
        inside.max(along).max(axis + PAD)
    }

    /// The height of what hangs below its box.
    pub(crate) fn hanging(&self) -> f64 {
        let framed = if self.terminators.is_empty() { 0.0 } else { DROP + 2.0 * PAD };
        let terminators = framed + height(self.terminators.len(), Role::Label);
        let stubs = if self.stubs.is_empty() { 0.0 } else { DROP + PAD + height(self.stubs.len(), Role::Label) };
        terminators.max(stubs)
    }

    /// Adds it, its box at a place and of some height, the cable somewhere below its upper edge.
    pub(crate) fn add(&self, scene: &mut Scene, (left, top): (f64, f64), boxes: f64, axis: f64, grid: &Grid) {
        self.add_words_along(scene, left - grid.gap / 2.0, top + axis);
        scene.rectangle(self.block.kind.role(), (left, top), (grid.box_width, boxes));
        self.add_words_inside(scene, (left + PAD, top + PAD), left + grid.box_width - PAD);
        self.add_hanging(scene, (left, top + boxes), grid.box_width);
    }

    fn add_words_along(&self, scene: &mut Scene, middle: f64, axis: f64) {
        let above = axis - CLEAR - height(self.label.len(), Role::Label);
        scene.text(Role::Label, (middle, above), Anchor::Middle, &self.label);
        scene.text(Role::Label, (middle, axis + CLEAR), Anchor::Middle, &self.length);
    }

    fn add_words_inside(&self, scene: &mut Scene, (left, top): (f64, f64), right: f64) {
        let mut y = scene.text(Role::Label, (left, top), Anchor::Start, &[self.number.to_owned()]);
        let beside = if self.is_short { top } else { y };
        y = y.max(scene.text(Role::Label, (right, beside), Anchor::End, &self.address));
        y = scene.text(Role::Label, (left, y), Anchor::Start, &self.title);
        scene.text(Role::Place, (left, y), Anchor::Start, &self.room);
    }

    fn add_hanging(&self, scene: &mut Scene, (left, bottom): (f64, f64), box_width: f64) {
        let part = box_width * STUBS;
        if !self.stubs.is_empty() {
            let x = left + part / 2.0;
            scene.line(Role::Cable, &[(x, bottom), (x, bottom + DROP)]);
            scene.text(Role::Label, (left, bottom + DROP + PAD), Anchor::Start, &self.stubs);
        }
        if !self.terminators.is_empty() {
            let size = (box_width - part, 2.0 * PAD + height(self.terminators.len(), Role::Label));
            let x = left + part + size.0 / 2.0;
            scene.rectangle(Role::Resistor, (left + part, bottom + DROP), size);
            scene.line(Role::Resistor, &[(x, bottom), (x, bottom + DROP)]);
            scene.text(Role::Label, (x, bottom + DROP + PAD), Anchor::Middle, &self.terminators);
        }
    }
}

fn lines(role: Role, text: &str, room: f64, most: usize) -> Vec<String> {
    wrap(text, role.style().text, room, most)
}
