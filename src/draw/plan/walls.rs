//! Rooms and their openings at scale: walls as one line, for their thickness is not known, and of openings the kind and
//! the place, for neither their width nor the way that a door swings is known.

use super::scale::Scale;
use super::{Leaf, Opening, Outline, Room, Side};
use crate::draw::placing::{Edges, Places, Spot};
use crate::draw::role::Role;
use crate::draw::scene::Scene;

/// Widths that openings are drawn with, in metres.
const DOOR: f64 = 0.9;
const WINDOW: f64 = 1.2;
const HATCH: f64 = 0.8;
/// The least that an opening is drawn with, and the depth of a window's frame, on paper.
const LEAST: f64 = 1.6;
const FRAME: f64 = 1.6;
/// From the end of a wall to the opening, and half of the depth of one without a frame, on paper.
const CORNER: f64 = 0.5;

/// A wall on paper, from its left or lower end, with the way into the room.
#[derive(Clone, Copy, Debug)]
pub(crate) struct WallLine {
    from: Spot,
    along: Spot,
    length: f64,
    /// Into the room.
    pub(crate) inward: Spot,
}

impl WallLine {
    pub(crate) fn of(room: &Edges, side: Side) -> Self {
        let size = room.size();
        match side {
            Side::North => {
                Self { from: (room.left, room.top), along: (1.0, 0.0), length: size.width, inward: (0.0, 1.0) }
            }
            Side::South => {
                Self { from: (room.left, room.bottom), along: (1.0, 0.0), length: size.width, inward: (0.0, -1.0) }
            }
            Side::West => {
                Self { from: (room.left, room.bottom), along: (0.0, -1.0), length: size.height, inward: (1.0, 0.0) }
            }
            Side::East => {
                Self { from: (room.right, room.bottom), along: (0.0, -1.0), length: size.height, inward: (-1.0, 0.0) }
            }
        }
    }

    /// One that lies level, the room above it.
    pub(crate) fn level(from: Spot, length: f64) -> Self {
        Self { from, along: (1.0, 0.0), length, inward: (0.0, -1.0) }
    }

    /// A place so far along it and so far into the room.
    pub(crate) fn place(&self, along: f64, inward: f64) -> Spot {
        let (x, y) = self.from;
        (x + self.along.0 * along + self.inward.0 * inward, y + self.along.1 * along + self.inward.1 * inward)
    }
}

/// An opening on paper: its wall, and where along it it begins and ends.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Gap {
    pub(crate) wall: WallLine,
    pub(crate) from: f64,
    pub(crate) to: f64,
}

impl Gap {
    /// `None` for an opening whose wall is not known.
    pub(crate) fn of(opening: &Opening, outline: &Outline, scale: &Scale) -> Option<Self> {
        let (side, at) = opening.wall?;
        let wall = WallLine::of(&scale.edges(outline), side);
        let width = match opening.leaf {
            Leaf::Door => DOOR,
            Leaf::Window => WINDOW,
            Leaf::Hatch => HATCH,
        };
        let width = scale.length(width).max(LEAST).min(wall.length);
        // The place is that of its middle; near a corner it ends there.
        let corner = (wall.length - width).min(2.0 * CORNER) / 2.0;
        let from = (scale.length(at) - width / 2.0).clamp(corner, wall.length - width - corner);
        Some(Self { wall, from, to: from + width })
    }

    pub(crate) fn middle(&self) -> f64 {
        f64::midpoint(self.from, self.to)
    }
}

/// Adds the walls of rooms and takes their places.
pub(crate) fn add_walls(scene: &mut Scene, places: &mut Places, rooms: &[(&Room, Outline)], scale: &Scale) {
    for (room, outline) in rooms {
        let Edges { left, top, right, bottom } = scale.edges(outline);
        let role = if room.outdoors { Role::OpenAir } else { Role::Wall };
        scene.rectangle(role, (left, top), (right - left, bottom - top));
        let corners = [(left, top), (right, top), (right, bottom), (left, bottom), (left, top)];
        take_path(places, &corners, role);
    }
}

/// Adds an opening over its wall and takes its place.
pub(crate) fn add_opening(scene: &mut Scene, places: &mut Places, gap: &Gap, leaf: Leaf) {
    let at = |along: f64, inward: f64| gap.wall.place(along, inward);
    let (from, to) = (gap.from, gap.to);
    let half = FRAME / 2.0;
    let corners = [at(from, -half), at(to, -half), at(to, half), at(from, half)];
    let closed = [corners.as_slice(), &[at(from, -half)]].concat();
    match leaf {
        Leaf::Door => {
            // The wall is open, with a leaf at one end and the way of its edge.
            let open = [at(from, -CORNER), at(to, -CORNER), at(to, CORNER), at(from, CORNER)];
            scene.polygon(Role::Gap, &open);
            let width = to - from;
            scene.line(Role::Opening, &[at(from, 0.0), at(from, width)]);
            let swing: Vec<Spot> = quarter().map(|(along, inward)| at(from + along * width, inward * width)).collect();
            scene.line(Role::Opening, &swing);
            take_path(places, &closed, Role::Opening);
            take_path(places, &[at(from, 0.0), at(from, width)], Role::Opening);
            take_path(places, &swing, Role::Opening);
        }
        Leaf::Window => {
            scene.polygon(Role::Frames, &corners);
            scene.line(Role::Opening, &[at(from, 0.0), at(to, 0.0)]);
            take_path(places, &closed, Role::Opening);
        }
        Leaf::Hatch => {
            scene.polygon(Role::Frames, &corners);
            scene.line(Role::Opening, &[at(from, -half), at(to, half)]);
            scene.line(Role::Opening, &[at(from, half), at(to, -half)]);
            take_path(places, &closed, Role::Opening);
        }
    }
}

/// A quarter of a circle from 90 to 0 degrees, in steps of 15. Sines of the library differ from machine to machine.
fn quarter() -> impl Iterator<Item = Spot> {
    const STEPS: [(f64, f64); 7] = [
        (0.0, 1.0),
        (0.258_819_045, 0.965_925_826),
        (0.5, 0.866_025_404),
        (std::f64::consts::FRAC_1_SQRT_2, std::f64::consts::FRAC_1_SQRT_2),
        (0.866_025_404, 0.5),
        (0.965_925_826, 0.258_819_045),
        (1.0, 0.0),
    ];
    STEPS.into_iter()
}

/// Takes the pieces of a line.
pub(crate) fn take_path(places: &mut Places, points: &[Spot], role: Role) {
    for (from, to) in points.iter().zip(points.iter().skip(1)) {
        places.take_line(*from, *to, role.style().line);
    }
}
