//! A fire zone's loop without a resistor.

use crate::checks::{Check, Context, loop_unsupervised};
use crate::diag::{Basis, Rule, Sink};
use crate::rule;

static RULE: Rule = rule!(
    "fire-loop-unsupervised",
    Basis::Published("NFPA 72, monitoring integrity of installation conductors, from memory"),
    "a loop of a fire zone without a resistor, of which one cable fault is not seen"
);

/// The check.
pub static CHECK: Check = Check { rule: &RULE, run };

fn run(context: Context<'_>, sink: &mut Sink) {
    loop_unsupervised::report(context, &RULE, loop_unsupervised::is_fire, sink);
}
