//! A way of the report that no board sends.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};

check!("communicator-without-board", Basis::Contradiction, "a way of the report that no board sends");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let panels = site.boards.iter().filter(|board| board.kind.is_panel()).count();
    // A board that could not be read was reported, and where there is one panel the way is that panel's.
    for way in site.communicators.iter().filter(|way| way.board.is_none() && way.module.is_none()) {
        if !site.sound || panels < 2 {
            continue;
        }
        let finding = Diagnostic::new(&RULE, way.name.span, format!("no board sends by communicator `{}`", way.name.value))
            .here("of which panel?")
            .why("The site has several panels. Without its board the cable of this way lands nowhere, and what it sends has no source.")
            .help("Write board= with the panel that reports, or module= with the module that sends for it.")
            .about(&way.name.value);
        sink.push(finding);
    }
}
