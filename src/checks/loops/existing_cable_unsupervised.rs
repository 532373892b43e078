//! A cable that was in the wall before, of which a cut or short reads normal: the loop is taken as it was found.

use crate::base::Id;
use crate::base::wording::{capital, count, list};
use crate::calc::LoopReadings;
use crate::calc::unseen::{self, Unseen};
use crate::checks::Context;
use crate::checks::loops::loop_known::Known;
use crate::checks::loops::loop_verdict::{Cause, found};
use crate::checks::loops::loop_words;
use crate::diag::{Basis, Diagnostic, Rule, Sink};
use crate::model::{Device, Owner, Run};
use crate::terms::{BandName, ZoneType};
use crate::words::Screen;

check!(
    "existing-cable-unsupervised",
    Basis::Practice,
    "a cable that was there before, of which a cut or short reads normal"
);

/// What can always be done.
const ACCEPT: &str = "accept this with the reason and the walk test that stands in for it";

fn run(context: Context<'_>, sink: &mut Sink) {
    report(context, &RULE, |kind| !kind.is_fire(), sink);
}

/// Reports the loops of the zones that are wanted.
pub(crate) fn report(context: Context<'_>, rule: &'static Rule, wanted: fn(ZoneType) -> bool, sink: &mut Sink) {
    for (readings, known, _) in found(context, |cause| *cause == Cause::ExistingUnseen) {
        if !known.zone.kind.as_ref().is_some_and(|kind| wanted(kind.value)) {
            continue;
        }
        let unseen = unseen::of(readings);
        let Some((first, others)) = unseen.split_first() else { continue };
        let number = known.zone.number.value;
        let reads = if unseen.iter().any(|unseen| unseen.certain) { "reads" } else { "may read" };
        let title = match others {
            [] => format!(
                "zone {number} {reads} normal with {} {}",
                Screen.cable(context.wiring, first.run),
                fault(&unseen)
            ),
            _ => format!("zone {number} {reads} normal with any of {} cables {}", unseen.len(), fault(&unseen)),
        };
        let mut finding = Diagnostic::new(rule, context.site.runs[first.run].span(), title)
            .here(hides(context, first))
            .why("The resistor supervises the cable between the board and itself, and nothing beyond. With such a fault the zone looks at rest for ever, whatever is opened behind it: only a walk test finds it.")
            .help(help(context, readings, &known))
            .about(number);
        for other in others {
            finding = finding.also(context.site.runs[other.run].span(), hides(context, other));
        }
        let states =
            loop_words::states(readings, |state| state.state.damage().is_some() && unseen::may_rest(readings, state));
        let finding = loop_words::figures(context, finding, states.get(..1).unwrap_or_default());
        sink.push(loop_words::bands(finding, known.sensing, &[BandName::Normal]));
    }
}

fn fault(unseen: &[Unseen]) -> &'static str {
    match (unseen.iter().any(|unseen| unseen.cut), unseen.iter().any(|unseen| unseen.shorted)) {
        (true, true) => "cut or shorted",
        (true, false) => "cut",
        (false, _) => "shorted",
    }
}

/// "cable `Z1-2`: hides `bay-window`".
fn hides(context: Context<'_>, unseen: &Unseen) -> String {
    let names: Vec<String> = unseen.hidden.iter().map(|device| Screen.contact(context.site, *device)).collect();
    let cable = Screen.cable(context.wiring, unseen.run);
    if names.is_empty() { cable } else { format!("{cable}: hides {}", list(&names, "and")) }
}

/// What can be done, and otherwise to accept it.
fn help(context: Context<'_>, readings: &LoopReadings, known: &Known<'_>) -> String {
    let site = context.site;
    let home = |run: &Id<Run>| site.runs[*run].upstream.is_none();
    let runs: Vec<Id<Run>> = site.runs_of(Owner::Zone(readings.zone)).map(|(run, _)| run).collect();
    let homes = runs.iter().filter(|run| home(run)).count();
    let fixed: Option<Id<Device>> =
        site.devices_of(readings.zone).find(|(_, device)| device.fixed).map(|(device, _)| device);
    if let Some(fixed) = fixed {
        let name = Screen.device(site, fixed);
        return format!("{name} cannot be moved, and no resistor gets behind it: {ACCEPT}.");
    }
    let Some(board) = known.wired.board.as_ref() else { return format!("{}.", capital(ACCEPT)) };
    let free = context.wiring.free_inputs(site, board.value);
    let each = homes == runs.len() && homes > 1;
    if each && free + 1 >= homes {
        let (name, free) = (Screen.board(site, board.value), count(free, "input", None));
        return format!(
            "{name} has {free} free: give each of the {homes} cables a zone of its own, with the whole resistor at its far end. If that cannot be, {ACCEPT}."
        );
    }
    let branched = runs.iter().any(|run| site.runs[*run].branch) || homes > 1;
    match loop_words::last_place(context, readings).filter(|_| !branched) {
        Some(last) => format!(
            "Put the whole resistor at the far end of {}, behind everything else. If that cannot be, {ACCEPT}.",
            Screen.cable(context.wiring, last)
        ),
        None => format!("{}.", capital(ACCEPT)),
    }
}
