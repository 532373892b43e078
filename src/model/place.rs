//! Levels, rooms and openings.

use crate::base::{Id, Spanned};
use crate::quantity::Metres;
use crate::terms::{RoomKind, Wall};

/// A storey.
#[derive(Clone, Debug, PartialEq)]
pub struct Level {
    /// The name that others refer to.
    pub name: Spanned<String>,
    /// Name for people; the name where none is given.
    pub title: String,
    /// 0 at the ground, 1 above it, −1 below.
    pub storey: i64,
    /// False where that is the default.
    pub(crate) storey_written: bool,
    /// Height of the ceiling.
    pub ceiling: Option<Metres>,
}

/// A room or another place.
#[derive(Clone, Debug, PartialEq)]
pub struct Room {
    /// The name that others refer to.
    pub name: Spanned<String>,
    /// Name for people; the name where none is given.
    pub title: String,
    /// What it is used for.
    pub kind: Option<RoomKind>,
    /// The level it is on.
    pub level: Id<Level>,
    /// Place on the plan: x, y, width, depth.
    pub rect: Option<[Metres; 4]>,
}

impl Room {
    /// True where it is a yard, a garden or another place in the open.
    pub fn is_outdoors(&self) -> bool {
        self.kind == Some(RoomKind::Outdoors)
    }

    /// How far the nearest walls of two rooms of one level are from each other; `None` where the plan does not say it.
    pub(crate) fn gap_to(&self, other: &Self) -> Option<Metres> {
        let ([ax, ay, aw, ad], [bx, by, bw, bd]) = self.rect.zip(other.rect).filter(|_| self.level == other.level)?;
        let gap = |a: Metres, a_size: Metres, b: Metres, b_size: Metres| {
            (b.0 - a.0 - a_size.0).max(a.0 - b.0 - b_size.0).max(0.0)
        };
        Some(Metres(gap(ax, aw, bx, bw).hypot(gap(ay, ad, by, bd))))
    }
}

/// Door, window or hatch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OpeningKind {
    /// A door.
    Door,
    /// A window.
    Window,
    /// A hatch, roof light or gate.
    Hatch,
}

impl OpeningKind {
    /// The noun in messages.
    pub(crate) fn noun(self) -> &'static str {
        match self {
            Self::Door => "door",
            Self::Window => "window",
            Self::Hatch => "hatch",
        }
    }
}

/// A door, window or hatch.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    /// The name that others refer to.
    pub name: Spanned<String>,
    /// Name for people; the name where none is given.
    pub title: String,
    /// Door, window or hatch.
    pub kind: OpeningKind,
    /// The room it belongs to.
    pub room: Id<Room>,
    /// True where it leads to another room.
    pub inside: bool,
    /// What the spec says of its reach from outside.
    pub reachable: Option<bool>,
    /// The wall it is in.
    pub wall: Option<Wall>,
    /// Distance from the wall's left end.
    pub at: Option<Metres>,
}
