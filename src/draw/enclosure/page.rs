//! Wires below one another, and where they are cut into pages.

use super::piece::{self, Piece};
use super::words::Block;
use super::{Enclosure, Into, Kind, Leaves, Station, Thing, Wire, symbol};
use crate::draw::role::Role;
use crate::draw::scene::{Anchor, Link, Scene};
use crate::draw::text::{self, height, width};
use crate::quantity::Colour;

/// Width of a terminal.
const MARKS: f64 = 17.0;
/// Between the outline of a terminal and its text.
const PAD: f64 = 0.8;
/// The widest letters.
const LETTERS: f64 = 17.0;
/// Between columns.
const APART: f64 = 1.6;
/// From lane to lane.
const LANE: f64 = 3.2;
/// Room for what a wire does.
const DOES: f64 = 40.0;
/// Between a wire and the words above and below it.
const CLEAR: f64 = 0.35;
/// How far before a lane a wire turns into it.
const TURN: f64 = 1.2;
/// Between what stands behind two lines.
const BETWEEN: f64 = 0.6;
/// Radius of a joint.
const DOT: f64 = 0.9;

/// Where the columns are, from the left.
#[derive(Clone, Copy, Debug)]
pub(super) struct Grid {
    /// Where wires end at a resistor in series.
    fitted: f64,
    letters: f64,
    does: f64,
    lanes: f64,
    width: f64,
}

impl Grid {
    pub(super) fn new(enclosure: &Enclosure, width: f64) -> Self {
        let wires = || enclosure.stations.iter().flat_map(|station| &station.wires);
        let in_series = wires().filter_map(|wire| match &wire.into {
            Into::InSeries(resistors) => Some(shown(resistors).len()),
            Into::Cable | Into::Words | Into::Earth | Into::Pair(..) => None,
        });
        let fitted = MARKS + in_series.max().map_or(0.0, |most| along(most) + BESIDE_RESISTOR);
        let letters = fitted + 2.4;
        let widest = wires().map(|wire| text_width(&wire.letters)).fold(4.0, f64::max).min(LETTERS);
        let does = letters + widest + APART;
        Self { fitted, letters, does, lanes: does + DOES + LANE, width }
    }

    fn lane(&self, lane: usize) -> f64 {
        self.lanes + LANE * text::count(lane)
    }

    /// Where what stands behind lines starts, behind so many lanes.
    fn blocks(&self, lanes: usize) -> f64 {
        self.lane(lanes.max(1)) + 1.5
    }

    fn room(&self, lanes: usize) -> f64 {
        self.width - self.blocks(lanes)
    }
}

/// The wire before and after a resistor in series.
const BESIDE_RESISTOR: f64 = 0.75;

/// How many resistors one behind the other are drawn; the words beside them name all.
const MOST_IN_SERIES: usize = 3;

fn shown(resistors: &[Vec<Colour>]) -> &[Vec<Colour>] {
    resistors.get(..MOST_IN_SERIES).unwrap_or(resistors)
}

/// How long so many resistors are, each with the wire before it.
fn along(resistors: usize) -> f64 {
    (BESIDE_RESISTOR + symbol::IN_WIRE) * text::count(resistors)
}

fn text_width(text: &str) -> f64 {
    width(text, Role::Label.style().text)
}

/// A wire in lines of text.
#[derive(Clone, Debug)]
pub(super) struct Line<'e> {
    at: usize,
    station: &'e Station,
    pub(super) wire: &'e Wire,
    letters: Vec<String>,
    does: Vec<String>,
}

impl<'e> Line<'e> {
    fn new(at: usize, station: &'e Station, wire: &'e Wire, grid: &Grid) -> Self {
        let letters = text::lines(Role::Label, &wire.letters, grid.does - APART - grid.letters, 4);
        let does = text::lines(Role::Label, &wire.does, DOES, 4);
        Self { at, station, wire, letters, does }
    }

    fn height(&self) -> f64 {
        height(self.letters.len().max(self.does.len()).max(1), Role::Label) + 2.0 * CLEAR
    }
}

