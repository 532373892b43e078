//! What stands beside a plan: where north is, how long a metre or a foot is, what the signs mean that occur, and what is
//! in lists.

use std::collections::BTreeMap;

use super::label::{self, Item};
use super::scale::Scale;
use super::sign::Sign;
use super::walls::{self, Gap, WallLine};
use super::{Leaf, Line, Plan, Room};
use crate::draw::placing::{Edges, Places, Spot};
use crate::draw::role::Role;
use crate::draw::scene::{Anchor, Scene, Size};
use crate::draw::{steps, text};

/// Width of a column, and between the plan and the key.
pub(crate) const COLUMN: f64 = 54.0;
pub(crate) const BESIDE: f64 = 3.0;
/// Width of a sample, and from it to its words.
const SAMPLE: f64 = 9.0;
const APART: f64 = 1.5;

/// What a dot at the end of a line is.
const PLACE: &str = "place of what stands at the line's other end";

/// What a number in a box is.
const NUMBER: &str = "number at a sign, and in the list of its room";
/// The same of what has numbered rows.
const ROW: &str = "number of its row on the rough-in sheet";

/// How many columns stand in some width.
pub(crate) fn columns_in(width: f64) -> usize {
    (1..9).take_while(|count| f64::from(*count) * COLUMN <= width).count().max(1)
}

/// Something that the key tells.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Sample {
    Leaf(Leaf),
    OpenAir,
    Coverage,
    Way,
    Sign(Sign),
    /// The letters in a sign.
    Letters(&'static str),
    Tag,
    Place,
    Number,
    Row,
}

/// What is to be told.
#[derive(Clone, Debug)]
pub(crate) struct Key {
    entries: Vec<(Sample, Vec<String>)>,
}

/// What rooms that are drawn at scale may have on their drawing, once for each that has it.
pub(crate) fn in_rooms(plan: &Plan, rooms: &[&Room]) -> Vec<Sample> {
    let outlines: Vec<_> = rooms.iter().filter_map(|room| room.outline).collect();
    let has_way = plan.ways.iter().any(|way| way.is_among(&outlines));
    let openings = rooms.iter().flat_map(|room| &room.openings).map(|opening| Sample::Leaf(opening.leaf));
    let things = || rooms.iter().flat_map(|room| room.all_things());
    let has = |sample: Sample, occurs: bool| occurs.then_some(sample);
    openings
        .chain(has(Sample::OpenAir, rooms.iter().any(|room| room.outdoors)))
        .chain(has(Sample::Coverage, things().any(|thing| thing.coverage.is_some())))
        .chain(has(Sample::Way, has_way))
        .chain(things().map(|thing| Sample::Sign(thing.sign)))
        .chain(has(Sample::Tag, things().any(|thing| is_tagged(&thing.lines))))
        .collect()
}

/// What of that is on the drawing, before anything stands beside the rooms: openings whose wall is known, and signs but of
/// what is in lists elsewhere.
pub(crate) fn drawn(mut occurring: Vec<Sample>, scene: &Scene, openings: &[Leaf], listed: &[Vec<Item>]) -> Vec<Sample> {
    let mut elsewhere: BTreeMap<Sign, usize> = BTreeMap::new();
    for sign in listed.iter().flatten().filter_map(|item| item.sign) {
        *elsewhere.entry(sign).or_default() += 1;
    }
    let has = |role: Role| scene.marks.iter().any(|mark| mark.role == role);
    occurring.retain(|sample| match sample {
        Sample::Leaf(leaf) => openings.contains(leaf),
        Sample::OpenAir => has(Role::OpenAir),
        Sample::Coverage => has(Role::Coverage),
        Sample::Way => has(Role::Way),
        Sample::Tag => has(Role::Tag),
        Sample::Sign(sign) => match elsewhere.get_mut(sign).filter(|count| **count > 0) {
            Some(count) => {
                *count -= 1;
                false
            }
            None => true,
        },
        Sample::Letters(_) | Sample::Place | Sample::Number | Sample::Row => true,
    });
    occurring
}

/// What occurs in a list.
pub(crate) fn in_list(items: &[Item]) -> Vec<Sample> {
    let signs = items.iter().filter_map(|item| item.sign).map(Sample::Sign);
    let has = |sample: Sample, occurs: fn(&Item) -> bool| items.iter().any(occurs).then_some(sample);
    let tag = has(Sample::Tag, |item| is_tagged(&item.lines));
    signs.chain(tag).chain(has(Sample::Number, |item| item.number.is_some())).collect()
}

