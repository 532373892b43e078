//! A power supply whose fault contact no loop watches.

use std::collections::BTreeSet;

use crate::base::Id;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Board, BoardKind};
use crate::words::Screen;

check!("fault-contact-unwatched", Basis::Practice, "a power supply whose fault contact no loop watches");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if !site.sound {
        return;
    }
    let watched: BTreeSet<Id<Board>> =
        site.devices.iter().filter_map(|device| Some(device.board.as_ref()?.value)).collect();
    for (id, board) in site.boards.entries().filter(|(_, board)| board.kind == BoardKind::PowerSupply) {
        let Some(fault) = site.part_of(id).and_then(|part| part.fault.as_ref()).filter(|_| !watched.contains(&id))
        else {
            continue;
        };
        let (a, b) = (Screen.name(&fault.a.value), Screen.name(&fault.b.value));
        sink.push(
            Diagnostic::new(&RULE, board.name.span, format!("no loop watches the fault contact of {}", Screen.board(site, id)))
                .here(format!("its contact is at {a} and {b}"))
                .why("When its mains or its battery is gone, nobody hears of it until what hangs on it is needed and does nothing.")
                .help(format!(
                    "Give it a zone of its own: zone … type=\"trouble\" with a loop to it, and in the run's braces `fault \"{}\"`.",
                    board.name.value
                ))
                .about(&board.name.value),
        );
    }
}
