//! How a conductor is moved and a loop is measured: one procedure, for every sheet that speaks of it.

/// Before a conductor is moved.
pub(crate) const BOARD_OFF: &str = "Unplug the transformer and lift one battery lead before you land, lift or move a conductor: the battery keeps the board alive.";

/// How the ohms of a loop are taken.
pub(crate) const LOOP_OHMS: &str = "switch the board off (unplug its transformer, lift one battery lead), lift both conductors of the loop off its two terminals and keep them apart. Switch the board on again, because a detector without supply is in alarm, and read across the two conductors. Switch it off to land them. Hold the probes together first and take that reading off.";
