//! Data buses: the pair as a tree of places, what lies across it, and what stands between A and B when nobody sends.
//!
//! A *place* is the board that the bus starts at, or the far end of a run. The *trunk* is the longest way between two
//! ends; what leaves it is a *stub*. The *idle bias* is the voltage that the bias resistors hold between A and B: with
//! less than the receivers' threshold, noise reads as data. Drops of the modules' supply come from [`power`](super::power).
//! Out of scope: verdicts and words.

pub mod formulas;
pub mod idle;
pub mod layout;
mod order;
pub(crate) mod remedy;
pub(crate) mod supply;
pub mod terminators;

use std::collections::BTreeMap;

use super::power::{Demand, Power, Supply};
use crate::base::Id;
use crate::model::{Board, Bus, Site};
use crate::quantity::Volts;

pub(crate) use idle::Idle;
pub use layout::{Fitting, Layout, Stub, Terminator};
pub(crate) use order::Way;
pub(crate) use supply::Shifts;
pub(crate) use terminators::Ends;

/// What is computed of a bus.
#[derive(Clone, Debug)]
pub struct BusFigures {
    /// Its places.
    pub layout: Layout,
    /// What stands between A and B; `None` where no board gives a bias or its figures are not known, and of a bus that is not
    /// differential.
    pub idle: Option<Idle>,
    /// How far the modules' minus rises above the board's.
    pub shifts: Shifts,
}

impl BusFigures {
    /// True where the supply of the bus is landed at a place: at its own board, where no board is, and at a board without
    /// a supply of its own.
    pub(crate) fn is_landed(&self, site: &Site, place: usize) -> bool {
        let boards = self.layout.places.get(place).map_or(&[][..], |place| &place.boards);
        boards.is_empty() || boards.iter().any(|board| self.takes_supply(site, *board))
    }

    /// True for a board that lands the supply of the bus: its own, and one without a supply of its own.
    pub(crate) fn takes_supply(&self, site: &Site, board: Id<Board>) -> bool {
        site.starts_at(self.layout.bus, board) || !site.boards[board].has_own_supply()
    }

    /// The least volts of the supply at a place in a case, with hot wire; `None` where it is not landed, and where not all
    /// that it feeds is known.
    pub(crate) fn supply_volts(
        &self,
        site: &Site,
        power: &Power,
        place: usize,
        case: (Supply, Demand),
    ) -> Option<Volts> {
        if !self.is_landed(site, place) {
            return None;
        }
        let (supply, demand) = case;
        let (feeding, node) = self.shifts.feeding(power, place)?;
        if !feeding.tree.whole || !feeding.tree.unknown.is_empty() {
            return None;
        }
        feeding.volts(node, supply, demand).map(|(hot, _)| hot)
    }
}

/// The figures of every bus of which all is known: its board and port, and of every run cable and length.
pub fn of_site(site: &Site, power: &Power) -> BTreeMap<Id<Bus>, BusFigures> {
    let index = supply::Index::new(site, power);
    let layouts = site.buses.entries().filter_map(|(id, _)| Some((id, layout::of_bus(site, id)?)));
    layouts
        .map(|(id, layout)| {
            let idle = if site.buses[id].differential { idle::of(&layout) } else { None };
            let shifts = supply::of(&index, power, &layout);
            (id, BusFigures { layout, idle, shifts })
        })
        .collect()
}
