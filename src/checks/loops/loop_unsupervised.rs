//! A loop without a resistor: one kind of cable fault is not seen.

use crate::base::Id;
use crate::calc::network;
use crate::checks::Context;
use crate::checks::loops::loop_known::{Known, known, takes_short_for_rest};
use crate::checks::loops::loop_verdict::Cause;
use crate::diag::{Basis, Diagnostic, Rule, Sink};
use crate::model::{Site, Zone};
use crate::terms::{ContactForm, LoopWiring, ZoneType};
use crate::words::Screen;

check!("loop-unsupervised", Basis::Practice, "a loop without a resistor, of which one cable fault is not seen");

fn run(context: Context<'_>, sink: &mut Sink) {
    report(context, &RULE, |kind| !kind.is_fire(), sink);
}

/// Reports the loops without supervision of the zones that are wanted, unless an error is told of them: it cannot be accepted, and
/// what remedies it may be the resistor.
pub(crate) fn report(context: Context<'_>, rule: &'static Rule, wanted: fn(ZoneType) -> bool, sink: &mut Sink) {
    let unfit = |zone| context.verdicts.get(zone).is_some_and(|causes| causes.iter().any(Cause::is_error));
    for zone in context.loops.keys().filter(|zone| !unfit(zone)) {
        let Some(known) = known(context.site, *zone).filter(|known| !known.wiring.is_supervised()) else { continue };
        let Some(kind) = known.zone.kind.as_ref().filter(|kind| wanted(kind.value)) else { continue };
        let number = known.zone.number.value;
        let fault = match known.wiring {
            LoopWiring::NormallyOpen => "a cut cable",
            LoopWiring::NormallyClosed | LoopWiring::EndOfLine | LoopWiring::DoubleEndOfLine | LoopWiring::TwoWire => {
                "a shorted cable"
            }
        };
        let button = matches!(kind.value, ZoneType::PanicAudible | ZoneType::PanicSilent | ZoneType::Medical);
        let why = if button || kind.value.is_fire() {
            "This zone is there for the one day on which it is needed, and nobody would know before that its cable has failed."
        } else {
            "One nail or one pair of pliers silences the zone, and it looks at rest ever after. Only a walk test finds it."
        };
        let finding = Diagnostic::new(rule, known.wired.place.span, format!("{fault} of zone {number} reads normal"))
            .here(known.wiring.word())
            .why(why)
            .help(help(context.site, *zone, &known))
            .about(number);
        sink.push(finding);
    }
}

fn help(site: &Site, zone: Id<Zone>, known: &Known<'_>) -> String {
    let accept = "accept this with the reason and the test that stands in for it";
    let end_of_line = known.part.sensing_for(Some(LoopWiring::EndOfLine));
    let fire = known.zone.kind.as_ref().is_some_and(|kind| kind.value.is_fire());
    // In a fire loop with a resistor a contact that opens in alarm is another finding.
    let opens = fire && has_closed_contact(site, zone);
    if end_of_line.is_some_and(takes_short_for_rest) {
        let other = if opens { ", and take detectors with contacts that are open at rest (`form=\"NO\"`)" } else { "" };
        return format!(
            "By its bands this input takes a short for a loop at rest, with a resistor or without: sense the loop by an input with a band for a short{other}, or {accept}."
        );
    }
    let take = if opens {
        "Take detectors with contacts that are open at rest (`form=\"NO\"`), and wire it"
    } else {
        "Wire it"
    };
    match site.devices_of(zone).find(|(_, device)| device.fixed) {
        Some((fixed, _)) => {
            format!("{} cannot be moved, and no resistor gets behind it: {accept}.", Screen.device(site, fixed))
        }
        None => format!(
            "{take} \"end-of-line\", with the resistor at the last place and the board's input set for it; if that cannot be, {accept}."
        ),
    }
}

/// True where a contact of the loop opens it in alarm.
fn has_closed_contact(site: &Site, zone: Id<Zone>) -> bool {
    let form = |device| network::contact(site, device).map(|contact| contact.0);
    let mut devices = network::devices(site, zone).filter(|device| !network::watches_supply(site, *device));
    devices.any(|device| form(device) == Some(ContactForm::NormallyClosed))
}
