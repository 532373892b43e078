//! What the facts of the safety notes are taken from: all of a site, or what a piece of work touches.

use std::collections::BTreeSet;

use crate::base::Id;
use crate::model::{Board, Device, Room, Run, Site};
use crate::register::{Cable, Wiring};

/// What the facts are taken from.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Facts<'s> {
    /// The site.
    pub(crate) site: &'s Site,
    /// Its labels.
    pub(crate) wiring: &'s Wiring,
    /// What is worked on; `None` for all of it.
    pub(super) only: Option<&'s Touched>,
}

/// What a piece of work touches.
#[derive(Debug, Default)]
pub(crate) struct Touched {
    /// The runs whose cables are pulled.
    pub(crate) runs: BTreeSet<Id<Run>>,
    /// Boards that are mounted or moved.
    pub(crate) boards: BTreeSet<Id<Board>>,
    /// Boards whose battery or transformer is put in, taken out or moved.
    pub(crate) supplied: BTreeSet<Id<Board>>,
    /// Devices that are mounted or moved.
    pub(crate) devices: BTreeSet<Id<Device>>,
}

impl<'s> Facts<'s> {
    /// All of a site.
    pub(crate) fn of(site: &'s Site, wiring: &'s Wiring) -> Self {
        Self { site, wiring, only: None }
    }

    /// What of it a piece of work touches.
    pub(crate) fn of_work(site: &'s Site, wiring: &'s Wiring, touched: &'s Touched) -> Self {
        Self { site, wiring, only: Some(touched) }
    }

    pub(super) fn cables(self) -> impl Iterator<Item = &'s Cable> {
        self.wiring.cables.iter().filter(move |cable| self.only.is_none_or(|only| only.runs.contains(&cable.run)))
    }

    /// The rooms, or those of them in which something is mounted or a cable ends.
    pub(super) fn rooms(self) -> impl Iterator<Item = (Id<Room>, &'s Room)> {
        let site = self.site;
        let is_worked_in = move |id: Id<Room>, only: &Touched| {
            let at = |room: Option<Id<Room>>| room == Some(id);
            only.runs.iter().any(|run| at(site.start_room(*run)) || at(site.runs[*run].room))
                || only.boards.iter().any(|board| at(site.boards[*board].room))
                || only.devices.iter().any(|device| at(site.devices[*device].room))
        };
        site.rooms.entries().filter(move |(id, _)| self.only.is_none_or(|only| is_worked_in(*id, only)))
    }

    pub(super) fn boards(self) -> impl Iterator<Item = (Id<Board>, &'s Board)> {
        self.site.boards.entries().filter(move |(id, _)| self.only.is_none_or(|only| only.boards.contains(id)))
    }

    pub(super) fn supplied(self) -> impl Iterator<Item = (Id<Board>, &'s Board)> {
        self.site.boards.entries().filter(move |(id, _)| self.only.is_none_or(|only| only.supplied.contains(id)))
    }

    pub(super) fn devices(self) -> impl Iterator<Item = (Id<Device>, &'s Device)> {
        self.site.devices.entries().filter(move |(id, _)| self.only.is_none_or(|only| only.devices.contains(id)))
    }
}
