//! The addresses of a bus: which are taken, which the board at its head knows, which are free.

use std::collections::BTreeSet;

use crate::base::{Id, Spanned};
use crate::checks::bus::bus_verdict::own_port;
use crate::model::{Board, Bus, Site};

/// The boards of a bus that have an address, by name.
pub(crate) fn of_bus(site: &Site, id: Id<Bus>) -> impl Iterator<Item = (Id<Board>, &Board, &Spanned<u32>)> {
    site.boards_on(id).filter_map(|(id, board)| Some((id, board, board.address.as_ref()?)))
}

/// Its addresses, rising, each once.
pub(crate) fn taken(site: &Site, id: Id<Bus>) -> Vec<u32> {
    let mut taken: Vec<u32> = of_bus(site, id).map(|(_, _, address)| address.value).collect();
    taken.sort_unstable();
    taken.dedup();
    taken
}

/// The addresses that the board at its head knows, or the one before that where the head passes on what it hears, with
/// the bus that starts there; where its sheet says so.
pub(crate) fn known(site: &Site, bus: Id<Bus>) -> Option<(Id<Bus>, (u32, u32))> {
    let first = first_of(site, bus).unwrap_or(bus);
    Some((first, own_port(site, &site.buses[first])?.addresses?))
}

/// The same addresses alone.
pub(crate) fn range(site: &Site, bus: Id<Bus>) -> Option<(u32, u32)> {
    known(site, bus).map(|(_, range)| range)
}

/// The addresses of all buses that are one to the panel, rising, each once.
pub(crate) fn taken_together(site: &Site, id: Id<Bus>) -> Vec<u32> {
    let first = first_of(site, id);
    let buses = site.buses.entries().map(|(bus, _)| bus);
    let one = buses.filter(|bus| *bus == id || first.is_some() && first_of(site, *bus) == first);
    let mut taken: Vec<u32> = one.flat_map(|bus| taken(site, bus)).collect();
    taken.sort_unstable();
    taken.dedup();
    taken
}

/// As many free addresses as are wanted, or as there are; from 1 on where no sheet says which are known, since some
/// boards keep 0 for themselves.
pub(crate) fn free(site: &Site, id: Id<Bus>, wanted: usize) -> Vec<u32> {
    let (first, last) = range(site, id).unwrap_or((1, 255));
    let taken = taken_together(site, id);
    (first..=last).filter(|address| !taken.contains(address)).take(wanted).collect()
}

/// The bus that is passed on to this one, over as many modules as there are; `None` where they go in a circle.
pub(crate) fn first_of(site: &Site, bus: Id<Bus>) -> Option<Id<Bus>> {
    let (mut at, mut seen) = (bus, BTreeSet::new());
    while let Some(before) = passed_on(site, at) {
        if !seen.insert(at) {
            return None;
        }
        at = before;
    }
    Some(at)
}

/// The bus of the module that a bus starts at, where its port knows no addresses of its own. At the port by which it hangs
/// nothing is passed on: both buses are one pair, which is told of the port.
fn passed_on(site: &Site, bus: Id<Bus>) -> Option<Id<Bus>> {
    let bus = &site.buses[bus];
    own_port(site, bus).filter(|port| port.addresses.is_none())?;
    let head = bus.board.as_ref()?.value;
    let (before, _) = site.boards[head].bus?;
    (site.port_position(before, head) != bus.port).then_some(before)
}