fn is_tagged(lines: &[Line]) -> bool {
    lines.iter().any(|line| matches!(line, Line::Tag { .. }))
}

impl Key {
    /// Of what occurs, each once.
    pub(crate) fn of(occurring: &[Sample]) -> Self {
        let mut signs: Vec<Sign> = occurring
            .iter()
            .filter_map(|sample| if let Sample::Sign(sign) = sample { Some(*sign) } else { None })
            .collect();
        signs.sort_unstable();
        signs.dedup();
        let occurs = |(sample, words): (Sample, &str)| occurring.contains(&sample).then(|| (sample, words.to_owned()));
        let before = [
            (Sample::Leaf(Leaf::Door), "door; its swing is not known"),
            (Sample::Leaf(Leaf::Window), "window"),
            (Sample::Leaf(Leaf::Hatch), "hatch, gate or roof light"),
            (Sample::OpenAir, "edge of a place in open air"),
            (Sample::Coverage, "reach of a detector by its sheet, within its room"),
            (Sample::Way, "way of a cable, with its label"),
        ];
        let after = [
            (Sample::Tag, "cable, where it comes from"),
            (Sample::Place, PLACE),
            (Sample::Number, NUMBER),
            (Sample::Row, ROW),
        ];
        let all =
            before.into_iter().filter_map(occurs).chain(of_signs(&signs)).chain(after.into_iter().filter_map(occurs));
        Self { entries: all.map(|(sample, words)| (sample, wrapped(&words))).collect() }
    }

    /// With what a drawing has besides, where that has room in the columns.
    pub(crate) fn with(mut self, besides: &[Sample], height: f64) -> Self {
        let before = self.count(height);
        for entry in Self::of(besides).entries {
            self.entries.push(entry);
            if self.count(height) != before {
                self.entries.pop();
            }
        }
        self
    }

    /// The least height at which it stands in some columns.
    pub(crate) fn lowest(&self, columns: usize) -> f64 {
        let fits = |height: f64| {
            self.columns(height).iter().all(|(column, top, high)| *column < columns && top + high <= height)
        };
        let heights = std::iter::successors(Some(0.0), |height| Some(height + 1.0));
        heights.take(1000).find(|height| fits(*height)).unwrap_or_default()
    }

    /// How many columns it takes in some height.
    fn count(&self, height: f64) -> usize {
        self.columns(height).last().map_or(0, |(column, ..)| column + 1)
    }

    /// Width that it takes in some height, a column at least: north and the scale stand above it.
    pub(crate) fn width(&self, height: f64) -> f64 {
        text::count(self.count(height).max(1)) * COLUMN
    }

    /// Each entry with its column and its upper edge from that of the columns.
    fn columns(&self, height: f64) -> Vec<(usize, f64, f64)> {
        let (mut column, mut top) = (0, 0.0);
        let mut places = Vec::new();
        for (sample, lines) in &self.entries {
            let high = sample.height().max(text::height(lines.len(), Role::Label)) + 0.1;
            // Heights are sums, which may be a hair short.
            if top > 0.0 && top + high > height + 1e-6 {
                column += 1;
                top = 0.0;
            }
            places.push((column, top, high));
            top += high;
        }
        places
    }

    /// Adds it in an area; its lower edge.
    pub(crate) fn add(&self, scene: &mut Scene, area: &Edges) -> f64 {
        let mut bottom = area.top;
        let places = self.columns(area.bottom - area.top);
        for ((sample, lines), (column, top, high)) in self.entries.iter().zip(places) {
            let left = area.left + text::count(column) * COLUMN;
            let middle = area.top + top + high / 2.0;
            sample.add(scene, (left + SAMPLE / 2.0, middle));
            let y = middle - text::height(lines.len(), Role::Label) / 2.0;
            scene.text(Role::Label, (left + SAMPLE + APART, y), Anchor::Start, lines);
            bottom = bottom.max(area.top + top + high);
        }
        bottom
    }
}

fn wrapped(words: &str) -> Vec<String> {
    text::wrap(words, Role::Label.style().text, COLUMN - SAMPLE - APART, 3)
}

/// Each shape of sign once, then the letters that stand in signs of that shape.
fn of_signs(signs: &[Sign]) -> Vec<(Sample, String)> {
    let mut samples: Vec<(Sample, String)> = Vec::new();
    for alike in signs.chunk_by(|one, other| std::mem::discriminant(one) == std::mem::discriminant(other)) {
        if let [sign] = alike {
            samples.push((Sample::Sign(*sign), sign.meaning()));
            continue;
        }
        samples.extend(alike.first().map(|sign| (Sample::Sign(*sign), sign.shape_meaning().to_owned())));
        for (letters, meaning) in alike.iter().filter_map(|sign| sign.letters()) {
            let letters = Sample::Letters(letters);
            // Wired and wireless have the same letters.
            if samples.iter().all(|(sample, words)| *sample != letters || words != meaning) {
                samples.push((letters, meaning.to_owned()));
            }
        }
    }
    samples
}

