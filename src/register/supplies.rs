//! Which terminal a supply conductor is on: the one it is on already, a free way of one of the output's strips, or the
//! output's own.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::model::terminal::capacity;
use crate::model::{Board, BoardKind, OutputRef, Site};

use super::conductors::Landed;
use super::entry::Landing;
use super::recognised::Recognised;
use super::wiring::{Function, Wiring};

/// A place under a terminal.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Place {
    /// The board.
    pub(super) board: Id<Board>,
    /// The terminal.
    pub(super) mark: String,
    /// Place under it, from 1; always 1 on an output's own terminal.
    pub(super) under: u32,
}

/// The places that are taken, and by which conductor.
#[derive(Debug, Default)]
pub(super) struct Supplies {
    landed: BTreeMap<(usize, usize), Place>,
    /// Each with the cable in it, where that is not a dead one.
    taken: BTreeMap<Place, Option<usize>>,
}

/// The marks of an output's two terminals.
pub(super) fn output_marks(site: &Site, output: OutputRef) -> Option<(String, String)> {
    let output = site.output(output)?;
    Some((output.positive.clone(), output.negative.clone()))
}

/// The ways of a strip that an output feeds, and how many conductors are under a screw of it.
fn strip_of(site: &Site, strip: Id<Board>, output: OutputRef) -> Option<(u32, u32)> {
    match site.boards[strip].kind {
        BoardKind::Strip { feed, ways, wires } => (feed == Some(output)).then_some((ways, wires)),
        BoardKind::Panel
        | BoardKind::PowerSupply
        | BoardKind::Keypad { .. }
        | BoardKind::Module { .. }
        | BoardKind::Receiver
        | BoardKind::JointBox { .. } => None,
    }
}

fn way_mark(way: u32, positive: bool) -> String {
    format!("{way}{}", if positive { '+' } else { '-' })
}

impl Supplies {
    /// Notes what is landed, and what dead cables are still on.
    pub(super) fn new(site: &Site, known: &Recognised<'_>, landed: &Landed<'_>, wiring: &Wiring) -> Self {
        let mut supplies = Self::default();
        let place = |landing: &Landing| {
            let found = site.board_named(&landing.board);
            found.map(|(board, _)| Place { board, mark: landing.mark.clone(), under: landing.under })
        };
        let dead = known.dead.iter().flat_map(|entry| entry.occupies()).filter_map(place);
        supplies.taken.extend(dead.map(|place| (place, None)));
        let mut on_outputs: BTreeMap<Place, u32> = BTreeMap::new();
        for (at, wire) in landed {
            let conductor = wiring.cables.get(at.0).and_then(|cable| cable.conductors.get(at.1));
            let Some(conductor) = conductor.filter(|c| site.runs[c.run].upstream.is_none()) else { continue };
            let Some(output) = conductor.function.output() else { continue };
            let positive = matches!(conductor.function, Function::SupplyPositive(_));
            let Some(near) = &wire.near else { continue };
            if let Some(place) = still(site, known, near, output, positive) {
                if supplies.take(&place, at.0) {
                    supplies.landed.insert(*at, place);
                }
            } else if let Some(place) = on_output(site, known, near, output, positive) {
                // Where a strip has been added because the output's terminals had too many, the last ones go there.
                let count = on_outputs.entry(place.clone()).or_default();
                *count += 1;
                if *count + links(site, output) <= capacity(site, output.board).unwrap_or(u32::MAX) {
                    supplies.landed.insert(*at, place);
                }
            }
        }
        supplies
    }

    /// Takes a free place for a cable; false where it is taken.
    fn take(&mut self, place: &Place, cable: usize) -> bool {
        let free = !self.taken.contains_key(place);
        if free {
            self.taken.insert(place.clone(), Some(cable));
        }
        free
    }

    /// The place for a conductor: its own; else beside the other conductor of its cable, so that a way has one cable;
    /// else on the first way that is free, else the first free place. Every way gets one conductor first; a second goes
    /// under the same screw only when all have one.
    pub(super) fn give(&mut self, site: &Site, at: (usize, usize), output: OutputRef, positive: bool) -> Option<Place> {
        if let Some(place) = self.landed.get(&at) {
            return Some(place.clone());
        }
        for (strip, _) in site.boards.entries() {
            let Some((ways, wires)) = strip_of(site, strip, output) else { continue };
            let places = (1..=wires).flat_map(|under| (1..=ways).map(move |way| (way, under)));
            let of = |way, under, positive| Place { board: strip, mark: way_mark(way, positive), under };
            let free = places.filter(|(way, under)| !self.taken.contains_key(&of(*way, *under, positive)));
            let beside = |(way, under): &(u32, u32)| match self.taken.get(&of(*way, *under, !positive)) {
                Some(cable) if *cable == Some(at.0) => 0,
                None => 1,
                Some(_) => 2,
            };
            if let Some((way, under)) = free.min_by_key(|place| (place.1, beside(place), place.0)) {
                let place = of(way, under, positive);
                self.take(&place, at.0);
                return Some(place);
            }
        }
        let (plus, minus) = output_marks(site, output)?;
        Some(Place { board: output.board, mark: if positive { plus } else { minus }, under: 1 })
    }
}

/// The way of a strip that a conductor is on, as far as the strip and the way are still there.
fn still(site: &Site, known: &Recognised<'_>, near: &Landing, output: OutputRef, positive: bool) -> Option<Place> {
    let (board, (ways, wires)) = site
        .boards
        .entries()
        .filter(|(id, _)| known.is_board(site, *id, &near.board))
        .find_map(|(id, _)| Some((id, strip_of(site, id, output)?)))?;
    let way = (1..=ways).find(|way| way_mark(*way, positive) == near.mark)?;
    (near.under <= wires).then(|| Place { board, mark: way_mark(way, positive), under: near.under })
}

fn on_output(site: &Site, known: &Recognised<'_>, near: &Landing, output: OutputRef, positive: bool) -> Option<Place> {
    let (plus, minus) = output_marks(site, output)?;
    let mark = if positive { plus } else { minus };
    let stays = known.is_board(site, output.board, &near.board) && near.mark == mark;
    stays.then_some(Place { board: output.board, mark, under: 1 })
}

fn links(site: &Site, output: OutputRef) -> u32 {
    let strips = site.boards.entries().filter(|(id, _)| strip_of(site, *id, output).is_some()).count();
    u32::try_from(strips).unwrap_or(u32::MAX)
}
