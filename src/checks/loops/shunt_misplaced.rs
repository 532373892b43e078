//! A shunt where the loop's wiring has none, or a contact without the shunt that it needs.

use crate::base::Span;
use crate::checks::Context;
use crate::checks::loops::loop_known::resistors;
use crate::checks::loops::loop_remedy;
use crate::checks::loops::loop_verdict::{Cause, found, misplaced_shunts};
use crate::diag::{Basis, Certainty, Diagnostic, Sink};
use crate::model::Device;
use crate::terms::LoopWiring;
use crate::words::Screen;

check!(
    "shunt-misplaced",
    Basis::Contradiction,
    "a shunt where the loop's wiring has none, or a contact that lacks its shunt"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (readings, known, _) in found(context, |cause| *cause == Cause::ShuntMisplaced) {
        let (number, wiring) = (known.zone.number.value, known.wiring.word());
        let double = known.wiring == LoopWiring::DoubleEndOfLine;
        let devices = misplaced_shunts(site, readings.zone, known.wiring);
        let Some((first, others)) = devices.split_first() else { continue };
        let device = &site.devices[*first];
        let name = Screen.device(site, *first);
        let title = if double {
            format!("{name} of zone {number} has no shunt")
        } else {
            format!("{name} has a shunt in the {wiring} loop of zone {number}")
        };
        // As the other contacts of the loop have it, else as its resistor.
        let shunts =
            site.devices_of(readings.zone).filter_map(|(_, device)| device.shunt.as_ref()).map(|shunt| shunt.value);
        let fitted = resistors(site, readings.zone).into_iter().map(|(_, value)| value.value);
        let usual = shunts.chain(fitted).next().and_then(crate::quantity::Resistance::marking);
        let told = double && loop_remedy::without_alarm_band(&known).is_none();
        let shunt = usual.filter(|_| told).map(|value| format!("\"{value}\""));
        let mut finding = Diagnostic::new(&RULE, device.span(), title)
            .here(if double { "no shunt=" } else { "with a shunt=" })
            .also(known.wired.place.span, format!("the loop is {wiring}"))
            .why(if double {
                "In this wiring an alarm is told from a cut cable by the resistor across the contact. Without it, an opened door reads as a cut."
            } else {
                "A resistor across the contact keeps the loop closed when the contact opens: the board may never see it."
            })
            .help(if let Some(without) = loop_remedy::without_alarm_band(&known) {
                without
            } else if double && devices.iter().any(|device| site.devices[*device].fixed) {
                "No resistor gets to a contact that cannot be moved: wire the loop \"end-of-line\".".to_owned()
            } else if let Some(shunt) = &shunt {
                format!("Give the contact its resistor: shunt={shunt}, as the other resistors of the loop have, or the value that the board's sheet asks for.")
            } else if double {
                "Give the contact its resistor with shunt=, of the value that the board's sheet asks for.".to_owned()
            } else {
                "Leave shunt= out, or wire the loop \"double-end-of-line\" if the board has an alarm band for it.".to_owned()
            })
            .about(number);
        if let (Some(shunt), Some(behind)) = (shunt.filter(|_| others.is_empty()), behind(device)) {
            finding = finding.edit(Certainty::House, behind, format!(" shunt={shunt}"));
        }
        for other in others {
            finding = finding.also(site.devices[*other].span(), "and here");
        }
        sink.push(finding);
    }
}

/// The place behind a property of the device.
fn behind(device: &Device) -> Option<Span> {
    let opening = device.opening.as_ref().map(|opening| opening.span);
    opening.or_else(|| device.supply.as_ref().map(|supply| supply.span)).map(Span::behind)
}
