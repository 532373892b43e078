//! An alarm that the board takes for a loop at rest.

use crate::calc::State;
use crate::checks::Context;
use crate::checks::loops::loop_known::{is_alarm, is_normal};
use crate::checks::loops::loop_remedy;
use crate::checks::loops::loop_verdict::{Cause, found};
use crate::checks::loops::loop_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::terms::BandName;
use crate::words::Screen;

check!("loop-alarm-reads-normal", Basis::Contradiction, "an alarm that the board takes for a loop at rest");

fn run(context: Context<'_>, sink: &mut Sink) {
    for (readings, known, _) in found(context, |cause| *cause == Cause::AlarmNormal) {
        let number = known.zone.number.value;
        let states = loop_words::states(readings, |state| is_alarm(state) && is_normal(state));
        let Some(first) = states.first() else { continue };
        let title =
            format!("zone {number} reads normal with {}", Screen.state(context.site, context.wiring, first.state));
        let or_else = if let State::SupplyLost(device) = first.state {
            // Every alarm contact lies across the pair, and so does the resistor where it stands before this contact.
            format!(
                "Let the resistor stand behind {}, as the last thing of the loop: the contact is between the alarm contacts and the resistor, and opens the loop when the supply is lost.",
                Screen.device(context.site, device)
            )
        } else {
            "Choose the shunt so that the loop with it lies in the board's alarm band, and see that no other resistor lies across what the contact opens or closes.".to_owned()
        };
        let mut finding = Diagnostic::new(&RULE, known.wired.place.span, title)
            .here("this loop")
            .why("What the zone is there to report would happen, and nothing would be reported.")
            .help(loop_remedy::help(context, readings, &known, &or_else))
            .about(number);
        for state in &states {
            if let State::Alarm(device) | State::Cover(device) | State::SupplyLost(device) = state.state {
                finding = finding.also(context.site.devices[device].span(), "not seen");
            }
        }
        let finding = loop_words::figures(context, finding, &states);
        sink.push(loop_words::bands(finding, known.sensing, &[BandName::Normal, BandName::Alarm]));
    }
}
