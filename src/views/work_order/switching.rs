//! Steps for relays, transistors and emergency keys: short wires at the board, what drives them, what to try.

use std::collections::BTreeSet;

use super::Sides;
use super::place::{Places, Step};
use crate::base::Id;
use crate::base::wording::list;
use crate::compiled::Compiled;
use crate::model::{Board, Circuit, Role, Site, terminal::terminals};
use crate::register::OnTerminal;
use crate::words::{self, Paper};

/// The short wires between an output and the relays that it feeds, where they differ.
pub(super) fn steps(sides: &Sides<'_>, places: &mut Places) {
    let (old, new) = (&sides.old.site, &sides.new.site);
    for (is, board) in new.boards.entries() {
        let was = old.board_named(&board.name.value).map(|(was, _)| was);
        let before = was.map(|was| links(sides.old, was)).unwrap_or_default();
        let now = links(sides.new, is);
        let mut add = |kind, verb: &str, (from, to): &(String, String)| {
            let text = format!("{}: {verb} a short wire from terminal {from} to terminal {to}", Paper.board(new, is));
            places.add(new, board.room, kind, text);
        };
        before.difference(&now).for_each(|wire| add("remove", "take off", wire));
        now.difference(&before).for_each(|wire| add("land", "fit", wire));
    }
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

/// What drives every relay and transistor, and which emergency keys are in use, where that differs.
pub(super) fn program(sides: &Sides<'_>) -> Vec<Step> {
    let (old, new) = (&sides.old.site, &sides.new.site);
    let driven = |site: &Site| -> BTreeSet<String> {
        site.circuits.iter().filter_map(|circuit| driven_by(site, circuit)).collect()
    };
    let keys = |site: &Site| -> BTreeSet<String> {
        site.boards.entries().filter_map(|(id, board)| keys_of(site, id, board)).collect()
    };
    let differ = |before: BTreeSet<String>, now: BTreeSet<String>| now.difference(&before).cloned().collect::<Vec<_>>();
    let gone =
        sources(old).difference(&sources(new)).map(|source| format!("{source}: nothing drives it any more")).collect();
    let lines = [gone, differ(driven(old), driven(new)), differ(keys(old), keys(new))];
    lines.concat().into_iter().map(|text| Step::new("program", text)).collect()
}

fn sources(site: &Site) -> BTreeSet<String> {
    site.circuits.iter().filter_map(|circuit| source(site, circuit)).collect()
}

/// "Panel, relay-1".
fn source(site: &Site, circuit: &Circuit) -> Option<String> {
    let (of, switch, _) = site.switched_by(circuit)?;
    Some(format!("{}, {}", Paper.board(site, of.board), words::switch(switch)))
}

/// "Panel, relay-1: driven by an alarm".
fn driven_by(site: &Site, circuit: &Circuit) -> Option<String> {
    let (.., switching) = site.switched_by(circuit)?;
    let drives = words::drives(site, switching);
    (!drives.is_empty()).then(|| source(site, circuit).map(|source| format!("{source}: driven by {drives}")))?
}

fn keys_of(site: &Site, id: Id<Board>, board: &Board) -> Option<String> {
    let keys: Vec<&str> = board.emergency_keys.iter().map(|in_use| in_use.key.value.printed()).collect();
    (!keys.is_empty()).then(|| format!("{}: emergency keys in use: {}", Paper.board(site, id), list(&keys, "and")))
}

/// True where a circuit is fed or switched otherwise than the one of its name was.
pub(super) fn is_switched_otherwise(sides: &Sides<'_>, circuit: Id<Circuit>) -> bool {
    let said = |site: &Site, circuit: &Circuit| {
        let contact = site.switched_by(circuit).map(|(_, switch, switching)| words::contact(switch, switching));
        let feed =
            circuit.feed.as_ref().and_then(|feed| site.output(feed.value)).map(|output| output.name.value.clone());
        (source(site, circuit), driven_by(site, circuit), contact, feed)
    };
    let (old, new) = (&sides.old.site, &sides.new.site);
    let circuit = &new.circuits[circuit];
    let before = old.circuits.iter().find(|other| other.name.value == circuit.name.value);
    before.is_none_or(|before| said(old, before) != said(new, circuit))
}