/// A page.
#[derive(Clone, Debug)]
pub(super) struct Page<'e> {
    lines: Vec<Line<'e>>,
    /// The height of each wire.
    wires: Vec<f64>,
    /// What stands behind each wire, where anything does.
    blocks: Vec<Option<Block>>,
    /// The first wire of every station, with the station's upper edge.
    stations: Vec<(usize, f64)>,
    pieces: Vec<Piece>,
    /// How many lanes they take.
    lanes: usize,
    height: f64,
}

/// Cuts a board into pages of some height, the first with less by `head`.
pub(super) fn pages<'e>(enclosure: &'e Enclosure, grid: &Grid, room: f64, head: f64) -> Vec<Page<'e>> {
    let stations = enclosure.stations.iter().enumerate();
    let lines =
        stations.flat_map(|(at, station)| station.wires.iter().map(move |wire| Line::new(at, station, wire, grid)));
    let lines: Vec<Line> = lines.collect();
    let (mut pages, mut rest) = (Vec::new(), lines.as_slice());
    while !rest.is_empty() {
        let page = |wires: usize| Page::new(rest.get(..wires).unwrap_or_default(), &lines, grid);
        let room = if pages.is_empty() { room - head } else { room };
        let most = most_that_fit(rest.len(), |wires| page(wires).height <= room);
        let wires = if most < rest.len() { cut(rest, most) } else { most };
        pages.push(page(wires));
        rest = rest.get(wires..).unwrap_or_default();
    }
    pages
}

/// The most wires that fit, of some; one always stands.
fn most_that_fit(of: usize, fit: impl Fn(usize) -> bool) -> usize {
    let (mut fits, mut too_many) = (1, 2);
    while too_many <= of && fit(too_many) {
        (fits, too_many) = (too_many, too_many * 2);
    }
    too_many = too_many.min(of + 1);
    while fits + 1 < too_many {
        let middle = fits.midpoint(too_many);
        if fit(middle) { fits = middle } else { too_many = middle }
    }
    fits
}

