//! A board that stands on mains alone although its sheet has a charger. Of a board without one nothing is concluded:
//! its battery may be inside.

use crate::calc::power::own_supply::blocks;
use crate::calc::power::standby::COLDEST;
use crate::checks::Context;
use crate::checks::battery::standby;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!(
    "battery-missing",
    Basis::Published(
        "a second source beside the mains: UL 985, 6th edition, summary read; EN 50131-6, edition not named, from memory"
    ),
    "a board with a supply of its own and no battery"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    if !context.site.sound {
        return;
    }
    for head in standby::heads(context).filter(|head| head.part.charger.is_some() && head.board.battery.is_none()) {
        let needed = head.requirement().asked(head.currents());
        let finding = Diagnostic::new(
            &RULE,
            head.board.name.span,
            format!("{} has no battery", Screen.board(context.site, head.id)),
        )
        .here("no `battery` in its braces")
        .why("When the mains fails, or is switched off outside, the house is without an alarm at that moment.")
        .help(match standby::with_reserve(context, &head, blocks(head.part), COLDEST) {
            Some(battery) => {
                format!("For {}, also when it is old and cold, write in its braces: {battery}", head.times())
            }
            None => standby::advice(context, &head, needed, blocks(head.part), |battery| {
                format!("For {} write in its braces: {battery}", head.times())
            }),
        });
        sink.push(standby::about(&head, head.figures(context, finding)));
    }
}
