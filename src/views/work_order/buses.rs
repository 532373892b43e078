//! What to try of a bus of which cables are new, gone or landed otherwise: a break in it is one for all that hangs on it.

use std::collections::BTreeSet;

use schemars::JsonSchema;
use serde::Serialize;

use super::super::commissioning_sheet::cold;
use super::super::procedure;
use super::cables::is_landed_whole;
use super::place::{Places, Step};
use super::tried::{self, is_touched};
use super::{Sides, joints, opened};
use crate::base::Id;
use crate::base::wording::{capital, list};
use crate::compiled::Compiled;
use crate::diff::{Change, Kind, Subject, Thing};
use crate::model::{Board, Bus, Owner, Run, Site};
use crate::record::fact;
use crate::words::Paper;

/// Steps for the boards on such buses, without those that are tried anyhow.
pub(super) fn to_try(sides: &Sides<'_>, tried: &BTreeSet<Id<Board>>) -> Vec<Step> {
    let site = &sides.new.site;
    let (cables, mut buses) = other_cables(sides);
    // At another speed every board has to find the panel again.
    let rate = |change: &&Change| change.field(fact::Bus::bits_per_second).is_some();
    buses.extend(sides.changes(Kind::Bus).filter(rate).filter_map(|change| Some(change.new.as_ref()?.0.key.as_str())));
    let mut steps = Vec::new();
    for (id, bus) in site.buses.entries().filter(|(_, bus)| buses.contains(bus.name.value.as_str())) {
        let mut others = Vec::new();
        for (board, _) in on_bus(site, id).filter(|(board, _)| !tried.contains(board)) {
            let called = Paper.board(site, board);
            if is_behind(sides, board, &cables) {
                steps.push(Step::new("walk-test", format!("{called}: answers at its address")));
            } else {
                others.push(called);
            }
        }
        if !others.is_empty() {
            let (names, verb) = (list(&others, "and"), if others.len() == 1 { "answers" } else { "answer" });
            steps.push(Step::new("walk-test", format!("Bus {}: {names} still {verb}", bus.name.value)));
        }
    }
    steps
}

/// Adds the steps for terminators that boards have built in: those that are switched otherwise than before, and of boards that
/// are new or another part those that are off.
pub(super) fn terminators(sides: &Sides<'_>, places: &mut Places) {
    let (old, new) = (&sides.old.site, &sides.new.site);
    let renewed = tried::renewed(sides);
    for (id, bus) in new.buses.entries() {
        let was = sides.name_before(Kind::Bus, &bus.name.value);
        let was = old.bus_named(&was).map(|(was, _)| was);
        let head = bus.board.as_ref().map(|head| head.value);
        for board in head.into_iter().chain(new.boards_on(id).map(|(board, _)| board)) {
            if new.bus_port(id, board).is_none_or(|port| port.terminator.is_none()) {
                continue;
            }
            let before = sides.board_before(board).filter(|_| !renewed.contains(&board));
            let was_off = was.zip(before).is_some_and(|(bus, board)| old.is_terminator_off(bus, board));
            let off = new.is_terminator_off(id, board);
            if off != was_off {
                let state = if off { "off" } else { "on" };
                let called = Paper.board(new, board);
                let text =
                    format!("{called}: its built-in terminator of bus {} is {state} from now on", bus.name.value);
                // One that is in the way of another is off before that is fitted.
                places.add(new, new.boards[board].room, if off { "remove" } else { "fit" }, text);
            }
        }
    }
}

/// The data pair of a bus, to measure at one end.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BusMeasurement {
    /// Its name.
    pub bus: String,
    /// The board.
    pub(crate) at: String,
    /// Ohms from A to B, as a meter shows them.
    pub ohms: String,
}

/// The buses of which a cable, a terminator or a board is new, gone, exchanged or landed otherwise, as on the commissioning sheet.
pub(super) fn to_measure(sides: &Sides<'_>) -> Vec<BusMeasurement> {
    let site = &sides.new.site;
    let (_, mut buses) = other_cables(sides);
    let rate = fact::Bus::bits_per_second;
    for change in sides.changes(Kind::Bus).filter(|change| change.fields.iter().any(|field| field.field != rate)) {
        buses.extend(change.new.as_ref().map(|(subject, _)| subject.key.as_str()));
    }
    for change in sides.changes(Kind::Board).filter(|change| is_touched(change)) {
        let board = change.new.as_ref().and_then(|(subject, _)| site.board_named(&subject.key));
        let Some((board, hangs)) = board else { continue };
        let of_board = site.buses.iter().filter(|bus| bus.board.as_ref().is_some_and(|at| at.value == board));
        buses.extend(of_board.map(|bus| bus.name.value.as_str()));
        buses.extend(hangs.bus.map(|(bus, _)| site.buses[bus].name.value.as_str()));
    }
    let rows = cold::buses(sides.new).into_iter().filter(|row| buses.contains(row.bus.as_str()));
    rows.map(|cold::BusRow { bus, at, ohms }| BusMeasurement { bus, at, ohms }).collect()
}