/// How many of the most wires that fit a page stand on it: cut, in the last quarter, where the fewest cables are parted.
fn cut(rest: &[Line<'_>], most: usize) -> usize {
    let parted = |cut: usize| {
        let (before, after) = rest.split_at(cut);
        let mid_station = before.last().zip(after.first()).is_some_and(|(one, other)| one.at == other.at);
        let in_two = |line: &&Line| after.iter().any(|other| meet(line.wire, other.wire));
        let pairs = before.iter().filter(in_two).map(|line| if line.wire.into == Into::Cable { 1 } else { 20 });
        pairs.sum::<usize>() + if mid_station { 50 } else { 0 }
    };
    (most - most / 4..=most).rev().min_by_key(|cut| parted(*cut)).unwrap_or(most).max(1)
}

/// True for two wires of one cable, or of one pair.
fn meet(one: &Wire, other: &Wire) -> bool {
    match (&one.into, &other.into) {
        (Into::Cable, Into::Cable) => one.of == other.of,
        (Into::Pair(number, _), Into::Pair(other, _)) => number == other,
        (Into::Cable | Into::Words | Into::Earth | Into::InSeries(_) | Into::Pair(..), _) => false,
    }
}

impl<'e> Page<'e> {
    fn new(lines: &[Line<'e>], all: &[Line<'e>], grid: &Grid) -> Self {
        let pieces = piece::pieces(lines);
        let lanes = pieces.iter().filter_map(|piece| piece.lane).map(|lane| lane + 1).max().unwrap_or(0);
        let room = grid.room(lanes);
        let is_whole =
            |piece: &Piece, wire: &Wire| piece.lines.len() == all.iter().filter(|line| meet(line.wire, wire)).count();
        let block = |(at, line): (usize, &Line<'e>)| {
            if line.wire.into != Into::Cable {
                return Block::of_wire(line.wire, room);
            }
            let piece = pieces.iter().find(|piece| piece.lines.first() == Some(&at))?;
            let wires: Vec<&Wire> = piece.lines.iter().filter_map(|at| lines.get(*at)).map(|line| line.wire).collect();
            Some(Block::of_cable(&wires, !is_whole(piece, line.wire), room))
        };
        let blocks: Vec<Option<Block>> = lines.iter().enumerate().map(block).collect();
        let (lines, wires, stations) = (lines.to_vec(), Vec::new(), Vec::new());
        let mut page = Self { lines, wires, blocks, stations, pieces, lanes, height: 0.0 };
        page.place();
        page
    }

    /// Gives every wire its height: below the one before it, and so that what stands behind it is below what stands behind
    /// others.
    fn place(&mut self) {
        let (mut below, mut behind, mut ready) = (0.0_f64, 0.0_f64, 0.0_f64);
        let mut marked = 0.0_f64;
        for (at, (line, block)) in self.lines.iter().zip(&self.blocks).enumerate() {
            let is_first = self.is_first(at);
            let start = if is_first { below.max(marked) } else { below };
            let over = line.height() - CLEAR;
            let mut wire = (start + over).max(ready);
            if let Some(block) = block {
                wire = wire.max(behind + block.above());
                behind = wire - block.above() + block.height() + BETWEEN;
            }
            if let Some((_, thing)) = self.pair_from(at) {
                ready = wire + thing.reach();
            }
            if is_first {
                self.stations.push((at, wire - over));
                marked = wire - over + height(mark(line).len(), Role::Label) + 2.0 * PAD;
            }
            self.wires.push(wire);
            below = wire + CLEAR;
        }
        self.height = below.max(marked).max(behind);
    }

    /// Where the last station ends.
    fn foot(&self) -> f64 {
        let Some((first, top)) = self.stations.last() else { return 0.0 };
        let marks = self.lines.get(*first).map_or(0, |line| mark(line).len());
        let wire = self.wires.last().copied().unwrap_or_default() + CLEAR;
        wire.max(top + height(marks, Role::Label) + 2.0 * PAD)
    }

    fn is_first(&self, at: usize) -> bool {
        let before = at.checked_sub(1).and_then(|before| self.lines.get(before));
        before.map(|line| line.at) != self.lines.get(at).map(|line| line.at)
    }

    /// The other end of a pair that starts here, and what is between them.
    fn pair_from(&self, at: usize) -> Option<(usize, &'e Thing)> {
        let piece = self.pieces.iter().find(|piece| piece.lines.first() == Some(&at))?;
        let things = piece.lines.iter().filter_map(|at| match &self.lines.get(*at)?.wire.into {
            Into::Pair(_, thing) => Some(thing),
            Into::Cable | Into::Words | Into::Earth | Into::InSeries(_) => None,
        });
        // The fuse is in one of the two leads.
        let fused = |thing: &&Thing| matches!(thing, Thing::Battery(true) | Thing::Transformer(true));
        let thing = things.max_by_key(fused)?;
        Some((*piece.lines.get(1)?, thing))
    }
}

fn mark(line: &Line) -> Vec<String> {
    text::lines(Role::Label, &line.station.mark, MARKS - 2.0 * PAD, 4)
}

/// Adds a page at a place; its lower edge. The others are told where more of a cable is.
pub(super) fn add(scene: &mut Scene, page: &Page, pages: &[Page], grid: &Grid, (x, y): (f64, f64)) -> f64 {
    let drawer = Drawer { page, pages, grid, x, y };
    drawer.stations(scene);
    for at in 0..page.lines.len() {
        drawer.wire(scene, at);
    }
    for piece in &page.pieces {
        drawer.piece(scene, piece);
    }
    y + page.height
}

struct Drawer<'p, 'e> {
    page: &'p Page<'e>,
    pages: &'p [Page<'e>],
    grid: &'p Grid,
    x: f64,
    y: f64,
}

impl Drawer<'_, '_> {
    fn height(&self, at: usize) -> f64 {
        self.y + self.page.wires.get(at).copied().unwrap_or_default()
    }

