//! A fire zone's loop without a resistor, or with one that does not supervise the cables that were there before.

use crate::checks::Context;
use crate::checks::loops::{existing_cable_unsupervised, loop_unsupervised};
use crate::diag::{Basis, Sink};
use crate::terms::ZoneType;

check!(
    "fire-loop-unsupervised",
    Basis::Published(
        "NFPA 72, edition not named, from memory: a cut or earthed conductor to a detector is shown as a trouble"
    ),
    "a loop of a fire zone of which a cable fault is not seen"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    loop_unsupervised::report(context, &RULE, ZoneType::is_fire, sink);
    existing_cable_unsupervised::report(context, &RULE, ZoneType::is_fire, sink);
}