/// How they are read: while the boards are off (`dark`), or after they are switched off for it.
pub(super) fn method(site: &Site, dark: bool) -> String {
    if dark {
        return "Now, while the boards are off: everything connected, probes on A and B.".to_owned();
    }
    capital(&procedure::told(site, procedure::BUS_OHMS))
}

fn on_bus(site: &Site, bus: Id<Bus>) -> impl Iterator<Item = (Id<Board>, &Board)> {
    site.boards
        .entries()
        .filter(move |(_, board)| board.address.is_some() && board.bus.is_some_and(|(of, _)| of == bus))
}

/// The boards that a bus reaches by a cable that is pulled, or landed otherwise.
pub(super) fn reached_otherwise(sides: &Sides<'_>) -> BTreeSet<Id<Board>> {
    let (cables, _) = other_cables(sides);
    let boards = sides.new.site.boards.entries().map(|(id, _)| id);
    boards.filter(|id| is_behind(sides, *id, &cables)).collect()
}

/// Whether a board is at the end of one of these cables, or further on.
fn is_behind(sides: &Sides<'_>, board: Id<Board>, cables: &BTreeSet<&str>) -> bool {
    let site = &sides.new.site;
    let mut next = site.boards[board].bus.map(|(_, run)| run);
    while let Some(run) = next {
        if sides.new.wiring.cable_of(run).is_some_and(|cable| cables.contains(cable.label.as_str())) {
            return true;
        }
        next = site.runs[run].upstream;
    }
    false
}

/// The cables of buses that are pulled, taken over or landed otherwise, and the names of the buses of which one is, or is gone.
fn other_cables<'s>(sides: &'s Sides<'_>) -> (BTreeSet<&'s str>, BTreeSet<&'s str>) {
    let (mut cables, mut buses) = (BTreeSet::new(), BTreeSet::new());
    let was = |label: &str| bus_of(sides.old, *sides.old_keys.runs.get(label)?);
    let is = |label: &str| bus_of(sides.new, *sides.new_keys.runs.get(label)?);
    let whole = sides.new.wiring.cables.iter().map(|cable| cable.label.as_str());
    let whole = whole.filter(|label| is_landed_whole(sides, &Subject::new(Kind::Cable, *label)));
    cables.extend(whole.filter(|label| is(label).is_some()));
    buses.extend(cables.iter().filter_map(|label| is(label)));
    let at_boards = opened::beside(sides);
    let at_boards = at_boards.into_iter().filter_map(|run| sides.new.wiring.cable_of(run));
    for cable in joints::remade(sides).into_iter().map(|(_, cable)| cable).chain(at_boards) {
        if let Some(bus) = is(&cable.label) {
            cables.insert(cable.label.as_str());
            buses.insert(bus);
        }
    }
    let landing = [fact::Conductor::near, fact::Conductor::far, fact::Conductor::does];
    for change in sides.changes(Kind::Conductor) {
        let same = change.old.is_some() && change.new.is_some();
        if same && !landing.iter().any(|field| change.field(field).is_some()) {
            continue;
        }
        let label = |side: &'s Option<(Subject, Thing)>| {
            side.as_ref().and_then(|(_, thing)| thing.of.as_ref()).map(|cable| cable.key.as_str())
        };
        if let Some(bus) = label(&change.old).and_then(was) {
            buses.insert(bus);
        }
        if let Some((label, bus)) = label(&change.new).and_then(|label| Some((label, is(label)?))) {
            cables.insert(label);
            buses.insert(bus);
        }
    }
    (cables, buses)
}

/// The name of the bus that a run belongs to.
fn bus_of(compiled: &Compiled, run: Id<Run>) -> Option<&str> {
    match compiled.site.runs[run].owner {
        Owner::Bus(bus) => Some(compiled.site.buses[bus].name.value.as_str()),
        Owner::Zone(_) | Owner::Circuit(_) | Owner::Spare(_) | Owner::Communicator(_) | Owner::Transformer(_) => None,
    }
}
