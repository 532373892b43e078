//! Which input each zone's loop is on: the spec's, or the one it is landed on, or the board's first free one.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{Id, Spanned};
use crate::model::{Board, Input, Loop, Mounted, Owner, Site, Zone};
use crate::terms::{LoopWiring, WireUse};

use super::entry::InputEntry;
use super::notice::Notice;
use super::owner::OwnerName;
use super::recognised::Recognised;
use super::wiring::Inputs;

/// An input that a zone is landed on, by the register.
struct Landed {
    board: String,
    number: u32,
    entry: Spanned<()>,
}

/// Gives every wired loop its input. What the spec says is taken as it is, right or wrong: `checks` judge it.
pub(crate) fn allocate(site: &Site, known: &Recognised<'_>, notices: &mut Vec<Notice>) -> Inputs {
    let mut inputs = Inputs { dead: held(site, known), ..Inputs::default() };
    let mut taken: BTreeMap<(Id<Board>, u32), Id<Zone>> = BTreeMap::new();
    let wired = || {
        site.zones.entries().filter_map(|(id, zone)| {
            let wired = zone.wired.as_ref()?;
            Some((id, wired, wired.board.as_ref()?.value))
        })
    };
    let landed = landed(site, known);
    for (zone, wired, board) in wired() {
        if let Some(input) = &wired.input {
            taken.insert((board, input.value), zone);
            inputs.of_zone.insert(zone, input.value);
            if let Some(found) = site.input(board, input.value)
                && let Some(dead) = known.holder(site, board, &found.signal)
            {
                let (label, entry) = (dead.label.clone(), dead.place);
                notices.push(Notice::InputOfDead { zone, number: input.value, label, entry });
            }
        }
    }
    let mut open = Vec::new();
    // By board: the position of the first input that may be free.
    let mut from: BTreeMap<Id<Board>, usize> = BTreeMap::new();
    for (zone, wired, board) in wired().filter(|(_, wired, _)| !wired.input_written) {
        if site.part_of(board).is_none() {
            continue;
        }
        // What is landed stays; on another board, or on an input that the board has no more, it cannot.
        let stays = landed.get(&zone).filter(|landed| {
            let is_there = site.input(board, landed.number).is_some();
            is_there && known.is_board(site, board, &landed.board) && !inputs.dead.contains_key(&(board, landed.number))
        });
        let Some(landed) = stays else {
            open.push((zone, wired, board));
            continue;
        };
        let number = landed.number;
        match taken.insert((board, number), zone) {
            // Two entries of one input are reported where the register is read; so one of the two is the spec's.
            Some(other) => {
                notices.push(Notice::InputTaken { zone: other, holder: zone, number, entry: landed.entry });
            }
            None => {
                inputs.of_zone.insert(zone, number);
                inputs.proposed.insert(zone);
            }
        }
    }
    // Few inputs of a board feed detectors, so loops that want one choose first.
    let two_wire = |wired: &Loop| wired.wiring.as_ref().is_some_and(|wiring| wiring.value == LoopWiring::TwoWire);
    open.sort_by_key(|(_, wired, _)| !two_wire(wired));
    for (zone, wired, board) in open {
        let Some(part) = site.part_of(board) else { continue };
        let from = from.entry(board).or_default();
        let is_free = |input: &Input| {
            let at = (board, input.number.value);
            !taken.contains_key(&at) && !inputs.dead.contains_key(&at)
        };
        let feeding = part.inputs.iter().find(|input| two_wire(wired) && input.two_wire && is_free(input));
        let free = feeding.or_else(|| {
            let free = part.inputs.iter().enumerate().skip(*from).find(|(_, input)| is_free(input));
            *from = free.map_or(part.inputs.len(), |(position, _)| position);
            free.map(|(_, input)| input)
        });
        match free {
            Some(input) => {
                taken.insert((board, input.number.value), zone);
                inputs.of_zone.insert(zone, input.number.value);
                inputs.proposed.insert(zone);
            }
            None => inputs.without.push(zone),
        }
    }
    note_moves(site, known, &inputs, &landed, notices);
    inputs
}

/// The inputs that a dead cable is on, with its label.
fn held(site: &Site, known: &Recognised<'_>) -> BTreeMap<(Id<Board>, u32), String> {
    let mut held = BTreeMap::new();
    for (board, _) in site.boards.entries() {
        let inputs = site.part_of(board).map(|part| part.inputs.as_slice()).unwrap_or_default();
        for input in inputs {
            if let Some(entry) = known.holder(site, board, &input.signal) {
                held.insert((board, input.number.value), entry.label.clone());
            }
        }
    }
    held
}

/// The input of each zone by the register. A zone whose first cable was another zone's has been renumbered, and is
/// where that cable is.
fn landed(site: &Site, known: &Recognised<'_>) -> BTreeMap<Id<Zone>, Landed> {
    let mut landed = BTreeMap::new();
    let mut claimed: BTreeSet<(&str, u32)> = BTreeSet::new();
    let mut by_number = Vec::new();
    for (id, zone) in site.zones.entries() {
        let Some(wired) = &zone.wired else { continue };
        let first = wired.chain.iter().find_map(Mounted::run);
        let entry = first.and_then(|run| known.of_run.get(&run));
        let Some(entry) = entry.filter(|entry| entry.of != OwnerName::of(site, Owner::Zone(id))) else {
            by_number.push((id, zone.number.value));
            continue;
        };
        let near = entry.wires.iter().find(|wire| wire.does == WireUse::LoopOut && wire.of.is_none());
        let Some(near) = near.and_then(|wire| wire.near.as_ref()) else { continue };
        let number = wired
            .board
            .as_ref()
            .and_then(|board| site.part_of(board.value))
            .and_then(|part| part.inputs.iter().find(|input| input.signal == near.mark))
            .map(|input| input.number.value);
        if let Some(number) = number {
            claimed.insert((&near.board, number));
            landed.insert(id, Landed { board: near.board.clone(), number, entry: entry.place });
        }
    }
    let mut entries: BTreeMap<u32, &InputEntry> = BTreeMap::new();
    for entry in &known.register.inputs {
        entries.entry(entry.zone).or_insert(entry);
    }
    for (id, number) in by_number {
        let entry = entries.get(&number).copied();
        if let Some(entry) = entry.filter(|entry| !claimed.contains(&(entry.board.as_str(), entry.number))) {
            let (board, number) = (entry.board.clone(), entry.number);
            landed.insert(id, Landed { board, number, entry: entry.place });
        }
    }
    landed
}

fn note_moves(
    site: &Site,
    known: &Recognised<'_>,
    inputs: &Inputs,
    landed: &BTreeMap<Id<Zone>, Landed>,
    notices: &mut Vec<Notice>,
) {
    for (zone, landed) in landed {
        let Some(to) = inputs.of_zone.get(zone).copied() else { continue };
        let board = site.zones[*zone].wired.as_ref().and_then(|wired| wired.board.as_ref());
        let stays = board.is_some_and(|board| known.is_board(site, board.value, &landed.board));
        if to != landed.number || !stays {
            let from = (landed.board.clone(), landed.number);
            notices.push(Notice::InputMoved { zone: *zone, from, to, entry: landed.entry });
        }
    }
}
