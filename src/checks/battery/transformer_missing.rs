//! A board with terminals for a transformer, and a battery, and no transformer: nothing charges the battery.
//!
//! Of a board without a battery as well its supply is not in the spec yet: that is `battery-missing`.

use crate::calc::power::standby::from_mains;
use crate::checks::Context;
use crate::checks::battery::standby;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!(
    "transformer-missing",
    Basis::Works,
    "a board with a battery and no transformer, whose sheet has terminals for one"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    // A transformer that was reported is none of the model.
    if !context.site.sound {
        return;
    }
    for head in standby::heads(context).filter(|head| head.board.transformer.is_none()) {
        let (Some(port), Some(battery)) = (&head.part.ac_port, &head.board.battery) else { continue };
        let name = Screen.board(context.site, head.id);
        let takes = from_mains(head.part, head.currents());
        let least = port.min.map_or_else(String::new, |min| format!(" and at least {min}"));
        let finding = Diagnostic::new(&RULE, head.board.name.span, format!("{name} has a battery and no transformer"))
            .here("no `transformer` in its braces")
            .also(battery.capacity.span, "nothing charges this")
            .why("On its battery alone the board runs for as long as one charge lasts. The sheets reckon with a battery that is full, and say nothing of the mains.")
            .help(format!("Write in its braces `transformer` with volts=, rating= and outlet=, of what its sheet asks for{least}. An alarm and the charger take {takes} of direct current from it at once."));
        sink.push(standby::about(&head, finding));
    }
}
