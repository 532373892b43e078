//! A transformer of far more volts than its board works from, where the part gives no most.

use crate::checks::Context;
use crate::checks::battery::standby;
use crate::checks::battery::transformer_volts_high::above;
use crate::diag::{Basis, Sink};
use crate::words::rated;

check!("transformer-volts-unlikely", Basis::Guess, "a transformer of far more volts than its board needs");

fn run(context: Context<'_>, sink: &mut Sink) {
    for head in standby::heads(context) {
        let Some(port) = head.part.ac_port.as_ref().filter(|port| port.max.is_none()) else { continue };
        let Some(min) = port.min else { continue };
        let label = format!("works from {} on, and the part gives no most", rated(min));
        let help = "Write the transformer's volts as they stand on it, and take the one that the board's sheet asks for. Where the sheet allows this one, write its most as max= at the part's `ac-port`.";
        sink.extend(above(&head, port, &RULE, ("probably more than the board withstands", &label, help)));
    }
}
