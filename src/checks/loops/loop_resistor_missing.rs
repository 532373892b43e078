//! A loop that should have a resistor and has none.

use crate::base::Id;
use crate::checks::Context;
use crate::checks::loops::loop_known::{judged_by, takes_short_for_rest};
use crate::checks::loops::loop_remedy;
use crate::checks::loops::loop_verdict::{Cause, found};
use crate::checks::loops::loop_words;
use crate::diag::{Basis, Certainty, Diagnostic, Sink};
use crate::model::{Device, Mounted, Run};
use crate::quantity::Resistance;
use crate::terms::BandName;
use crate::words::Screen;

check!("loop-resistor-missing", Basis::Contradiction, "a loop that should have a resistor and has none");

fn run(context: Context<'_>, sink: &mut Sink) {
    for (readings, known, _) in found(context, |cause| *cause == Cause::ResistorMissing) {
        let number = known.zone.number.value;
        let blind = loop_words::short_unread(&known).filter(|_| judged_by(&known).is_some_and(takes_short_for_rest));
        let change = judged_by(&known)
            .filter(|_| blind.is_none())
            .and_then(|sensing| loop_remedy::resistor(context.site, readings, known.wiring, sensing));
        let value = change.and_then(|change| change.resistors).and_then(Resistance::marking);
        let shunts = change.and_then(|change| change.shunts).map_or_else(String::new, |_| {
            format!(", and take the same value {}", loop_remedy::for_shunts(context, readings))
        });
        let node = value.as_ref().map_or_else(
            || "`resistor` with the value of the board's sheet".to_owned(),
            |value| format!("`resistor \"{value}\"`"),
        );
        let place = loop_words::last_place(context, readings).map_or_else(
            || "at the last place of the loop".to_owned(),
            |run| format!("at the far end of {}", Screen.cable(context.wiring, run)),
        );
        let finding = Diagnostic::new(&RULE, known.wired.place.span, format!("the loop of zone {number} has no resistor"))
            .here(format!("{} needs one", known.wiring.word()))
            .why("The board knows this loop by its resistor: with it the loop is at rest, without it the zone shows a fault from the first day.")
            .help(blind.map_or_else(|| format!("Put {node} {place}{shunts}."), str::to_owned))
            .about(number);
        let last = loop_words::last_place(context, readings).and_then(|run| last_device(context, run));
        let finding = match (value, last, shunts.is_empty()) {
            (Some(value), Some(device), true) => {
                finding.edit(Certainty::House, device.span().behind(), format!("; resistor \"{value}\""))
            }
            _ => finding,
        };
        let finding =
            readings.states.first().map_or(finding.clone(), |rest| loop_words::figures(context, finding, &[rest]));
        sink.push(loop_words::bands(finding, known.sensing, &[BandName::Normal]));
    }
}

/// What is mounted last at the far end of a run.
fn last_device(context: Context<'_>, run: Id<Run>) -> Option<&Device> {
    let device = context.site.runs[run].mounted.iter().rev().find_map(Mounted::device)?;
    Some(&context.site.devices[device])
}
