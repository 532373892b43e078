//! The words of what hangs in a house: what it is, and each of its cables as a tag with an arrow towards where it comes
//! from.

use super::Thing;
use super::sign::Sign;
use crate::draw::placing::Spot;
use crate::draw::role::Role;
use crate::draw::scene::{Anchor, Link, Scene, Size};
use crate::draw::text;

/// A line of a label.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Line {
    /// Words.
    Words(String),
    /// A cable.
    Tag {
        /// The text on its ends.
        label: String,
        /// Where it comes from; the way home where that is a board.
        from: String,
    },
    /// Where the cable of the line above comes from.
    From(String),
}

impl Line {
    /// True of words of which a line cuts none off.
    pub(crate) fn has_room_for(words: &str) -> bool {
        measured(words, Role::Label) <= MOST_WIDTH
    }

    /// A tag that would be long in two lines.
    fn in_lines(&self) -> Vec<Self> {
        const LONG: f64 = 40.0;
        match self {
            Self::Tag { label, from } if width(self) > LONG => {
                vec![Self::Tag { label: label.clone(), from: String::new() }, Self::From(from.clone())]
            }
            Self::Words(_) | Self::Tag { .. } | Self::From(_) => vec![self.clone()],
        }
    }
}

/// How the lines of a thing stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Form {
    /// Behind one another.
    Flat,
    /// Below one another.
    Stacked,
}

/// The most that a line takes.
pub(crate) const MOST_WIDTH: f64 = 62.0;
/// An arrow with what is behind it.
const ARROW: f64 = 5.2;
/// Between the label of a cable and where it comes from, and between lines behind one another.
const BETWEEN: f64 = 1.2;
const APART: f64 = 3.0;
/// Between a sign and its words, and above and below it.
const BESIDE: f64 = 1.2;
const AROUND: f64 = 0.3;

/// What is said of a thing: its sign, where that stands in the label, and its lines.
#[derive(Clone, Debug)]
pub(crate) struct Item {
    /// None where it stands on the plan.
    pub(crate) sign: Option<Sign>,
    /// What stands at its sign on the plan instead of its words.
    pub(crate) number: Option<usize>,
    /// True in a list, where words begin below one another.
    listed: bool,
    pub(crate) lines: Vec<Line>,
    /// Where its words lead, and who leads to them.
    link: Link,
}

impl Item {
    /// Of a thing whose sign stands on the plan.
    pub(crate) fn beside(thing: &Thing) -> Self {
        let lines = thing.lines.iter().flat_map(Line::in_lines).collect();
        Self { sign: None, number: None, listed: false, lines, link: thing.link.clone() }
    }

    /// Of a thing that is only known to be in a room, or at an opening; many lines as several items.
    pub(crate) fn listed(thing: &Thing, at: &str) -> Vec<Self> {
        const TOGETHER: usize = 12;
        let at = (!at.is_empty()).then(|| Line::Words(at.to_owned()));
        let lines: Vec<Line> = at.into_iter().chain(thing.lines.iter().flat_map(Line::in_lines)).collect();
        let item = |(nth, lines): (usize, &[Line])| {
            let sign = (nth == 0).then_some(thing.sign);
            // Who looks for it is led to where it begins.
            let id = if nth == 0 { thing.link.id.clone() } else { String::new() };
            Self {
                sign,
                number: None,
                listed: true,
                lines: lines.to_vec(),
                link: Link { id, to: thing.link.to.clone() },
            }
        };
        lines.chunks(TOGETHER).enumerate().map(item).collect()
    }

    /// The same, with what stands at its sign on the plan.
    pub(crate) fn numbered(self, number: Option<usize>) -> Self {
        Self { number, ..self }
    }

    /// Of what has no sign of its own in a list.
    pub(crate) fn words(words: String) -> Self {
        Self { sign: None, number: None, listed: true, lines: vec![Line::Words(words)], link: Link::default() }
    }

    /// Its extent.
    pub(crate) fn size(&self, form: Form) -> Size {
        let widths = self.lines.iter().map(width);
        let (width, rows) = match form {
            Form::Flat => (widths.map(|width| width + APART).sum::<f64>() - APART, self.lines.len().min(1)),
            Form::Stacked => (widths.fold(0.0, f64::max), self.lines.len()),
        };
        let height = self.sign.map_or(0.0, |sign| 2.0 * (sign.reach() + AROUND));
        Size { width: self.indent() + width.max(0.0), height: text::height(rows, Role::Label).max(height) }
    }

    /// Adds it at a place.
    pub(crate) fn add(&self, scene: &mut Scene, (x, y): Spot, form: Form) {
        let size = self.size(form);
        if let Some(sign) = self.sign {
            sign.add(scene, (x + WIDEST, y + size.height / 2.0));
        }
        let rows = if form == Form::Flat { self.lines.len().min(1) } else { self.lines.len() };
        let mut top = y + (size.height - text::height(rows, Role::Label)) / 2.0;
        let mut left = x + self.indent();
        scene.linked(Some(&self.link).filter(|link| !link.to.is_empty()), |scene| {
            for line in &self.lines {
                add(scene, line, (left, top));
                match form {
                    Form::Flat => left += width(line) + APART,
                    Form::Stacked => top += text::height(1, Role::Label),
                }
            }
        });
    }

