//! An opening that lies beyond the end of its wall.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::print;
use crate::terms::Wall;
use crate::words::Screen;

check!("opening-outside-wall", Basis::Contradiction, "an opening beyond the end of its wall");

fn run(context: Context<'_>, sink: &mut Sink) {
    const ROUNDING: f64 = 0.001;
    let site = context.site;
    for (id, opening) in site.openings.entries() {
        let room = &site.rooms[opening.room];
        let (Some(at), Some(wall), Some([_, _, width, depth])) = (opening.at, opening.wall, room.rect) else {
            continue;
        };
        let size = match wall {
            Wall::North | Wall::South => width,
            Wall::East | Wall::West => depth,
        };
        if at.0 <= size.0 + ROUNDING {
            continue;
        }
        let length = |length| print::length(length, site.lengths);
        let name = Screen.name(&room.name.value);
        let title = format!("{} is {} along a wall of {}", Screen.opening(site, id), length(at), length(size));
        sink.push(
            Diagnostic::new(&RULE, opening.name.span, title)
                .here("beyond the end of its wall")
                .also(room.name.span, format!("room {name} has this wall"))
                .why("Ways to the keypad are measured from where the opening is on the plan, and there it is nowhere.")
                .help(format!(
                    "Write at= from the wall's left end, at most {}; or correct wall= or the room's rect.",
                    length(size)
                ))
                .about(&opening.name.value),
        );
    }
}
