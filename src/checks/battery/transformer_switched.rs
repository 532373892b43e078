//! A transformer on an outlet that can be switched off.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!(
    "transformer-switched",
    Basis::Published(
        "NFPA 72, chapter on households, edition not named, from memory; a county code on alarm systems, quoted"
    ),
    "a transformer on an outlet that can be switched off"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    for (id, board) in context.site.boards.entries() {
        let Some(transformer) = board.transformer.as_ref().filter(|transformer| transformer.switched) else { continue };
        let outlet = transformer.outlet.as_deref().map_or(String::new(), |outlet| format!(" ({outlet})"));
        sink.push(
            Diagnostic::new(&RULE, transformer.switched_written.as_ref().map_or(transformer.volts.span, |written| written.span), format!("the transformer of {} is on an outlet that can be switched off", Screen.board(context.site, id)))
                .here(format!("switched=#true{outlet}"))
                .why("Somebody switches it off with the light. The alarm goes on for as long as its battery lasts, and nobody knows why it then stops.")
                .help("Put it on an outlet without a switch, hold the plug with its screw (switch the outlet's breaker off and prove it dead first: a loosened cover plate can fall across the pins), and write which outlet it is with outlet=.")
                .about(&board.name.value),
        );
    }
}
