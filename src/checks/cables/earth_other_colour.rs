//! An earth conductor in a colour that nobody takes for one.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::Hue;
use crate::words::Screen;

check!(
    "earth-other-colour",
    Basis::Published("IEC 60445 and NFPA 70 (NEC), editions not named, from memory; the local code prevails"),
    "an earth conductor that is neither green-and-yellow nor green"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, board) in site.boards.entries() {
        let colour = board.earth.as_ref().and_then(|earth| Some((earth, earth.colour?)));
        let Some((earth, colour)) = colour else { continue };
        let green = colour.tracer.is_none() && colour.base == Hue::Green;
        if colour.is_of_the_earth() || green {
            continue;
        }
        let title = format!("the earth conductor of {} is {}", Screen.board(site, id), colour.name());
        sink.push(
            Diagnostic::new(&RULE, earth.to.span, title)
                .here(colour.name())
                .also(board.name.span, "its board")
                .why("Whoever works here later takes it for something else: lifts it, or joins a supply to it. Green-and-yellow marks a protective conductor; in the United States green or bare does as well.")
                .help("Take a green-and-yellow conductor, and leave colour= out. One that is there is for a licensed electrician where the law says so, who marks or replaces it as local code has it.")
                .about(&board.name.value),
        );
    }
}
