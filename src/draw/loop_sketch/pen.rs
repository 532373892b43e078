//! Where everything of a loop goes: figures of limited size, each with what goes on in the next.

use std::collections::VecDeque;

use super::symbols::{self, BLADE, LENGTH};
use super::{Cable, Net, Sketch};
use crate::draw::role::Role;
use crate::draw::scene::{Anchor, Scene, Size};
use crate::draw::text::{self, wrap};

/// Width of the board's box.
const BOARD: f64 = 28.0;
/// From the upper edge of the board to its first line.
const HEAD: f64 = 7.4;
/// Widths along the line: of a contact, of a resistor, of what lies across with its words, of an end.
const CONTACT: f64 = 27.0;
const RESISTOR: f64 = 14.0;
const ACROSS: f64 = 30.0;
const END: f64 = 4.0;
/// From the left of what lies across to its line.
const OFF: f64 = 4.0;
/// The most that a cable's words take, and the least length of its lines.
const CABLE: (f64, f64) = (12.0, 40.0);
/// Between a row and the next.
const STEP: f64 = 6.0;
/// Radius of the circle around a letter, and the line that leads to it.
const LETTER: f64 = 3.3;
const LEAD: f64 = 3.0;

/// What is behind a detector that stands alone.
static OPEN: Net = Net::Open;

