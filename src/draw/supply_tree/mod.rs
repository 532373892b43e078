//! What a supply feeds: a row for each place and each device, cables at the left, volts on a scale at the right.
//!
//! A place hangs below the one that its cable comes from. Of a device a dot shows the volts that arrive, a stroke the
//! least that it works at. Only the scale of volts is to scale.

#[cfg(test)]
mod tests;

use super::legend::{self, Words};
use super::role::Role;
use super::scene::{Anchor, Scene, Size};
use super::steps;
use super::text::{self, wrap};

/// A supply in one case.
#[derive(Clone, Debug)]
pub(crate) struct Supply {
    /// What it is called, and the case.
    pub(crate) title: String,
    /// The places, each after the one that it hangs below.
    pub(crate) places: Vec<Place>,
}

/// A place.
#[derive(Clone, Debug)]
pub(crate) struct Place {
    /// How many places it hangs below, one behind the other: at most one more than the place before.
    pub(crate) depth: usize,
    /// Its cable with length, or the supply itself.
    pub(crate) cable: String,
    /// Current into it, volts at it.
    pub(crate) figures: String,
    /// What takes current here.
    pub(crate) loads: Vec<Load>,
}

/// A device.
#[derive(Clone, Debug)]
pub(crate) struct Load {
    /// What it is called.
    pub(crate) title: String,
    /// What it takes, and the margin, in words.
    pub(crate) figures: String,
    /// Volts at it.
    pub(crate) volts: Option<f64>,
    /// The least that it works at.
    pub(crate) least: Option<f64>,
}

/// What the marks mean.
const LEGEND: &Words = &[
    (Role::Cable, "cable: label, length; current in it, volts at its end"),
    (Role::Joint, "device, and on the scale the volts that arrive there"),
    (Role::Limit, "the least volts at which it works"),
];

const INSET: f64 = 2.5;
/// Height of a row; from the left edge to the first place, and from a place to what hangs below it.
const ROW: f64 = 4.2;
const STEP: f64 = 6.0;
/// Places that hang lower stand where these do.
const DEEPEST: usize = 9;
/// Width of the scale at least and at most, of the figures before it, and between columns.
const SCALE: (f64, f64) = (36.0, 70.0);
const FIGURES: f64 = 58.0;
/// The least from one figure of the scale to the next.
const FIGURE: f64 = 12.5;
const APART: f64 = 2.0;

/// A row of the drawing.
enum Row<'s> {
    Place(&'s Place),
    Load(usize, &'s Load),
}

impl Row<'_> {
    /// How deep it stands, its words, its figures, and the line to it.
    fn parts(&self) -> (usize, &str, &str, Role) {
        match self {
            Self::Place(place) => (place.depth.min(DEEPEST), &place.cable, &place.figures, Role::Cable),
            Self::Load(depth, load) => ((*depth).min(DEEPEST) + 1, &load.title, &load.figures, Role::Conductor),
        }
    }

    /// What it takes before the scale.
    fn width(&self) -> f64 {
        let (depth, name, said, _) = self.parts();
        let size = Role::Label.style().text;
        let said = text::width(said, size).min(FIGURES);
        INSET + indent(depth) + STEP + 3.0 + text::width(name, size) + said + 2.0 * APART + 0.1
    }
}

/// The drawing, in as many scenes as it needs where none may be larger than `room`.
pub(crate) fn draw(supply: &Supply, room: Size) -> Vec<Scene> {
    let rows: Vec<Row> = supply
        .places
        .iter()
        .flat_map(|place| {
            std::iter::once(Row::Place(place)).chain(place.loads.iter().map(|load| Row::Load(place.depth, load)))
        })
        .collect();
    let named = rows.iter().map(Row::width).fold(0.0, f64::max);
    let Some(axis) = Axis::of(supply, room.width - INSET - APART, named) else { return Vec::new() };
    let column = (room.width - 2.0 * INSET) / 2.0;
    let head = INSET + text::height(2, Role::Label) + 1.0;
    let around = head + 2.0 + legend::most_height(LEGEND, column, 2) + INSET;
    let most = ((room.height - around) / ROW).floor().max(1.0);
    let mut pages: Vec<Vec<&Row>> = vec![Vec::new()];
    let mut height = 0.0;
    for row in &rows {
        if height + 1.0 > most {
            pages.push(Vec::new());
            height = 0.0;
        }
        height += 1.0;
        if let Some(page) = pages.last_mut() {
            page.push(row);
        }
    }
    let of = pages.len();
    let page = |(number, rows): (usize, Vec<&Row>)| {
        let mut scene = Scene::default();
        let part = if of > 1 { format!(", part {number} of {of}") } else { String::new() };
        let title = wrap(&format!("{}{part}", supply.title), Role::Label.style().text, axis.left - 3.0 * INSET, 2);
        scene.text(Role::Label, (INSET, INSET), Anchor::Start, &title);
        let bottom = add(&mut scene, &rows, head, &axis);
        let bottom = legend::add(&mut scene, LEGEND, (INSET, bottom + 2.0), column, 2);
        scene.framed(Size { width: room.width, height: bottom + INSET })
    };
    (1..).zip(pages).map(page).collect()
}

