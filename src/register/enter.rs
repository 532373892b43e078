//! Writing down: the wiring of a site as the register's next state, and what has moved since the last.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::Spanned;
use crate::base::wording::as_seen;
use crate::model::{Owner, Site};
use crate::quantity::Colour;

use super::dead;
use super::entry::{CableEntry, InputEntry, Landing, Register, State, Wire};
use super::features;
use super::labels;
use super::notice::Notice;
use super::owner::OwnerName;
use super::recognised::Recognised;
use super::wiring::{Cable, Point, Wiring};

/// The register after a compilation: what is wired, what is dead, what is spent.
pub(crate) fn enter(site: &Site, known: &Recognised<'_>, wiring: &Wiring) -> Register {
    let mut next = Register { spent: known.register.spent.clone(), ..Register::default() };
    let mut places: BTreeMap<(&str, u32), Spanned<()>> = BTreeMap::new();
    for entry in &known.register.inputs {
        places.insert((entry.board.as_str(), entry.number), entry.place);
    }
    for (zone, number) in &wiring.inputs.of_zone {
        let zone = &site.zones[*zone];
        let Some(board) = zone.wired.as_ref().and_then(|wired| wired.board.as_ref()) else { continue };
        let board = site.boards[board.value].name.value.clone();
        let place = places.get(&(board.as_str(), *number)).copied().unwrap_or_else(nowhere);
        next.inputs.push(InputEntry { board, number: *number, zone: zone.number.value, place });
    }
    for (position, cable) in wiring.cables.iter().enumerate() {
        next.cables.push(cable_entry(site, known, wiring, position, cable));
    }
    for entry in &known.dead {
        next.cables.push(bury(site, entry, &known.names.owners));
    }
    // Labels that the spec gives itself, and those given just now, are taken as well.
    let mut given: BTreeSet<String> = known.register.labels().chain(next.labels()).map(as_seen).collect();
    for (run, entry) in &known.of_run {
        if known.replaced(site, *run, entry) {
            let label = labels::retired(&entry.label, &given);
            given.insert(as_seen(&label));
            next.cables.push(retire(site, entry, label));
        }
    }
    let out = known.register.cables.iter().filter(|entry| entry.state == State::Out).map(|entry| &entry.label);
    let given_up = known
        .of_run
        .iter()
        .filter(|(run, entry)| site.runs[**run].label.as_ref().is_some_and(|label| label.value != entry.label))
        .map(|(_, entry)| &entry.label);
    let mut told: BTreeSet<String> = next.labels().map(str::to_owned).collect();
    for label in out.chain(given_up) {
        if told.insert(label.clone()) {
            next.spent.push(Spanned::new(label.clone(), nowhere().span));
        }
    }
    next.sort();
    next
}

/// The place of what is not in the register yet.
fn nowhere() -> Spanned<()> {
    Spanned::new((), crate::base::Span::default())
}

fn cable_entry(site: &Site, known: &Recognised<'_>, wiring: &Wiring, position: usize, cable: &Cable) -> CableEntry {
    let features = features::of_run(site, cable.run);
    let old = known.of_run.get(&cable.run);
    let mut wires: Vec<Wire> = Vec::new();
    for (index, conductor) in cable.conductors.iter().enumerate() {
        let function = conductor.function;
        let owner = site.runs[conductor.run].owner;
        let under = wiring.under.get(&(position, index)).copied().unwrap_or(1);
        let number = u32::try_from(conductor.position + 1).unwrap_or(u32::MAX);
        wires.push(Wire {
            position: number,
            does: function.wire_use(),
            colour: conductor.colour,
            output: function.output_name(site),
            kept_for: function.kept_for(site, conductor.run),
            pin: function.pin(),
            of: (owner != site.runs[cable.run].owner).then(|| OwnerName::of(site, owner)),
            near: terminal(site, &conductor.near, under),
            far: terminal(site, &conductor.far, 1),
            place: old
                .and_then(|old| old.wires.iter().find(|wire| wire.position == number))
                .map_or_else(nowhere, |wire| wire.place),
        });
    }
    CableEntry {
        label: cable.label.clone(),
        of: features.of,
        kind: features.kind,
        room: features.room,
        from: None,
        run: features.name,
        state: State::InUse,
        mounted: features.mounted,
        wires,
        place: old.map_or_else(nowhere, |old| old.place),
    }
}