/// What is still to be drawn of a chain.
#[derive(Clone, Copy, Debug)]
enum Rest<'n> {
    Net(&'n Net),
    Parts(&'n [Net]),
}

/// Draws figures, one behind the other.
#[derive(Default)]
pub(super) struct Pen<'n> {
    scene: Scene,
    room: Size,
    /// Between the two lines of a pair.
    gap: f64,
    /// What goes on at which letter.
    waiting: VecDeque<(usize, Rest<'n>)>,
    letters: usize,
    /// Where the figure starts: a piece there is drawn whatever its size.
    start: (f64, f64),
    /// The height that rows further out still need below.
    reserve: f64,
    /// The lowest line of the figure.
    low: f64,
}

impl<'n> Pen<'n> {
    /// The figures of a sketch, each with its height, at the left and the top.
    pub(super) fn figures(sketch: &'n Sketch, room: Size) -> Vec<(Scene, f64)> {
        let gap = depth(&sketch.net).max(3.0 + LENGTH + 3.0) + 1.2;
        let mut pen = Self { room, gap, ..Self::default() };
        let mut figures = Vec::new();
        let low = pen.rest(Rest::Net(&sketch.net), (BOARD, HEAD));
        pen.board(sketch, (HEAD, low));
        figures.push(pen.figure());
        while let Some((letter, rest)) = pen.waiting.pop_front() {
            let start = 2.0 * LETTER + LEAD;
            let top = LETTER.max(BLADE) + 1.0;
            let low = pen.rest(rest, (start, top));
            for y in [top, low] {
                pen.letter(letter, (LETTER, y));
                pen.scene.line(Role::Conductor, &[(2.0 * LETTER, y), (start, y)]);
            }
            figures.push(pen.figure());
        }
        figures
    }

    fn figure(&mut self) -> (Scene, f64) {
        // A letter reaches below its line, the board's box less.
        let below = if self.letters > 0 { LETTER } else { 2.0 };
        let height = std::mem::take(&mut self.low) + below + 0.5;
        (std::mem::take(&mut self.scene), height)
    }

    /// The board's box, with what stands behind its terminals.
    fn board(&mut self, sketch: &Sketch, (top, low): (f64, f64)) {
        let board = &sketch.board;
        let size = Role::Label.style().text;
        self.scene.rectangle(Role::Board, (0.4, 0.4), (BOARD - 0.4, low + 2.0));
        for (mark, y) in board.terminals.iter().zip([top, low]) {
            let mark = wrap(mark, size, 11.0, 1);
            self.scene.text(Role::Label, (BOARD - 1.6, y - 2.0 - text::height(1, Role::Label)), Anchor::End, &mark);
            self.scene.circle(Role::Terminal, (BOARD, y), 0.9);
        }
        let Some((volts, ohms)) = &board.pull_up else { return };
        let above = |y: f64| y - 2.0 - text::height(1, Role::Label);
        let (fed, zero) = if board.fed_at_return { (low, top) } else { (top, low) };
        self.scene.text(Role::Label, (1.6, above(fed)), Anchor::Start, &wrap(volts, size, 13.0, 1));
        symbols::resistor(&mut self.scene, ohms, (1.6, fed), BOARD - 2.5);
        self.scene.text(Role::Label, (1.6, above(zero)), Anchor::Start, &["0 V".to_owned()]);
        self.scene.line(Role::Conductor, &[(1.6, zero), (BOARD - 0.9, zero)]);
    }

    fn rest(&mut self, rest: Rest<'n>, at: (f64, f64)) -> f64 {
        self.start = at;
        match rest {
            Rest::Net(net) => self.net(net, at),
            Rest::Parts(parts) => self.series(parts, at),
        }
    }

    /// Draws a network from its upper left point; the height at which its lower line ends, below that point.
    fn net(&mut self, net: &'n Net, (x, y): (f64, f64)) -> f64 {
        match net {
            Net::Joined => self.close((x, y), x),
            Net::Open => {
                let low = y + self.gap;
                for y in [y, low] {
                    self.scene.line(Role::Conductor, &[(x, y), (x + END, y)]);
                    self.scene.line(Role::Stop, &[(x + END, y - 1.2), (x + END, y + 1.2)]);
                }
                self.reaches(low)
            }
            Net::Contact(_) | Net::Resistor(_) => self.series(std::slice::from_ref(net), (x, y)),
            Net::Detector(..) => self.across(net, (net, &OPEN), (x, y)),
            Net::Series(parts) => self.series(parts, (x, y)),
            Net::Across(across, behind) => self.across(net, (across, behind), (x, y)),
            Net::Cable(cable, behind) => self.cable(net, (cable, behind), (x, y)),
        }
    }

    /// What goes on elsewhere.
    fn goes_on(&mut self, rest: Rest<'n>, (x, y): (f64, f64)) -> f64 {
        self.letters += 1;
        self.waiting.push_back((self.letters, rest));
        let low = y + self.gap;
        for y in [y, low] {
            self.scene.line(Role::Conductor, &[(x, y), (x + LEAD, y)]);
            self.letter(self.letters, (x + LEAD + LETTER, y));
        }
        self.reaches(low)
    }

    fn letter(&mut self, number: usize, (x, y): (f64, f64)) {
        self.scene.circle(Role::Leader, (x, y), LETTER);
        let top = y - text::height(1, Role::Label) / 2.0;
        self.scene.text(Role::Label, (x, top), Anchor::Middle, &[letters(number)]);
    }

    /// True where a piece has no room beside what must follow it, or a row above what must follow below.
    fn is_full(&self, (x, y): (f64, f64), width: f64, rows: usize) -> bool {
        let below = if rows > 1 { STEP + self.gap } else { 0.0 };
        let too_low = y + self.gap + below + self.reserve + LETTER + 0.5 > self.room.height;
        (x, y) != self.start && (too_low || x + width + LEAD + 2.0 * LETTER > self.room.width)
    }

    /// Draws something above rows that are still to come.
    fn above(&mut self, draw: impl FnOnce(&mut Self) -> f64) -> f64 {
        self.reserve += STEP + self.gap;
        let low = draw(self);
        self.reserve -= STEP + self.gap;
        low
    }

    fn series(&mut self, parts: &'n [Net], (x, y): (f64, f64)) -> f64 {
        let (mut right, mut top) = (x, y);
        let mut left = parts;
        while let Some((part, others)) = left.split_first() {
            let width = match part {
                Net::Contact(_) => CONTACT,
                Net::Resistor(_) => RESISTOR,
                Net::Detector(..) | Net::Series(_) | Net::Across(..) | Net::Cable(..) | Net::Joined | Net::Open => 0.0,
            };
            let rows = if others.is_empty() { 1 } else { 2 };
            if self.is_full((right, top), width, rows) {
                let low = self.goes_on(Rest::Parts(left), (right, top));
                return self.back(low, right, x);
            }
            match part {
                Net::Contact(contact) => symbols::contact(&mut self.scene, contact, (right, top), width),
                Net::Resistor(value) => symbols::resistor(&mut self.scene, value, (right, top), width),
                Net::Detector(..) | Net::Series(_) | Net::Across(..) | Net::Cable(..) | Net::Joined | Net::Open => {
                    if others.is_empty() {
                        let low = self.net(part, (right, top));
                        return self.back(low, right, x);
                    }
                    let low = self.above(|pen| pen.net(part, (right, top)));
                    // The branch has come back: what follows is the next row.
                    top = low + STEP;
                    self.scene.line(Role::Conductor, &[(right, low), (right, top)]);
                    self.scene.circle(Role::Joint, (right, low + STEP / 2.0), 0.7);
                }
            }
            right += width;
            left = others;
        }
        self.close((right, top), x)
    }

    fn across(&mut self, whole: &'n Net, (across, behind): (&'n Net, &'n Net), (x, y): (f64, f64)) -> f64 {
        if self.is_full((x, y), ACROSS, 1) {
            return self.goes_on(Rest::Net(whole), (x, y));
        }
        let beside = match across {
            Net::Contact(_) | Net::Detector(..) | Net::Resistor(_) => true,
            Net::Series(_) | Net::Across(..) | Net::Cable(..) | Net::Joined | Net::Open => false,
        };
        if !beside {
            return self.side_by_side(across, behind, (x, y));
        }
        let width = if matches!(across, Net::Resistor(_)) { RESISTOR + OFF } else { ACROSS };
        let low = self.net(behind, (x + width, y));
        self.scene.line(Role::Conductor, &[(x, y), (x + width, y)]);
        self.back(low, x + width, x);
        let at = (x + OFF, y);
        match across {
            Net::Contact(contact) => {
                symbols::contact_across(&mut self.scene, contact, at, low, width - OFF - 2.0);
            }
            Net::Resistor(value) => symbols::resistor_across(&mut self.scene, value, at, low, width - OFF - 3.0),
            Net::Detector(title, rows) => {
                let lines = symbols::words(title, rows, width - OFF - BLADE - 2.0);
                symbols::detector(&mut self.scene, &lines, at, low);
            }
            Net::Series(_) | Net::Across(..) | Net::Cable(..) | Net::Joined | Net::Open => {}
        }
        low
    }

    /// Two branches between the same two points, one above the other.
    fn side_by_side(&mut self, one: &'n Net, other: &'n Net, (x, y): (f64, f64)) -> f64 {
        let (back, right) = (x + 3.0, x + 6.0);
        let low = self.above(|pen| pen.net(one, (right, y)));
        let top = low + STEP;
        self.scene.line(Role::Conductor, &[(x, y), (right, y)]);
        self.scene.line(Role::Conductor, &[(x, y), (x, top), (right, top)]);
        self.scene.circle(Role::Joint, (x, y), 0.7);
        let lowest = self.net(other, (right, top));
        self.scene.line(Role::Conductor, &[(right, low), (back, low), (back, lowest)]);
        self.scene.circle(Role::Joint, (back, lowest), 0.7);
        self.back(lowest, right, x)
    }

    fn cable(&mut self, whole: &'n Net, (cable, behind): (&'n Cable, &'n Net), (x, y): (f64, f64)) -> f64 {
        let size = Role::Label.style().text;
        let lines = [(Role::Label, &cable.name), (Role::Place, &cable.far), (Role::Label, &cable.faults)]
            .map(|(role, line)| (role, wrap(line, size, CABLE.1, 1)));
        let all = lines.iter().flat_map(|(_, lines)| lines);
        let widest = all.map(|line| text::width(line, size)).fold(CABLE.0, f64::max);
        let width = widest + 4.0;
        if self.is_full((x, y), width, 1) {
            return self.goes_on(Rest::Net(whole), (x, y));
        }
        let low = self.net(behind, (x + width, y));
        self.scene.line(Role::Cable, &[(x, y), (x + width, y)]);
        self.scene.line(Role::Cable, &[(x, low), (x + width, low)]);
        self.scene.linked(Some(&cable.link), |scene| {
            let mut top = y + 1.2;
            for (role, lines) in &lines {
                top = scene.text(*role, (x + width / 2.0, top), Anchor::Middle, lines);
            }
        });
        low
    }

    /// The end of a pair that is joined.
    fn close(&mut self, (x, y): (f64, f64), to: f64) -> f64 {
        let low = y + self.gap;
        self.scene.line(Role::Conductor, &[(x, y), (x + END, y), (x + END, low), (to, low)]);
        self.reaches(low)
    }

    /// The lower line, back to the left.
    fn back(&mut self, low: f64, from: f64, to: f64) -> f64 {
        if from > to {
            self.scene.line(Role::Conductor, &[(from, low), (to, low)]);
        }
        low
    }

    fn reaches(&mut self, low: f64) -> f64 {
        self.low = self.low.max(low);
        low
    }
}

/// How far the words of a network reach below the upper line.
fn depth(net: &Net) -> f64 {
    let words =
        |title: &str, rows: &str, width| 0.8 + text::height(symbols::words(title, rows, width).len(), Role::Label);
    match net {
        Net::Contact(contact) => symbols::contact_depth(contact, CONTACT),
        Net::Resistor(_) | Net::Joined | Net::Open => 0.0,
        Net::Detector(title, rows) => words(title, rows, ACROSS - OFF - BLADE - 2.0),
        Net::Series(parts) => parts.iter().map(depth).fold(0.0, f64::max),
        Net::Across(across, behind) => {
            let across = match &**across {
                Net::Contact(contact) => {
                    let shunt = if contact.shunt.is_some() { text::height(1, Role::Label) } else { 0.0 };
                    words(&contact.title, &contact.rows, ACROSS - OFF - 2.0) + shunt
                }
                Net::Resistor(_)
                | Net::Detector(..)
                | Net::Series(_)
                | Net::Across(..)
                | Net::Cable(..)
                | Net::Joined
                | Net::Open => depth(across),
            };
            across.max(depth(behind))
        }
        Net::Cable(_, behind) => (1.2 + text::height(3, Role::Label)).max(depth(behind)),
    }
}

/// Letters that are neither wide nor taken for figures.
const LETTERS: [char; 20] =
    ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H', 'K', 'L', 'N', 'P', 'R', 'S', 'T', 'U', 'V', 'X', 'Y', 'Z'];

/// 1 is A, 20 is Z, 21 is AA.
fn letters(number: usize) -> String {
    let (mut left, mut said) = (number, String::new());
    while let Some(next) = left.checked_sub(1) {
        said.extend(LETTERS.get(next % LETTERS.len()));
        left = next / LETTERS.len();
    }
    said.chars().rev().collect()
}
