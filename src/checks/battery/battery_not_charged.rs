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
    for (id, board) in site.boards.entries().filter(|(_, board)| board.kind.is_a_supply() && board.transformer.is_none()) {
        let (Some(battery), Some(part)) = (&board.battery, site.part_of(id)) else { continue };
        let (Some(port), Some(_)) = (&part.ac_port, &part.charger) else { continue };
        let name = Screen.board(site, id);
        let finding = Diagnostic::new(&RULE, battery.capacity.span, format!("nothing charges the battery of {name}"))
            .here("a battery, and no `transformer`")
            .also(port.a.span, "waits for a transformer")
            .why("By its part the board takes its supply from a transformer at these terminals. Without one it runs on the battery, and the house is without an alarm when that is flat.")
            .help("Write its `transformer` with volts=, rating= and outlet= as they stand on it; or take ac-port out of the part if the board has its mains supply inside.")
            .about(&board.name.value);
        sink.push(finding);
    }
}
