//! A loop as it is wired: the board with its pull-up at the left, the house at the right.
//!
//! The conductor that goes out is the upper line, the one that comes back the lower one: a *pair*. Where both are thick
//! they lie in a cable. What stands in series breaks the upper line, what lies across joins the two. A branch that leaves
//! and comes back is a row of its own, and what follows it in series is the next row. What does not fit goes on in a further
//! figure: both lines end at a letter, and begin at the same letter there.
//!
//! Nothing is to scale. Out of scope: what the loop reads (`calc`), and which conductor is which colour.

mod pen;
mod symbols;
#[cfg(test)]
mod tests;

use super::scene::{Link, Scene, Size};
use pen::Pen;

/// A loop.
#[derive(Clone, Debug)]
pub(crate) struct Sketch {
    /// What it starts at.
    pub(crate) board: Board,
    /// What stands between the two terminals.
    pub(crate) net: Net,
}

/// The input of the board, which the words above its sketch name.
#[derive(Clone, Debug, Default)]
pub(crate) struct Board {
    /// Marks of the two terminals: out and back.
    pub(crate) terminals: [String; 2],
    /// Voltage and resistor behind the first of them; `None` where the board's sensing is not known.
    pub(crate) pull_up: Option<(String, String)>,
    /// True where they are behind the second, which is then the positive one.
    pub(crate) fed_at_return: bool,
}

/// A network between two lines.
#[derive(Clone, Debug)]
pub(crate) enum Net {
    /// A contact.
    Contact(Contact),
    /// A resistor, with its value.
    Resistor(String),
    /// A detector that the loop feeds, across the pair: its name, and the rows that it is in.
    Detector(String, String),
    /// One after the other; a branch among them but the last comes back before the next.
    Series(Vec<Net>),
    /// The first across the pair, the other behind it.
    Across(Box<Net>, Box<Net>),
    /// A cable and what is behind it.
    Cable(Cable, Box<Net>),
    /// The pair joined.
    Joined,
    /// The pair left open.
    Open,
}

/// A contact in its form at rest.
#[derive(Clone, Debug, Default)]
pub(crate) struct Contact {
    /// What it is called.
    pub(crate) title: String,
    /// Whether it is closed at rest.
    pub(crate) closed: bool,
    /// The rows of the table that it stands in when it moves: "row 2".
    pub(crate) rows: String,
    /// The resistor across it.
    pub(crate) shunt: Option<String>,
}

/// A cable of the loop.
#[derive(Clone, Debug, Default)]
pub(crate) struct Cable {
    /// Its label and length.
    pub(crate) name: String,
    /// Where its far end is.
    pub(crate) far: String,
    /// The rows of its faults.
    pub(crate) faults: String,
    /// Where its label leads.
    pub(crate) link: Link,
}

/// From the frame to what is in it, and between figures.
const INSET: f64 = 1.2;
const BETWEEN: f64 = 3.0;

/// The sketch, in as many scenes as it needs where none may be larger than `room`.
pub(crate) fn draw(sketch: &Sketch, room: Size) -> Vec<Scene> {
    let inside = Size { width: room.width - 2.0 * INSET, height: room.height - 2.0 * INSET };
    let mut scenes = Vec::new();
    let (mut scene, mut top) = (Scene::default(), INSET);
    for (figure, height) in Pen::figures(sketch, inside) {
        if top > INSET && top + height > INSET + inside.height {
            scenes.push(finished(std::mem::take(&mut scene)));
            top = INSET;
        }
        scene.add(figure, (INSET, top));
        top += height + BETWEEN;
    }
    scenes.push(finished(scene));
    scenes
}

/// A scene in a frame that is no larger than it needs: its table stands beside it.
fn finished(scene: Scene) -> Scene {
    let scene = scene.cropped(INSET);
    let size = scene.size;
    scene.framed(size)
}
