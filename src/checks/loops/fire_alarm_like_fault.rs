//! An alarm of a fire zone that its board does not tell from a cut cable or a lost supply.

use crate::base::Id;
use crate::calc::{LoopReadings, State, StateReading};
use crate::checks::Context;
use crate::checks::loops::loop_known::Known;
use crate::checks::loops::loop_verdict::{Cause, found, is_trouble, like_a_fault, tells_shorts};
use crate::checks::loops::loop_words;
use crate::checks::zones::zone_reports_otherwise;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Device, Site};
use crate::terms::ContactForm;
use crate::words::{self, Screen};

check!(
    "fire-alarm-like-fault",
    Basis::Published("NFPA 72, edition not named, from memory: an alarm is told from a trouble"),
    "an alarm of a fire zone that reads as a cut cable or a lost supply does"
);

/// A two-wire detector that holds other volts in alarm than its board takes for one.
fn held_too_low(context: Context<'_>, known: &Known<'_>, states: &[&StateReading], first: &StateReading) -> Diagnostic {
    let (site, number) = (context.site, known.zone.number.value);
    let alarm = Screen.state(site, context.wiring, first.state);
    let title =
        format!("zone {number} reads {} with {alarm}, as with a fault of its cable", words::reads(first.reading));
    let finding = Diagnostic::new(&RULE, known.wired.place.span, title)
        .here("alarm, or fault?")
        .why("The board has a band for an alarm, and one for a shorted cable and one for a cut. What a two-wire detector holds in alarm lies in none but those here: the board takes a fire for a fault, and nobody leaves the house for a fault.")
        .help("Compare alarm-min= and alarm-max= of the detector, and the bands of the board, with their sheets. Where both are right, take a detector that the board's sheet lists.")
        .about(number);
    let alone =
        states.iter().filter_map(|state| if let State::Alarm(device) = state.state { Some(device) } else { None });
    let finding =
        alone.fold(finding, |finding, device| finding.also(site.devices[device].span(), "holds these volts in alarm"));
    loop_words::bands(loop_words::figures(context, finding, states), known.sensing, &[])
}

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    // A detector of something else in such a zone is the finding, and no matter of its contact.
    let of_fire = |readings: &LoopReadings| zone_reports_otherwise::other(site, readings.zone).is_none();
    for (readings, known, _) in
        found(context, |cause| *cause == Cause::AlarmLikeFault).filter(|(readings, ..)| of_fire(readings))
    {
        let number = known.zone.number.value;
        let mut states = like_a_fault(readings, &known);
        let Some(first) = states.first().copied() else { continue };
        if tells_shorts(&known) {
            sink.push(held_too_low(context, &known, &states, first));
            continue;
        }
        let same = |state: &&StateReading| is_trouble(state) && state.reading.verdict == first.reading.verdict;
        let lost = readings.states.iter().filter(same).find(|state| matches!(state.state, State::SupplyLost(_)));
        let cut = readings.states.iter().filter(same).find(|state| matches!(state.state, State::Cut(_)));
        let title = format!(
            "zone {number} reads {} with {}, as with {}",
            words::reads(first.reading),
            Screen.state(site, context.wiring, first.state),
            match (cut, lost) {
                (Some(_), Some(_)) => "a cut cable or its supply lost",
                (Some(_), None) => "a cut cable",
                (None, _) => "its supply lost",
            }
        );
        if let Some(relay) = lost.and_then(|state| closes_when_lost(site, state.state)) {
            let finding = Diagnostic::new(&RULE, known.wired.place.span, title)
                .here("alarm, or fault?")
                .also(site.devices[relay].span(), "closes across the pair when its supply fails")
                .why("In a fire loop with a resistor an alarm closes across the pair. A relay that closes there as well when the supply fails shows a fire where there is none.")
                .help(format!(
                    "Take a relay whose contact is closed while it has its supply (`form=\"NC\"`) in the place of {}, before the resistor: it opens the loop when the supply fails.",
                    Screen.device(site, relay)
                ))
                .about(number);
            states.extend(lost);
            let finding = loop_words::figures(context, finding, &states);
            sink.push(loop_words::bands(finding, known.sensing, &[]));
            continue;
        }
        let mut finding = Diagnostic::new(&RULE, known.wired.place.span, title)
            .here("alarm, or fault?")
            .why("In a fire loop with a resistor an alarm closes across the pair, and an open loop is a fault. A detector whose contact opens shows a fault where there is a fire, and nobody leaves the house for a fault.")
            .about(number);
        let mut fixed = None;
        for state in &states {
            if let State::Alarm(device) = state.state {
                finding = finding.also(site.devices[device].span(), "opens the loop in alarm");
                fixed = fixed.or(Some(device).filter(|device| site.devices[*device].fixed));
            }
        }
        let finding = finding.help(match fixed {
            Some(device) => format!(
                "{} cannot be exchanged: bring it to an input whose board tells its alarm from a cut, or accept this with the reason.",
                Screen.device(site, device)
            ),
            None => "Take the detector with a contact that is open at rest (`form=\"NO\"`), and write it before the resistor of its place.".to_owned(),
        });
        states.extend(cut);
        states.extend(lost);
        let finding = loop_words::figures(context, finding, &states);
        sink.push(loop_words::bands(finding, known.sensing, &[]));
    }
}

/// The relay whose supply is lost in a state, where its contact is open while it has its supply, and closes then.
fn closes_when_lost(site: &Site, state: State) -> Option<Id<Device>> {
    let State::SupplyLost(relay) = state else { return None };
    let contacts = &site.device_part(relay)?.contacts;
    contacts.iter().any(|contact| contact.form == ContactForm::NormallyOpen).then_some(relay)
}
