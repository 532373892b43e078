//! How cold and how hot a cable gets, by what it passes. Common practice, not a standard: climates differ.

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

/// Inside a lived-in house.
pub const INSIDE: Ambient = Ambient { cold: Celsius(5.0), usual: Celsius(20.0), hot: Celsius(35.0) };
/// Under a roof.
pub const ATTIC: Ambient = Ambient { cold: Celsius(-20.0), usual: Celsius(20.0), hot: Celsius(60.0) };
/// In open air.
pub const OUTDOORS: Ambient = Ambient { cold: Celsius(-30.0), usual: Celsius(20.0), hot: Celsius(50.0) };
/// In the ground.
pub const UNDERGROUND: Ambient = Ambient { cold: Celsius(-5.0), usual: Celsius(20.0), hot: Celsius(30.0) };

/// The temperatures of a room; those inside a house where none is known.
pub fn of_room(site: &Site, room: Option<Id<Room>>) -> Ambient {
    match room.and_then(|room| site.rooms[room].kind) {
        Some(RoomKind::Attic) => ATTIC,
        Some(RoomKind::Outdoors) => OUTDOORS,
        _ => INSIDE,
    }
}

/// The temperatures of a run: those of the hardest thing it passes, else of the room it ends in.
pub fn of_run(site: &Site, run: &Run) -> Ambient {
    match run.passes.as_ref().map(|passes| passes.value) {
        Some(Passage::Attic) => ATTIC,
        Some(Passage::Outdoors) => OUTDOORS,
        Some(Passage::Underground) => UNDERGROUND,
        _ => of_room(site, run.room),
    }
}
