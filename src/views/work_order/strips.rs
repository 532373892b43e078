//! Steps for strips: those exchanged for one with other ways, and the short wires that feed them.

use super::place::Places;
use super::{Sides, exchanged};
use crate::base::Id;
use crate::base::wording::list;
use crate::compiled::Compiled;
use crate::diff::{Change, Kind, Subject};
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

/// A short wire that feeds a strip: the board that it comes from, the terminal there and that of the strip.
type Link = (Id<Board>, String, String);

fn links(compiled: &Compiled, strip: Id<Board>) -> Vec<Link> {
    if !compiled.site.boards[strip].kind.is_strip() {
        return Vec::new();
    }
    let first = (strip, String::new());
    let on_strip = compiled.wiring.terminals.range(first..).take_while(|((board, _), _)| *board == strip);
    let linked = on_strip.flat_map(|((_, mark), things)| {
        things.iter().filter_map(move |thing| match thing {
            OnTerminal::Link(to, there) => Some((*to, there.clone(), mark.clone())),
            OnTerminal::Conductor(..) | OnTerminal::Shield(_) | OnTerminal::Lead(_) => None,
        })
    });
    linked.collect()
}

/// "late: short wires from main, terminal A+ to terminal in+".
fn links_in_words(site: &Site, strip: Id<Board>, what: &str, links: &[Link]) -> String {
    let words = links
        .iter()
        .map(|(to, there, mark)| format!("from {}, terminal {there} to terminal {mark}", Paper.board(site, *to)));
    format!("{}: {what} {}", Paper.board(site, strip), list(&words.collect::<Vec<_>>(), "and"))
}

pub(super) fn link(sides: &Sides<'_>, strip: Id<Board>, places: &mut Places) {
    let site = &sides.new.site;
    let links = links(sides.new, strip);
    if !links.is_empty() {
        places.add(site, site.boards[strip].room, "land", links_in_words(site, strip, "short wires", &links));
    }
}

/// The short wires from a board that is exchanged to the strips that it feeds: off the old one, and on the new one.
pub(super) fn links_of(sides: &Sides<'_>, board: Id<Board>, places: &mut Places) {
    for (strip, _) in sides.new.site.boards.entries() {
        if links(sides.new, strip).iter().any(|(to, ..)| *to == board) {
            if let Some(was) = sides.board_before(strip) {
                take_off(sides, was, places);
            }
            link(sides, strip, places);
        }
    }
}

/// The short wires of strips that stay, where they come from elsewhere now: the board that feeds the strip may be another part,
/// whose output is marked otherwise, while nothing of the strip differs.
pub(super) fn linked_otherwise(sides: &Sides<'_>, places: &mut Places) {
    let new = &sides.new.site;
    for (is, _) in new.boards.entries() {
        let Some(was) = sides.board_before(is) else { continue };
        let by_name = |side: &Compiled, strip: Id<Board>| {
            let name = |board: Id<Board>| Subject::new(Kind::Board, side.site.boards[board].name.value.as_str());
            links(side, strip).into_iter().map(|(to, there, mark)| (name(to), there, mark)).collect::<Vec<_>>()
        };
        let had = by_name(sides.old, was).into_iter();
        let had: Vec<_> = had.map(|(board, there, mark)| (sides.found.diff.now(board), there, mark)).collect();
        if had == by_name(sides.new, is) {
            continue;
        }
        take_off(sides, was, places);
        link(sides, is, places);
    }
}

/// The short wires of a strip of the old site come off.
pub(super) fn take_off(sides: &Sides<'_>, was: Id<Board>, places: &mut Places) {
    let old = &sides.old.site;
    let gone = links(sides.old, was);
    if !gone.is_empty() {
        let text = links_in_words(old, was, "take off the short wires", &gone);
        places.add(old, old.boards[was].room, "remove", text);
    }
}
