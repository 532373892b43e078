//! Levels, rooms and openings.

use super::item::{Answer, Title, record};
use super::names::Names;
use crate::base::Id;
use crate::model;
use crate::quantity::Metres;
use crate::terms::{Bearing, RoomKind, Wall};

record! {
    /// A storey.
    Level {
        /// The name that others refer to.
        name: String,
        /// Name for people.
        title: Title => "title",
        /// 0 at the ground, 1 above it, -1 below.
        storey: i64 => "storey",
        /// Height of the ceiling in metres.
        ceiling: Option<Metres> => "ceiling",
        /// Its rooms, by name.
        rooms: Vec<Room>,
    }

    /// A room or another place.
    Room {
        /// The name that others refer to.
        name: String,
        /// Name for people.
        title: Title => "title",
        /// What it is used for.
        kind: Option<&'static str> => "used as",
        /// Place on the plan.
        rect: Option<Rect> => "place on the plan",
        /// Its openings, by name.
        openings: Vec<Opening>,
    }

    /// A rectangle on the plan, in metres.
    Rect {
        /// From the plan's left edge.
        x: Metres => "",
        /// From the plan's lower edge.
        y: Metres => "",
        /// Left to right.
        width: Metres => "",
        /// Bottom to top.
        depth: Metres => "",
    }

    /// Where something hangs on its level's plan, in metres.
    Spot {
        /// From the plan's left edge.
        x: Metres => "",
        /// From the plan's lower edge.
        y: Metres => "",
        /// Where it looks, as a direction of the plan: "north", "north-east".
        looks: Option<&'static str> => "",
    }

    /// A place on a level's plan, in metres.
    Point {
        /// From the plan's left edge.
        x: Metres => "",
        /// From the plan's lower edge.
        y: Metres => "",
    }

    /// A door, window or hatch.
    Opening {
        /// The name that others refer to.
        name: String,
        /// Name for people.
        title: Title => "title",
        /// "door", "window" or "hatch".
        kind: &'static str => "kind",
        /// True where it leads to another room.
        inside: bool => "leads inside",
        /// What the spec says of its reach from outside.
        reachable: Option<Answer> => "reachable",
        /// The wall it is in, as a side of the plan.
        wall: Option<&'static str> => "wall",
        /// Distance from the wall's left end in metres.
        at: Option<Metres> => "from the wall's left end",
    }
}

impl Spot {
    /// Where something hangs.
    pub(crate) fn of(hung: &model::Hung) -> Self {
        let model::Hung { at, looks } = hung;
        let Point { x, y } = Point::of(&at.value);
        Self { x, y, looks: looks.map(Bearing::word) }
    }
}

impl Point {
    /// A place on a plan.
    pub(crate) fn of(point: &model::Point) -> Self {
        let model::Point { x, y } = point;
        Self { x: Metres(*x), y: Metres(*y) }
    }
}

/// The levels, by name.
pub(crate) fn levels(names: &Names<'_>) -> Vec<Level> {
    let of_level = |(id, level): (Id<model::Level>, &model::Level)| {
        let model::Level { name, title, storey, storey_written: _, ceiling } = level;
        let rooms = names.site.rooms.entries().filter(|(_, room)| room.level == id);
        Level {
            name: name.value.clone(),
            title: Title::new(title, &name.value),
            storey: *storey,
            ceiling: *ceiling,
            rooms: rooms.map(|(id, room)| of_room(names, id, room)).collect(),
        }
    };
    names.site.levels.entries().map(of_level).collect()
}

fn of_room(names: &Names<'_>, id: Id<model::Room>, room: &model::Room) -> Room {
    let model::Room { name, title, kind, level: _, rect } = room; // stands in its level
    Room {
        name: name.value.clone(),
        title: Title::new(title, &name.value),
        kind: kind.map(RoomKind::word),
        rect: rect.map(|[x, y, width, depth]| Rect { x, y, width, depth }),
        openings: names.site.openings.iter().filter(|opening| opening.room == id).map(of_opening).collect(),
    }
}

fn of_opening(opening: &model::Opening) -> Opening {
    let model::Opening { name, title, kind, room: _, inside, reachable, wall, at } = opening; // stands in its room
    Opening {
        name: name.value.clone(),
        title: Title::new(title, &name.value),
        kind: kind.noun(),
        inside: *inside,
        reachable: reachable.map(Answer),
        wall: wall.map(Wall::word),
        at: *at,
    }
}
