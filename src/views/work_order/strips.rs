//! Steps for strips: those exchanged for one with other ways, and the short wires that feed them.

use super::landings::staying;
use super::place::Places;
use super::{Sides, alone};
use crate::base::Id;
use crate::base::wording::list;
use crate::compiled::Compiled;
use crate::diff::{Change, Kind, Subject, facts::conductor_key};
use crate::model::{Board, BoardKind, Site};
use crate::record::fact;
use crate::register::{ConductorUse, End, OnTerminal, Place, Point, ShieldLanding};
use crate::words::{self, Paper};

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
    places.add(site, room, "mount", text);
    link(sides, is, places);
    landed_again(sides, is, places);
}

/// The steps for what is on the terminals of a board that is exchanged in its place, and keeps its terminals there: lifted before
/// the old one is taken down, and landed on the new one.
pub(super) fn landed_again(sides: &Sides<'_>, is: Id<Board>, places: &mut Places) {
    let site = &sides.new.site;
    let (called, room) = (Paper.board(site, is), site.boards[is].room);
    // A conductor that lands elsewhere now has its own step.
    let told: Vec<&str> =
        sides.changes(Kind::Conductor).filter_map(|change| Some(change.new.as_ref()?.0.key.as_str())).collect();
    for (was, cable) in staying(sides) {
        let on = |used: &ConductorUse| {
            let here = used.near.iter().chain(&used.far).find_map(|point| {
                let Point::Terminal(board, mark) = point else { return None };
                (*board == is).then_some(mark)
            })?;
            let before = was.conductors.iter().find(|before| before.position == used.position);
            let had = before
                .zip(sides.board_before(is))
                .is_some_and(|(before, was)| sides.old.wiring.is_behind_resistor(before.function, was, here));
            let has = sides.new.wiring.is_behind_resistor(used.function, is, here);
            let under = |behind: bool| {
                let free = format!("the free lead of the resistor whose other lead is under {here}");
                if behind { free } else { here.clone() }
            };
            let is_told = told.contains(&conductor_key(&cable.label, used.position).as_str());
            (!is_told).then(|| Again {
                what: words::conductor_mark(site, cable, used.position),
                off: under(had),
                on: under(has),
                waits: alone::waits(sides, used),
            })
        };
        // One that lands elsewhere has its own step as well.
        let shield = |end: End| {
            let at = match (was.shield_at(end)?.landed.as_ref()?, cable.shield_at(end)?.landed.as_ref()?) {
                (ShieldLanding::Terminal(_, had), ShieldLanding::Terminal(board, mark)) => {
                    (*board == is && had == mark).then(|| mark.clone())
                }
                (ShieldLanding::Unnamed, ShieldLanding::Unnamed) => {
                    (cable.place(site, end) == Place::Board(is)).then(|| "what it is landed on".to_owned())
                }
                (ShieldLanding::Terminal(..), ShieldLanding::Unnamed)
                | (ShieldLanding::Unnamed, ShieldLanding::Terminal(..)) => None,
            }?;
            Some(Again { what: words::shield(site, cable).to_owned(), off: at.clone(), on: at, waits: false })
        };
        let conductors = cable.conductors.iter().filter_map(on);
        let all = conductors.chain([End::Near, End::Far].into_iter().filter_map(shield));
        let (last, now): (Vec<Again>, Vec<Again>) = all.partition(|one| one.waits);
        for (those, again) in [(&now, "landed again"), (&last, "capped until the walk-test")] {
            if !those.is_empty() {
                let each: Vec<String> = those.iter().map(|one| format!("{} off {}", one.what, one.off)).collect();
                let text = format!("{} at {called}: {}; {again}", was.label, each.join(", "));
                places.add(site, room, "remove", text);
            }
        }
        if !now.is_empty() {
            let each: Vec<String> = now.iter().map(|one| format!("{} on {}", one.what, one.on)).collect();
            let text = format!("{}, back on {called}: {}", cable.label, each.join(", "));
            places.add_at(alone::stage(sides, cable), site, room, "land", text);
        }
    }
}

/// A conductor or shield that is lifted off a board and landed again.
struct Again {
    what: String,
    /// What it is on until now.
    off: String,
    /// What it is on then.
    on: String,
    /// Whether it is landed at the walk-test.
    waits: bool,
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

/// The short wires from a board that is exchanged to the strips that it feeds.
pub(super) fn links_of(sides: &Sides<'_>, board: Id<Board>, places: &mut Places) {
    for (strip, _) in sides.new.site.boards.entries() {
        if links(sides.new, strip).iter().any(|(to, ..)| *to == board) {
            link(sides, strip, places);
        }
    }
}

/// The short wires of strips that stay, where they come from elsewhere now: the board that feeds the strip may be another part,
/// whose output is marked otherwise, while nothing of the strip differs.
pub(super) fn linked_otherwise(sides: &Sides<'_>, places: &mut Places) {
    let (old, new) = (&sides.old.site, &sides.new.site);
    for (is, _) in new.boards.entries() {
        let Some(was) = sides.board_before(is) else { continue };
        let before = &old.boards[was];
        let by_name = |side: &Compiled, strip: Id<Board>| {
            let name = |board: Id<Board>| Subject::new(Kind::Board, side.site.boards[board].name.value.as_str());
            links(side, strip).into_iter().map(|(to, there, mark)| (name(to), there, mark)).collect::<Vec<_>>()
        };
        let mut had = by_name(sides.old, was);
        for (board, ..) in &mut had {
            *board = sides.found.diff.renamed.get(board).unwrap_or(board).clone();
        }
        if had == by_name(sides.new, is) {
            continue;
        }
        let gone = links(sides.old, was);
        if !gone.is_empty() {
            places.add(old, before.room, "remove", links_in_words(old, was, "take off the short wires", &gone));
        }
        link(sides, is, places);
    }
}
