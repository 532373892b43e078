//! Steps for strips: those exchanged for one with other ways; and the short wires that feed them, or that carry a bus on to a board
//! at the same place.

use super::place::Places;
use super::{Sides, exchanged};
use crate::base::Id;
use crate::base::wording::list;
use crate::compiled::Compiled;
use crate::diff::{Change, Kind};
use crate::model::{Board, BoardKind, Site};
use crate::record::fact;
use crate::register::OnTerminal;
use crate::words::Paper;

/// The steps for a strip that stays in its place and has other ways now: every conductor of it is lifted and lands again.
pub(super) fn exchange(sides: &Sides<'_>, change: &Change, (was, is): (Id<Board>, Id<Board>), places: &mut Places) {
    let site = &sides.new.site;
    let ways = |site: &Site, id: Id<Board>| match site.boards[id].kind {
        BoardKind::Strip { ways, .. } => Some(ways),
        BoardKind::Panel
        | BoardKind::PowerSupply
        | BoardKind::Keypad { .. }
        | BoardKind::Module { .. }
        | BoardKind::Receiver
        | BoardKind::JointBox { .. } => None,
    };
    let (Some(_), Some(had), Some(has)) = (change.field(fact::Board::ways), ways(&sides.old.site, was), ways(site, is))
    else {
        return;
    };
    let (called, room) = (Paper.board(site, is), site.boards[is].room);
    let text = format!(
        "{called}: photograph and take down the strip of {had} ways, mount the strip of {has} ways in its place"
    );
    take_off(sides, was, places);
    places.add(site, room, "mount", text);
    link(sides, is, places);
    exchanged::landed_again(sides, (was, is), places);
}

/// A short wire to a strip or to a board of a bus: the board that it comes from, the terminal there and that of the board itself.
type Link = (Id<Board>, String, String);

fn links(compiled: &Compiled, board: Id<Board>) -> Vec<Link> {
    let site = &compiled.site;
    let is_strip = site.boards[board].kind.is_strip();
    let neighbour = site.linked_to(board);
    let comes_from = |to: Id<Board>| is_strip || neighbour == Some(to);
    let first = (board, String::new());
    let on_board = compiled.wiring.terminals.range(first..).take_while(|((on, _), _)| *on == board);
    let linked = on_board.flat_map(|((_, mark), things)| {
        things.iter().filter_map(move |thing| match thing {
            OnTerminal::Link(to, there) => comes_from(*to).then(|| (*to, there.clone(), mark.clone())),
            OnTerminal::Conductor(..) | OnTerminal::Shield(_) | OnTerminal::Lead(_) => None,
        })
    });
    linked.collect()
}

/// "late: short wires from main, terminal A+ to terminal in+ and A- to in-".
fn links_in_words(site: &Site, board: Id<Board>, what: &str, links: &[Link]) -> String {
    let mut before = None;
    let words = links.iter().map(|(to, there, mark)| {
        let again = before.replace(*to) == Some(*to);
        if again {
            format!("{there} to {mark}")
        } else {
            format!("from {}, terminal {there} to terminal {mark}", Paper.board(site, *to))
        }
    });
    format!("{}: {what} {}", Paper.board(site, board), list(&words.collect::<Vec<_>>(), "and"))
}

pub(super) fn link(sides: &Sides<'_>, board: Id<Board>, places: &mut Places) {
    on_again(&sides.new.site, board, &links(sides.new, board), places);
}

fn on_again(new: &Site, board: Id<Board>, come: &[Link], places: &mut Places) {
    if !come.is_empty() {
        places.add(new, new.boards[board].room, "land", links_in_words(new, board, "short wires", come));
    }
}

/// The short wires of a board that is exchanged, which came down with it, and those from it to strips and boards: off the old
/// one, and on the new one.
pub(super) fn links_of(sides: &Sides<'_>, board: Id<Board>, places: &mut Places) {
    if !sides.new.site.boards[board].kind.is_strip() {
        link(sides, board, places);
    }
    for (fed, _) in sides.new.site.boards.entries() {
        if links(sides.new, fed).iter().any(|(to, ..)| *to == board) {
            if let Some(was) = sides.board_before(fed) {
                take_off(sides, was, places);
            }
            link(sides, fed, places);
        }
    }
}

/// The short wires of boards that stay, where they are others now: the board that feeds a strip may be another part, whose output is
/// marked otherwise, while nothing of the strip differs; the board before it on a bus may be gone. Which end they come from is no
/// difference.
pub(super) fn linked_otherwise(sides: &Sides<'_>, places: &mut Places) {
    let (old, new) = (sides.old, sides.new);
    for (is, _) in new.site.boards.entries() {
        let Some(was) = sides.board_before(is).filter(|_| !is_mounted_anew(sides, is)) else { continue };
        let on = |side: &Compiled, board: Id<Board>, mark: &str| {
            let things = side.wiring.terminals.get(&(board, mark.to_owned())).into_iter().flatten().cloned();
            things.collect::<Vec<OnTerminal>>()
        };
        let stays = |(to, there, mark): &Link| {
            let is_it = |thing: &OnTerminal| matches!(thing, OnTerminal::Link(board, at) if sides.board_before(*board) == Some(*to) && at == there);
            on(new, is, mark).iter().any(is_it)
        };
        let was_there = |(to, there, mark): &Link| {
            let before = sides.board_before(*to);
            before.is_some_and(|before| on(old, was, mark).contains(&OnTerminal::Link(before, there.clone())))
        };
        let gone: Vec<Link> = links(old, was).into_iter().filter(|link| !stays(link)).collect();
        let come: Vec<Link> = links(new, is).into_iter().filter(|link| !was_there(link)).collect();
        off(&old.site, was, &gone, places);
        on_again(&new.site, is, &come, places);
    }
}

/// Whether a board that was there goes up in another room, or is exchanged where it is: its short wires are told with that.
fn is_mounted_anew(sides: &Sides<'_>, is: Id<Board>) -> bool {
    let name = sides.new.site.boards[is].name.value.as_str();
    sides.changes(Kind::Board).any(|change| {
        let is_it = change.new.as_ref().is_some_and(|(subject, _)| subject.key == name);
        is_it && (change.field(fact::Board::room).is_some() || change.is_another())
    })
}

/// The short wires of a board of the old site come off.
pub(super) fn take_off(sides: &Sides<'_>, was: Id<Board>, places: &mut Places) {
    off(&sides.old.site, was, &links(sides.old, was), places);
}

fn off(old: &Site, was: Id<Board>, gone: &[Link], places: &mut Places) {
    if !gone.is_empty() {
        places.add(old, old.boards[was].room, "remove", links_in_words(old, was, "take off the short wires", gone));
    }
}
