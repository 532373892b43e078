//! What an opening is watched by.

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
}
