//! Where the shields of cables are landed, joined and cut back.
//!
//! Common practice: a shield is landed at one end of the line, at the board that it starts at, carried on from cable to
//! cable, and cut back at the last end. A run (`shield=`) or the sheet of the bus's board (`shield-at-both-ends=`) may
//! say otherwise. That of a cable that is kept for later is cut back at both ends. The places follow from the spec, so the register does not keep them.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::model::{Board, Owner, Run, Site};
use crate::terms::ShieldEnds;

use super::place::{End, Place, board_at};
use super::wiring::{Cable, OnTerminal, ShieldEnd, ShieldLanding, Wiring};

/// Lands, joins and cuts back the shield of every cable that has one.
pub(crate) fn land(site: &Site, wiring: &mut Wiring) {
    let near: Vec<Option<ShieldEnd>> = wiring.cables.iter().map(|cable| near_end(site, wiring, cable)).collect();
    // The cables whose shields are joined to that of one, by its run.
    let mut onward: BTreeMap<Id<Run>, Vec<Id<Run>>> = BTreeMap::new();
    for (end, next) in near.iter().zip(&wiring.cables) {
        for before in end.iter().flat_map(|end| &end.joined) {
            onward.entry(*before).or_default().push(next.run);
        }
    }
    for position in 0..wiring.cables.len() {
        let Some(cable) = wiring.cables.get(position) else { continue };
        let Some(Some(start)) = near.get(position).cloned() else { continue };
        let joined = onward.remove(&cable.run).unwrap_or_default();
        let wanted = match &site.runs[cable.run].shield {
            Some(said) => matches!(said.value, ShieldEnds::Far | ShieldEnds::Both),
            None => joined.is_empty() && is_wanted_at_both_ends(site, site.runs[cable.run].owner),
        };
        let landed = wanted.then(|| landing(site, cable.run, board_at(site, cable.run)));
        let ends = [start, ShieldEnd { landed, joined }];
        for end in &ends {
            if let Some(ShieldLanding::Terminal(board, mark)) = &end.landed {
                wiring.terminals.entry((*board, mark.clone())).or_default().push(OnTerminal::Shield(position));
            }
        }
        if let Some(cable) = wiring.cables.get_mut(position) {
            cable.shield = Some(ends);
        }
    }
}

/// True where the sheet of the board that a bus starts at wants its shield landed at both ends.
pub(crate) fn is_wanted_at_both_ends(site: &Site, owner: Owner) -> bool {
    let Owner::Bus(bus) = owner else { return false };
    let board = site.buses[bus].board.as_ref().map(|board| board.value);
    board.and_then(|board| site.bus_port(bus, board)).is_some_and(|port| port.shield_at_both_ends)
}

impl Cable {
    /// What becomes of its shield at an end; `None` where it has none.
    pub(crate) fn shield_at(&self, end: End) -> Option<&ShieldEnd> {
        let [near, far] = self.shield.as_ref()?;
        Some(match end {
            End::Near => near,
            End::Far => far,
        })
    }

    /// The board at which its shield is landed at an end.
    pub(crate) fn shield_board(&self, site: &Site, end: End) -> Option<Id<Board>> {
        match self.shield_at(end)?.landed.as_ref()? {
            ShieldLanding::Terminal(board, _) => Some(*board),
            ShieldLanding::Unnamed => match self.place(site, end) {
                Place::Board(board) => Some(board),
                Place::Room(_) => None,
            },
        }
    }
}

fn near_end(site: &Site, wiring: &Wiring, cable: &Cable) -> Option<ShieldEnd> {
    site.cables[cable.kind].shield?;
    let run = &site.runs[cable.run];
    let said = run.shield.as_ref().map(|said| said.value);
    if matches!(said, Some(ShieldEnds::Far | ShieldEnds::Neither)) {
        return Some(ShieldEnd::default());
    }
    let before = run.upstream.and_then(|upstream| wiring.cable_of(upstream));
    let joined = before.filter(|before| site.cables[before.kind].shield.is_some()).map(|before| before.run);
    let is_spare = matches!(run.owner, Owner::Spare(_));
    let wanted = said.is_some() || run.upstream.is_none() && !is_spare;
    let landed = wanted.then(|| landing(site, cable.run, board_of(site, cable.run, End::Near)));
    Some(ShieldEnd { landed, joined: joined.into_iter().collect() })
}

/// The board at which an end of a run is landed.
pub(crate) fn board_of(site: &Site, run: Id<Run>, end: End) -> Option<Id<Board>> {
    match (end, site.runs[run].upstream) {
        (End::Far, _) => board_at(site, run),
        (End::Near, Some(upstream)) => board_at(site, upstream),
        (End::Near, None) => site.start_board(run),
    }
}

/// The board at an end of a run where the shield has a terminal.
pub(crate) fn taker(site: &Site, run: Id<Run>, end: End) -> Option<Id<Board>> {
    match landing(site, run, board_of(site, run, end)) {
        ShieldLanding::Terminal(board, _) => Some(board),
        ShieldLanding::Unnamed => None,
    }
}

/// The terminal of a board for a run's shield: that of the bus's port, else the earth terminal of its part.
fn landing(site: &Site, run: Id<Run>, board: Option<Id<Board>>) -> ShieldLanding {
    let mark = board.and_then(|board| {
        let port = match site.runs[run].owner {
            Owner::Bus(bus) => site.bus_port(bus, board).and_then(|port| port.shield.as_ref()),
            Owner::Zone(_) | Owner::Circuit(_) | Owner::Spare(_) | Owner::Communicator(_) | Owner::Transformer(_) => {
                None
            }
        };
        let earth = || site.part_of(board)?.earth.as_ref();
        Some((board, port.or_else(earth)?.value.clone()))
    });
    mark.map_or(ShieldLanding::Unnamed, |(board, mark)| ShieldLanding::Terminal(board, mark))
}