fn add(scene: &mut Scene, rows: &[&Row], head: f64, axis: &Axis) -> f64 {
    let bottom = rows.iter().fold(head, |y, _| y + ROW);
    axis.add(scene, head, bottom);
    let level = |y: f64| y + ROW / 2.0;
    // The height of the last row of each depth, where what hangs below it starts.
    let mut above: Vec<f64> = vec![head - 0.5; DEEPEST + 2];
    let size = Role::Label.style().text;
    let figures = axis.left - APART;
    for (row, y) in rows.iter().zip((0..).map(|nth| head + f64::from(nth) * ROW)) {
        let (depth, name, said, role) = row.parts();
        let left = INSET + indent(depth);
        let x = left + STEP;
        if depth > 0 {
            let from = above.get(depth - 1).copied().unwrap_or(head - 0.5);
            let stem = left + 1.0;
            scene.line(role, &[(stem, from), (stem, level(y)), (x, level(y))]);
        } else {
            scene.line(Role::Cable, &[(left + 1.0, level(y)), (x, level(y))]);
        }
        for below in above.iter_mut().skip(depth) {
            *below = level(y) + 0.8;
        }
        let said = wrap(said, size, FIGURES, 1);
        let taken = said.iter().map(|line| text::width(line, size)).fold(0.0, f64::max);
        let name = wrap(name, size, figures - taken - APART - x - 3.0, 1);
        scene.text(Role::Label, (x + 2.0, y + 0.3), Anchor::Start, &name);
        scene.text(Role::Label, (figures, y + 0.3), Anchor::End, &said);
        if let Row::Load(_, load) = row {
            scene.circle(Role::Joint, (x, level(y)), 0.8);
            if let Some(least) = load.least {
                let at = axis.at(least);
                scene.line(Role::Limit, &[(at, y + 0.5), (at, y + ROW - 0.5)]);
            }
            if let Some(volts) = load.volts {
                scene.circle(Role::Joint, (axis.at(volts), level(y)), 1.0);
            }
        }
    }
    bottom
}

fn indent(depth: usize) -> f64 {
    text::count(depth) * STEP
}

/// The scale of volts.
struct Axis {
    left: f64,
    right: f64,
    low: f64,
    high: f64,
}

impl Axis {
    /// The scale that holds all volts of a supply, behind rows of some width; `None` where there are none.
    fn of(supply: &Supply, right: f64, named: f64) -> Option<Self> {
        let loads = supply.places.iter().flat_map(|place| &place.loads);
        let all: Vec<f64> = loads.flat_map(|load| load.volts.into_iter().chain(load.least)).collect();
        let low = all.iter().copied().reduce(f64::min)?.floor();
        let high = all.iter().copied().reduce(f64::max)?.ceil().max(low + 1.0);
        let width = (right - named).clamp(SCALE.0, SCALE.1);
        Some(Self { left: right - width, right, low, high })
    }

    fn at(&self, volts: f64) -> f64 {
        self.left + (volts - self.low) / (self.high - self.low) * (self.right - self.left)
    }

    /// Thin lines at whole volts, or at every so many where there are too many, with their figures above.
    fn add(&self, scene: &mut Scene, top: f64, bottom: f64) {
        let step = steps::round()
            .find(|step| (self.high - self.low) / step <= (self.right - self.left) / FIGURE)
            .unwrap_or(self.high - self.low);
        let mut volts = (self.low / step).ceil() * step;
        while volts <= self.high + 1e-9 {
            let at = self.at(volts);
            scene.line(Role::Grid, &[(at, top - 0.5), (at, bottom)]);
            let said = format!("{volts:.0} V");
            let (anchor, at) = if at > self.right - 4.0 { (Anchor::End, self.right) } else { (Anchor::Middle, at) };
            scene.text(Role::Label, (at, top - 0.8 - text::height(1, Role::Label)), anchor, &[said]);
            volts += step;
        }
    }
}