    fn blocks(&self) -> f64 {
        self.x + self.grid.blocks(self.page.lanes)
    }

    fn stations(&self, scene: &mut Scene) {
        let stations = &self.page.stations;
        let lower = stations.iter().skip(1).map(|(_, top)| *top).chain([self.page.foot()]);
        for ((first, top), lower) in stations.iter().zip(lower) {
            let Some(line) = self.page.lines.get(*first) else { continue };
            let (at, size) = ((self.x, self.y + top), (MARKS, lower - top));
            match line.station.kind {
                Kind::Terminal => scene.rectangle(Role::Terminal, at, size),
                Kind::Socket => scene.rectangle(Role::Bare, at, size),
                Kind::Joint | Kind::Cap | Kind::Unknown => {}
            }
            let lines = self.page.lines.iter().enumerate().filter(|(_, other)| other.at == line.at).map(|(at, _)| at);
            let wires: Vec<f64> = lines.map(|at| self.height(at)).collect();
            self.joint(scene, line.station.kind, &wires);
            let link = Link { to: line.wire.link.to.clone(), id: String::new() };
            scene.linked(Some(&link), |scene| {
                scene.text(Role::Marking, (self.x + MARKS / 2.0, at.1 + PAD), Anchor::Middle, &mark(line));
            });
        }
    }

    /// What is at the ends of the wires of a joint or cap.
    fn joint(&self, scene: &mut Scene, kind: Kind, wires: &[f64]) {
        let x = self.x + MARKS + DOT;
        let ends = [wires.first(), wires.last()].map(|end| end.copied().unwrap_or_default());
        match kind {
            Kind::Joint => {
                scene.line(Role::Conductor, &[(x, ends[0]), (x, ends[1])]);
                for wire in wires {
                    scene.circle(Role::Joint, (x, *wire), DOT);
                }
            }
            Kind::Cap => {
                for wire in wires {
                    scene.line(Role::Symbol, &[(x, wire - TURN), (x, wire + CLEAR)]);
                }
            }
            Kind::Terminal | Kind::Socket | Kind::Unknown => {}
        }
    }

    /// A wire with its words, as far as it goes alone.
    fn wire(&self, scene: &mut Scene, at: usize) {
        let Some(line) = self.page.lines.get(at) else { return };
        let y = self.height(at);
        scene.linked(Some(&line.wire.link), |scene| {
            let columns =
                [(Role::Letters, self.grid.letters, &line.letters), (Role::Purpose, self.grid.does, &line.does)];
            for (role, x, words) in columns {
                let top = y - CLEAR - height(words.len(), role);
                scene.text(role, (self.x + x, top), Anchor::Start, words);
            }
        });
        let start = match (line.wire.leaves, line.station.kind) {
            (Leaves::Nothing, _) => return,
            (Leaves::Behind, _) => self.x + self.grid.fitted,
            (Leaves::Live | Leaves::Idle, Kind::Terminal | Kind::Socket | Kind::Unknown) => self.x + MARKS,
            (Leaves::Live | Leaves::Idle, Kind::Joint | Kind::Cap) => self.x + MARKS + DOT,
        };
        let way = |to: f64| vec![(start, y), (to, y)];
        let blocks = self.blocks();
        let words = blocks - 1.0;
        match &line.wire.into {
            Into::Cable => self.to_cable(scene, line.wire, at, start),
            Into::Words => conductor(scene, line.wire, &way(words)),
            Into::Earth => {
                conductor(scene, line.wire, &way(words - 3.0));
                symbol::earth(scene, (words - 3.0, y));
            }
            Into::InSeries(resistors) => {
                let (mut from, joins) = (self.x + MARKS, self.x + self.grid.fitted);
                for bands in shown(resistors) {
                    scene.line(Role::Conductor, &[(from, y), (from + BESIDE_RESISTOR, y)]);
                    from = symbol::in_wire(scene, (from + BESIDE_RESISTOR, y), bands);
                }
                scene.line(Role::Conductor, &[(from, y), (joins, y)]);
                for other in self.behind(at) {
                    scene.line(Role::Conductor, &[(joins, y), (joins, self.height(other))]);
                }
                scene.line(Role::Pointer, &[(joins, y), (words, y)]);
            }
            Into::Pair(..) => {
                let lane = self.piece_of(at).and_then(|piece| piece.lane);
                let to = self.x + lane.map_or(self.grid.lanes, |lane| self.grid.lane(lane));
                conductor(scene, line.wire, &way(to));
                scene.line(Role::Pointer, &[(to, y), (words, y)]);
            }
        }
        if let Some(Some(block)) = self.page.blocks.get(at) {
            let more = self.more(at);
            block.add(scene, (blocks, y), &more, self.grid.room(self.page.lanes));
        }
    }

