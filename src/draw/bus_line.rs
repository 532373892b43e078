//! A data bus as its cable lies: the trunk from end to end, its stubs, what lies across the pair, and where a meter is
//! put.

use super::chain::{self, Chain};
use super::legend::Words;
use super::role::Role;
use super::scene::{Scene, Size};

/// What the marks mean.
pub(super) const LEGEND: &Words = &[
    (Role::Board, "the board that the bus starts at"),
    (Role::Device, "module: no., address, name, room"),
    (Role::Cable, "cable: label above, length below"),
    (Role::Conductor, "short wires at one place"),
    (Role::Resistor, "resistors at this place"),
    (Role::Meter, "meter from A to B: what it shows"),
    (Role::Bare, "joint or end of a cable, no module"),
    (Role::Joint, "goes on from the place of that number"),
];

/// The drawing, in as many scenes as it needs where none may be larger than `room`.
pub(crate) fn draw(bus: &Chain, room: Size) -> Vec<Scene> {
    chain::draw(bus, LEGEND, room)
}
