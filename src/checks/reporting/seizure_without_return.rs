//! A jack that cuts the house phones off, at a board with no terminals that give them the line back.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::terms::JackKind;
use crate::words::Screen;

check!(
    "seizure-without-return",
    Basis::Contradiction,
    "a line-seizure jack at a line port without terminals for the house phones"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for way in &site.communicators {
        let telephone = way.is_telephone();
        if !telephone || way.jack != Some(JackKind::LineSeizure) {
            continue;
        }
        let Some((board, port)) = way.port else { continue };
        let part = site.part_of(board).filter(|part| part.whole);
        let Some(port) = part.and_then(|part| part.line_ports.get(port)) else { continue };
        if port.out_tip.is_some() {
            continue;
        }
        let name = &way.name.value;
        let title = format!("the jack of `{name}` cuts the house phones off, and nothing gives them the line back");
        sink.push(
            Diagnostic::new(&RULE, way.name.span, title)
                .here("jack=\"line-seizure\"")
                .also(port.name.span, format!("the port of {}, without terminals for the phones", Screen.board(site, board)))
                .why("The plug of the board opens the bars of the jack, through which the house phones had the line. It goes on to them through the board, and this one has no terminals for that: no phone works, not even for an emergency call.")
                .help("Add out-tip= and out-ring= to the port, as the board's sheet names them. Where the board has none, take another board, or write jack=\"bridged\" and read what is said of that.")
                .about(name),
        );
    }
}
