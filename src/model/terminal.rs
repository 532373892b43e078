//! The terminals of a board, in their order, with what each is for.

use crate::base::Id;

use super::board::{Board, BoardKind};
use super::part::Part;
use super::site::Site;

/// What a terminal is for. Positions are those in the part's lists.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Role {
    /// One side of the transformer.
    AcA,
    /// The other side of the transformer.
    AcB,
    /// Positive of the battery.
    BatteryPositive,
    /// Negative of the battery.
    BatteryNegative,
    /// The earth conductor.
    Earth,
    /// Positive of an output.
    OutputPositive(usize),
    /// Negative of an output.
    OutputNegative(usize),
    /// Common of a relay.
    RelayCommon(usize),
    /// Make contact of a relay.
    RelayMake(usize),
    /// Break contact of a relay.
    RelayBreak(usize),
    /// A transistor.
    Transistor(usize),
    /// Positive supply of a bus port.
    BusPlus(usize),
    /// Negative supply of a bus port.
    BusMinus(usize),
    /// Data conductor A of a bus port.
    BusA(usize),
    /// Data conductor B of a bus port.
    BusB(usize),
    /// Line from the street, tip.
    LineInTip(usize),
    /// Line from the street, ring.
    LineInRing(usize),
    /// On to the house phones, tip.
    LineOutTip(usize),
    /// On to the house phones, ring.
    LineOutRing(usize),
    /// Shield of a bus's cable.
    BusShield(usize),
    /// Sensed terminal of an input.
    InputSignal(usize),
    /// Return of an input.
    InputReturn(usize),
    /// Positive of a strip's way.
    WayPositive(u32),
    /// Negative of a strip's way.
    WayNegative(u32),
    /// One side of the contact that opens on a fault of the board.
    FaultA,
    /// The other side of that contact.
    FaultB,
    /// Of another purpose, by the sheet.
    Declared(usize),
    /// Listed by `terminals`, with no use of its own.
    Other,
}

impl Role {
    /// True where the spec says all that lands there, so that with nothing on it the terminal is free.
    pub(crate) fn is_wired_by_spec(self) -> bool {
        match self {
            Self::OutputPositive(_)
            | Self::OutputNegative(_)
            | Self::RelayCommon(_)
            | Self::RelayMake(_)
            | Self::RelayBreak(_)
            | Self::Transistor(_)
            | Self::BusPlus(_)
            | Self::BusMinus(_)
            | Self::BusA(_)
            | Self::BusB(_)
            | Self::BusShield(_)
            | Self::LineInTip(_)
            | Self::LineInRing(_)
            | Self::LineOutTip(_)
            | Self::LineOutRing(_)
            | Self::InputSignal(_)
            | Self::InputReturn(_)
            | Self::FaultA
            | Self::FaultB
            | Self::WayPositive(_)
            | Self::WayNegative(_) => true,
            Self::AcA
            | Self::AcB
            | Self::BatteryPositive
            | Self::BatteryNegative
            | Self::Earth
            | Self::Declared(_)
            | Self::Other => false,
        }
    }
}

/// A terminal: its mark, and all roles it has (a shared return has several).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Terminal {
    /// As printed on the board.
    pub mark: String,
    /// What it is for.
    pub(crate) roles: Vec<Role>,
}

/// The terminals of a board in their order; empty where its part is not known.
pub fn terminals(site: &Site, board: Id<Board>) -> Vec<Terminal> {
    match (&site.boards[board].kind, site.part_of(board)) {
        (BoardKind::Strip { ways, .. }, _) => strip_terminals(*ways),
        (BoardKind::JointBox { .. }, _) => Vec::new(),
        (
            BoardKind::Panel
            | BoardKind::PowerSupply
            | BoardKind::Keypad { .. }
            | BoardKind::Module { .. }
            | BoardKind::Receiver,
            part,
        ) => part.map(part_terminals).unwrap_or_default(),
    }
}

/// How many conductors one terminal of a board takes; `None` where nobody says.
pub(crate) fn capacity(site: &Site, board: Id<Board>) -> Option<u32> {
    match &site.boards[board].kind {
        BoardKind::Strip { wires, .. } => Some(*wires),
        BoardKind::JointBox { .. } => None,
        BoardKind::Panel
        | BoardKind::PowerSupply
        | BoardKind::Keypad { .. }
        | BoardKind::Module { .. }
        | BoardKind::Receiver => site.part_of(board)?.wires_per_terminal,
    }
}

/// A strip's own feed (way 0, marked `in`), then its ways.
fn strip_terminals(ways: u32) -> Vec<Terminal> {
    (0..=ways)
        .flat_map(|way| {
            let name = if way == 0 { "in".to_owned() } else { way.to_string() };
            [
                Terminal { mark: format!("{name}+"), roles: vec![Role::WayPositive(way)] },
                Terminal { mark: format!("{name}-"), roles: vec![Role::WayNegative(way)] },
            ]
        })
        .collect()
}

/// The roles of a part's terminals by mark, in the default order: supply, outputs, relays and transistors, bus ports, line ports, inputs.
fn part_terminals(part: &Part) -> Vec<Terminal> {
    let mut found: Vec<Terminal> =
        part.terminals.iter().map(|mark| Terminal { mark: mark.value.clone(), roles: Vec::new() }).collect();
    let mut add = |mark: &str, role: Role| match found.iter_mut().find(|t| t.mark == mark) {
        Some(terminal) => terminal.roles.push(role),
        None => found.push(Terminal { mark: mark.to_owned(), roles: vec![role] }),
    };
    if let Some(port) = &part.ac_port {
        add(&port.a.value, Role::AcA);
        add(&port.b.value, Role::AcB);
    }
    if let Some(port) = &part.battery_port {
        add(&port.positive.value, Role::BatteryPositive);
        add(&port.negative.value, Role::BatteryNegative);
    }
    if let Some(mark) = &part.earth {
        add(&mark.value, Role::Earth);
    }
    for (position, output) in part.outputs.iter().enumerate() {
        add(&output.positive, Role::OutputPositive(position));
        add(&output.negative, Role::OutputNegative(position));
    }
    for (position, switch) in part.switches.iter().enumerate() {
        for (mark, role) in switch.marks(position) {
            add(mark, role);
        }
    }
    for (position, port) in part.bus_ports.iter().enumerate() {
        add(&port.plus, Role::BusPlus(position));
        add(&port.minus, Role::BusMinus(position));
        add(&port.a, Role::BusA(position));
        add(&port.b, Role::BusB(position));
        if let Some(mark) = &port.shield {
            add(&mark.value, Role::BusShield(position));
        }
    }
    for (position, port) in part.line_ports.iter().enumerate() {
        add(&port.in_tip, Role::LineInTip(position));
        add(&port.in_ring, Role::LineInRing(position));
        for (mark, role) in [(&port.out_tip, Role::LineOutTip(position)), (&port.out_ring, Role::LineOutRing(position))]
        {
            if let Some(mark) = mark {
                add(mark, role);
            }
        }
    }
    for (position, input) in part.inputs.iter().enumerate() {
        add(&input.signal, Role::InputSignal(position));
        add(&input.back, Role::InputReturn(position));
    }
    if let Some(fault) = &part.fault {
        add(&fault.a.value, Role::FaultA);
        add(&fault.b.value, Role::FaultB);
    }
    for (position, other) in part.others.iter().enumerate() {
        add(&other.mark.value, Role::Declared(position));
    }
    for terminal in &mut found {
        if terminal.roles.is_empty() {
            terminal.roles.push(Role::Other);
        }
    }
    found
}
