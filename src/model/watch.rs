//! Which openings count, and what they are watched by.

use crate::base::Id;
use crate::terms::Senses;

use super::device::Device;
use super::place::{Opening, OpeningKind};
use super::site::Site;
use super::zone::Zone;

impl Site {
    /// The devices that watch an opening, in order.
    pub(crate) fn watching(&self, opening: Id<Opening>) -> impl Iterator<Item = Id<Device>> {
        self.index.watchers.get(&opening).into_iter().flatten().copied()
    }

    /// The same, each with the zone that reports it.
    pub(crate) fn watchers(&self, opening: Id<Opening>) -> impl Iterator<Item = (&Device, Id<Zone>)> {
        self.watching(opening).map(|device| &self.devices[device]).filter_map(|device| Some((device, device.zone?)))
    }

    /// True where something watches an opening that notices somebody who comes in by it.
    pub(crate) fn is_guarded(&self, opening: Id<Opening>) -> bool {
        self.watchers(opening).any(|(device, _)| self.notices(device))
    }

    /// False for what senses something else than somebody who comes in.
    pub(crate) fn notices(&self, device: &Device) -> bool {
        let senses = self.senses_of(device);
        senses.is_none_or(|senses| match senses {
            Senses::Opening | Senses::Motion | Senses::Glass | Senses::Vibration | Senses::Step => true,
            Senses::Smoke
            | Senses::Heat
            | Senses::CarbonMonoxide
            | Senses::Gas
            | Senses::Water
            | Senses::Temperature
            | Senses::Button
            | Senses::Tamper
            | Senses::Supply => false,
        })
    }

    /// True where somebody can get to an opening from outside: as the spec says; where it says nothing, a door, for people walk
    /// through it, and any opening of a room at or below the ground.
    pub(crate) fn is_within_reach(&self, opening: &Opening) -> bool {
        let room = &self.rooms[opening.room];
        // A gate leads from open air to open air: it counts where the spec says so.
        let by_itself = self.levels[room.level].storey <= 0 || opening.kind == OpeningKind::Door;
        !opening.inside && opening.reachable.unwrap_or(by_itself && !room.is_outdoors())
    }
}
