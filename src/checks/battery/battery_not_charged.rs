//! A battery at a board that takes its supply from its bus.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!("battery-not-charged", Basis::Contradiction, "a battery at a board without a supply of its own");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    // A transformer that was reported is none of the model.
    if !site.sound {
        return;
    }
    for (id, board) in site.boards.entries().filter(|(_, board)| !board.has_own_supply()) {
        let Some(battery) = &board.battery else { continue };
        let name = Screen.board(site, id);
        let finding = Diagnostic::new(&RULE, battery.capacity.span, format!("nothing charges the battery of {name}"))
            .here("a battery, and no `transformer`")
            .also(board.name.span, "takes its supply from its bus")
            .why("A board without a transformer is fed by its bus, on the battery of the board at which the bus starts. A battery of its own is not charged, and feeds nothing: within months it is a dead weight on two terminals.")
            .help("Take the battery out, and count the board on the battery at the start of its bus; or, if its sheet has terminals for a transformer, give it a `transformer` of its own.")
            .about(&board.name.value);
        sink.push(finding);
    }
}
