//! The signs of what hangs in a house: plain shapes with letters, told by the key.

use crate::draw::placing::{Edges, Spot};
use crate::draw::role::Role;
use crate::draw::scene::{Anchor, Scene};
use crate::draw::text;

/// What a sign stands for. Its letters stand in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Sign {
    /// A contact or detector: a circle.
    Sensor(&'static str, &'static str),
    /// The same without a cable: a double circle.
    Wireless(&'static str, &'static str),
    /// What sounds or works: a hexagon.
    Worker(&'static str, &'static str),
    /// A board: a square with a thick edge.
    Board(&'static str, &'static str),
    /// Where cables are joined: a dot.
    Joint,
    /// Where a cable ends at what is no device of the alarm: a small square.
    End,
    /// An opening that nothing watches: a cross.
    Unwatched,
}

/// From the middle of a sign to its edge.
pub(crate) const REACH: f64 = 3.4;
/// The outer circle of what is wireless.
const OUTER: f64 = 4.1;
/// The small signs.
const SMALL: f64 = 1.6;

impl Sign {
    /// From its middle to its edge, both ways.
    pub(crate) fn reach(self) -> f64 {
        match self {
            Self::Sensor(..) | Self::Board(..) => REACH,
            Self::Wireless(..) => OUTER,
            Self::Worker(..) => REACH + 1.0,
            Self::Joint | Self::End | Self::Unwatched => SMALL,
        }
    }

    /// What it covers where its middle is at a place.
    pub(crate) fn edges(self, at: Spot) -> Edges {
        Edges::around(at, self.reach())
    }

    /// What it means.
    pub(crate) fn meaning(self) -> String {
        match self {
            Self::Sensor(_, meaning) | Self::Worker(_, meaning) | Self::Board(_, meaning) => meaning.to_owned(),
            Self::Wireless(_, meaning) => format!("{meaning}, wireless"),
            Self::Joint | Self::End | Self::Unwatched => self.shape_meaning().to_owned(),
        }
    }

    /// What all signs of its shape mean.
    pub(crate) fn shape_meaning(self) -> &'static str {
        match self {
            Self::Sensor(..) => "contact or detector:",
            Self::Wireless(..) => "the same without a cable:",
            Self::Worker(..) => "what sounds or is worked:",
            Self::Board(..) => "board:",
            Self::Joint => "joint of cables",
            Self::End => "other end of a cable",
            Self::Unwatched => "within reach, watched by nothing",
        }
    }

    /// The letters in it, and what they mean.
    pub(crate) fn letters(self) -> Option<(&'static str, &'static str)> {
        match self {
            Self::Sensor(letters, meaning)
            | Self::Wireless(letters, meaning)
            | Self::Worker(letters, meaning)
            | Self::Board(letters, meaning) => Some((letters, meaning)),
            Self::Joint | Self::End | Self::Unwatched => None,
        }
    }

    /// Adds it, its middle at a place.
    pub(crate) fn add(self, scene: &mut Scene, (x, y): Spot) {
        let square = |reach: f64| ((x - reach, y - reach), (2.0 * reach, 2.0 * reach));
        let letters = match self {
            Self::Sensor(letters, _) => {
                scene.circle(Role::Device, (x, y), REACH);
                letters
            }
            Self::Wireless(letters, _) => {
                scene.circle(Role::Device, (x, y), REACH);
                scene.circle(Role::Device, (x, y), OUTER);
                letters
            }
            Self::Worker(letters, _) => {
                let (wide, narrow) = (REACH + 1.0, REACH - 0.8);
                let corners =
                    [(wide, 0.0), (narrow, REACH), (-narrow, REACH), (-wide, 0.0), (-narrow, -REACH), (narrow, -REACH)];
                scene.polygon(Role::Device, &corners.map(|(right, down)| (x + right, y + down)));
                letters
            }
            Self::Board(letters, _) => {
                let (corner, size) = square(REACH - 0.4);
                scene.rectangle(Role::Board, corner, size);
                letters
            }
            Self::Joint => {
                scene.circle(Role::Joint, (x, y), SMALL - 0.4);
                ""
            }
            Self::End => {
                let (corner, size) = square(SMALL - 0.2);
                scene.rectangle(Role::Device, corner, size);
                ""
            }
            Self::Unwatched => {
                for lean in [1.0, -1.0] {
                    scene.line(Role::Board, &[(x - 1.2, y - lean * 1.2), (x + 1.2, y + lean * 1.2)]);
                }
                ""
            }
        };
        if !letters.is_empty() {
            // The middle of capitals.
            let top = y + 0.365 * Role::Label.style().text - text::ASCENT * Role::Label.style().text;
            scene.text(Role::Label, (x, top), Anchor::Middle, &[letters.to_owned()]);
        }
    }
}
