//! A contact or resistor that a loop's wiring does not have.

use crate::checks::Context;
use crate::checks::loops::loop_known::{resistors, takes_short_for_rest};
use crate::checks::loops::loop_verdict::{Cause, found, unfit_contacts};
use crate::diag::{Basis, Certainty, Diagnostic, Sink};
use crate::terms::LoopWiring;
use crate::words::Screen;

check!("loop-wiring-unfit", Basis::Contradiction, "a contact or resistor that the loop's wiring does not have");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (readings, known, _) in found(context, |cause| *cause == Cause::WiringUnfit) {
        let (number, wiring) = (known.zone.number.value, known.wiring.word());
        let contacts = unfit_contacts(site, readings.zone, known.wiring);
        let title = match contacts.first() {
            Some(first) => {
                format!("{} does not belong in the {wiring} loop of zone {number}", Screen.device(site, *first))
            }
            None => format!("the {wiring} loop of zone {number} has a resistor"),
        };
        let end_of_line = known.part.sensing_for(Some(LoopWiring::EndOfLine));
        let blind = end_of_line.is_some_and(takes_short_for_rest);
        let why = if contacts.is_empty() {
            "This wiring has no resistor: the board waits for a plain open or shut loop, and with a resistor in it it reads something between."
        } else {
            "A contact that is open at rest keeps a series loop open, and one that is closed at rest shorts a loop whose contacts lie across the pair. Either way the zone is never at rest, or never in alarm."
        };
        let mut finding = Diagnostic::new(&RULE, known.wired.place.span, title)
            .here(format!("{wiring} loop"))
            .why(why)
            .help(if contacts.is_empty() && blind {
                "Take the resistor out: by its bands this input takes a short for a loop at rest, with a resistor or without."
            } else if contacts.is_empty() {
                "Write \"end-of-line\" if the board's input is set for a resistor; take the resistor out if not."
            } else if contacts.iter().any(|contact| site.devices[*contact].fixed) {
                "It cannot be exchanged: give it a zone of its own, or wire the loop \"end-of-line\" with a resistor at the last place."
            } else {
                "Take the contact's other form, give it a zone of its own, or wire the loop \"end-of-line\" with a resistor at the last place."
            })
            .about(number);
        for contact in contacts {
            let form = crate::calc::network::contact(site, contact).map_or("", |contact| contact.0.word());
            finding = finding.also(site.devices[contact].span(), format!("its contact is {form}"));
        }
        let fitted = !resistors(site, readings.zone).is_empty();
        if !known.wiring.is_supervised() {
            for (_, value) in resistors(site, readings.zone) {
                finding = finding.also(value.span, "a resistor");
            }
        }
        let wiring = known.wired.wiring.as_ref().filter(|_| fitted && !blind);
        sink.push(match wiring {
            Some(wiring) => finding.edit(Certainty::Likely, wiring.span, "\"end-of-line\""),
            None => finding,
        });
    }
}
