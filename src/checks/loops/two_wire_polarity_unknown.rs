//! A two-wire detector of which nobody says which terminal is positive.

use crate::checks::Context;
use crate::checks::loops::two_wire;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!("two-wire-polarity-unknown", Basis::Practice, "a two-wire detector without its polarity");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for fed in two_wire::fed(context) {
        let unknown = fed.detectors.iter().find(|(_, sheet)| {
            let marked = sheet.positive.is_some() && sheet.negative.is_some() && fed.feed.positive.is_some();
            !sheet.either_way && !marked
        });
        let Some((detector, sheet)) = unknown else { continue };
        let number = fed.known.zone.number.value;
        let (lacks, help) = if fed.feed.positive.is_none() {
            (
                "the board does not say which terminal is positive",
                "Write positive=\"signal\" or positive=\"return\" into the board's `loop-feed`, as its sheet shows it.",
            )
        } else {
            (
                "its terminals have no marks",
                "Write positive= and negative= into the detector's `loop-fed`, or either-way=#true where its sheet says so.",
            )
        };
        let title = format!("how {} of zone {number} is landed is not known: {lacks}", Screen.device(site, *detector));
        sink.push(
            Diagnostic::new(&RULE, sheet.place.span, title)
                .here("the detector's sheet")
                .also(site.devices[*detector].span(), "this detector")
                .also(fed.feed.span(), "the board's sheet")
                .why("A detector that is landed the wrong way round passes no current: the loop looks at rest on every meter, and nothing ever alarms.")
                .help(help)
                .about(number),
        );
    }
}
