//! A way to the monitoring service: from the board over whatever is powered on it, out of the house; below each box what
//! feeds it, and for how long without mains.

use super::chain::{self, Chain};
use super::legend::Words;
use super::role::Role;
use super::scene::{Scene, Size};

/// What the marks mean.
const LEGEND: &Words = &[
    (Role::Board, "the board that reports"),
    (Role::Device, "powered device on the way"),
    (Role::Bare, "takes no supply in the house"),
    (Role::Cable, "cable: label above, length below"),
    (Role::Unwritten, "the spec has no cable here"),
    (Role::Supply, "what feeds it, and how long it goes on without mains"),
    (Role::Joint, "goes on from the place of that number"),
];

/// The drawing, in as many scenes as it needs where none may be larger than `room`.
pub(crate) fn draw(way: &Chain, room: Size) -> Vec<Scene> {
    chain::draw(way, LEGEND, room)
}
