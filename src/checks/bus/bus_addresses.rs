//! The addresses of a bus: which are taken, which the board at its head knows, which are free.

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

/// The addresses that the board at its head knows, where its sheet says so.
pub(crate) fn range(site: &Site, bus: &Bus) -> Option<(u32, u32)> {
    own_port(site, bus)?.addresses
}

/// As many free addresses as are wanted, or as there are; from 1 on where no sheet says which are known, since some
/// boards keep 0 for themselves.
pub(crate) fn free(site: &Site, id: Id<Bus>, wanted: usize) -> Vec<u32> {
    let (first, last) = range(site, &site.buses[id]).unwrap_or((1, 255));
    let taken = taken(site, id);
    (first..=last).filter(|address| !taken.contains(address)).take(wanted).collect()
}
