//! Something on a two-wire loop that it does not feed.

use crate::checks::Context;
use crate::checks::loops::two_wire;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!("two-wire-mixed", Basis::Contradiction, "a contact or another detector on a loop that feeds two-wire detectors");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for fed in two_wire::fed(context) {
        let foreign = two_wire::foreign(site, &fed);
        let Some((first, others)) = foreign.split_first() else { continue };
        let number = fed.known.zone.number.value;
        let title = format!("{} is on the two-wire loop of zone {number}", Screen.device(site, *first));
        let finding = Diagnostic::new(&RULE, site.devices[*first].span(), title)
            .here("not fed by the loop")
            .also(fed.known.wired.place.span, "feeds its detectors")
            .also(fed.feed.span(), "the board's sheet, without contacts=#true")
            .why("A contact that closes takes the supply from every detector on the loop, and from the one that is in alarm its alarm. One that opens does the same to all behind it.")
            .help("Give it a zone and an input of its own. Only where the board's sheet lets contacts that are open at rest on this input, write contacts=#true there.")
            .about(number);
        sink.push(others.iter().fold(finding, |finding, id| finding.also(site.devices[*id].span(), "and here")));
    }
}
