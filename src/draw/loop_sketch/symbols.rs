//! The symbols of a loop, after IEC 60617: a contact that opens, one that closes, a resistor.

use crate::draw::role::Role;
use crate::draw::scene::{Anchor, Scene};
use crate::draw::text::{self, wrap};

use super::Contact;

/// Length of a symbol along its line, and of a resistor's box, with half its width.
pub(super) const LENGTH: f64 = 8.0;
const HALF: f64 = 1.6;
/// How far a blade stands off its line.
pub(super) const BLADE: f64 = 2.6;
/// From the upper line to a resistor across a contact.
const SHUNT: f64 = 4.6;
/// From a line or a symbol to words below.
const BELOW: f64 = 0.8;

/// Lines of words below a symbol.
pub(super) fn words(title: &str, rows: &str, width: f64) -> Vec<String> {
    let mut lines = wrap(title, Role::Label.style().text, width, 3);
    if !rows.is_empty() {
        lines.extend(wrap(rows, Role::Label.style().text, width, 2));
    }
    lines
}

/// A contact in a line that goes to the right, its words below. Drawn are the symbol and the line to both sides of it.
pub(super) fn contact(scene: &mut Scene, contact: &Contact, (x, y): (f64, f64), width: f64) {
    let middle = x + width / 2.0;
    let (left, right) = (middle - LENGTH / 2.0, middle + LENGTH / 2.0);
    scene.line(Role::Conductor, &[(x, y), (left, y)]);
    scene.line(Role::Conductor, &[(right, y), (x + width, y)]);
    if contact.closed {
        scene.line(Role::Closed, &[(right, y), (left - 0.8, y - BLADE)]);
        scene.line(Role::Stop, &[(left, y), (left, y - BLADE)]);
    } else {
        scene.line(Role::Open, &[(right, y), (left + 0.4, y - BLADE)]);
    }
    let mut below = y + BELOW;
    if let Some(value) = &contact.shunt {
        let (from, to, low) = (left - 2.0, right + 2.0, y + SHUNT);
        scene.circle(Role::Joint, (from, y), 0.7);
        scene.circle(Role::Joint, (to, y), 0.7);
        scene.line(Role::Conductor, &[(from, y), (from, low), (left, low)]);
        scene.line(Role::Conductor, &[(right, low), (to, low), (to, y)]);
        scene.rectangle(Role::Resistor, (left, low - HALF), (LENGTH, 2.0 * HALF));
        below = scene.text(Role::Value, (middle, low + HALF + BELOW / 2.0), Anchor::Middle, &cut(value, width - 2.0));
    }
    scene.text(Role::Label, (middle, below), Anchor::Middle, &words(&contact.title, &contact.rows, width - 2.0));
}

/// How far what stands below a contact's line reaches.
pub(super) fn contact_depth(contact: &Contact, width: f64) -> f64 {
    let shunt = if contact.shunt.is_some() { SHUNT + HALF + text::height(1, Role::Value) } else { 0.0 };
    BELOW + shunt + text::height(words(&contact.title, &contact.rows, width - 2.0).len(), Role::Label)
}

/// A resistor in a line that goes to the right, its value below.
pub(super) fn resistor(scene: &mut Scene, value: &str, (x, y): (f64, f64), width: f64) {
    let middle = x + width / 2.0;
    let (left, right) = (middle - LENGTH / 2.0, middle + LENGTH / 2.0);
    scene.line(Role::Conductor, &[(x, y), (left, y)]);
    scene.line(Role::Conductor, &[(right, y), (x + width, y)]);
    scene.rectangle(Role::Resistor, (left, y - HALF), (LENGTH, 2.0 * HALF));
    scene.text(Role::Value, (middle, y + HALF + BELOW / 2.0), Anchor::Middle, &cut(value, width - 2.0));
}

/// A contact that lies across the pair, its words to the right.
pub(super) fn contact_across(scene: &mut Scene, contact: &Contact, (x, y): (f64, f64), low: f64, width: f64) {
    let (from, to) = (y + 3.0, y + 3.0 + LENGTH);
    across(scene, x, [y, from, to, low]);
    if contact.closed {
        scene.line(Role::Closed, &[(x, to), (x - BLADE, from - 0.8)]);
        scene.line(Role::Stop, &[(x, from), (x - BLADE, from)]);
    } else {
        scene.line(Role::Open, &[(x, to), (x - BLADE, from + 0.4)]);
    }
    let mut lines = words(&contact.title, &contact.rows, width);
    lines.extend(contact.shunt.iter().flat_map(|value| cut(value, width)));
    scene.text(Role::Label, (x + 1.0, y + BELOW), Anchor::Start, &lines);
}

/// A resistor that lies across the pair, its value to the right.
pub(super) fn resistor_across(scene: &mut Scene, value: &str, (x, y): (f64, f64), low: f64, width: f64) {
    let (from, to) = (y + 3.0, y + 3.0 + LENGTH);
    across(scene, x, [y, from, to, low]);
    scene.rectangle(Role::Resistor, (x - HALF, from), (2.0 * HALF, LENGTH));
    scene.text(Role::Value, (x + HALF + 0.8, from + 2.0), Anchor::Start, &cut(value, width));
}

/// A detector that the loop feeds: a box across the pair, its words to the right.
pub(super) fn detector(scene: &mut Scene, lines: &[String], (x, y): (f64, f64), low: f64) {
    let (from, to) = (y + 3.0, y + 3.0 + LENGTH);
    across(scene, x, [y, from, to, low]);
    scene.rectangle(Role::Device, (x - BLADE, from), (2.0 * BLADE, LENGTH));
    scene.text(Role::Label, (x + BLADE + 0.8, y + BELOW), Anchor::Start, lines);
}

/// A value on one line.
fn cut(value: &str, width: f64) -> Vec<String> {
    wrap(value, Role::Value.style().text, width, 1)
}

/// The line across the pair above and below a symbol, joined to both.
fn across(scene: &mut Scene, x: f64, [top, from, to, low]: [f64; 4]) {
    scene.line(Role::Conductor, &[(x, top), (x, from)]);
    scene.line(Role::Conductor, &[(x, to), (x, low)]);
    scene.circle(Role::Joint, (x, top), 0.7);
    scene.circle(Role::Joint, (x, low), 0.7);
}
