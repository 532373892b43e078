//! Measures on the plan: where a door is, how far it is from there, what lies between, and which rooms adjoin.
//!
//! Only rooms that have a place on the plan of the same level count: plans of two levels need not begin at one point.

use crate::base::Id;
use crate::quantity::Metres;
use crate::terms::Wall;

use super::place::{Opening, Room};
use super::site::Site;

/// A place on a level's plan, in metres from its left and lower edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// From the left edge.
    pub x: f64,
    /// From the lower edge.
    pub y: f64,
}

impl Point {
    /// The straight line to another.
    pub fn to(self, other: Self) -> Metres {
        Metres((self.x - other.x).hypot(self.y - other.y))
    }
}

/// How much of a wall two rooms share where a door may be in it.
const SHARED_WALL: f64 = 0.5;

impl Room {
    /// Its middle; `None` where it has no place on the plan.
    pub fn middle(&self) -> Option<Point> {
        let [x, y, width, depth] = self.rect?;
        Some(Point { x: x.0 + width.0 / 2.0, y: y.0 + depth.0 / 2.0 })
    }

    /// The distance to its farthest corner.
    pub fn farthest(&self, from: Point) -> Option<Metres> {
        let [left, low, width, depth] = self.rect?;
        let off = |from: f64, start: f64, size: f64| (from - start).abs().max((start + size - from).abs());
        Some(Metres(off(from.x, left.0, width.0).hypot(off(from.y, low.0, depth.0))))
    }

    /// True where two rooms of one level share so much of a wall that there may be a door.
    pub fn adjoins(&self, other: &Self) -> bool {
        let (Some([ax, ay, aw, ad]), Some([bx, by, bw, bd])) = (self.rect, other.rect) else { return false };
        let shared = |a: f64, a_size: f64, b: f64, b_size: f64| (a + a_size).min(b + b_size) - a.max(b);
        let across = shared(ax.0, aw.0, bx.0, bw.0);
        let along = shared(ay.0, ad.0, by.0, bd.0);
        self.level == other.level && across.max(along) >= SHARED_WALL && across.min(along) >= -0.1
    }

    /// True where the straight line between two places passes well within it.
    fn is_crossed(&self, from: Point, to: Point) -> bool {
        const WELL_WITHIN: f64 = 0.1;
        let Some([x, y, width, depth]) = self.rect else { return false };
        let mut span = (0.0_f64, 1.0_f64);
        for (start, end, low, size) in [(from.x, to.x, x.0, width.0), (from.y, to.y, y.0, depth.0)] {
            let (low, high) = (low + WELL_WITHIN, low + size - WELL_WITHIN);
            let way = end - start;
            if way.abs() < 1e-9 {
                if start < low || start > high {
                    return false;
                }
                continue;
            }
            let (near, far) = ((low - start) / way, (high - start) / way);
            span = (span.0.max(near.min(far)), span.1.min(near.max(far)));
        }
        span.0 < span.1
    }
}

impl Site {
    /// Where an opening is on the plan; in the middle of its wall where nothing else is said. `None` where its room has no
    /// place on the plan, or its wall is not known.
    pub fn place_of(&self, opening: Id<Opening>) -> Option<Point> {
        let opening = &self.openings[opening];
        let [x, y, width, depth] = self.rooms[opening.room].rect?;
        let along = |size: Metres| opening.at.map_or(size.0 / 2.0, |at| at.0.min(size.0));
        Some(match opening.wall? {
            Wall::North => Point { x: x.0 + along(width), y: y.0 + depth.0 },
            Wall::South => Point { x: x.0 + along(width), y: y.0 },
            Wall::West => Point { x: x.0, y: y.0 + along(depth) },
            Wall::East => Point { x: x.0 + width.0, y: y.0 + along(depth) },
        })
    }

    /// The straight line from an opening to the middle of a room of its level.
    pub fn line_to(&self, opening: Id<Opening>, room: Id<Room>) -> Option<(Point, Point)> {
        let (here, there) = (&self.rooms[self.openings[opening].room], &self.rooms[room]);
        if here.level != there.level {
            return None;
        }
        Some((self.place_of(opening)?, there.middle()?))
    }

    /// The rooms of a level that a straight line passes, by name.
    pub fn rooms_between(&self, on: Id<Room>, (from, to): (Point, Point)) -> Vec<Id<Room>> {
        let level = self.rooms[on].level;
        let passed = self.rooms.entries().filter(|(_, room)| room.level == level && room.is_crossed(from, to));
        passed.map(|(id, _)| id).collect()
    }
}
