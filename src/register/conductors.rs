//! Which conductor of a cable does what.
//!
//! A conductor in use keeps its function. A new function takes first the conductor of the colour that a standard gives it, then a conductor that the cable type marks for it, then an unmarked one, then one marked for
//! something that this cable does not carry; one marked as spare comes last.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::Id;
use crate::model::{CableType, Run, Site};
use crate::profiles::connectors;
use crate::terms::Use;

use super::demand::{self, Demand};
use super::entry::Wire;
use super::recognised::Recognised;
use super::wiring::{ConductorUse, TooFew, Wiring};

/// Cable and conductor, by position in [`Wiring::cables`] and in the cable's list → the register's wire that it is.
pub(crate) type Landed<'r> = BTreeMap<(usize, usize), &'r Wire>;

/// Gives every cable's functions their conductors.
pub(crate) fn allocate<'r>(site: &Site, known: &Recognised<'r>, wiring: &mut Wiring) -> Landed<'r> {
    let mut landed = Landed::new();
    for (position, cable) in wiring.cables.iter_mut().enumerate() {
        let demands: Vec<Demand> = cable.carries.iter().flat_map(|run| demand::of_run(site, *run)).collect();
        let size = cable.size(site);
        let kept = kept(site, known, cable.run, size, &demands);
        let chosen = choose(&site.cables[cable.kind], size, &demands, &kept);
        if demands.len() > size {
            let needs = demands.iter().map(|demand| (demand.run, demand.function)).collect();
            wiring.too_few.push(TooFew { cable: position, needs, has: size });
        }
        let kind = &site.cables[cable.kind];
        for ((demand, conductor), wire) in demands.iter().zip(&chosen).zip(kept) {
            let Some(conductor) = conductor else { continue };
            if let Some(wire) = wire {
                landed.insert((position, cable.conductors.len()), wire);
            }
            cable.conductors.push(ConductorUse {
                position: *conductor,
                colour: kind.conductors.get(*conductor).map(|c| c.colour.value),
                run: demand.run,
                function: demand.function,
                near: Vec::new(),
                far: Vec::new(),
            });
        }
        cable.spare = (0..size).filter(|p| !chosen.contains(&Some(*p))).collect();
    }
    landed
}

/// The register's wire of each demand, where it has one.
fn kept<'r>(
    site: &Site,
    known: &Recognised<'r>,
    host: Id<Run>,
    size: usize,
    demands: &[Demand],
) -> Vec<Option<&'r Wire>> {
    let mut used: BTreeSet<u32> = BTreeSet::new();
    let mut kept = Vec::new();
    for demand in demands {
        let wires = known.wires(site, host, demand.run, demand.function);
        let free = |wire: &&Wire| wire.position as usize <= size && !used.contains(&wire.position);
        let wire = wires.into_iter().find(free);
        used.extend(wire.map(|wire| wire.position));
        kept.push(wire);
    }
    kept
}

fn choose(kind: &CableType, size: usize, demands: &[Demand], kept: &[Option<&Wire>]) -> Vec<Option<usize>> {
    let purpose = |position: usize| kind.conductors.get(position).and_then(|conductor| conductor.purpose);
    let mut chosen: Vec<Option<usize>> =
        kept.iter().map(|wire| wire.and_then(|wire| (wire.position as usize).checked_sub(1))).collect();
    let mut free: Vec<usize> = (0..size).filter(|position| !chosen.contains(&Some(*position))).collect();
    let passes: [fn(Option<Use>, Use) -> bool; 4] = [
        |marked, wanted| marked == Some(wanted),
        |marked, _| marked.is_none(),
        |marked, _| marked != Some(Use::Spare),
        |_, _| true,
    ];
    for (demand, slot) in demands.iter().zip(chosen.iter_mut()).filter(|(_, slot)| slot.is_none()) {
        let Some(wanted) = demand.colour else { continue };
        let colour = |position: usize| kind.conductors.get(position).map(|conductor| conductor.colour.value.code());
        let is_it = |position: &usize| colour(*position).is_some_and(|code| connectors::is_colour(wanted, &code));
        if let Some(at) = free.iter().position(is_it) {
            *slot = Some(free.remove(at));
        }
    }
    for fits in passes {
        for (demand, slot) in demands.iter().zip(chosen.iter_mut()).filter(|(_, slot)| slot.is_none()) {
            if let Some(at) = free.iter().position(|position| fits(purpose(*position), demand.takes)) {
                *slot = Some(free.remove(at));
            }
        }
    }
    chosen
}
