//! A room that is larger, or farther off on the plan, than any house is.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::{Metres, print};
use crate::words::Screen;

check!("room-too-large", Basis::Contradiction, "a room that is larger than any house is");

/// The most that a measure of a room may be.
const MOST: Metres = Metres(1000.0);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for room in &site.rooms {
        let Some(largest) = room.rect.and_then(|rect| rect.into_iter().max_by(|one, other| one.0.total_cmp(&other.0)))
        else {
            continue;
        };
        if largest.0 <= MOST.0 {
            continue;
        }
        let length = |length| print::length(length, site.lengths);
        let title = format!("room {} has a measure of {}", Screen.name(&room.name.value), length(largest));
        sink.push(
            Diagnostic::new(&RULE, room.name.span, title)
                .here(format!("more than {}", length(MOST)))
                .why("No house is that large: a unit or a decimal point is wrong, and every way on the plan with it.")
                .help(
                    "Correct the rect: the corner nearest the plan's origin, then width and depth, each with its unit.",
                )
                .about(&room.name.value),
        );
    }
}
