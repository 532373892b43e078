//! A way of the report that no board sends.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::BoardKind;

check!("communicator-without-board", Basis::Contradiction, "a way of the report that no board sends");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let panels = site.boards.iter().filter(|board| board.kind.is_panel()).count();
    // A board that could not be read was reported, and where there is one panel the way is that panel's.
    for way in site.communicators.iter().filter(|way| way.board.is_none() && way.module.is_none()) {
        if !site.sound || panels < 2 {
            continue;
        }
        let finding = Diagnostic::new(&RULE, way.name.span, format!("no board sends by communicator `{}`", way.name.value))
            .here("of which panel?")
            .why("The site has several panels. Without its board the cable of this way lands nowhere, and what it sends has no source.")
            .help("Write board= with the panel that reports, or module= with the module that sends for it.")
            .about(&way.name.value);
        sink.push(finding);
    }
    for way in &site.communicators {
        // What module= names was looked at when it was read.
        let board = way.board.filter(|board| !sends(&site.boards[*board].kind));
        let Some(board) = board.filter(|_| way.module.is_none()) else { continue };
        let (noun, name) = (site.boards[board].kind.noun(), &way.name.value);
        let finding = Diagnostic::new(&RULE, way.name.span, format!("no board sends by communicator `{name}`: a {noun} reports nothing"))
            .here(format!("by a {noun}"))
            .also(site.boards[board].name.span, "this one")
            .why("A panel reports, and a module on its bus may send for it. What any other board is given to send, nobody hears.")
            .help("Write board= with the panel that reports, or module= with the module on its bus that sends for it.")
            .about(name);
        sink.push(finding);
    }
}

/// True for a board that may report, or send for one that does.
fn sends(kind: &BoardKind) -> bool {
    match kind {
        BoardKind::Panel | BoardKind::Module { .. } | BoardKind::Receiver => true,
        BoardKind::PowerSupply | BoardKind::Keypad { .. } | BoardKind::Strip { .. } | BoardKind::JointBox { .. } => {
            false
        }
    }
}
