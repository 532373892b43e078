//! Marks by which a cable's row in the wire-label list and its label in a drawing lead to each other: made of numbers
//! alone.

use crate::base::Id;
use crate::draw::Link;
use crate::model::Run;
use crate::register::Wiring;

/// The place of a cable's row, by its position among the cables: "cable-7".
pub(crate) fn row(cable: usize) -> String {
    format!("cable-{}", cable + 1)
}

/// The place of a cable's label in the riser: "cable-7-riser".
pub(crate) fn in_riser(cable: usize) -> String {
    format!("{}-riser", row(cable))
}

/// From a cable's label in a drawing to its row.
pub(crate) fn link(cable: usize) -> Link {
    Link { to: format!("wire-labels.html#{}", row(cable)), id: String::new() }
}

/// From a cable's label in the riser to its row, and the place of that label.
pub(crate) fn riser_link(cable: usize) -> Link {
    Link { id: in_riser(cable), ..link(cable) }
}

/// The place of a dead cable's row, by its position among those: "dead-2".
pub(crate) fn dead_row(cable: usize) -> String {
    format!("dead-{}", cable + 1)
}

/// The place of its label in the riser, where that is drawn: "dead-2-riser".
pub(crate) fn dead_in_riser(cable: usize) -> String {
    format!("{}-riser", dead_row(cable))
}

/// From the label of a dead cable in the riser to its row, and the place of that label.
pub(crate) fn dead_link(cable: usize) -> Link {
    Link { to: format!("wire-labels.html#{}", dead_row(cable)), id: dead_in_riser(cable) }
}

/// The position of the cable that a run is, or shares.
pub(crate) fn of_run(wiring: &Wiring, run: Id<Run>) -> Option<usize> {
    wiring.cable_of.get(&run).copied()
}
