//! What becomes of the shield of a cable, in words.

use super::Medium::Paper;
use crate::model::Site;
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
        ShieldLanding::Terminal(board, mark) => format!("{}, terminal {mark}", Paper.board(site, *board)),
        ShieldLanding::Unnamed => "landed where the sheet says: no terminal for it is in the spec".to_owned(),
    });
    let joined = at.joined.iter().filter_map(|run| wiring.cable_of(*run));
    let joined = joined.map(|other| format!("joined to {}: {}", other.label, shield(site, other)));
    let said: Vec<String> = landed.into_iter().chain(joined).collect();
    if said.is_empty() { "cut it back and insulate it".to_owned() } else { said.join("; ") }
}
