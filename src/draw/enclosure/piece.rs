//! Which wires on a page meet in one line, and in which lane that goes.
//!
//! A new line takes the lane right of all that are there already, so no cable crosses another on its way out. Where the
//! lanes do not suffice, a cable is parted where its wires are farthest apart.

use super::page::Line;
use super::{Into, Leaves};

/// How many lanes there are.
pub(super) const LANES: usize = 8;

/// Wires that meet, by their positions on the page, in order; one alone is its own line.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Piece {
    pub(super) lines: Vec<usize>,
    /// Its lane; one wire alone has none.
    pub(super) lane: Option<usize>,
}

/// What wires are put together by.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Meets<'e> {
    Cable(&'e str),
    Pair(usize),
}

/// The pieces of a page, in the order of their first wires.
pub(super) fn pieces(lines: &[Line<'_>]) -> Vec<Piece> {
    let mut found: Vec<(Meets<'_>, Piece)> = Vec::new();
    for (at, line) in lines.iter().enumerate() {
        let meets = match &line.wire.into {
            _ if line.wire.leaves == Leaves::Nothing => continue,
            Into::Cable => Meets::Cable(&line.wire.of),
            Into::Pair(number, _) => Meets::Pair(*number),
            Into::Words | Into::Earth | Into::InSeries(_) => continue,
        };
        match found.iter_mut().find(|(other, _)| *other == meets) {
            Some((_, piece)) => piece.lines.push(at),
            None => found.push((meets, Piece { lines: vec![at], lane: None })),
        }
    }
    let mut pieces: Vec<Piece> = found.into_iter().map(|(_, piece)| piece).collect();
    while !give_lanes(&mut pieces) {
        if !part_widest(&mut pieces) {
            break;
        }
    }
    pieces
}

/// Gives every piece its lane; false where they do not suffice.
fn give_lanes(pieces: &mut [Piece]) -> bool {
    let mut taken: Vec<(usize, usize)> = Vec::new();
    for piece in pieces {
        piece.lane = None;
        let [first, .., last] = piece.lines.as_slice() else { continue };
        taken.retain(|(end, _)| end >= first);
        let lane = taken.iter().map(|(_, lane)| lane + 1).max().unwrap_or(0);
        if lane >= LANES {
            return false;
        }
        piece.lane = Some(lane);
        taken.push((*last, lane));
    }
    true
}

/// Parts the piece whose wires are the farthest apart; false where there is none to part.
fn part_widest(pieces: &mut Vec<Piece>) -> bool {
    let gap = |piece: &Piece| {
        piece
            .lines
            .windows(2)
            .enumerate()
            .filter_map(|(at, ends)| match ends {
                [one, other] => Some((other - one, at + 1)),
                _ => None,
            })
            .max()
    };
    let widest = pieces.iter().enumerate().filter_map(|(nth, piece)| gap(piece).map(|(gap, at)| (gap, at, nth))).max();
    let Some((_, at, nth)) = widest else { return false };
    let Some(piece) = pieces.get_mut(nth) else { return false };
    let lines = piece.lines.split_off(at);
    pieces.push(Piece { lines, lane: None });
    pieces.sort_by_key(|piece| piece.lines.first().copied());
    true
}
