//! A battery where it gets colder than its sheet allows.

use crate::calc::ambient;
use crate::checks::Context;
use crate::checks::battery::standby;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::battery::COLD;
use crate::words::Screen;

check!(
    "battery-too-cold",
    Basis::Published("the battery's sheet; where it is not known, handbooks of battery makers, from memory"),
    "a battery at a place that gets colder than its sheet allows"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    for head in standby::loaded(context) {
        let Some((battery, bank)) = head.battery(context.site) else { continue };
        let cold = ambient::of_room(context.site, head.board.room).cold;
        if cold >= bank.coldest {
            continue;
        }
        let who = Screen.board(context.site, head.id);
        let limit = bank.coldest;
        let source = if battery.coldest.is_some() { "its sheet" } else { "common practice, for no sheet is known" };
        let finding = Diagnostic::new(
            &RULE,
            battery.capacity.span,
            format!("the battery of {who} gets as cold as {cold}; it is counted on down to {limit}"),
        )
        .here("at a place that gets too cold")
        .also(head.board.name.span, "the board")
        .why("A lead-acid battery gives much less than its capacity in such cold, and one that is discharged may freeze and burst. How long it lasts is not computed for that cold.")
        .help("Put the board and its battery where it stays warmer. If the battery's sheet allows that cold, write it: coldest=(degC) with the sheet's figure.")
        .figure(format!("coldest by {source}: {limit}"))
        .figure(format!("left of the capacity: about {:.0} % at −15 °C, at the least {:.0} % at −30 °C ({})", COLD[0].value * 100.0, COLD[1].value * 100.0, COLD[0].source()))
        .figure(format!("coldest of the place: {cold} (common practice)"));
        sink.push(standby::about(&head, finding));
    }
}
