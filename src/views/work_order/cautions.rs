//! The cautions that the work of a work order calls for: of what is pulled, mounted, moved or supplied, and of what is taken out.

use std::collections::BTreeSet;

use super::super::procedure;
use super::super::safety_notes::{self, Facts, Touched};
use super::fittings::is_other_supply;
use super::{Keys, Sides, isolating};
use crate::base::Id;
use crate::diff::{Change, Kind};
use crate::model::{Board, Communicator};
use crate::record::fact;

/// Cautions that this work calls for. The safety notes of the packet say more.
pub(crate) fn cautions(sides: &Sides<'_>) -> Vec<String> {
    let new = &sides.new.site;
    let mut cautions = vec![
        "Local code, the authority having jurisdiction and the trades that law reserves work to prevail over this sheet. Where you are not sure, stop and ask.".to_owned(),
        procedure::told(new, procedure::BOARD_OFF),
    ];
    if !isolating::fire_zones(sides).is_empty() {
        cautions.push("Fire and gas detectors are out of service while the board is dark. Somebody keeps watch; nobody sleeps in the house before they are tested again. Work on them may be reserved to licensed trades.".to_owned());
    }
    let mut lines = sides.old.site.communicators.iter().chain(new.communicators.iter());
    if lines.any(Communicator::is_telephone) {
        cautions.push("A telephone line stays live with the board dark, and hurts when it rings. Keep off its terminals; the safety notes say more.".to_owned());
    }
    let (come, gone) = (comes(sides), goes(sides));
    let coming = Facts::of_work(new, &sides.new.wiring, &come);
    let going = Facts::of_work(&sides.old.site, &sides.old.wiring, &gone);
    cautions.extend(safety_notes::of_work(coming, going));
    cautions
}

/// What is pulled, mounted or moved, in the new site.
fn comes(sides: &Sides<'_>) -> Touched {
    let Keys { runs, devices, .. } = &sides.new_keys;
    let keys = |kind: Kind| {
        let placed = sides.changes(kind).filter(|change| change.old.is_none() || is_placed_otherwise(change));
        placed.filter_map(|change| Some(change.new.as_ref()?.0.key.as_str()))
    };
    let site = &sides.new.site;
    let boards: BTreeSet<Id<Board>> =
        keys(Kind::Board).filter_map(|key| site.board_named(key)).map(|(id, _)| id).collect();
    let supplied = sides.changes(Kind::Board).filter_map(|change| {
        let (is, now) = site.board_named(&change.new.as_ref()?.0.key)?;
        let before = sides.board_before(is).map(|was| &sides.old.site.boards[was]);
        (boards.contains(&is) || is_other_supply(change, before, now)).then_some(is)
    });
    Touched {
        runs: sides.found.pulled.iter().filter_map(|cable| runs.get(&cable.key)).copied().collect(),
        supplied: supplied.collect(),
        boards,
        devices: keys(Kind::Device).filter_map(|key| devices.get(key)).copied().collect(),
    }
}

/// What leaves its place, in the old site.
fn goes(sides: &Sides<'_>) -> Touched {
    let Keys { runs, devices, .. } = &sides.old_keys;
    let keys = |kind: Kind| {
        let pulled = |change: &Change| change.new.as_ref().is_some_and(|(is, _)| sides.found.pulled.contains(is));
        let gone = sides
            .changes(kind)
            .filter(move |change| change.new.is_none() || is_placed_otherwise(change) || pulled(change));
        gone.filter_map(|change| Some(change.old.as_ref()?.0.key.as_str()))
    };
    let boards: BTreeSet<Id<Board>> =
        keys(Kind::Board).filter_map(|key| sides.old.site.board_named(key)).map(|(id, _)| id).collect();
    Touched {
        runs: keys(Kind::Cable).filter_map(|key| runs.get(key)).copied().collect(),
        supplied: boards.clone(),
        boards,
        devices: keys(Kind::Device).filter_map(|key| devices.get(key)).copied().collect(),
    }
}

fn is_placed_otherwise(change: &Change) -> bool {
    let places =
        [fact::Device::room, fact::Device::opening, fact::Device::mount, fact::Board::room, fact::Board::mount];
    places.iter().any(|field| change.field(field).is_some())
}
