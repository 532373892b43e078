//! What the cables of a site and of a register are recognised by.

use std::collections::BTreeSet;

use crate::base::Id;
use crate::model::{Device, Mounted, Owner, Run, Site};

use super::entry::{CableEntry, Known, Mounting};
use super::owner::OwnerName;
use super::recognise::{Features, Names};

/// The features of a run.
pub(crate) fn of_run(site: &Site, run: Id<Run>) -> Features {
    let item = &site.runs[run];
    Features {
        label: item.label.as_ref().map(|label| label.value.clone()),
        name: item.name.as_ref().map(|name| name.value.clone()),
        of: OwnerName::of(site, item.owner),
        kind: item.cable.as_ref().map(|kind| site.cables[kind.value].name.value.clone()).unwrap_or_default(),
        room: item.room.map(|room| site.rooms[room].name.value.clone()),
        mounted: mounted(site, item),
        existing: item.existing,
    }
}

/// The features of an entry of the register.
pub(crate) fn of_entry(entry: &CableEntry) -> Features {
    Features {
        label: Some(entry.label.clone()),
        name: entry.run.clone(),
        of: entry.of.clone(),
        kind: entry.kind.clone(),
        room: entry.room.clone(),
        mounted: entry.mounted.clone(),
        existing: false,
    }
}

/// The names that a site has.
pub(crate) fn names(site: &Site) -> Names {
    let zones = site.zones.entries().map(|(id, _)| Owner::Zone(id));
    let buses = site.buses.entries().map(|(id, _)| Owner::Bus(id));
    let circuits = site.circuits.entries().map(|(id, _)| Owner::Circuit(id));
    let spares = site.spares.entries().map(|(id, _)| Owner::Spare(id));
    let lines = site.communicators.entries().map(|(id, _)| Owner::Communicator(id));
    let transformers = site.boards.entries().filter(|(_, board)| board.transformer.is_some());
    let transformers = transformers.map(|(id, _)| Owner::Transformer(id));
    let openings = site.openings.iter().map(|opening| Known::Opening(opening.name.value.clone()));
    let hops = site.hops().filter_map(|(_, hop)| hop.reference.as_ref());
    let devices = site.devices.iter().filter_map(|device| device.name.as_ref()).chain(hops);
    let boards = site.boards.iter().map(|board| Known::Board(board.name.value.clone()));
    let mounted: BTreeSet<Known> =
        openings.chain(devices.map(|name| Known::Device(name.value.clone()))).chain(boards).collect();
    Names {
        owners: zones
            .chain(buses)
            .chain(circuits)
            .chain(spares)
            .chain(lines)
            .chain(transformers)
            .map(|one| OwnerName::of(site, one))
            .collect(),
        kinds: site.cables.iter().map(|kind| kind.name.value.clone()).collect(),
        rooms: site.rooms.iter().map(|room| room.name.value.clone()).collect(),
        mounted,
    }
}

/// What is mounted at the far end of a run, sorted: the order in the text is no fact of the wall.
fn mounted(site: &Site, run: &Run) -> Vec<Mounting> {
    let mut mountings: Vec<Mounting> = run
        .mounted
        .iter()
        .filter_map(|item| match item {
            Mounted::Device(device) => Some(mounting(site, &site.devices[*device])),
            Mounted::Feed(device) => Some(mounting(site, &site.devices[device.value])),
            Mounted::Board(board) => {
                let board = &site.boards[*board];
                let part = board.part.map(|part| site.parts[part].name.value.clone());
                Some(Mounting { known: Known::Board(board.name.value.clone()), part })
            }
            Mounted::Hop(hop) => {
                let name = site.hop(hop.value)?.reference.as_ref()?;
                Some(Mounting { known: Known::Device(name.value.clone()), part: None })
            }
            Mounted::Run(_) | Mounted::Resistor(_) | Mounted::Terminator(_) => None,
        })
        .collect();
    mountings.sort();
    mountings
}

fn mounting(site: &Site, device: &Device) -> Mounting {
    let known = match (&device.opening, &device.name) {
        (Some(opening), _) => Known::Opening(site.openings[opening.value].name.value.clone()),
        (None, Some(name)) => Known::Device(name.value.clone()),
        (None, None) => Known::Title(device.title.clone()),
    };
    Mounting { known, part: device.part.map(|part| site.parts[part].name.value.clone()) }
}