fn terminal(site: &Site, points: &[Point], under: u32) -> Option<Landing> {
    let (board, mark) = points.iter().find_map(Point::terminal)?;
    Some(Landing { board: site.boards[board].name.value.clone(), mark: mark.clone(), under })
}

/// An entry that no run is any more. What it says of the wall stays.
fn bury(site: &Site, entry: &CableEntry, owners: &BTreeSet<OwnerName>) -> CableEntry {
    let mut entry = entry.clone();
    if entry.state == State::InUse {
        let because = dead::unused(&entry.of, owners.contains(&entry.of));
        entry.from = starts_in(site, &entry);
        entry.state = State::Dead { because, off: false };
    }
    entry
}

/// The cable that was in the wall under a label that a cable of another type, or to another room, has now. The conductors of the new
/// one are on its terminals, so it keeps none; that it is off them is for people to write. Until they do, it may be undone.
fn retire(site: &Site, entry: &CableEntry, label: String) -> CableEntry {
    let state = State::Dead { because: dead::replaced(&entry.label), off: false };
    let wires = entry.wires.iter().map(|wire| Wire { near: None, far: None, ..wire.clone() }).collect();
    CableEntry { label, state, from: starts_in(site, entry), wires, place: nowhere(), ..entry.clone() }
}

/// The name of the room of the board that the near end of a cable is on.
fn starts_in(site: &Site, entry: &CableEntry) -> Option<String> {
    let mut boards = entry.wires.iter().filter_map(|wire| site.board_named(&wire.near.as_ref()?.board));
    boards.find_map(|(_, board)| board.room).map(|room| site.rooms[room].name.value.clone())
}

/// The cables whose conductors go to other terminals, and those that are dead.
pub(crate) fn note_changes(
    site: &Site,
    known: &Recognised<'_>,
    next: &Register,
    wiring: &Wiring,
    notices: &mut Vec<Notice>,
) {
    let boards: BTreeSet<&str> = site.boards.iter().map(|board| board.name.value.as_str()).collect();
    let mut entries: BTreeMap<&str, &CableEntry> = BTreeMap::new();
    for entry in &next.cables {
        entries.entry(&entry.label).or_insert(entry);
    }
    // Zones whose loop goes to another input: that its wires do so too is no news.
    let moved = notices.iter().filter_map(|notice| {
        if let Notice::InputMoved { zone, .. } = notice { Some(OwnerName::of(site, Owner::Zone(*zone))) } else { None }
    });
    let moved: BTreeSet<OwnerName> = moved.collect();
    for cable in &wiring.cables {
        let Some(old) = known.of_run.get(&cable.run) else { continue };
        let Some(new) = entries.get(cable.label.as_str()) else { continue };
        let owner = OwnerName::of(site, site.runs[cable.run].owner);
        let wires: Vec<(u32, Landing, Landing)> = new
            .wires
            .iter()
            .filter_map(|wire| {
                let before = old.wires.iter().find(|other| other.does == wire.does && other.of == wire.of)?;
                let (from, to) = (before.near.as_ref()?, wire.near.as_ref()?);
                // A board may have another name, a zone another input: that is told where it is said.
                let renamed = from.mark == to.mark && !boards.contains(from.board.as_str());
                let told = moved.contains(wire.of.as_ref().unwrap_or(&owner));
                (from != to && !renamed && !told).then(|| (wire.position, from.clone(), to.clone()))
            })
            .collect();
        // A type that has got another name may have got other colours with it.
        let same_type = old.kind == new.kind;
        let colours: Vec<(u32, Colour, Colour)> = new
            .wires
            .iter()
            .filter_map(|wire| {
                let before = old.wires.iter().find(|other| other.position == wire.position)?;
                let (from, to) = (before.colour?, wire.colour?);
                (from != to && same_type).then_some((wire.position, from, to))
            })
            .collect();
        if !colours.is_empty() {
            let (label, entry) = (new.label.clone(), old.place);
            notices.push(Notice::Recoloured { run: cable.run, label, wires: colours, entry });
        }
        if !wires.is_empty() {
            let (label, entry) = (new.label.clone(), old.place);
            notices.push(Notice::WiresMoved { run: cable.run, label, wires, entry });
        }
    }
    for entry in next.cables.iter().filter(|entry| entry.dead()) {
        let State::Dead { because, off } = &entry.state else { continue };
        notices.push(Notice::Dead {
            label: entry.label.clone(),
            of: entry.of.clone(),
            because: because.clone(),
            off: *off,
            on: entry.occupies().cloned().collect(),
            entry: entry.place,
        });
    }
}