    fn indent(&self) -> f64 {
        if self.listed { 2.0 * WIDEST + BESIDE } else { 0.0 }
    }
}

/// Half of the widest sign.
const WIDEST: f64 = super::sign::REACH + 1.0;

fn width(line: &Line) -> f64 {
    match line {
        Line::Words(words) => measured(&cut(words, MOST_WIDTH, Role::Label), Role::Label),
        Line::Tag { label, from } => {
            let (label, from) = tag(label, from);
            let from = if from.is_empty() { 0.0 } else { BETWEEN + measured(&from, Role::Place) };
            ARROW + measured(&label, Role::Label) + from
        }
        Line::From(from) => ARROW + measured(&cut(from, MOST_WIDTH - ARROW, Role::Place), Role::Place),
    }
}

fn add(scene: &mut Scene, line: &Line, (x, y): Spot) {
    match line {
        Line::Words(words) => {
            scene.text(Role::Label, (x, y), Anchor::Start, &[cut(words, MOST_WIDTH, Role::Label)]);
        }
        Line::Tag { label, from } => {
            let middle = y + text::height(1, Role::Label) / 2.0;
            arrow(scene, (x + 0.3, middle), ARROW - BETWEEN - 0.3);
            let (label, from) = tag(label, from);
            let behind = x + ARROW + measured(&label, Role::Label) + BETWEEN;
            scene.text(Role::Label, (x + ARROW, y), Anchor::Start, &[label]);
            if !from.is_empty() {
                scene.text(Role::Place, (behind, y), Anchor::Start, &[from]);
            }
        }
        Line::From(from) => {
            let from = cut(from, MOST_WIDTH - ARROW, Role::Place);
            scene.text(Role::Place, (x + ARROW, y), Anchor::Start, &[from]);
        }
    }
}

/// An arrow to the left, from its tip.
pub(crate) fn arrow(scene: &mut Scene, (x, y): Spot, length: f64) {
    scene.line(Role::Tag, &[(x + length, y), (x, y)]);
    scene.line(Role::Tag, &[(x + 1.2, y - 0.9), (x, y), (x + 1.2, y + 0.9)]);
}

/// The box around a number.
pub(crate) fn number_size(number: &str) -> Size {
    Size { width: measured(number, Role::Label) + 1.6, height: text::height(1, Role::Label) + 0.6 }
}

/// A number in a box, its middle at a place.
pub(crate) fn add_number(scene: &mut Scene, (x, y): Spot, number: &str) {
    let Size { width, height } = number_size(number);
    scene.rectangle(Role::Flag, (x - width / 2.0 + 0.15, y - height / 2.0 + 0.15), (width - 0.3, height - 0.3));
    scene.text(Role::Label, (x, y - text::height(1, Role::Label) / 2.0), Anchor::Middle, &[number.to_owned()]);
}

/// A cable's label is never cut: it has 16 characters at most.
fn tag(label: &str, from: &str) -> (String, String) {
    let label = cut(label, MOST_WIDTH * 0.7, Role::Label);
    let left = MOST_WIDTH - ARROW - BETWEEN - measured(&label, Role::Label);
    (label, cut(from, left, Role::Place))
}

/// A text in at most some room; dots tell that there is more.
pub(crate) fn cut(text: &str, room: f64, role: Role) -> String {
    text::wrap(text, role.style().text, room, 1).into_iter().next().unwrap_or_default()
}

fn measured(text: &str, role: Role) -> f64 {
    text::width(text, role.style().text)
}

/// Several below one another, with a heading.
#[derive(Clone, Debug)]
pub(crate) struct Block {
    heading: Vec<String>,
    items: Vec<Item>,
}

impl Block {
    pub(crate) fn new(heading: &str, items: Vec<Item>) -> Self {
        let heading = text::wrap(heading, Role::Heading.style().text, MOST_WIDTH * 0.75, 2);
        Self { heading, items }
    }

    /// The heading alone, in lines that fit some room if its words do.
    pub(crate) fn name(&self, room: f64) -> Self {
        let words = self.heading.join(" ");
        let most = room.clamp(10.0, MOST_WIDTH * 0.75);
        let heading = text::wrap(&words, Role::Heading.style().text, most, 2);
        Self { heading, items: Vec::new() }
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.heading.is_empty() && self.items.is_empty()
    }

    /// Its extent.
    pub(crate) fn size(&self, form: Form) -> Size {
        let heading = self.heading.iter().map(|line| measured(line, Role::Heading)).fold(0.0, f64::max);
        let sizes = self.items.iter().map(|item| item.size(form));
        let items = sizes.fold(Size::default(), |all, size| Size {
            width: all.width.max(size.width),
            height: all.height + size.height,
        });
        let height = text::height(self.heading.len(), Role::Heading) + items.height;
        Size { width: heading.max(items.width), height }
    }

    /// Adds it at a place.
    pub(crate) fn add(&self, scene: &mut Scene, (x, y): Spot, form: Form) {
        let mut top = scene.text(Role::Heading, (x, y), Anchor::Start, &self.heading);
        for item in &self.items {
            item.add(scene, (x, top), form);
            top += item.size(form).height;
        }
    }
}
