//! How cold and how hot a cable gets, by where it starts, what it passes and where it ends. Common practice, not a standard: climates differ.

use crate::base::Id;
use crate::model::{Room, Run, Site};
use crate::quantity::Celsius;
use crate::terms::{Passage, RoomKind};

/// Coldest, usual and hottest temperature of a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ambient {
    /// Coldest.
    pub cold: Celsius,
    /// Usual: where nominal readings are given.
    pub usual: Celsius,
    /// Hottest.
    pub hot: Celsius,
}

impl Ambient {
    /// The temperatures of a cable that lies in both; the usual ones of the first.
    #[must_use]
    fn or(self, other: Self) -> Self {
        Self {
            cold: Celsius(self.cold.0.min(other.cold.0)),
            usual: self.usual,
            hot: Celsius(self.hot.0.max(other.hot.0)),
        }
    }
}

/// Inside a lived-in house.
pub const INSIDE: Ambient = Ambient { cold: Celsius(5.0), usual: Celsius(20.0), hot: Celsius(35.0) };
/// In a room without heating: a cellar, a crawlspace, a garage, a workshop.
pub(crate) const UNHEATED: Ambient = Ambient { cold: Celsius(-10.0), usual: Celsius(20.0), hot: Celsius(40.0) };
/// Under a roof.
pub const ATTIC: Ambient = Ambient { cold: Celsius(-20.0), usual: Celsius(20.0), hot: Celsius(60.0) };
/// In open air.
pub const OUTDOORS: Ambient = Ambient { cold: Celsius(-30.0), usual: Celsius(20.0), hot: Celsius(50.0) };
/// In the ground.
pub const UNDERGROUND: Ambient = Ambient { cold: Celsius(-5.0), usual: Celsius(20.0), hot: Celsius(30.0) };

/// The temperatures of a room; those inside a house where none is known.
pub(crate) fn of_room(site: &Site, room: Option<Id<Room>>) -> Ambient {
    match room.and_then(|room| site.rooms[room].kind) {
        Some(RoomKind::Attic) => ATTIC,
        Some(RoomKind::Outdoors) => OUTDOORS,
        Some(
            RoomKind::Living
            | RoomKind::Bedroom
            | RoomKind::Kitchen
            | RoomKind::Bathroom
            | RoomKind::Hall
            | RoomKind::Stair
            | RoomKind::Utility,
        )
        | None => INSIDE,
        Some(RoomKind::Cellar | RoomKind::Crawlspace | RoomKind::Garage | RoomKind::Workshop) => UNHEATED,
    }
}

/// The temperatures of a run: of the room it starts in, of the room it ends in, and of what it passes between them.
pub(crate) fn of_run(site: &Site, run: &Run) -> Ambient {
    let passed = run.passes.as_ref().and_then(|passes| match passes.value {
        Passage::Attic => Some(ATTIC),
        Passage::Outdoors => Some(OUTDOORS),
        Passage::Underground => Some(UNDERGROUND),
        Passage::Plenum | Passage::Riser | Passage::Mains | Passage::Stud | Passage::Joist | Passage::FireWall => None,
    });
    let ends = of_room(site, site.room_at_start(run)).or(of_room(site, run.room));
    passed.map_or(ends, |passed| ends.or(passed))
}
