//! What gives a supply: the outputs and bus ports of boards, by reference and by name.

use crate::base::{Id, Spanned};

use super::board::{Board, BoardKind};
use super::communicator::Communicator;
use super::device::OutputRef;
use super::part::{Output, Part};
use super::site::Site;
use super::zone::Zone;

/// What gives a supply.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Source {
    /// An output of a board.
    Output(OutputRef),
    /// A bus port of a board, by its position among its part's.
    Port(Id<Board>, usize),
}

impl Source {
    /// The board that it belongs to.
    pub fn board(self) -> Id<Board> {
        match self {
            Self::Output(output) => output.board,
            Self::Port(board, _) => board,
        }
    }
}

impl Site {
    /// An output, where its board's part is known.
    pub(crate) fn output(&self, of: OutputRef) -> Option<&Output> {
        self.part_of(of.board)?.outputs.get(of.output)
    }

    /// The output of that name on a board.
    pub(crate) fn output_named(&self, board: Id<Board>, name: &str) -> Option<OutputRef> {
        let output = self.part_of(board)?.outputs.iter().position(|output| output.name.value == name)?;
        Some(OutputRef { board, output })
    }

    /// The board with a supply of its own that feeds a board, maybe itself; `None` where boards feed each other.
    pub(crate) fn supplied_by(&self, board: Id<Board>) -> Option<Id<Board>> {
        self.up_the_buses(board).find(|board| self.boards[*board].has_own_supply())
    }

    /// A board, the one at which its bus starts, the one at which that one's bus starts, and so on.
    pub(crate) fn up_the_buses(&self, board: Id<Board>) -> impl Iterator<Item = Id<Board>> {
        let above = |board: &Id<Board>| Some(self.buses[self.boards[*board].bus?.0].board.as_ref()?.value);
        std::iter::successors(Some(board), above).take(self.boards.len())
    }

    /// The panel that a board belongs to, itself or up the buses; else the only one. `None` where that is not known.
    pub(crate) fn panel_of(&self, board: Option<Id<Board>>) -> Option<Id<Board>> {
        let is_panel = |board: &Id<Board>| self.boards[*board].kind.is_panel();
        board.and_then(|board| self.up_the_buses(board).find(is_panel)).or_else(|| {
            let mut panels = self.boards.entries().map(|(board, _)| board).filter(is_panel);
            panels.next().filter(|_| panels.next().is_none())
        })
    }

    /// The panel that a zone belongs to: that of its loop's board, or of the receiver that hears it.
    pub(crate) fn panel_of_zone(&self, zone: &Zone) -> Option<Id<Board>> {
        let wired = zone.wired.as_ref().and_then(|wired| wired.board.as_ref());
        let heard = zone.wireless.and_then(|device| self.devices[device].receiver.as_ref());
        self.panel_of(wired.or(heard).map(|board| board.value))
    }

    /// The panel whose alarms go by a way: the one that it belongs to, or whose bus its adapter is on; else the only one.
    pub(crate) fn panel_of_way(&self, way: &Communicator) -> Option<Id<Board>> {
        let adapter = way.module.as_ref().map(|module| module.value);
        self.panel_of(way.board.or(way.port.map(|(board, _)| board)).or(adapter))
    }

    /// True where a way leads to the monitoring service from a panel, as far as the panels of both are known.
    pub(crate) fn is_sent(&self, panel: Option<Id<Board>>) -> bool {
        let mut panels = self.communicators.iter().map(|way| self.panel_of_way(way));
        panels.any(|of| panel.is_none() || of.is_none() || of == panel)
    }

    /// True where a board hears wireless detectors: a receiver, or a board with one in it.
    pub(crate) fn hears(&self, board: Id<Board>) -> bool {
        self.boards[board].kind == BoardKind::Receiver || self.part_of(board).is_some_and(Part::hears)
    }

    /// The keypads.
    pub(crate) fn keypads(&self) -> impl Iterator<Item = (Id<Board>, &Board)> {
        self.boards.entries().filter(|(_, board)| board.kind.is_keypad())
    }

    /// The panels that are off as soon as the mains is.
    pub(crate) fn panels_without_battery(&self) -> impl Iterator<Item = Id<Board>> {
        let has_battery = |board| self.supplied_by(board).is_some_and(|head| self.boards[head].battery.is_some());
        let panels = self.boards.entries().filter(|(_, board)| board.kind.is_panel()).map(|(board, _)| board);
        panels.filter(move |board| !has_battery(*board))
    }

    /// True where no panel has a battery, so that there is no alarm without mains.
    pub(crate) fn is_off_without_mains(&self) -> bool {
        let panels = self.boards.iter().filter(|board| board.kind.is_panel()).count();
        panels > 0 && self.panels_without_battery().count() == panels
    }

    /// The outputs of a board, in the order of its part.
    pub(crate) fn outputs(&self, board: Id<Board>) -> impl Iterator<Item = (OutputRef, &Output)> {
        let outputs = self.part_of(board).into_iter().flat_map(|part| part.outputs.iter().enumerate());
        outputs.map(move |(output, found)| (OutputRef { board, output }, found))
    }

    /// The name of a source, where its board's part is known.
    pub(crate) fn source_name(&self, source: Source) -> Option<&Spanned<String>> {
        match source {
            Source::Output(of) => self.output(of).map(|output| &output.name),
            Source::Port(board, port) => self.part_of(board)?.bus_ports.get(port).map(|port| &port.name),
        }
    }
}
