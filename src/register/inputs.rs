//! Which input each zone's loop is on: the spec's, or the board's first free one.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::Id;
use crate::model::{Board, Site};

use super::wiring::Inputs;

/// Gives every wired loop its input. What the spec says is taken as it is, right or wrong: `checks` judge it.
pub fn allocate(site: &Site) -> Inputs {
    let mut inputs = Inputs::default();
    let mut taken: BTreeMap<Id<Board>, BTreeSet<u32>> = BTreeMap::new();
    let wired = || {
        site.zones.entries().filter_map(|(id, zone)| {
            let wired = zone.wired.as_ref()?;
            Some((id, wired, wired.board.as_ref()?.value))
        })
    };
    for (zone, wired, board) in wired() {
        if let Some(input) = &wired.input {
            taken.entry(board).or_default().insert(input.value);
            inputs.of_zone.insert(zone, input.value);
        }
    }
    for (zone, wired, board) in wired() {
        if wired.input_written {
            continue;
        }
        let Some(part) = site.part_of(board) else { continue };
        let taken = taken.entry(board).or_default();
        match part.inputs.iter().map(|input| input.number.value).find(|number| !taken.contains(number)) {
            Some(number) => {
                taken.insert(number);
                inputs.of_zone.insert(zone, number);
                inputs.proposed.insert(zone);
            }
            None => inputs.without.push(zone),
        }
    }
    inputs
}