impl Sample {
    fn height(self) -> f64 {
        match self {
            Self::Sign(sign) => 2.0 * sign.reach() + 0.2,
            Self::Leaf(Leaf::Door) => 7.0,
            Self::Letters(_)
            | Self::Leaf(Leaf::Window | Leaf::Hatch)
            | Self::OpenAir
            | Self::Coverage
            | Self::Way
            | Self::Place
            | Self::Number
            | Self::Row
            | Self::Tag => 4.0,
        }
    }

    fn add(self, scene: &mut Scene, (x, y): Spot) {
        let half = SAMPLE / 2.0 - 0.6;
        match self {
            Self::Number | Self::Row => label::add_number(scene, (x, y), "1"),
            Self::Sign(sign) => sign.add(scene, (x, y)),
            Self::Letters(letters) => {
                let top = y - text::height(1, Role::Label) / 2.0;
                scene.text(Role::Label, (x, top), Anchor::Middle, &[letters.to_owned()]);
            }
            Self::Leaf(leaf) => {
                let down = if leaf == Leaf::Door { 2.4 } else { 0.0 };
                let wall = WallLine::level((x - half, y + down), 2.0 * half);
                scene.line(Role::Wall, &[wall.place(0.0, 0.0), wall.place(2.0 * half, 0.0)]);
                let mut nothing = Places::new(Edges::at((0.0, 0.0), Size::default()));
                walls::add_opening(scene, &mut nothing, &Gap { wall, from: 1.6, to: 2.0 * half - 1.6 }, leaf);
            }
            Self::OpenAir => scene.line(Role::OpenAir, &[(x - half, y), (x + half, y)]),
            Self::Coverage => scene.line(Role::Coverage, &[(x - half, y), (x + half, y)]),
            Self::Way => scene.line(Role::Way, &[(x - half, y), (x + half, y)]),
            Self::Place => {
                scene.line(Role::Leader, &[(x - half, y), (x + half, y)]);
                scene.circle(Role::LeaderEnd, (x - half, y), 0.5);
            }
            Self::Tag => label::arrow(scene, (x - half, y), 2.0 * half),
        }
    }
}

/// Height of north and the scale bar.
pub(crate) const HEAD: f64 = 13.0;

/// Adds an arrow to the north and beside it a bar of a whole number of metres or feet.
pub(crate) fn add_head(scene: &mut Scene, (x, y): Spot, scale: &Scale, feet: bool) {
    const LONGEST: f64 = 24.0;
    scene.line(Role::Tag, &[(x + 3.0, y + 10.5), (x + 3.0, y + 0.5)]);
    scene.line(Role::Tag, &[(x + 1.6, y + 3.5), (x + 3.0, y + 0.5), (x + 4.4, y + 3.5)]);
    scene.text(Role::Label, (x + 5.4, y + 4.0), Anchor::Start, &["north".to_owned()]);
    let (unit, name) = if feet { (0.3048, "ft") } else { (1.0, "m") };
    let Some(units) = steps::round().take_while(|units| scale.length(units * unit) <= LONGEST).last() else { return };
    let (left, bar) = (x + 18.0, y + 9.0);
    let right = left + scale.length(units * unit);
    scene.line(Role::Tag, &[(left, bar - 1.2), (left, bar), (right, bar), (right, bar - 1.2)]);
    scene.text(Role::Label, (left, bar - 6.0), Anchor::Start, &[format!("{units} {name}")]);
}

/// Height of what is said of the lists.
pub(crate) const NOTES: f64 = 17.0;

/// Adds of which rooms there is more in lists, from one edge to another.
pub(crate) fn add_notes(scene: &mut Scene, (left, right): (f64, f64), y: f64, has_rows: bool, rooms: &[&str]) {
    if rooms.is_empty() {
        return;
    }
    let place = if has_rows { "on the rough-in sheet" } else { "in the lists of rooms" };
    let words = format!("More {place}: {}.", rooms.join(", "));
    let lines = text::wrap(&words, Role::Label.style().text, (right - left).min(COLUMN) - 2.0, 4);
    scene.text(Role::Place, (left, y), Anchor::Start, &lines);
}
