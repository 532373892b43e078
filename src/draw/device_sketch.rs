//! What lands where behind the cover of a device: conductors from the left, its terminals in a column, its contacts at
//! their right, resistors between the terminals at their left.
//!
//! A *rung* is a terminal, or a joint under none, with what comes to it. Between two rungs there may be a contact of the
//! device (drawn as it is at rest), a wire, or parts such as a resistor. Out of scope: which colour comes where, which
//! differs from device to device.

use super::role::Role;
use super::scene::{Anchor, Scene, Size};
use super::text::{self, height, lines};

#[cfg(test)]
mod tests;

/// A device's terminals.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Sketch {
    /// What the device is.
    pub(crate) title: String,
    /// From above.
    pub(crate) rungs: Vec<Rung>,
}

/// A terminal, or a joint.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Rung {
    /// What comes from outside, each by a conductor of its own.
    pub(crate) comes: Vec<String>,
    /// The terminal's mark; `None` for a joint under no terminal.
    pub(crate) mark: Option<String>,
    /// The contact between this rung and the next: whether it is closed at rest.
    pub(crate) contact: Option<bool>,
    /// What is fitted between this rung and the next.
    pub(crate) fitted: Fitted,
}

/// What is fitted between two rungs.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) enum Fitted {
    /// Nothing.
    #[default]
    Nothing,
    /// A short wire.
    Wire,
    /// Parts, side by side, each in words.
    Parts(Vec<String>),
}

/// Columns from the left: words, the edge of the cover, what is fitted, its words, terminals, contacts, marks, the other
/// edge.
const WORDS: f64 = 2.5;
const COVER: f64 = 30.0;
const FITTED: f64 = 33.5;
const VALUES: f64 = 36.0;
const TERMINALS: f64 = 59.0;
const CONTACTS: f64 = 63.0;
const MARKS: f64 = 67.0;
const EDGE: f64 = 89.5;
/// Between a wire and the words on it.
const CLEAR: f64 = 0.4;
/// Height of a rung on which a part hangs, and of one that has a contact alone.
const HANGS: f64 = 14.0;
const CONTACT: f64 = 9.5;
/// Length and half the width of a fitted part.
const PART: (f64, f64) = (7.0, 1.3);
/// From part to part.
const BESIDE: f64 = 3.2;
/// From a conductor to a lead that comes to the same terminal.
const LEAD: f64 = 1.4;
/// Radius of a terminal and of a joint.
const TERMINAL: f64 = 1.1;
const JOINT: f64 = 0.9;
/// How far a blade stands off its line, and its length.
const BLADE: (f64, f64) = (2.6, 6.0);

/// The sketch.
pub(crate) fn draw(sketch: &Sketch) -> Scene {
    let mut scene = Scene::default();
    let top = WORDS;
    // What it is stands above the drawing, once.
    let mut y = top + 1.0;
    // The rung above, its height and that of its lowest wire.
    let mut before: Option<(&Rung, f64, f64)> = None;
    for rung in &sketch.rungs {
        let rows: Vec<Vec<String>> =
            rung.comes.iter().map(|words| lines(Role::Purpose, words, COVER - WORDS - 2.0, 3)).collect();
        let first = rows.first().map_or(1, Vec::len).max(1);
        let mut node = y + height(first, Role::Purpose) + CLEAR;
        if let Some((above, _, low)) = before {
            node = node.max(low + room(above));
        }
        let low = wires(&mut scene, rung, &rows, node);
        if let Some((above, from, lowest)) = before {
            let ends = Ends { from, lowest, to: node, to_terminal: rung.mark.is_some() };
            between(&mut scene, above, ends);
        }
        if let Some(mark) = &rung.mark {
            scene.circle(Role::Terminal, (TERMINALS, node), TERMINAL);
            let mark = lines(Role::Marking, mark, EDGE - MARKS - 2.0, 1);
            scene.text(Role::Marking, (MARKS, node - 2.0), Anchor::Start, &mark);
        }
        y = low.max(node + 2.0) + CLEAR;
        before = Some((rung, node, low));
    }
    scene.rectangle(Role::Device, (COVER, top), (EDGE - COVER, y + 1.0 - top));
    scene.framed(Size { width: EDGE + WORDS, height: y + 1.0 + WORDS })
}

/// Where the words of fitted parts start, and their lines.
fn values(parts: &[String]) -> (f64, Vec<String>) {
    let right = FITTED + BESIDE * text::count(parts.len());
    let x = right.max(VALUES);
    (x, lines(Role::Value, &parts.join("; "), TERMINALS - 2.0 - x, 6))
}