    /// A wire as far as the line of its cable; alone, to its label.
    fn to_cable(&self, scene: &mut Scene, wire: &Wire, at: usize, start: f64) {
        let (y, blocks) = (self.height(at), self.blocks());
        let Some(piece) = self.piece_of(at) else { return };
        let Some(lane) = piece.lane.map(|lane| self.x + self.grid.lane(lane)) else {
            conductor(scene, wire, &[(start, y), (blocks - LANE, y)]);
            return scene.line(Role::Cable, &[(blocks - LANE, y), (blocks, y)]);
        };
        let is_first = piece.lines.first() == Some(&at);
        let turn = if is_first { (lane, y) } else { (lane, y - TURN) };
        conductor(scene, wire, &[(start, y), (lane - TURN, y), turn]);
    }

    fn piece(&self, scene: &mut Scene, piece: &Piece) {
        let (Some(first), Some(last), Some(lane)) = (piece.lines.first(), piece.lines.last(), piece.lane) else {
            return;
        };
        let (x, top, bottom) = (self.x + self.grid.lane(lane), self.height(*first), self.height(*last));
        match self.page.pair_from(*first) {
            Some((_, thing)) => thing.add(scene, x, (top, bottom)),
            None => {
                scene.line(Role::Cable, &[(x, bottom - TURN), (x, top), (self.blocks(), top)]);
            }
        }
    }

    fn piece_of(&self, at: usize) -> Option<&Piece> {
        self.page.pieces.iter().find(|piece| piece.lines.contains(&at))
    }

    /// The wires that start at the resistor in series of a station.
    fn behind(&self, at: usize) -> Vec<usize> {
        let station = self.page.lines.get(at).map(|line| line.at);
        let others = self.page.lines.iter().enumerate();
        others
            .filter(|(_, line)| Some(line.at) == station && line.wire.leaves == Leaves::Behind)
            .map(|(at, _)| at)
            .collect()
    }

    /// Where the other pieces of a cable are: "more: R8; part 2: R16".
    fn more(&self, at: usize) -> String {
        let Some(wire) = self.page.lines.get(at).map(|line| line.wire) else { return String::new() };
        let mut said = Vec::new();
        for (number, page) in (1..).zip(self.pages) {
            let is_this = std::ptr::eq(page, self.page);
            for piece in &page.pieces {
                let Some(first) = piece.lines.first().filter(|first| !is_this || **first != at) else { continue };
                let Some(line) = page.lines.get(*first).filter(|line| meet(line.wire, wire)) else { continue };
                let mark = &line.station.mark;
                said.push(if is_this { mark.clone() } else { format!("{mark} on part {number}") });
            }
        }
        format!("more of it: {}", said.join(", "))
    }
}

fn conductor(scene: &mut Scene, wire: &Wire, way: &[(f64, f64)]) {
    match (wire.leaves, wire.colour) {
        (Leaves::Idle, _) => scene.line(Role::Idle, way),
        (Leaves::Nothing | Leaves::Live | Leaves::Behind, Some(colour)) => {
            scene.coloured(colour, |scene| scene.line(Role::Conductor, way));
        }
        (Leaves::Nothing | Leaves::Live | Leaves::Behind, None) => scene.line(Role::Conductor, way),
    }
}
