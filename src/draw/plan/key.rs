//! What stands beside a plan: where north is, how long a metre or a foot is, what the signs mean that occur, and what is
//! on further parts.

use super::scale::Scale;
use super::sign::Sign;
use super::walls::{self, Gap, WallLine};
use super::{Leaf, Line, Plan, Room, Thing};
use crate::draw::placing::{Edges, Places, Spot};
use crate::draw::role::Role;
use crate::draw::scene::{Anchor, Scene, Size};
use crate::draw::text;

/// Width of a column, and between the plan and the key.
pub(crate) const COLUMN: f64 = 54.0;
pub(crate) const BESIDE: f64 = 3.0;
/// Width of a sample, and from it to its words.
const SAMPLE: f64 = 9.0;
const APART: f64 = 1.5;

/// Something that the key tells.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Sample {
    Sign(Sign),
    /// The letters in a sign.
    Letters(&'static str),
    Leaf(Leaf),
    OpenAir,
    Coverage,
    Way,
    Place,
    Tag,
}

/// What is to be told of some rooms.
#[derive(Clone, Debug)]
pub(crate) struct Key {
    entries: Vec<(Sample, Vec<String>)>,
}

impl Key {
    /// Of what occurs in rooms that are drawn at scale.
    pub(crate) fn of_plan(plan: &Plan, rooms: &[&Room]) -> Self {
        Self::of(plan, rooms, None)
    }

    /// Of what occurs in lists, and in no room that is drawn at scale, whose key tells it.
    pub(crate) fn of_lists(plan: &Plan, drawn: &[&Room]) -> Self {
        Self::of(plan, &plan.rooms.iter().collect::<Vec<_>>(), Some(drawn))
    }

    fn of(plan: &Plan, rooms: &[&Room], told: Option<&[&Room]>) -> Self {
        let openings = || rooms.iter().flat_map(|room| &room.openings);
        let things = || rooms.iter().flat_map(|room| room.all_things());
        let told_things: Vec<&Thing> = told.into_iter().flatten().flat_map(|room| room.all_things()).collect();
        let on_plan = told.is_none();
        let mut signs: Vec<Sign> = things().map(|thing| thing.sign).collect();
        signs.sort_unstable();
        signs.dedup();
        signs.retain(|sign| told_things.iter().all(|thing| thing.sign != *sign));
        let mut samples: Vec<(Sample, String)> = Vec::new();
        if on_plan {
            for (leaf, meaning) in [
                (Leaf::Door, "door; its swing is not known"),
                (Leaf::Window, "window"),
                (Leaf::Hatch, "hatch, gate or roof light"),
            ] {
                if openings().any(|opening| opening.leaf == leaf) {
                    samples.push((Sample::Leaf(leaf), meaning.to_owned()));
                }
            }
            if rooms.iter().any(|room| room.outdoors) {
                samples.push((Sample::OpenAir, "edge of a place in open air".to_owned()));
            }
            if things().any(|thing| thing.coverage.is_some()) {
                samples.push((Sample::Coverage, "reach of a detector by its sheet, within its room".to_owned()));
            }
            let outlines: Vec<_> = rooms.iter().filter_map(|room| room.outline).collect();
            if plan.ways.iter().any(|way| way.is_among(&outlines)) {
                samples.push((Sample::Way, "way of a cable, with its label".to_owned()));
            }
        }
        samples.extend(of_signs(&signs));
        let is_tagged = |thing: &Thing| thing.lines.iter().any(|line| matches!(line, Line::Tag { .. }));
        if things().any(is_tagged) && !told_things.into_iter().any(is_tagged) {
            samples.push((Sample::Tag, "cable, where it comes from".to_owned()));
        }
        Self { entries: samples.into_iter().map(|(sample, words)| (sample, wrapped(&words))).collect() }
    }

    /// With what a dot at the end of a line is, where that has room in the columns.
    pub(crate) fn with_place(mut self, height: f64) -> Self {
        let columns = |key: &Self| key.columns(height).last().map(|(column, ..)| *column);
        let before = columns(&self);
        self.entries.push((Sample::Place, wrapped("place of what stands at the line's other end")));
        if columns(&self) != before {
            self.entries.pop();
        }
        self
    }

    /// Nothing is to be told.
    pub(crate) fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }

    /// Width that it takes in some height, a column at least: north and the scale stand above it.
    pub(crate) fn width(&self, height: f64) -> f64 {
        let columns = self.columns(height).last().map_or(0, |(column, ..)| column + 1);
        f64::from(u32::try_from(columns.max(1)).unwrap_or(1)) * COLUMN
    }

    /// Each entry with its column and its upper edge from that of the columns.
    fn columns(&self, height: f64) -> Vec<(usize, f64, f64)> {
        let (mut column, mut top) = (0, 0.0);
        let mut places = Vec::new();
        for (sample, lines) in &self.entries {
            let high = sample.height().max(text::height(lines.len(), Role::Label)) + 0.6;
            if top > 0.0 && top + high > height {
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
            let left = area.left + f64::from(u32::try_from(column).unwrap_or(0)) * COLUMN;
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
            | Self::Tag => 4.0,
        }
    }

    fn add(self, scene: &mut Scene, (x, y): Spot) {
        let half = SAMPLE / 2.0 - 0.6;
        match self {
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
            Self::Tag => super::label::arrow(scene, (x - half, y), 2.0 * half),
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
    let tens = std::iter::successors(Some(1.0), |ten| Some(ten * 10.0)).take(12);
    let steps = tens.flat_map(|ten: f64| [1.0, 2.0, 5.0].map(|step| step * ten));
    let Some(units) = steps.take_while(|units| scale.length(units * unit) <= LONGEST).last() else { return };
    let (left, bar) = (x + 18.0, y + 9.0);
    let right = left + scale.length(units * unit);
    scene.line(Role::Tag, &[(left, bar - 1.2), (left, bar), (right, bar), (right, bar - 1.2)]);
    scene.text(Role::Label, (left, bar - 6.0), Anchor::Start, &[format!("{units} {name}")]);
}

/// Height of what is said of further parts.
pub(crate) const NOTES: f64 = 17.0;

/// Adds of which rooms there is more on a further part, from one edge to another.
pub(crate) fn add_notes(scene: &mut Scene, (left, right): (f64, f64), y: f64, rooms: &[&str]) {
    if rooms.is_empty() {
        return;
    }
    let words = format!("More on a further part: {}.", rooms.join(", "));
    let lines = text::wrap(&words, Role::Label.style().text, (right - left).min(COLUMN) - 2.0, 4);
    scene.text(Role::Place, (left, y), Anchor::Start, &lines);
}
