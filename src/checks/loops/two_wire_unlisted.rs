//! A two-wire detector that its board does not list.

use crate::checks::Context;
use crate::checks::loops::two_wire;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::cited::TWO_WIRE_LISTING;
use crate::words::Screen;

check!(
    "two-wire-unlisted",
    Basis::Published(
        "UL 864 and UL 268, edition not named, from memory: a two-wire detector is listed for the board that feeds it"
    ),
    "a two-wire detector that its board does not list"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for fed in two_wire::fed(context) {
        let unlisted = || fed.detectors.iter().filter(|(_, sheet)| fed.feed.lists(sheet).is_none());
        let Some((first, sheet)) = unlisted().next() else { continue };
        let number = fed.known.zone.number.value;
        let board = &fed.known.part.name.value;
        let (here, help) = match &sheet.identifier {
            Some(identifier) => (
                format!("identifier {}", identifier.value),
                format!("Look for {} in the board's list of compatible detectors: where it stands there, write `listed \"{}\"` into the part's `loop-feed`. Else take a detector that is listed.", identifier.value, identifier.value),
            ),
            None => (
                "without an identifier".to_owned(),
                "Copy the compatibility identifier from the detector's sheet into its `loop-fed`, and those that the board's sheet lists into its `loop-feed`.".to_owned(),
            ),
        };
        let title = format!("{} of zone {number} is not listed for part `{board}`", Screen.device(site, *first));
        let finding = Diagnostic::new(&RULE, sheet.place.span, title)
            .here(here)
            .also(site.devices[*first].span(), "this detector")
            .also(fed.feed.span(), "what the board lists")
            .why("Two wires carry the supply and the alarm at once, so the two sheets must fit in volts, current and time. The makers try it out and list each for the other; no figure replaces that.")
            .help(help)
            .figure(format!("listing of two-wire detectors: {}", TWO_WIRE_LISTING.cited()))
            .about(number);
        sink.push(
            unlisted().skip(1).fold(finding, |finding, (id, _)| finding.also(site.devices[*id].span(), "and here")),
        );
    }
}
