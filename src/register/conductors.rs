//! Which conductor of a cable does what.
//!
//! A function takes first a conductor that the cable type marks for it, then an unmarked one, then one marked for
//! something that this cable does not carry; one marked as spare comes last.

use crate::model::{CableType, Site};
use crate::schema::words::Use;

use super::demand::{self, Demand};
use super::wiring::{ConductorUse, TooFew, Wiring};

/// Gives every cable's functions their conductors.
pub fn allocate(site: &Site, wiring: &mut Wiring) {
    for (position, cable) in wiring.cables.iter_mut().enumerate() {
        let demands: Vec<Demand> = cable.carries.iter().flat_map(|run| demand::of_run(site, *run)).collect();
        let size = cable.size(site);
        let chosen = choose(&site.cables[cable.kind], size, &demands);
        if demands.len() > size {
            wiring.too_few.push(TooFew { cable: position, needs: summary(site, &demands), has: size });
        }
        let kind = &site.cables[cable.kind];
        for (demand, conductor) in demands.iter().zip(&chosen) {
            let Some(conductor) = conductor else { continue };
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
}

fn choose(kind: &CableType, size: usize, demands: &[Demand]) -> Vec<Option<usize>> {
    let purpose = |position: usize| kind.conductors.get(position).and_then(|conductor| conductor.purpose);
    let mut free: Vec<usize> = (0..size).collect();
    let mut chosen: Vec<Option<usize>> = vec![None; demands.len()];
    let passes: [fn(Option<Use>, Use) -> bool; 4] = [
        |marked, wanted| marked == Some(wanted),
        |marked, _| marked.is_none(),
        |marked, _| marked != Some(Use::Spare),
        |_, _| true,
    ];
    for fits in passes {
        for (demand, slot) in demands.iter().zip(chosen.iter_mut()).filter(|(_, slot)| slot.is_none()) {
            if let Some(at) = free.iter().position(|position| fits(purpose(*position), demand.takes)) {
                *slot = Some(free.remove(at));
            }
        }
    }
    chosen
}

fn summary(site: &Site, demands: &[Demand]) -> Vec<(String, usize)> {
    let mut needs: Vec<(String, usize)> = Vec::new();
    for demand in demands {
        let words = demand::words(site, demand.function);
        match needs.iter_mut().find(|(known, _)| *known == words) {
            Some((_, count)) => *count += 1,
            None => needs.push((words, 1)),
        }
    }
    needs
}
