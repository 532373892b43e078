//! What is tried at boards that are new, exchanged or somewhere else, and what hangs on them.

use std::collections::{BTreeMap, BTreeSet};

use super::boards::board;
use super::fittings::is_other_supply;
use super::place::Step;
use super::{Sides, buses, touched};
use crate::base::Id;
use crate::diff::{Change, Kind, What};
use crate::model::{Board, BoardKind, Owner, Site};
use crate::record::fact;
use crate::words::Paper;

/// The boards that are new, or another part: nothing is programmed on them, and everything was off their terminals.
pub(super) fn renewed(sides: &Sides<'_>) -> BTreeSet<Id<Board>> {
    let is = |change: &&Change| change.what() == What::Added || change.is_another();
    let boards = sides.changes(Kind::Board).filter(is);
    boards.filter_map(|change| board(&sides.new.site, &change.new.as_ref()?.0)).collect()
}

/// Those of them that are blank: what was in the house before the spec knew of it has all its conductors on it.
pub(super) fn blank(sides: &Sides<'_>) -> BTreeSet<Id<Board>> {
    let was_there = |id: &Id<Board>| sides.new.site.boards[*id].existing && sides.board_before(*id).is_none();
    renewed(sides).into_iter().filter(|id| !was_there(id)).collect()
}

/// True for a board that is new, exchanged or in another room: everything was off its terminals.
pub(super) fn is_touched(change: &Change) -> bool {
    let other = [fact::Board::room, fact::Board::ways];
    change.what() == What::Added || change.is_another() || other.iter().any(|field| change.field(field).is_some())
}

/// Those boards, and the strips that they feed.
pub(super) fn touched_boards(sides: &Sides<'_>) -> BTreeSet<Id<Board>> {
    let site = &sides.new.site;
    let changes = sides.changes(Kind::Board).filter(|change| is_touched(change));
    let mut found: BTreeSet<Id<Board>> = changes.filter_map(|change| board(site, &change.new.as_ref()?.0)).collect();
    let fed =
        site.boards.entries().filter(|(_, board)| board.kind.feed().is_some_and(|feed| found.contains(&feed.board)));
    let fed: Vec<Id<Board>> = fed.map(|(id, _)| id).collect();
    found.extend(fed);
    found
}

/// The boards that stay and are known to the panel otherwise now: by another address, on another bus, with other inputs.
pub(super) fn readdressed(sides: &Sides<'_>) -> BTreeSet<Id<Board>> {
    let boards = sides.changes(Kind::Board).filter(|change| is_known_otherwise(change));
    boards.filter_map(|change| board(&sides.new.site, &change.new.as_ref()?.0)).collect()
}

fn is_known_otherwise(change: &Change) -> bool {
    let fields = [fact::Board::address, fact::Board::bus, fact::Board::inputs_from];
    change.old.is_some() && fields.iter().any(|field| change.field(field).is_some())
}

/// Whether a board is one of those, or hangs on a bus of one of them.
pub(super) fn is_under(site: &Site, id: Id<Board>, renewed: &BTreeSet<Id<Board>>) -> bool {
    site.up_the_buses(id).any(|board| renewed.contains(&board))
}

/// What to try at boards that are new, exchanged or somewhere else now, that have another battery or transformer, or whose bus is
/// other cable.
pub(crate) fn to_try(sides: &Sides<'_>) -> Vec<Step> {
    let site = &sides.new.site;
    let mut tried_whole: BTreeSet<Id<Board>> = BTreeSet::new();
    let mut steps = Vec::new();
    let transformer = |owner| if let Owner::Transformer(board) = owner { Some((board, (false, false))) } else { None };
    let mut boards: BTreeMap<Id<Board>, (bool, bool)> =
        touched::owners(sides).into_iter().filter_map(transformer).collect();
    for change in sides.changes(Kind::Board) {
        let Some(id) = change.new.as_ref().and_then(|(subject, _)| board(site, subject)) else { continue };
        let (touched, known) = (is_touched(change), is_known_otherwise(change));
        let before = sides.board_before(id).map(|was| &sides.old.site.boards[was]);
        if touched || known || is_other_supply(change, before, &site.boards[id]) {
            boards.insert(id, (touched, known));
        }
    }
    for (id, (touched, known)) in boards {
        let alone = alone(&site.boards[id]);
        let tried = match site.boards[id].kind {
            BoardKind::Panel => format!("runs{alone}; every keypad answers"),
            BoardKind::PowerSupply => {
                let fails = if alone.is_empty() { "it fails" } else { "either is away" };
                format!("feeds all that hangs on it{alone}; a fault contact of it tells when {fails}")
            }
            BoardKind::Keypad { .. } | BoardKind::Module { .. } if known && !touched => {
                "answers at its address".to_owned()
            }
            _ if !touched && !known => "runs on its battery alone".to_owned(),
            BoardKind::Keypad { .. } => "answers at its address; every key, lamp and sounder of it".to_owned(),
            BoardKind::Module { .. } => "answers at its address; every zone on it is in this list".to_owned(),
            BoardKind::Receiver => "answers at its address and hears every detector that is enrolled on it".to_owned(),
            BoardKind::Strip { .. } | BoardKind::JointBox { .. } => continue,
        };
        if touched || known {
            tried_whole.insert(id);
        }
        steps.push(Step::new("walk-test", format!("{}: {tried}", Paper.board(site, id))));
    }
    steps.extend(buses::to_try(sides, &tried_whole));
    steps
}

/// By what a board is to run that has mains and a battery; nothing where it has only one of them, which is all that it runs by.
fn alone(board: &Board) -> &'static str {
    if board.transformer.is_some() && board.battery.is_some() { " on mains alone and on its battery alone" } else { "" }
}
