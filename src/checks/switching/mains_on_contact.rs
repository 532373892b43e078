//! Mains on a contact of the board.

use crate::checks::switching::hung::{MAINS, switched};
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!("mains-on-contact", Basis::Contradiction, "mains on a contact of an alarm board");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for one in switched(site) {
        for hung in one.hung(site).into_iter().filter(|hung| hung.volts.0 > MAINS.0) {
            let who = Screen.consumer(site, hung.consumer);
            let title =
                format!("{who} brings {} {} to {}", hung.volts, hung.kind.printed(), Screen.switch(site, one.of));
            let sheet = hung.part(site).and_then(|part| part.own_supply.as_ref());
            let finding = Diagnostic::new(&RULE, hung.span, title)
                .here("mains, or as good as mains")
                .also(one.span(), "on this contact");
            let finding = sheet.into_iter().fold(finding, |finding, own| finding.also(own.place.span, "by its sheet"));
            let finding = finding
                .why(format!("More than {:.0} V is mains for whoever touches it (common practice). Beside it in the board's box are bare screws and cables for a few volts, which the owner opens to change the battery. What one touches there can kill, whatever the relay's contact is rated for.", MAINS.0))
                .help("Let the board switch the coil of a relay that stands in a box of its own, and have a licensed electrician bring the mains to that relay's contact: the load is then that coil.");
            sink.push(about::consumer(site, hung.consumer, finding));
        }
    }
}
