//! The words beside wires: what they do, and where a piece of a cable goes on.

use super::{Into, Leaves, Wire};
use crate::draw::role::Role;
use crate::draw::scene::{Anchor, Link, Scene};
use crate::draw::text::{height, lines, width};

/// Between the outline of a flag and its text.
const PAD: f64 = 0.8;
/// Between a flag and the words behind it, and between letters and where they go.
const APART: f64 = 1.5;
/// The widest flag.
const FLAG: f64 = 30.0;
/// From the middle of a line of text to its upper edge.
const HALF: f64 = 2.0;

/// Where some wires of a piece go on.
#[derive(Clone, Debug)]
struct Entry {
    /// What the letters are.
    role: Role,
    letters: Vec<String>,
    goes: Vec<String>,
    /// True where both stand side by side.
    is_short: bool,
    link: Link,
}

impl Entry {
    fn new(role: Role, letters: &str, goes: &str, link: &Link, room: f64) -> Self {
        let indent = width(letters, Role::Label.style().text) + APART;
        let is_short = indent <= room * 0.45;
        let letters = lines(Role::Label, letters, room, 12);
        let goes = lines(Role::Place, goes, if is_short { room - indent } else { room }, 6);
        Self { role, letters, goes, is_short, link: link.clone() }
    }

    fn height(&self) -> f64 {
        let (letters, goes) = (height(self.letters.len(), Role::Label), height(self.goes.len(), Role::Place));
        if self.is_short { letters.max(goes) } else { letters + goes }
    }

    fn add(&self, scene: &mut Scene, (x, y): (f64, f64)) {
        let link = Link { to: self.link.to.clone(), id: String::new() };
        scene.linked(Some(&link), |scene| {
            let below = scene.text(self.role, (x, y), Anchor::Start, &self.letters);
            let indent = self.letters.iter().map(|line| width(line, Role::Label.style().text)).fold(0.0, f64::max);
            let at = if self.is_short && indent > 0.0 { (x + indent + APART, y) } else { (x, y) };
            let at = if self.is_short { at } else { (x, below) };
            scene.text(Role::Place, at, Anchor::Start, &self.goes);
        });
    }
}

/// What stands behind the line of a piece, or of a wire that is in no cable.
#[derive(Clone, Debug)]
pub(super) struct Block {
    /// The cable's label.
    flag: Vec<String>,
    /// The first of its rows.
    link: Link,
    entries: Vec<Entry>,
    /// Whether a line of it tells where more of the cable is.
    has_more: bool,
}

impl Block {
    /// That of some wires of one cable.
    pub(super) fn of_cable(wires: &[&Wire], has_more: bool, room: f64) -> Self {
        let label = wires.first().map(|wire| wire.of.trim()).filter(|label| !label.is_empty()).unwrap_or("?");
        let flag = lines(Role::Label, label, FLAG, 4);
        let room = room - Self::indent(&flag);
        // Those that go to one place together, in the order of the first of them.
        let mut ways: Vec<(&str, Vec<&str>, &Link)> = Vec::new();
        for wire in wires.iter().filter(|wire| !wire.goes.trim().is_empty()) {
            match ways.iter_mut().find(|(goes, ..)| *goes == wire.goes) {
                Some((_, letters, _)) => letters.push(&wire.letters),
                None => ways.push((&wire.goes, vec![&wire.letters], &wire.link)),
            }
        }
        let entries =
            ways.iter().map(|(goes, letters, link)| Entry::new(Role::Letters, &letters.join(", "), goes, link, room));
        let link = wires.first().map(|wire| wire.link.clone()).unwrap_or_default();
        Self { flag, link, entries: entries.collect(), has_more }
    }

    /// That of a wire that is in no cable; `None` where there is none.
    pub(super) fn of_wire(wire: &Wire, room: f64) -> Option<Self> {
        if wire.leaves == Leaves::Nothing || wire.into == Into::Cable {
            return None;
        }
        let entries = vec![Entry::new(Role::Name, &wire.of, &wire.goes, &wire.link, room)];
        Some(Self { flag: Vec::new(), link: Link::default(), entries, has_more: false })
    }

    /// Width of the flag with what is between it and the words.
    fn indent(flag: &[String]) -> f64 {
        let widest = flag.iter().map(|line| width(line, Role::Label.style().text)).fold(0.0, f64::max);
        if flag.is_empty() { 0.0 } else { widest + 2.0 * PAD + APART }
    }

    /// From its upper edge to the line that comes to it.
    pub(super) fn above(&self) -> f64 {
        if self.flag.is_empty() { HALF } else { HALF + PAD / 2.0 }
    }

    pub(super) fn height(&self) -> f64 {
        let more = if self.has_more { height(1, Role::Label) } else { 0.0 };
        let words = self.entries.iter().map(Entry::height).sum::<f64>() + more;
        let flag = if self.flag.is_empty() { 0.0 } else { height(self.flag.len(), Role::Label) + PAD };
        flag.max(words + self.above() - HALF)
    }

    /// Adds it behind a line that comes to it at a place; `more` tells where others of the cable are.
    pub(super) fn add(&self, scene: &mut Scene, (x, y): (f64, f64), more: &str, room: f64) {
        let (top, indent) = (y - HALF, Self::indent(&self.flag));
        if !self.flag.is_empty() {
            let size = (indent - APART, height(self.flag.len(), Role::Label) + PAD);
            scene.rectangle(Role::Flag, (x, y - self.above()), size);
            let link = Link { to: self.link.to.clone(), id: String::new() };
            scene.linked(Some(&link), |scene| {
                scene.text(Role::Name, (x + PAD, top), Anchor::Start, &self.flag);
            });
        }
        let mut below = top;
        for entry in &self.entries {
            entry.add(scene, (x + indent, below));
            below += entry.height();
        }
        if self.has_more {
            scene.text(Role::Label, (x + indent, below), Anchor::Start, &lines(Role::Label, more, room - indent, 1));
        }
    }
}
