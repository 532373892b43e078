//! A panel or keypad that is not inside what it protects.

use crate::base::{Id, Span};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Board, BoardKind, Opening, Room, Site};
use crate::terms::ZoneType;
use crate::words::Screen;

check!("panel-in-reach", Basis::Practice, "a panel or keypad that somebody reaches before the alarm");

/// Why a board can be reached.
struct Reach {
    said: String,
    because: String,
    /// What is involved, with its label.
    at: Option<(Span, &'static str)>,
    help: &'static str,
}

/// What to do with a panel; with a keypad, which belongs where people come in.
const PANEL: &str = "Hang it in a room inside the house that a zone watches and no entry door leads into; or accept this with the reason.";
const KEYPAD: &str = "Hang it inside, beside the door that people come in by; or accept this with the reason.";

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if !site.sound {
        return;
    }
    for (id, board) in site.boards.entries() {
        let Some(room) = board.room else { continue };
        let Some(reach) = reach(site, board, room) else { continue };
        let finding = Diagnostic::new(
            &RULE,
            board.name.span,
            format!("{} is in {}, {}", Screen.board(site, id), Screen.name(&site.rooms[room].name.value), reach.said),
        )
        .here("within reach before the alarm")
        .why(reach.because)
        .help(reach.help)
        .about(&board.name.value);
        sink.push(match reach.at {
            Some((span, label)) => finding.also(span, label),
            None => finding,
        });
    }
}

fn reach(site: &Site, board: &Board, room: Id<Room>) -> Option<Reach> {
    let is_panel = match board.kind {
        BoardKind::Panel => true,
        BoardKind::Keypad { .. } => false,
        BoardKind::PowerSupply
        | BoardKind::Module { .. }
        | BoardKind::Receiver
        | BoardKind::Strip { .. }
        | BoardKind::JointBox { .. } => return None,
    };
    if site.rooms[room].is_outdoors() {
        return Some(Reach {
            said: "in open air".to_owned(),
            because: "Whoever stands outside can open it, or watch how it is used, before anything has noticed them."
                .to_owned(),
            at: Some((site.rooms[room].name.span, "open air")),
            help: if is_panel { PANEL } else { KEYPAD },
        });
    }
    let opening = is_panel.then(|| entry(site, room)).flatten()?;
    let noun = opening.kind.noun();
    Some(Reach {
        said: format!("which a {noun} with an entry delay leads into"),
        because: format!(
            "Whoever forces that {noun} has the whole entry delay to get at the panel before it calls anybody."
        ),
        at: Some((opening.name.span, "starts the entry delay")),
        help: PANEL,
    })
}

/// An opening to the outside of a room that starts the entry delay.
fn entry(site: &Site, room: Id<Room>) -> Option<&Opening> {
    let starts = |zone: Id<crate::model::Zone>| {
        site.zones[zone].kind.as_ref().is_some_and(|kind| kind.value == ZoneType::EntryExit)
    };
    let openings = site.openings.entries().filter(|(_, opening)| opening.room == room && !opening.inside);
    let mut entries = openings.filter(|(id, _)| site.watchers(*id).any(|(_, zone)| starts(zone)));
    entries.next().map(|(_, opening)| opening)
}
