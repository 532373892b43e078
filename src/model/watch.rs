//! Which openings count, and what they are watched by.

use crate::base::Id;

use super::device::Device;
use super::place::Opening;
use super::site::Site;
use super::zone::Zone;

impl Site {
    /// The devices that watch an opening, in order, each with the zone that reports it.
    pub(crate) fn watchers(&self, opening: Id<Opening>) -> impl Iterator<Item = (&Device, Id<Zone>)> {
        let watchers = self.index.watchers.get(&opening).into_iter().flatten().map(|device| &self.devices[*device]);
        watchers.filter_map(|device| Some((device, device.zone?)))
    }

    /// True where somebody can get to an opening from outside: as the spec says; where it says nothing, an opening of a
    /// room at or below the ground.
    pub(crate) fn is_within_reach(&self, opening: &Opening) -> bool {
        let room = &self.rooms[opening.room];
        // A gate leads from open air to open air: it counts where the spec says so.
        let by_storey = self.levels[room.level].storey <= 0 && !room.is_outdoors();
        !opening.inside && opening.reachable.unwrap_or(by_storey)
    }
}
