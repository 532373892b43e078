//! Things by their name or number. Every arena of named things is in the order of the names.

use crate::base::Id;

use super::board::Board;
use super::communicator::Communicator;
use super::device::Device;
use super::place::Room;
use super::run::{Bus, Circuit};
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

    /// The zone whose number is printed so.
    pub(crate) fn zone_printed(&self, number: &str) -> Option<(Id<Zone>, &Zone)> {
        self.zone_numbered(number.parse().ok()?)
    }

    /// The bus of that name.
    pub(crate) fn bus_named<'s>(&'s self, name: &'s str) -> Option<(Id<Bus>, &'s Bus)> {
        self.buses.of_key(name, |bus| bus.name.value.as_str()).next()
    }

    /// The circuit of that name.
    pub(crate) fn circuit_named<'s>(&'s self, name: &'s str) -> Option<(Id<Circuit>, &'s Circuit)> {
        self.circuits.of_key(name, |circuit| circuit.name.value.as_str()).next()
    }

    /// The way to the service of that name.
    pub(crate) fn communicator_named<'s>(&'s self, name: &'s str) -> Option<(Id<Communicator>, &'s Communicator)> {
        self.communicators.of_key(name, |way| way.name.value.as_str()).next()
    }
}
