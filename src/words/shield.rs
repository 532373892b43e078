//! What becomes of the shield of a cable, in words.

use super::Medium::Paper;
use crate::base::Id;
use crate::model::{Board, Site};
use crate::register::{Cable, End, ShieldLanding, Wiring};

/// "drain wire"; empty where the cable has no shield.
pub(crate) fn shield(site: &Site, cable: &Cable) -> &'static str {
    site.cables[cable.kind].shield.map_or("", |shield| shield.printed())
}

/// At an end: "Panel, terminal EARTH", "joined to DATA-2: drain wire", "cut it back and insulate it". Empty where the
/// cable has no shield.
pub(crate) fn shield_end(site: &Site, wiring: &Wiring, cable: &Cable, end: End) -> String {
    let Some(at) = cable.shield_at(end) else { return String::new() };
    let landed = at.landed.as_ref().map(|landed| match landed {
        ShieldLanding::Terminal(board, mark) => {
            format!("{}, terminal {mark}{}", Paper.board(site, *board), unearthed(site, *board, mark))
        }
        ShieldLanding::Unnamed => "landed where the sheet says: no terminal for it is in the spec".to_owned(),
    });
    let joined = at.joined.iter().filter_map(|run| wiring.cable_of(*run));
    let joined = joined.map(|other| format!("joined to {}: {}", other.label, shield(site, other)));
    let said: Vec<String> = landed.into_iter().chain(joined).collect();
    if said.is_empty() { "cut it back and insulate it".to_owned() } else { said.join("; ") }
}

/// That a shield on the earth terminal of a board leads nowhere, where the spec has no earth conductor for that board.
fn unearthed(site: &Site, board: Id<Board>, mark: &str) -> &'static str {
    let is_earth = site.part_of(board).and_then(|part| part.earth.as_ref()).is_some_and(|earth| earth.value == mark);
    if is_earth && site.boards[board].earth.is_none() {
        " (no earth conductor of this board is in the spec)"
    } else {
        ""
    }
}
