//! A blank board with a supply of its own: it is switched on alone, before anything hangs on it, and its sounders are landed last.
//!
//! In a house that has no board yet, this is the commissioning sheet's.

use std::borrow::Cow;
use std::collections::BTreeSet;

use super::super::commissioning_sheet::power_up;
use super::place::{Places, Stage};
use super::{Sides, isolating, tried};
use crate::base::Id;
use crate::model::{Board, DeviceKind, Owner, Site};
use crate::register::{Cable, ConductorUse, Point};
use crate::words::{self, Paper};

/// What is said of it where it is mounted.
pub(super) const WHEN: &str = "; it is switched on alone first: until then only its earth conductor and the leads of its transformer are on it, and all else is landed once it has shown its volts";

/// The boards that are tried alone in this work, and the circuits that sounders are on.
#[derive(Debug, Default)]
pub(super) struct Alone {
    boards: BTreeSet<Id<Board>>,
    sounders: BTreeSet<Owner>,
}

impl Alone {
    pub(super) fn of(sides: &Sides<'_>) -> Self {
        let site = &sides.new.site;
        if sides.old.site.boards.is_empty() {
            return Self::default();
        }
        let powered = tried::blank(sides).into_iter().filter(|id| power_up::is_powered(&site.boards[*id]));
        let sounders = site.devices.iter().filter(|device| device.kind == DeviceKind::Sounder);
        Self {
            boards: powered.collect(),
            sounders: sounders.filter_map(|device| Some(site.runs[device.run?].owner)).collect(),
        }
    }

    pub(super) fn has(&self, board: Id<Board>) -> bool {
        self.boards.contains(&board)
    }

    /// Whether a board is one of them, or a strip that one of them feeds.
    fn feeds(&self, site: &Site, board: Id<Board>) -> bool {
        self.has(head(site, board))
    }
}

/// The board that feeds a strip; every other board itself.
fn head(site: &Site, board: Id<Board>) -> Id<Board> {
    site.boards[board].kind.feed().map_or(board, |feed| feed.board)
}

/// The steps that switch it on and off again, behind those for all that is on it then.
pub(super) fn steps(sides: &Sides<'_>, id: Id<Board>, places: &mut Places) {
    if !sides.alone.has(id) {
        return;
    }
    let site = &sides.new.site;
    let board = &site.boards[id];
    let called = Paper.board(site, id);
    let shown = power_up::alone(sides.new, id).into_iter().map(|step| format!("{called}: {}", step.words()));
    let off = isolating::supplies_off(site, id, (board.transformer.as_ref(), board.battery.as_ref()));
    let mut off: Vec<String> = off.map(|step| step.text).collect();
    if off.is_empty() {
        off.push(format!("{called}: take its supply away again; the board must be dark"));
    }
    for text in shown.chain(off) {
        places.add_at(Stage::Alone, site, board.room, "check", text);
    }
}

/// At which stage a cable is landed on a board: that of its transformer before it is switched on alone.
pub(super) fn stage(sides: &Sides<'_>, cable: &Cable) -> Stage {
    match sides.new.site.runs[cable.run].owner {
        Owner::Transformer(board) if sides.alone.has(board) => Stage::Alone,
        Owner::Transformer(_)
        | Owner::Zone(_)
        | Owner::Bus(_)
        | Owner::Circuit(_)
        | Owner::Spare(_)
        | Owner::Communicator(_) => Stage::InOrder,
    }
}

/// Whether a conductor waits for the walk-test: a sounder hangs on it, and it lands on such a board or on a strip of it.
pub(super) fn waits(sides: &Sides<'_>, used: &ConductorUse) -> bool {
    let site = &sides.new.site;
    let mut boards = used.near.iter().chain(&used.far).filter_map(Point::board);
    sides.alone.sounders.contains(&site.runs[used.run].owner) && boards.any(|board| sides.alone.feeds(site, board))
}

/// A cable with those of its conductors that are landed with all others.
pub(super) fn without_sounders<'c>(sides: &Sides<'_>, cable: &'c Cable) -> Cow<'c, Cable> {
    if !cable.conductors.iter().any(|used| waits(sides, used)) {
        return Cow::Borrowed(cable);
    }
    let mut now = cable.clone();
    now.conductors.retain(|used| !waits(sides, used));
    Cow::Owned(now)
}

/// "SOUNDER-1: RD on S+, BK on S-" for each cable of sounders at such a board.
pub(super) fn sounders(sides: &Sides<'_>, board: Id<Board>) -> Vec<String> {
    let compiled = sides.new;
    let site = &compiled.site;
    let told = compiled.wiring.cables.iter().filter_map(|cable| {
        let on = |used: &ConductorUse| {
            let mut terminals = used.near.iter().chain(&used.far).filter_map(Point::terminal);
            let (at, here) = terminals.find(|(at, _)| head(site, *at) == board)?;
            let of = if at == board { String::new() } else { format!(" of {}", Paper.board(site, at)) };
            Some(format!("{} on {here}{of}", words::conductor_mark(site, cable, used.position)))
        };
        let all: Vec<String> = cable.conductors.iter().filter(|used| waits(sides, used)).filter_map(on).collect();
        (!all.is_empty()).then(|| format!("{}: {}", cable.label, all.join(", ")))
    });
    told.collect()
}
