//! Levels, rooms and openings in the JSON.

use schemars::JsonSchema;
use serde::Serialize;

use super::number::Number;
use crate::base::Id;
use crate::model;
use crate::terms::{RoomKind, Wall};

/// A storey.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Level {
    /// The name that others refer to.
    pub name: String,
    /// Name for people.
    pub title: String,
    /// 0 at the ground, 1 above it, -1 below.
    pub storey: i64,
    /// Height of the ceiling in metres.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ceiling: Option<Number>,
    /// Its rooms, by name.
    pub rooms: Vec<Room>,
}

/// A room or another place.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Room {
    /// The name that others refer to.
    pub name: String,
    /// Name for people.
    pub title: String,
    /// What it is used for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kind: Option<&'static str>,
    /// Place on the plan.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rect: Option<Rect>,
    /// Its openings, by name.
    pub openings: Vec<Opening>,
}

/// A rectangle on the plan, in metres.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Rect {
    /// From the plan's left edge.
    pub x: Number,
    /// From the plan's lower edge.
    pub y: Number,
    /// Left to right.
    pub width: Number,
    /// Bottom to top.
    pub depth: Number,
}

/// A door, window or hatch.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Opening {
    /// The name that others refer to.
    pub name: String,
    /// Name for people.
    pub title: String,
    /// "door", "window" or "hatch".
    pub kind: &'static str,
    /// True where it leads to another room.
    pub inside: bool,
    /// What the spec says of its reach from outside.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reachable: Option<bool>,
    /// The wall it is in, as a side of the plan.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wall: Option<&'static str>,
    /// Distance from the wall's left end in metres.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<Number>,
}

/// The levels, by name.
pub fn levels(site: &model::Site) -> Vec<Level> {
    site.levels
        .entries()
        .map(|(id, level)| Level {
            name: level.name.value.clone(),
            title: level.title.clone(),
            storey: level.storey,
            ceiling: level.ceiling.and_then(|height| Number::of(height.0)),
            rooms: site
                .rooms
                .entries()
                .filter(|(_, room)| room.level == id)
                .map(|(id, room)| of_room(site, id, room))
                .collect(),
        })
        .collect()
}

fn of_room(site: &model::Site, id: Id<model::Room>, room: &model::Room) -> Room {
    let rect = room.rect.and_then(|[x, y, width, depth]| {
        Some(Rect {
            x: Number::of(x.0)?,
            y: Number::of(y.0)?,
            width: Number::of(width.0)?,
            depth: Number::of(depth.0)?,
        })
    });
    let openings = site.openings.iter().filter(|opening| opening.room == id).map(|opening| Opening {
        name: opening.name.value.clone(),
        title: opening.title.clone(),
        kind: opening.kind.noun(),
        inside: opening.inside,
        reachable: opening.reachable,
        wall: opening.wall.map(Wall::word),
        at: opening.at.and_then(|at| Number::of(at.0)),
    });
    Room {
        name: room.name.value.clone(),
        title: room.title.clone(),
        kind: room.kind.map(RoomKind::word),
        rect,
        openings: openings.collect(),
    }
}

/// The name of a room.
pub fn room_name(site: &model::Site, room: Option<Id<model::Room>>) -> Option<String> {
    room.map(|room| site.rooms[room].name.value.clone())
}
