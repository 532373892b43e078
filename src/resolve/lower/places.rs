//! Levels, rooms, openings.

use crate::base::{Id, Spanned};
use crate::model::{Hung, Level, Opening, OpeningKind, Point, Room};
use crate::quantity::Metres;
use crate::resolve::rules;
use crate::schema::Reading;
use crate::terms::{Bearing, RoomKind, Wall};

use super::{Lower, Top, name_of, sorted, title_of};

/// Where something hangs on the plan.
pub(super) fn hung(reading: &Reading) -> Option<Hung> {
    let spot = reading.one("spot")?;
    let looks = spot.word("looks", Bearing::from_word).map(|looks| looks.value);
    Some(Hung { at: Spanned::new(point(spot)?, spot.span), looks })
}

/// The way of a cable.
pub(super) fn way(reading: &Reading) -> Vec<Point> {
    reading.one("way").map(|way| way.all("point").filter_map(point).collect()).unwrap_or_default()
}

fn point(reading: &Reading) -> Option<Point> {
    let side = |field| reading.quantity::<Metres>(field).map(|length| length.value.0);
    Some(Point { x: side("x")?, y: side("y")? })
}

impl Lower<'_> {
    pub(super) fn places(&mut self, tops: &[Top<'_>]) {
        let mut rooms: Vec<(Id<Level>, &Reading)> = Vec::new();
        for (reading, _) in sorted(tops, "level", "name") {
            let name = reading.text("name").unwrap_or_else(|| Spanned::new(String::new(), reading.name_span));
            let level = self.site.levels.push(Level {
                title: title_of(reading, &name.value),
                name,
                storey: reading.integer("storey").map_or(0, |storey| storey.value),
                storey_written: reading.wrote("storey"),
                ceiling: reading.quantity::<Metres>("ceiling").map(|height| height.value),
            });
            rooms.extend(reading.all("room").map(|room| (level, room)));
        }
        rooms.sort_by_cached_key(|(_, room)| (name_of(room, "name"), room.span));
        let mut openings: Vec<(Id<Room>, OpeningKind, &Reading)> = Vec::new();
        for (level, reading) in rooms {
            // A room whose name was reported is there without one, for what it holds has names of its own.
            let name = reading.text("name").unwrap_or_else(|| Spanned::new(String::new(), reading.name_span));
            let title = title_of(reading, &name.value);
            let rect = reading.one("rect").and_then(|rect| {
                let side = |field| rect.quantity::<Metres>(field).map(|length| length.value);
                Some([side("x")?, side("y")?, side("width")?, side("depth")?])
            });
            let kind = reading.word("kind", RoomKind::from_word).map(|kind| kind.value);
            let mut room = Room { name: name.clone(), title, kind, level, rect };
            if let Some(finding) = rules::room_size(&room, self.site.lengths) {
                self.sink.push(finding);
                room.rect = None;
            }
            let id = self.site.rooms.push(room);
            self.rooms.enter(&name.value, id);
            for (node, kind) in
                [("door", OpeningKind::Door), ("window", OpeningKind::Window), ("hatch", OpeningKind::Hatch)]
            {
                openings.extend(reading.all(node).map(|opening| (id, kind, opening)));
            }
        }
        openings.sort_by_cached_key(|(_, _, opening)| (name_of(opening, "name"), opening.span));
        for (room, kind, reading) in openings {
            let to = reading.text("to").filter(|to| self.names.find(&self.rooms, to) == Some(room));
            let Some(name) = reading.text("name") else { continue };
            if let Some(to) = to {
                self.sink.push(rules::opening_to_own_room(&name, &to));
            }
            let opening = self.site.openings.push(Opening {
                title: title_of(reading, &name.value),
                name: name.clone(),
                kind,
                room,
                inside: reading.wrote("to"),
                reachable: reading.optional_flag("reachable"),
                wall: reading.word("wall", Wall::from_word).map(|wall| wall.value),
                at: reading.quantity::<Metres>("at").map(|at| at.value),
            });
            self.openings.enter(&name.value, opening);
        }
    }
}
