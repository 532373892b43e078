//! A box with what comes to it and what hangs on it.

use super::rows::Grid;
use super::{Block, Comes, Hangs, Path, Place};
use crate::draw::role::Role;
use crate::draw::scene::{Anchor, Link, Scene};
use crate::draw::text::{height, lines, width};

/// Between the outline of a box and its text.
const PAD: f64 = 1.0;
/// Between a cable and the words along it.
const CLEAR: f64 = 1.2;
/// Between words and what is at their sides.
const SIDE: f64 = 0.8;
/// From a box to what hangs on it, and from one of these to the next.
const DROP: f64 = 2.0;
/// From the side of a box to the line on which things hang, and from there to them; also where its stubs leave.
const SPINE: f64 = 2.0;

/// From the upper edge of a box to the cable, at least.
const LEAST_AXIS: f64 = 6.0;

/// A box, its texts in lines.
#[derive(Clone, Debug)]
pub(crate) struct Cell<'l> {
    /// What comes to it.
    pub(crate) comes: Comes,
    /// Number of its place.
    pub(crate) number: &'l str,
    link: Option<&'l Link>,
    block: &'l Block,
    label: Vec<String>,
    length: Vec<String>,
    beside: Vec<String>,
    /// True where these words stand beside the number.
    is_short: bool,
    title: Vec<String>,
    room: Vec<String>,
    hanging: Vec<(Hangs, Vec<String>)>,
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
        let comes = if is_first { place.comes } else { Comes::Wires };
        let along = |text: &str, most| {
            let text = if comes == Comes::Cable { text } else { "" };
            lines(Role::Label, text, grid.gap - 2.0 * SIDE, most)
        };
        let inner = grid.box_width - 2.0 * PAD;
        let size = Role::Label.style().text;
        let stubs = block.stubs.join(", ");
        let stubs = if stubs.is_empty() { stubs } else { format!("to {stubs}") };
        let in_hanging = hanging_width(grid) - 2.0 * PAD;
        let hanging = block.hanging.iter().map(|one| (one.what, lines(Role::Label, &one.words, in_hanging, 6)));
        Self {
            comes,
            number: &place.number,
            link: place.link.as_ref().filter(|_| is_first),
            label: along(&place.cable, 4),
            length: along(&place.length, 2),
            is_short: width(&format!("{} {}", place.number, block.beside), size) <= inner,
            beside: lines(Role::Label, &block.beside, inner, 2),
            title: lines(Role::Label, &block.title, inner, 4),
            room: lines(Role::Place, &place.room, inner, 3),
            hanging: hanging.collect(),
            stubs: lines(Role::Label, &stubs, grid.box_width - 2.0 * SPINE - 2.0 * SIDE, 4),
            block,
        }
    }

    /// From its upper edge to the cable, with some lines of words above its own label.
    pub(crate) fn axis(&self, above: usize) -> f64 {
        (height(self.label.len() + above, Role::Label) + CLEAR).max(LEAST_AXIS)
    }

    /// The height of its box and of the words along the cable, where the cable is that far down.
    pub(crate) fn height(&self, axis: f64) -> f64 {
        let head = if self.is_short { 1 } else { 1 + self.beside.len() };
        let inside = height(head + self.title.len() + self.room.len(), Role::Label) + 2.0 * PAD;
        let along = axis + CLEAR + height(self.length.len(), Role::Label);
        inside.max(along).max(axis + PAD)
    }

    /// The height of what hangs below its box.
    pub(crate) fn hanging(&self) -> f64 {
        let boxes = self.hanging.iter().map(|(_, lines)| DROP + 2.0 * PAD + height(lines.len(), Role::Label));
        self.stubs_height() + boxes.sum::<f64>()
    }

    fn stubs_height(&self) -> f64 {
        if self.stubs.is_empty() { 0.0 } else { PAD + height(self.stubs.len(), Role::Label) }
    }

    /// Adds it, its box at a place and of some height, the cable somewhere below its upper edge.
    pub(crate) fn add(&self, scene: &mut Scene, (left, top): (f64, f64), boxes: f64, axis: f64, grid: &Grid) {
        self.add_words_along(scene, left - grid.gap / 2.0, top + axis);
        scene.rectangle(self.block.kind.role(), (left, top), (grid.box_width, boxes));
        self.add_words_inside(scene, (left + PAD, top + PAD), left + grid.box_width - PAD);
        self.add_hanging(scene, (left, top + boxes), grid);
    }

    fn add_words_along(&self, scene: &mut Scene, middle: f64, axis: f64) {
        let above = axis - CLEAR - height(self.label.len(), Role::Label);
        scene.text(Role::Label, (middle, above), Anchor::Middle, &self.label);
        scene.text(Role::Label, (middle, axis + CLEAR), Anchor::Middle, &self.length);
    }

    fn add_words_inside(&self, scene: &mut Scene, (left, top): (f64, f64), right: f64) {
        let number = [self.number.to_owned()];
        let mut y = top;
        scene.linked(self.link, |scene| y = scene.text(Role::Label, (left, top), Anchor::Start, &number));
        let beside = if self.is_short { top } else { y };
        y = y.max(scene.text(Role::Label, (right, beside), Anchor::End, &self.beside));
        y = scene.text(Role::Label, (left, y), Anchor::Start, &self.title);
        scene.text(Role::Place, (left, y), Anchor::Start, &self.room);
    }

    /// Its stubs at the right; below them, on a line at the left, one below the other, all else.
    fn add_hanging(&self, scene: &mut Scene, (left, bottom): (f64, f64), grid: &Grid) {
        let right = left + grid.box_width - SPINE;
        if !self.stubs.is_empty() {
            scene.line(Role::Cable, &[(right, bottom), (right, bottom + self.stubs_height())]);
            scene.text(Role::Label, (right - SIDE - SPINE / 2.0, bottom + PAD), Anchor::End, &self.stubs);
        }
        let spine = left + SPINE / 2.0;
        let mut top = bottom + self.stubs_height();
        for (what, lines) in &self.hanging {
            top += DROP;
            let role = what.role();
            let size = (hanging_width(grid), 2.0 * PAD + height(lines.len(), Role::Label));
            scene.rectangle(role, (left + 2.0 * SPINE, top), size);
            let middle = top + size.1 / 2.0;
            scene.line(Role::Conductor, &[(spine, bottom), (spine, middle), (left + 2.0 * SPINE, middle)]);
            scene.text(Role::Label, (left + 2.0 * SPINE + PAD, top + PAD), Anchor::Start, lines);
            top += size.1;
        }
    }
}

/// The width of what hangs on a box.
fn hanging_width(grid: &Grid) -> f64 {
    grid.box_width - 2.0 * SPINE
}
