//! By which of its ports a board is on a bus.
//!
//! A bus starts at a port of one board; the other boards hang on it, each by a port of its own that no bus starts at.

use crate::base::Id;

use super::board::Board;
use super::part::BusPort;
use super::run::Bus;
use super::site::Site;

impl Site {
    /// True for the board that a bus starts at.
    pub(crate) fn starts_at(&self, bus: Id<Bus>, board: Id<Board>) -> bool {
        self.buses[bus].board.as_ref().is_some_and(|own| own.value == board)
    }

    /// True for a board that hangs on a bus and has a supply of its own. It leaves the bus's positive alone, because two
    /// supplies are never joined.
    pub(crate) fn leaves_bus_supply(&self, bus: Id<Bus>, board: Id<Board>) -> bool {
        !self.starts_at(bus, board) && self.boards[board].has_own_supply()
    }

    /// The buses that start at a port of a board, the port given by its position among its part's.
    pub(crate) fn buses_from(&self, board: Id<Board>, port: usize) -> impl Iterator<Item = Id<Bus>> {
        self.index.from.get(&(board, port)).into_iter().flatten().copied()
    }

    /// The port by which a board is on a bus, by its position among its part's: on the board that the bus starts at the
    /// one that it starts at, on another the one that it hangs by. `None` where the board is not on that bus, and where
    /// the port was reported.
    pub(crate) fn port_position(&self, bus: Id<Bus>, board: Id<Board>) -> Option<usize> {
        if self.starts_at(bus, board) {
            return self.buses[bus].port;
        }
        self.boards[board].bus.filter(|(on, _)| *on == bus).and_then(|_| self.hanging_port(bus, board))
    }

    /// The port by which a board is on a bus, see [`Site::port_position`].
    pub(crate) fn bus_port(&self, bus: Id<Bus>, board: Id<Board>) -> Option<&BusPort> {
        self.part_of(board)?.bus_ports.get(self.port_position(bus, board)?)
    }

    /// True where the terminator that this port has built in is taken off.
    pub(crate) fn is_terminator_off(&self, bus: Id<Bus>, board: Id<Board>) -> bool {
        if self.starts_at(bus, board) { self.buses[bus].terminator_off } else { self.boards[board].terminator_off }
    }

    /// Of the ports that no bus starts at: the one of the bus's name, else the first that gives no supply, else the
    /// first. The first of all where a bus starts at each.
    fn hanging_port(&self, bus: Id<Bus>, board: Id<Board>) -> Option<usize> {
        let ports = &self.part_of(board)?.bus_ports;
        let free =
            || ports.iter().enumerate().filter(|(position, _)| self.buses_from(board, *position).next().is_none());
        let named = free().find(|(_, port)| port.name.value == self.buses[bus].name.value);
        let found = named.or_else(|| free().find(|(_, port)| port.volts.is_none())).or_else(|| free().next());
        found.map(|(position, _)| position).or((!ports.is_empty()).then_some(0))
    }
}
