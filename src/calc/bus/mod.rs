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
use crate::model::{Bus, Site};
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
    /// What stands between A and B; `None` where no board gives a bias or its figures are not known.
    pub idle: Option<Idle>,
    /// How far the modules' minus rises above the board's.
    pub shifts: Shifts,
}

impl BusFigures {
    /// The least volts of the supply at a place in a case, with hot wire; `None` where not all that it feeds is known.
    pub(crate) fn supply_volts(&self, power: &Power, place: usize, supply: Supply, demand: Demand) -> Option<Volts> {
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
            let idle = idle::of(&layout);
            let shifts = supply::of(&index, power, &layout);
            (id, BusFigures { layout, idle, shifts })
        })
        .collect()
}
