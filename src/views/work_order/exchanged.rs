//! Boards that are exchanged in their places: what is lifted off the old one, and what is landed on the new one.
//!
//! These steps tell every conductor and shield at the terminals of such a board, whatever else becomes of its cable; the
//! steps of the cables leave these ends out (`landings`).

use std::collections::{BTreeMap, BTreeSet};

use super::landings::staying;
use super::place::Places;
use super::{Sides, alone, boards};
use crate::base::Id;
use crate::compiled::Compiled;
use crate::diff::{Kind, STARTS_IN};
use crate::model::{Board, Room};
use crate::record::fact;
use crate::register::{Cable, ConductorUse, End, Point, ShieldLanding};
use crate::words::{self, Paper};

/// The boards that are exchanged in their places.
#[derive(Debug, Default)]
pub(super) struct Exchanged {
    old: BTreeSet<Id<Board>>,
    new: BTreeSet<Id<Board>>,
}

impl Exchanged {
    pub(super) fn of(sides: &Sides<'_>) -> Self {
        let mut found = Self::default();
        for change in sides.changes(Kind::Board) {
            let is_another = change.is_another() || change.field(fact::Board::ways).is_some();
            let (Some((was, _)), Some((is, _))) = (&change.old, &change.new) else { continue };
            if is_another && change.field(fact::Board::room).is_none() {
                found.old.extend(boards::board(&sides.old.site, was));
                found.new.extend(boards::board(&sides.new.site, is));
            }
        }
        found
    }

    /// Whether a board of the old site (`is_old`) or of the new one is exchanged.
    pub(super) fn has(&self, board: Id<Board>, is_old: bool) -> bool {
        if is_old { self.old.contains(&board) } else { self.new.contains(&board) }
    }
}

/// A conductor or shield at a board.
struct On {
    /// Its position in the cable; `None` for the shield.
    position: Option<usize>,
    end: End,
    what: String,
    /// The terminal that it is on, in words.
    at: String,
}

/// What of a cable is on the terminals of a board.
fn on_board(compiled: &Compiled, cable: &Cable, board: Id<Board>) -> Vec<On> {
    let Compiled { site, wiring, .. } = compiled;
    let conductor = |used: &ConductorUse, end: End| {
        let (_, mark) = used.points(end).iter().filter_map(Point::terminal).find(|(at, _)| *at == board)?;
        let at = if wiring.is_behind_resistor(used.function, board, mark) {
            format!("the free lead of the resistor whose other lead is under {mark}")
        } else {
            mark.clone()
        };
        let what = words::conductor_mark(site, cable, used.position);
        Some(On { position: Some(used.position), end, what, at })
    };
    let shield = |end: End| {
        cable.shield_board(site, end).filter(|at| *at == board)?;
        let at = match cable.shield_at(end)?.landed.as_ref()? {
            ShieldLanding::Terminal(_, mark) => mark.clone(),
            ShieldLanding::Unnamed => "what the board's sheet names for it".to_owned(),
        };
        Some(On { position: None, end, what: words::shield(site, cable).to_owned(), at })
    };
    let ends = [End::Near, End::Far];
    let conductors =
        cable.conductors.iter().flat_map(|used| ends.into_iter().filter_map(move |end| conductor(used, end)));
    conductors.chain(ends.into_iter().filter_map(shield)).collect()
}

/// The steps for what is on the terminals of a board that is exchanged: lifted before the old one is taken down, and landed on
/// the new one.
pub(super) fn landed_again(sides: &Sides<'_>, (board, is): (Id<Board>, Id<Board>), places: &mut Places) {
    let site = &sides.new.site;
    let (called, room) = (Paper.board(site, is), site.boards[is].room);
    // Until it is down it goes by the name that it has had.
    let before = Paper.board(&sides.old.site, board);
    for (was, cable, end) in ends_kept(sides) {
        let mut these = on_board(sides.old, was, board);
        these.retain(|on| on.end == end);
        lift(sides, (was, cable), these, (&before, room), places);
    }
    for (was, cable) in staying(sides) {
        lift(sides, (was, cable), on_board(sides.old, was, board), (&before, room), places);
        let now = on_board(sides.new, cable, is).into_iter().filter(|on| !waits(sides, cable, on));
        let each: Vec<String> = now.map(|on| format!("{} on {}", on.what, on.at)).collect();
        if !each.is_empty() {
            let text = format!("{}, back on {called}: {}", cable.label, each.join(", "));
            places.add_at(alone::stage(sides, cable), site, room, "land", text);
        }
    }
}

/// The conductors that were on the free lead of a resistor that comes out: without a step they would be on nothing.
pub(super) fn off_resistors(sides: &Sides<'_>, places: &mut Places) {
    let (old, new) = (sides.old, sides.new);
    for (was, is) in staying(sides) {
        for (used, end) in was.conductors.iter().flat_map(|used| [(used, End::Near), (used, End::Far)]) {
            let now = is.conductors.iter().find(|other| other.position == used.position);
            let before = used.points(end).iter().filter_map(Point::terminal);
            let mut behind = before.filter(|(board, mark)| old.wiring.is_behind_resistor(used.function, *board, mark));
            let (Some((had, from)), Some(now)) = (behind.next(), now) else { continue };
            let Some((board, mark)) = now.points(end).iter().find_map(Point::terminal) else { continue };
            let stays = sides.board_before(board) == Some(had) && from == mark;
            if stays && !sides.exchanged.has(board, false) && !new.wiring.is_behind_resistor(now.function, board, mark)
            {
                let what = words::conductor_mark(&new.site, is, now.position);
                let text = format!("{} at {}: {what} on {mark}", is.label, Paper.board(&new.site, board));
                places.add(&new.site, new.site.boards[board].room, "land", text);
            }
        }
    }
}

