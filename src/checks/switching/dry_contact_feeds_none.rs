//! A dry contact that is to give a supply.

use crate::base::wording::list;
use crate::calc::power::Consumer;
use crate::calc::power::suits::fitting;
use crate::checks::switching::hung::switched;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{DeviceKind, Fed, Site};
use crate::words::Screen;

check!("dry-contact-feeds-none", Basis::Contradiction, "a dry contact on which something hangs that needs a supply");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for one in switched(site).filter(|one| one.switching.dry) {
        let mut dark = site.consumers_on(one.id).filter_map(|(fed, span)| Some((needy(site, fed)?, span)));
        let Some((first, span)) = dark.next() else { continue };
        let outputs = fitting(site, one.of.board, first).map(|(_, output)| format!("output=\"{}\"", output.name.value));
        let outputs: Vec<String> = outputs.collect();
        let title =
            format!("nothing feeds {}: {} is a dry contact", Screen.consumer(site, first), Screen.switch(site, one.of));
        let finding = Diagnostic::new(&RULE, span, title)
            .here("gets no supply")
            .also(one.span(), "switches, and gives nothing")
            .also(one.circuit.name.span, "without output=")
            .why("A contact opens and closes a supply that something else gives. Without output= only a load with a supply of its own (own-supply in its part) can hang on it.")
            .help(if stays(site, first) && !outputs.is_empty() {
                format!(
                    "Write {} in place of switch=, and leave contact= and each drive out: this needs its supply all the time.",
                    list(&outputs, "or")
                )
            } else if outputs.is_empty() {
                "Write output= with an output of the board: the contact then stands in its positive.".to_owned()
            } else {
                format!("Write {}: the contact then stands in its positive.", list(&outputs, "or"))
            });
        let finding = about::consumer(site, first, finding);
        sink.push(
            dark.fold(finding, |finding, (other, span)| {
                about::consumer(site, other, finding.also(span, "nor does this"))
            }),
        );
    }
}

/// True for what must have its supply all the time, so that no contact may stand in it.
fn stays(site: &Site, consumer: Consumer) -> bool {
    match consumer {
        Consumer::Device(id) => !matches!(site.devices[id].kind, DeviceKind::Sounder | DeviceKind::Load),
        Consumer::Hop(..) | Consumer::Board(_) => true,
    }
}

/// What needs a supply from outside, by its part. A hop always does; a part without any is another rule's.
fn needy(site: &Site, fed: Fed) -> Option<Consumer> {
    match fed {
        Fed::Hop(hop) => Some(Consumer::Hop(hop.line, hop.hop)),
        Fed::Device(id) => {
            let part = site.device_part(id)?;
            let on_contact = matches!(site.devices[id].kind, DeviceKind::Sounder | DeviceKind::Load);
            (part.supply.is_some() && !(on_contact && part.own_supply.is_some())).then_some(Consumer::Device(id))
        }
    }
}
