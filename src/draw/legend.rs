//! The legend: what the kinds of marks mean that occur in a drawing, and no others.

use super::role::Role;
use super::scene::{Anchor, Mark, Scene, Shape};
use super::text::{self, wrap};

/// Width of a sample, and from a sample to its words.
const SAMPLE: f64 = 9.0;
const APART: f64 = 2.0;
/// Height of a sample that is a rectangle.
const BOX: f64 = 3.4;
/// Length of what comes to such a sample.
const STUB: f64 = 2.4;

/// What roles mean in a drawing: each with words, in the order of the legend.
pub(crate) type Words = [(Role, &'static str)];

/// The height that the legend has at most, in columns of some width.
pub(crate) fn most_height(words: &Words, column: f64, columns: usize) -> f64 {
    let rows = words.len().div_ceil(columns.max(1));
    let lines = words.iter().map(|(_, words)| lines(words, column).len()).max().unwrap_or(0);
    height(lines) * text::count(rows)
}

/// Scenes with room for a legend, and the lower edge of the longest: a page seldom has all that the legend tells, so most of
/// its height is tried before all of it. `room` is where a page ends.
pub(crate) fn fitting(legend: f64, room: f64, draw: impl Fn(f64) -> (Vec<Scene>, f64)) -> Vec<Scene> {
    let (scenes, bottom) = draw(legend * 0.75);
    if bottom <= room { scenes } else { draw(legend).0 }
}

/// Adds the legend of what occurs in a scene, at a place, in columns of some width; its lower edge.
pub(crate) fn add(scene: &mut Scene, words: &Words, (x, y): (f64, f64), column: f64, columns: usize) -> f64 {
    let occurring = words.iter().filter_map(|(role, words)| {
        let mark = scene.marks.iter().find(|mark| mark.role == *role)?;
        Some((mark.clone(), lines(words, column)))
    });
    let entries: Vec<(Mark, Vec<String>)> = occurring.collect();
    let mut top = y;
    for row in entries.chunks(columns.max(1)) {
        let mut left = x;
        for (mark, lines) in row {
            sample(scene, mark, left, top + text::height(1, Role::Label) / 2.0);
            scene.text(Role::Label, (left + SAMPLE + APART, top), Anchor::Start, lines);
            left += column;
        }
        top += height(row.iter().map(|(_, lines)| lines.len()).max().unwrap_or(0));
    }
    top
}

/// A mark as small as a word, its middle at a height.
fn sample(scene: &mut Scene, mark: &Mark, left: f64, middle: f64) {
    match &mark.shape {
        // A limit is a stroke across a scale.
        Shape::Line(_) if mark.role == Role::Limit => {
            let x = left + SAMPLE / 2.0;
            scene.line(mark.role, &[(x, middle - BOX / 2.0), (x, middle + BOX / 2.0)]);
        }
        Shape::Line(_) => scene.line(mark.role, &[(left, middle), (left + SAMPLE, middle)]),
        Shape::Rectangle(_) | Shape::Polygon(_) => {
            let (before, after) = beside(mark.role);
            if let Some(role) = before {
                scene.line(role, &[(left, middle), (left + STUB, middle)]);
            }
            if let Some(role) = after {
                scene.line(role, &[(left + SAMPLE - STUB, middle), (left + SAMPLE, middle)]);
            }
            let taken = |stub: Option<Role>| if stub.is_some() { STUB } else { 0.0 };
            let (from, to) = (left + taken(before), left + SAMPLE - taken(after));
            scene.rectangle(mark.role, (from, middle - BOX / 2.0), (to - from, BOX));
        }
        Shape::Circle { radius, .. } => scene.circle(mark.role, (left + SAMPLE / 2.0, middle), *radius),
        // Words tell what they mean themselves.
        Shape::Text { .. } => {}
    }
}

/// What comes to a box at its left and at its right, by which boxes alike are told apart: to a terminal a conductor from
/// the house, to a label its cable, and a resistor stands in a conductor.
fn beside(role: Role) -> (Option<Role>, Option<Role>) {
    const BESIDE: [(Role, Option<Role>, Option<Role>); 3] = [
        (Role::Terminal, None, Some(Role::Conductor)),
        (Role::Flag, Some(Role::Cable), None),
        (Role::Resistor, Some(Role::Conductor), Some(Role::Conductor)),
    ];
    let found = BESIDE.into_iter().find(|(of, ..)| *of == role);
    found.map_or((None, None), |(_, before, after)| (before, after))
}

fn lines(words: &str, column: f64) -> Vec<String> {
    wrap(words, Role::Label.style().text, column - SAMPLE - 2.0 * APART, 3)
}

/// Height of a row of entries.
fn height(lines: usize) -> f64 {
    text::height(lines, Role::Label) + 1.0
}
