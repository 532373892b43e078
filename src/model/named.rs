//! Things by their name or number. Every arena of named things is in the order of the names.

use crate::base::Id;

use super::board::Board;
use super::device::Device;
use super::place::Room;
use super::site::Site;
use super::zone::Zone;

impl Site {
    /// The board of that name; the first where there are two.
    pub(crate) fn board_named<'s>(&'s self, name: &'s str) -> Option<(Id<Board>, &'s Board)> {
        self.boards.of_key(name, |board| board.name.value.as_str()).next()
    }

    /// The device of that name.
    pub(crate) fn device_named(&self, name: &str) -> Option<(Id<Device>, &Device)> {
        self.index.devices.get(name).map(|device| (*device, &self.devices[*device]))
    }

    /// The room of that name.
    pub(crate) fn room_named<'s>(&'s self, name: &'s str) -> Option<(Id<Room>, &'s Room)> {
        self.rooms.of_key(name, |room| room.name.value.as_str()).next()
    }

    /// The zone of that number.
    pub(crate) fn zone_numbered(&self, number: u32) -> Option<(Id<Zone>, &Zone)> {
        self.zones.of_key(number, |zone| zone.number.value).next()
    }
}
