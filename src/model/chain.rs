//! Where a run starts, what follows it, and what stands where along a loop, bus, circuit or line.
//!
//! A place is the far end of a run, or the board at which all starts.

use crate::base::{Id, Spanned};
use crate::quantity::Resistance;
use crate::terms::Joining;

use super::board::Board;
use super::device::Device;
use super::place::Room;
use super::run::{Mounted, Owner, Run};
use super::site::Site;
use super::zone::Zone;

impl Site {
    /// The runs of an owner, in order.
    pub(crate) fn runs_of(&self, owner: Owner) -> impl Iterator<Item = (Id<Run>, &Run)> {
        self.runs.of_key(owner, |run| run.owner)
    }

    /// The devices that a zone reports, in order.
    pub(crate) fn devices_of(&self, zone: Id<Zone>) -> impl Iterator<Item = (Id<Device>, &Device)> {
        self.devices.of_key((false, Some(zone)), |device| (device.zone.is_none(), device.zone))
    }

    /// The runs that start where a run ends.
    pub(crate) fn runs_after(&self, run: Id<Run>) -> impl Iterator<Item = (Id<Run>, &Run)> {
        self.runs[run].after.iter().map(|next| (*next, &self.runs[*next]))
    }

    /// The run by which a chain goes on from a run; a branch leaves it.
    pub(crate) fn next_run(&self, run: Id<Run>) -> Option<Id<Run>> {
        self.runs_after(run).find(|(_, next)| !next.branch).map(|(id, _)| id)
    }

    /// The board at which all that an owner has starts; `None` where that was reported.
    pub(crate) fn home(&self, owner: Owner) -> Option<Id<Board>> {
        match owner {
            Owner::Zone(zone) => self.zones[zone].wired.as_ref()?.board.as_ref().map(|board| board.value),
            Owner::Bus(bus) => self.buses[bus].board.as_ref().map(|board| board.value),
            Owner::Circuit(circuit) => self.circuits[circuit].board(),
            Owner::Spare(spare) => self.spares[spare].board.as_ref().map(|board| board.value),
            Owner::Communicator(line) => self.communicators[line].starts_at(),
            Owner::Transformer(board) => Some(board),
        }
    }

    /// The room in which a run starts, where it is known.
    pub(crate) fn room_at_start(&self, run: &Run) -> Option<Id<Room>> {
        match run.upstream {
            Some(before) => self.runs[before].room,
            None => self.home(run.owner).and_then(|board| self.boards[board].room),
        }
    }

    /// True where a run starts or ends in open air.
    pub(crate) fn meets_open_air(&self, run: &Run) -> bool {
        let ends = [self.room_at_start(run), run.room];
        ends.into_iter().flatten().any(|room| self.rooms[room].is_outdoors())
    }

    /// The room that a board's transformer is in: where its cable ends, or that of the board.
    pub(crate) fn transformer_room(&self, board: Id<Board>) -> Option<Id<Room>> {
        let ends = self.runs_of(Owner::Transformer(board)).filter_map(|(_, run)| run.room).last();
        ends.or(self.boards[board].room)
    }

    /// The board at which a run starts; `None` for one that starts where another ends.
    pub(crate) fn start_board(&self, run: Id<Run>) -> Option<Id<Board>> {
        let run = &self.runs[run];
        if run.upstream.is_none() { self.home(run.owner) } else { None }
    }

    /// The board at which the near end of a run is: that at which all starts, or one where the run before it ends. Of boards that
    /// are linked at one place of a bus a cable goes on from the last.
    pub(crate) fn board_at_start(&self, run: Id<Run>) -> Option<Id<Board>> {
        match self.runs[run].upstream {
            Some(before) => self.runs[before].mounted.iter().rev().find_map(Mounted::board),
            None => self.start_board(run),
        }
    }

    /// The board to which another is linked by short wires, because both hang at one place of a bus: the one before it.
    pub(crate) fn linked_to(&self, board: Id<Board>) -> Option<Id<Board>> {
        let (_, run) = self.boards[board].bus?;
        let here = || self.runs[run].mounted.iter().filter_map(Mounted::board);
        here().zip(here().skip(1)).find(|(_, next)| *next == board).map(|(before, _)| before)
    }

    /// The room in which a run starts.
    pub(crate) fn start_room(&self, run: Id<Run>) -> Option<Id<Room>> {
        self.room_at_start(&self.runs[run])
    }

    /// The enclosure in which a run ends, where the spec says so of it or of the run whose cable it shares.
    pub(crate) fn ends_in(&self, run: Id<Run>) -> Option<Id<Board>> {
        let run = &self.runs[run];
        let host = || self.runs[run.along.as_ref()?.value].into.as_ref();
        run.into.as_ref().or_else(host).map(|board| board.value)
    }

    /// The enclosure in which a run starts: that in which the run before it ends.
    pub(crate) fn starts_in(&self, run: Id<Run>) -> Option<Id<Board>> {
        self.ends_in(self.runs[run].upstream?)
    }

    /// How the conductors of a run are joined in the enclosure in which it ends.
    pub(crate) fn joining(&self, run: Id<Run>) -> Option<Joining> {
        self.runs[run].joined.or_else(|| self.boards[self.ends_in(run)?].kind.joined())
    }

    /// True where the cable that a run goes through was in the wall before.
    pub(crate) fn is_existing(&self, run: Id<Run>) -> bool {
        let run = &self.runs[run];
        run.along.as_ref().map_or(run, |host| &self.runs[host.value]).existing
    }

    /// The runs on the way from a run back to its board, the nearest first, without the run itself.
    pub(crate) fn runs_before(&self, run: Id<Run>) -> impl Iterator<Item = Id<Run>> {
        std::iter::successors(self.runs[run].upstream, |run| self.runs[*run].upstream)
    }

    /// What stands at a place, in order: at the far end of a run, or (`None`) at the owner's board.
    pub(crate) fn mounted(&self, owner: Owner, run: Option<Id<Run>>) -> &[Mounted] {
        match (run, owner) {
            (Some(run), _) => &self.runs[run].mounted,
            (None, Owner::Zone(zone)) => self.zones[zone].wired.as_ref().map_or(&[], |wired| &wired.chain),
            (None, Owner::Bus(bus)) => &self.buses[bus].chain,
            (None, Owner::Circuit(circuit)) => &self.circuits[circuit].chain,
            (None, Owner::Spare(spare)) => &self.spares[spare].chain,
            (None, Owner::Communicator(_) | Owner::Transformer(_)) => &[],
        }
    }

    /// All that an owner has, with the run at whose far end it stands: what is at the board first.
    pub(crate) fn all_mounted(&self, owner: Owner) -> impl Iterator<Item = (Option<Id<Run>>, &Mounted)> {
        let places = std::iter::once(None).chain(self.runs_of(owner).map(|(run, _)| Some(run)));
        places.flat_map(move |run| self.mounted(owner, run).iter().map(move |item| (run, item)))
    }

    /// The resistors of a zone's loop, each with the run at whose far end it is; `None` at the board.
    pub(crate) fn resistors_of(&self, zone: Id<Zone>) -> impl Iterator<Item = (Option<Id<Run>>, &Spanned<Resistance>)> {
        self.all_mounted(Owner::Zone(zone)).filter_map(|(at, item)| Some((at, item.resistor()?)))
    }
}