/// From a rung to the next, at least.
fn room(above: &Rung) -> f64 {
    match (&above.fitted, above.contact) {
        (Fitted::Nothing, None) => 0.0,
        (Fitted::Wire, None) => 4.0,
        (Fitted::Nothing | Fitted::Wire, Some(_)) => CONTACT,
        (Fitted::Parts(parts), _) => HANGS.max(height(values(parts).1.len(), Role::Value) + 2.0 * LEAD + 1.6),
    }
}

/// Adds what comes to a rung, the first at its height and the others below; the lower edge.
fn wires(scene: &mut Scene, rung: &Rung, rows: &[Vec<String>], node: f64) -> f64 {
    let to = if rung.mark.is_some() { TERMINALS } else { FITTED };
    let (mut y, mut heights) = (node, Vec::new());
    for (nth, words) in rows.iter().enumerate() {
        if nth > 0 {
            y += height(words.len(), Role::Purpose) + 2.0 * CLEAR;
        }
        scene.text(Role::Purpose, (WORDS + 1.0, y - CLEAR - height(words.len(), Role::Purpose)), Anchor::Start, words);
        heights.push(y);
    }
    for (nth, y) in heights.iter().enumerate() {
        if nth == 0 || rung.mark.is_none() {
            scene.line(Role::Conductor, &[(WORDS + 1.0, *y), (to, *y)]);
        } else {
            // A conductor of its own under the same terminal: no tee.
            let turn = TERMINALS - 1.5 - text::count(nth);
            scene.line(Role::Conductor, &[(WORDS + 1.0, *y), (turn, *y), (TERMINALS, node)]);
        }
    }
    if rung.mark.is_none() {
        scene.line(Role::Conductor, &[(FITTED, node), (FITTED, y)]);
        for y in heights {
            scene.circle(Role::Joint, (FITTED, y), JOINT);
        }
    }
    y
}

/// Heights of a rung, of its lowest wire and of the next rung, and whether that is a terminal.
#[derive(Clone, Copy)]
struct Ends {
    from: f64,
    lowest: f64,
    to: f64,
    to_terminal: bool,
}

/// Adds what is between a rung and the next.
fn between(scene: &mut Scene, above: &Rung, ends: Ends) {
    let Ends { from, lowest, to, to_terminal } = ends;
    if let Some(closed) = above.contact {
        contact(scene, closed, from, to);
    }
    match &above.fitted {
        Fitted::Nothing => {}
        Fitted::Wire => {
            let x = TERMINALS - 4.0;
            scene.line(Role::Conductor, &[(TERMINALS, from), (x, from), (x, to), (TERMINALS, to)]);
        }
        Fitted::Parts(parts) => {
            let middle = f64::midpoint(lowest, to);
            let (start, end) = (middle - PART.0 / 2.0, middle + PART.0 / 2.0);
            for nth in 0..parts.len() {
                let x = FITTED + BESIDE * text::count(nth);
                scene.line(Role::Conductor, &lead((x, start), from, LEAD, above.mark.is_some()));
                scene.rectangle(Role::Resistor, (x - PART.1, start), (2.0 * PART.1, PART.0));
                scene.line(Role::Conductor, &lead((x, end), to, -LEAD, to_terminal));
            }
            let (x, words) = values(parts);
            scene.text(Role::Value, (x, middle - height(words.len(), Role::Value) / 2.0), Anchor::Start, &words);
        }
    }
}

/// The lead of a part to a rung: to the terminal itself, beside the conductors there, or into the joint.
fn lead((x, y): (f64, f64), rung: f64, beside: f64, to_terminal: bool) -> Vec<(f64, f64)> {
    if to_terminal {
        vec![(x, y), (x, rung + beside), (TERMINALS - LEAD, rung + beside), (TERMINALS, rung)]
    } else {
        vec![(x, y), (x, rung), (FITTED, rung)]
    }
}

/// A contact of the device, as it is at rest.
fn contact(scene: &mut Scene, closed: bool, from: f64, to: f64) {
    let middle = f64::midpoint(from, to);
    let (top, bottom) = (middle - BLADE.1 / 2.0, middle + BLADE.1 / 2.0);
    scene.line(Role::Conductor, &[(TERMINALS + TERMINAL, from), (CONTACTS, from), (CONTACTS, top)]);
    scene.line(Role::Conductor, &[(CONTACTS, bottom), (CONTACTS, to), (TERMINALS + TERMINAL, to)]);
    if closed {
        scene.line(Role::Closed, &[(CONTACTS, bottom), (CONTACTS + BLADE.0, top - 0.8)]);
        scene.line(Role::Stop, &[(CONTACTS, top), (CONTACTS + BLADE.0, top)]);
    } else {
        scene.line(Role::Open, &[(CONTACTS, bottom), (CONTACTS + BLADE.0, top + 0.4)]);
    }
    let words = if closed { "closed at rest" } else { "open at rest" };
    scene.text(Role::Label, (MARKS, middle - 2.0), Anchor::Start, &[words.to_owned()]);
}
