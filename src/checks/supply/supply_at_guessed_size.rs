//! A device that may get too little: only because the size of a cable that leads to it is not known.

use crate::checks::Context;
use crate::checks::supply::{supply_below_minimum, supply_without_solution};
use crate::diag::{Basis, Sink};

check!("supply-at-guessed-size", Basis::Guess, "a device that may get too little, by a cable whose size is not known");

fn run(context: Context<'_>, sink: &mut Sink) {
    // Mostly every size is known, and nothing is a guess.
    if context.site.cables.iter().all(|kind| kind.size.is_some()) {
        return;
    }
    supply_below_minimum::report(context, &RULE, true, sink);
    supply_without_solution::report(context, &RULE, true, sink);
}
