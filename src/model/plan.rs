//! Measures on the plan: where a door is, how far it is from there, what lies between, and which rooms adjoin.
//!
//! Only rooms that have a place on the plan of the same level count: plans of two levels need not begin at one point.

use crate::base::{Id, Spanned};
use crate::quantity::Metres;
use crate::terms::{Bearing, Wall};

use super::board::Board;
use super::device::Device;
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

/// Where something hangs on the plan of its level.
#[derive(Clone, Debug, PartialEq)]
pub struct Hung {
    /// The place.
    pub at: Spanned<Point>,
    /// Where it looks.
    pub looks: Option<Bearing>,
}

/// How much of a wall two rooms share where a door may be in it.
const SHARED_WALL: f64 = 0.5;

impl Room {
    /// Its middle; `None` where it has no place on the plan.
    pub fn middle(&self) -> Option<Point> {
        let [x, y, width, depth] = self.rect?;
        Some(Point { x: x.0 + width.0 / 2.0, y: y.0 + depth.0 / 2.0 })
    }

    /// True where a place is in it or at one of its walls, whose thickness is not known.
    pub fn holds(&self, at: Point) -> Option<bool> {
        const WALL: f64 = 0.5;
        let [x, y, width, depth] = self.rect?;
        let within = |at: f64, low: Metres, size: Metres| at >= low.0 - WALL && at <= low.0 + size.0 + WALL;
        Some(within(at.x, x, width) && within(at.y, y, depth))
    }

    /// The distance to its farthest corner.
    pub fn farthest(&self, from: Point) -> Option<Metres> {
        self.distance(from, |from, start, end| (from - start).abs().max((end - from).abs()))
    }

    /// The distance from a place on its level to the nearest of it: none where the place is within.
    pub(crate) fn nearest(&self, from: Point) -> Option<Metres> {
        self.distance(from, |from, start, end| (start - from).max(from - end).max(0.0))
    }

    /// The distance of a place by how far it is off along each side, of which it is given start and end.
    fn distance(&self, from: Point, off: impl Fn(f64, f64, f64) -> f64) -> Option<Metres> {
        let [left, low, width, depth] = self.rect?;
        let (x, y) = (off(from.x, left.0, left.0 + width.0), off(from.y, low.0, low.0 + depth.0));
        Some(Metres(x.hypot(y)))
    }

    /// The shortest line to another room of its level; `None` where one has no place on the plan.
    pub(crate) fn gap(&self, other: &Self) -> Option<Metres> {
        let ([x, y, width, depth], [to_x, to_y, to_width, to_depth]) = (self.rect?, other.rect?);
        let apart = |from: Metres, side: Metres, to: Metres, to_side: Metres| {
            (to.0 - (from.0 + side.0)).max(from.0 - (to.0 + to_side.0)).max(0.0)
        };
        Some(Metres(apart(x, width, to_x, to_width).hypot(apart(y, depth, to_y, to_depth))))
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

    /// Where a device or board is on the plan of its room's level: at its spot, else in the middle of that room. `None`
    /// where neither is known.
    fn stands(&self, hung: Option<&Hung>, room: Option<Id<Room>>) -> Option<Point> {
        hung.map(|hung| hung.at.value).or_else(|| self.rooms[room?].middle())
    }

    /// Where a device is on the plan of its room's level.
    pub fn place_of_device(&self, device: Id<Device>) -> Option<Point> {
        let device = &self.devices[device];
        self.stands(device.hung.as_ref(), device.room)
    }

    /// Where a board is on the plan of its room's level.
    pub fn place_of_board(&self, board: Id<Board>) -> Option<Point> {
        let board = &self.boards[board];
        self.stands(board.hung.as_ref(), board.room)
    }

    /// The straight line from an opening to a board on its level.
    pub fn line_to(&self, opening: Id<Opening>, board: Id<Board>) -> Option<(Point, Point)> {
        let (here, there) = (&self.rooms[self.openings[opening].room], &self.rooms[self.boards[board].room?]);
        if here.level != there.level {
            return None;
        }
        Some((self.place_of(opening)?, self.place_of_board(board)?))
    }

    /// The rooms of a level that a straight line passes, by name.
    pub fn rooms_between(&self, on: Id<Room>, (from, to): (Point, Point)) -> Vec<Id<Room>> {
        let level = self.rooms[on].level;
        let passed = self.rooms.entries().filter(|(_, room)| room.level == level && room.is_crossed(from, to));
        passed.map(|(id, _)| id).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::{Arena, Span};
    use crate::model::Level;

    fn room(rect: [f64; 4]) -> Room {
        let mut levels: Arena<Level> = Arena::default();
        let name = |name: &str| Spanned::new(name.to_owned(), Span::default());
        let level = levels.push(Level {
            name: name("l"),
            title: String::new(),
            storey: 0,
            storey_written: false,
            ceiling: None,
        });
        Room { name: name("r"), title: String::new(), kind: None, level, rect: Some(rect.map(Metres)) }
    }

    /// Rooms that touch have no gap; those across a corner have the hypotenuse of 3, 4 and 5.
    #[test]
    fn the_gap_is_the_shortest_line_between_two_rooms() {
        let one = room([0.0, 0.0, 4.0, 3.0]);
        assert_eq!(one.gap(&room([4.0, 0.0, 2.0, 2.0])), Some(Metres(0.0)));
        assert_eq!(one.gap(&room([1.0, 1.0, 1.0, 1.0])), Some(Metres(0.0)));
        assert_eq!(one.gap(&room([6.0, 1.0, 2.0, 2.0])), Some(Metres(2.0)));
        assert_eq!(one.gap(&room([7.0, 7.0, 2.0, 2.0])), Some(Metres(5.0)));
        assert_eq!(room([7.0, 7.0, 2.0, 2.0]).gap(&one), Some(Metres(5.0)));
        assert_eq!(one.gap(&Room { rect: None, ..one.clone() }), None);
        assert_eq!(one.nearest(Point { x: 1.0, y: 1.0 }), Some(Metres(0.0)));
        assert_eq!(one.nearest(Point { x: 7.0, y: 7.0 }), Some(Metres(5.0)));
        assert_eq!(one.nearest(Point { x: -2.0, y: 1.0 }), Some(Metres(2.0)));
    }
}