/// The sounders on a strip that stays while the board that feeds it is exchanged: they are off it until the walk-test.
pub(super) fn sounders_off(sides: &Sides<'_>, head: Id<Board>, places: &mut Places) {
    let site = &sides.new.site;
    let strips = site.boards.entries().filter(|(_, strip)| strip.kind.feed().is_some_and(|feed| feed.board == head));
    for (is, strip) in strips.filter(|(is, _)| !sides.exchanged.has(*is, false)) {
        let Some(was) = sides.board_before(is) else { continue };
        for (cable, now) in staying(sides) {
            let mut these = on_board(sides.old, cable, was);
            these.retain(|on| waits(sides, now, on));
            lift(sides, (cable, now), these, (&Paper.board(site, is), strip.room), places);
        }
    }
}

/// The steps that lift what is on a board, before it is taken down.
fn lift(
    sides: &Sides<'_>,
    (was, is): (&Cable, &Cable),
    these: Vec<On>,
    (called, room): (&str, Option<Id<Room>>),
    places: &mut Places,
) {
    let mut lifted: BTreeMap<Fate, Vec<String>> = BTreeMap::new();
    for on in these {
        lifted.entry(Fate::of(sides, is, &on)).or_default().push(format!("{} off {}", on.what, on.at));
    }
    for (fate, each) in lifted {
        let text = format!("{} at {called}: {}{}", was.label, each.join(", "), fate.words());
        places.add(&sides.new.site, room, "remove", text);
    }
}

/// The ends that stay where they are, of cables that are landed as a whole and of those that are cut: the steps for these tell what
/// lands there, and not that it comes off first.
fn ends_kept<'s>(sides: &Sides<'s>) -> Vec<(&'s Cable, &'s Cable, End)> {
    let was = |label: &str| sides.old_keys.cable(sides.old, label);
    let is = |label: &str| sides.new_keys.cable(sides.new, label);
    let mut kept = Vec::new();
    for cut in &sides.found.cuts {
        let far = cut.far_stays.then(|| is(&cut.far)).flatten();
        let pieces = [(is(&cut.near), End::Near), (far, End::Far)];
        kept.extend(pieces.into_iter().filter_map(|(piece, end)| Some((was(&cut.was)?, piece?, end))));
    }
    for change in sides.changes(Kind::Cable) {
        let (Some((old, _)), Some((new, _))) = (&change.old, &change.new) else { continue };
        let is_cut = sides.found.cuts.iter().any(|cut| cut.was == old.key);
        if is_cut || !sides.found.taken_over.contains(new) {
            continue;
        }
        let ends = [(STARTS_IN, End::Near), (fact::Place::room, End::Far)];
        let ends = ends.into_iter().filter(|(moved, _)| change.field(moved).is_none());
        kept.extend(ends.filter_map(|(_, end)| Some((was(&old.key)?, is(&new.key)?, end))));
    }
    kept
}

/// Whether an end of a cable of the new site is on a board that is exchanged.
pub(super) fn is_on_one(sides: &Sides<'_>, cable: &Cable, end: End) -> bool {
    let mut boards = cable.conductors.iter().flat_map(|used| used.points(end)).filter_map(Point::board);
    boards.any(|board| sides.exchanged.has(board, false))
}

/// What becomes of what is lifted, in the order in which it is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Fate {
    Again,
    AtWalkTest,
    Free,
    /// A shield that is cut back: what lands it no more says so.
    CutBack,
}

impl Fate {
    fn of(sides: &Sides<'_>, cable: &Cable, on: &On) -> Self {
        let lands = match on.position {
            Some(_) => used(cable, on).is_some_and(|used| !used.points(on.end).is_empty()),
            None => cable.shield_at(on.end).is_some_and(|at| at.landed.is_some() || !at.joined.is_empty()),
        };
        match (lands, on.position) {
            (true, _) if waits(sides, cable, on) => Self::AtWalkTest,
            (true, _) => Self::Again,
            (false, Some(_)) => Self::Free,
            (false, None) => Self::CutBack,
        }
    }

    fn words(self) -> &'static str {
        match self {
            Self::Again => "; landed again",
            Self::AtWalkTest => "; capped until the walk-test",
            Self::Free => "; free now: cap it, park it and mark it",
            Self::CutBack => "",
        }
    }
}

/// The conductor at the same place of a cable.
fn used<'c>(cable: &'c Cable, on: &On) -> Option<&'c ConductorUse> {
    cable.conductors.iter().find(|used| Some(used.position) == on.position)
}

fn waits(sides: &Sides<'_>, cable: &Cable, on: &On) -> bool {
    used(cable, on).is_some_and(|used| alone::waits(sides, used))
}
