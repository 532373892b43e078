//! How a board is switched off, how a conductor is moved, how loops, buses and supplies are measured: one procedure, for
//! every sheet that speaks of it.

/// Switching a board off.
macro_rules! switch_off {
    () => {
        "unplug the transformer, then take one lead off the battery and cap it"
    };
}

/// Before a conductor is moved.
pub(crate) const BOARD_OFF: &str = concat!(
    "Switch the board off before you land, lift or move a conductor: ",
    switch_off!(),
    ". The battery alone keeps the board alive."
);

/// How the ohms of a loop are taken.
pub(crate) const LOOP_OHMS: &str = concat!(
    "switch the board off (",
    switch_off!(),
    "), lift the loop's conductors off its two terminals, leave joints as they are, and keep the two apart. Switch the board on again, because \
     many detectors open or close their contact without supply, and read across the two conductors. Switch it off to land them. Hold the \
     probes together first and take that reading off."
);

/// How the volts of a loop are taken.
pub(crate) const LOOP_VOLTS: &str = "everything connected and the board on, at the two terminals.";

/// How the ohms of a bus are taken.
pub(crate) const BUS_OHMS: &str =
    concat!("switch the board off (", switch_off!(), "), everything connected, probes on A and B.");

/// How a relay that watches a supply is tried.
pub(crate) const RELAY: &str = "Try each supply relay: switch the board off, lift the + conductor of its supply at the board, switch the board on: the relay's zone must show trouble. Switch it off to land the conductor.";

/// How a supply passes a fire detector.
pub(crate) const IN_AND_OUT: &str = "Take the supply through each detector's own terminals, one conductor in and one out under the same screw; do not tee off, or a cut goes unseen.";
