//! Steps for relays and transistors: short wires at the board, and whether a circuit is to be tried.

use std::collections::BTreeSet;

use super::Sides;
use super::place::Places;
use crate::base::Id;
use crate::compiled::Compiled;
use crate::diff::{Kind, Subject};
use crate::model::{Board, Circuit, Role, Site, terminal::terminals};
use crate::register::OnTerminal;
use crate::words::{self, Paper};

/// The short wires between an output and the relays that it feeds, where they differ.
pub(super) fn steps(sides: &Sides<'_>, places: &mut Places) {
    let new = &sides.new.site;
    for (is, board) in new.boards.entries() {
        let was = sides.board_before(is);
        let before = was.map(|was| links(sides.old, was)).unwrap_or_default();
        let now = links(sides.new, is);
        let mut add = |kind, verb: &str, wire: &(String, String)| {
            places.add(new, board.room, kind, short_wire(new, is, verb, wire));
        };
        before.difference(&now).for_each(|wire| add("remove", "take off", wire));
        now.difference(&before).for_each(|wire| add("land", "fit", wire));
    }
}

/// All of them at a board that goes up elsewhere or is exchanged: they were taken down with it.
pub(super) fn fitted_again(sides: &Sides<'_>, board: Id<Board>, places: &mut Places) {
    let site = &sides.new.site;
    for wire in links(sides.new, board) {
        places.add(site, site.boards[board].room, "land", short_wire(site, board, "fit", &wire));
    }
}

fn short_wire(site: &Site, board: Id<Board>, verb: &str, (from, to): &(String, String)) -> String {
    format!("{}: {verb} a short wire from terminal {from} to terminal {to}", Paper.board(site, board))
}

/// The short wires that end at a relay's common of a board: from and to.
fn links(compiled: &Compiled, board: Id<Board>) -> BTreeSet<(String, String)> {
    let Compiled { site, wiring, .. } = compiled;
    let listed = terminals(site, board);
    let is_common = |mark: &str| {
        let roles = listed.iter().find(|terminal| terminal.mark == mark).map(|terminal| &terminal.roles);
        roles.is_some_and(|roles| roles.iter().any(|role| matches!(role, Role::RelayCommon(_))))
    };
    let mut found = BTreeSet::new();
    for ((_, from), things) in wiring.terminals.iter().filter(|((on, _), _)| *on == board) {
        for thing in things {
            let OnTerminal::Link(to, mark) = thing else { continue };
            if *to == board && is_common(mark) && (from < mark || !is_common(from)) {
                found.insert((from.clone(), mark.clone()));
            }
        }
    }
    found
}

/// True where a circuit is fed or switched otherwise than the one of its name was.
pub(super) fn is_switched_otherwise(sides: &Sides<'_>, circuit: Id<Circuit>) -> bool {
    // A board that is only called otherwise drives and feeds as before.
    let board = |site: &Site, board: Id<Board>, is_old: bool| {
        sides.called(Subject::new(Kind::Board, site.boards[board].name.value.as_str()), is_old).key
    };
    let said = |site: &Site, circuit: &Circuit, is_old: bool| {
        let switched = site.switched_by(circuit).map(|(of, switch, switching)| {
            (board(site, of.board, is_old), words::contact(switch, switching), words::drives(site, switching))
        });
        let fed = circuit.feed.as_ref().and_then(|feed| {
            Some((board(site, feed.value.board, is_old), site.output(feed.value)?.name.value.clone()))
        });
        (switched, fed)
    };
    let (old, new) = (&sides.old.site, &sides.new.site);
    let circuit = &new.circuits[circuit];
    let was = sides.name_before(Kind::Circuit, &circuit.name.value);
    let before = old.circuit_named(&was).map(|(_, before)| before);
    before.is_none_or(|before| said(old, before, true) != said(new, circuit, false))
}
