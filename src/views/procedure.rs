//! How a board is switched on and off, how a conductor is moved, how loops, buses and supplies are measured: one
//! procedure, for every sheet that speaks of it.
//!
//! In which order mains and battery come is on the board's sheet (`battery-port connect=`); where it is not, the battery
//! comes last and goes first, as is common practice. The procedures hold the marks `{on}` and `{off}` in its place, and
//! [`told`] puts the site's order in.

use crate::base::Id;
use crate::model::{Board, Site};
use crate::terms::Connect;

/// In which order the two supplies of a board come; they go in the reverse.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Order {
    /// Mains, then battery.
    BatteryLast,
    /// Battery, then mains.
    BatteryFirst,
    /// The boards of the site differ.
    EachItsOwn,
}

impl Order {
    /// The order of a board.
    pub(crate) fn of_board(site: &Site, board: Id<Board>) -> Self {
        match sheet(site, board) {
            Some(Connect::First) => Self::BatteryFirst,
            Some(Connect::Last) | None => Self::BatteryLast,
        }
    }

    /// The order of all boards with a battery.
    pub(crate) fn of_site(site: &Site) -> Self {
        let boards = site.boards.entries().filter(|(_, board)| board.battery.is_some());
        let mut orders = boards.map(|(id, _)| Self::of_board(site, id));
        let first = orders.next().unwrap_or(Self::BatteryLast);
        if orders.all(|order| order == first) { first } else { Self::EachItsOwn }
    }

    /// Switching a board on.
    pub(crate) fn on(self) -> &'static str {
        match self {
            Self::BatteryLast => {
                "check the wiring while nothing is connected, plug the transformer in, then connect the battery, red to +"
            }
            Self::BatteryFirst => {
                "check the wiring while nothing is connected, connect the battery, red to +, then plug the transformer in"
            }
            Self::EachItsOwn => {
                "check the wiring while nothing is connected, then connect transformer and battery, red to +, in the order that the terminal schedule gives for the board"
            }
        }
    }

    /// Switching it off.
    pub(crate) fn off(self) -> &'static str {
        match self {
            Self::BatteryLast => "take one lead off the battery and cap it, then unplug the transformer",
            Self::BatteryFirst => "unplug the transformer, then take one lead off the battery and cap it",
            Self::EachItsOwn => {
                "unplug the transformer and take one lead off the battery and cap it, in the order that the terminal schedule gives for the board"
            }
        }
    }
}

/// What a board's sheet says.
fn sheet(site: &Site, board: Id<Board>) -> Option<Connect> {
    site.part_of(board)?.battery_port.as_ref()?.connect
}

/// Switching a board on and off, for its own table; `None` where it has neither battery nor transformer.
pub(crate) fn of_board(site: &Site, id: Id<Board>) -> Option<String> {
    let board = &site.boards[id];
    if board.battery.is_none() || board.transformer.is_none() {
        return None;
    }
    let order = Order::of_board(site, id);
    let basis = match sheet(site, id) {
        Some(_) => "by the board's sheet",
        None => "common practice; the board's sheet prevails",
    };
    Some(format!("Switch on: {}. Switch off: {} ({basis}).", order.on(), order.off()))
}

/// A procedure with the site's order of mains and battery.
pub(crate) fn told(site: &Site, procedure: &str) -> String {
    let order = Order::of_site(site);
    procedure.replace("{on}", order.on()).replace("{off}", order.off())
}

/// Before a conductor is moved.
pub(crate) const BOARD_OFF: &str =
    "Switch the board off before you land, lift or move a conductor: {off}. The battery alone keeps the board alive.";

/// When all is landed.
pub(crate) const BOARD_ON: &str = "Switch the board on in this order: {on}. Off in the reverse: {off}.";

/// How the ohms of a loop are taken: with the board's own supply on where something in the loop has one.
pub(crate) const LOOP_OHMS: &str = "switch the board off ({off}), lift the loop's conductors off its two terminals, leave joints as they are, and keep the two apart. Where nothing in the loop has a supply, read across the two conductors now. Else switch the board on again, because many detectors open or close their contact without supply, and read then: to the board the lifted loop is in alarm or trouble, so the sounders' conductors are off before and the service is told. Switch it off to land them. Hold the \
     probes together first and take that reading off.";

/// Where the sounders are while a board is worked on.
pub(crate) const SOUNDERS_OFF: &str = "The sounders' conductors are off the boards and capped until they are tried: nothing sounds beside an ear or a ladder.";

/// How the volts of a loop are taken.
pub(crate) const LOOP_VOLTS: &str = "everything connected and the board on, at the two terminals.";

/// How the ohms of a bus are taken.
pub(crate) const BUS_OHMS: &str = "switch the board off ({off}), and every board of the bus that has a supply of its own; everything connected, probes on A and B.";

/// How a relay that watches a supply is tried.
pub(crate) const RELAY: &str = "Try each supply relay: switch the board off, lift the + conductor of its supply at the board, switch the board on: the relay's zone must show trouble. Switch it off to land the conductor.";

/// How a supply passes a fire detector.
pub(crate) const IN_AND_OUT: &str = "Take the supply through each detector's own terminals, one conductor in and one out under the same screw, cut and not looped; do not tee off to a detector, or a cut of the tee goes unseen.";
