//! A fire zone's loop without a resistor.

use crate::checks::Context;
use crate::checks::loops::loop_unsupervised;
use crate::diag::{Basis, Sink};

check!(
    "fire-loop-unsupervised",
    Basis::Published("NFPA 72, edition not named, from memory: a cut or earthed conductor to a detector is shown as a trouble"),
    "a loop of a fire zone without a resistor, of which one cable fault is not seen"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    loop_unsupervised::report(context, &RULE, loop_unsupervised::is_fire, sink);
}
