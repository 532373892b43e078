//! A cut or short of a supervised loop that the board takes for a loop at rest, or may in the worst case.

use crate::base::Id;
use crate::calc::state::Damage;
use crate::calc::{LoopReadings, StateReading, two_wire, unseen};
use crate::checks::Context;
use crate::checks::loops::loop_known::{Known, resistors};
use crate::checks::loops::loop_verdict::{Cause, found};
use crate::checks::loops::loop_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Run;
use crate::terms::BandName;
use crate::words::Screen;

check!(
    "loop-fault-reads-normal",
    Basis::Contradiction,
    "a cut or short of a supervised loop that the board takes for normal, or may"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (readings, known, _) in found(context, |cause| *cause == Cause::FaultNormal) {
        let number = known.zone.number.value;
        let mut states =
            loop_words::states(readings, |state| unseen::may_rest(readings, state) && is_new(context, state));
        states.sort_by_key(|state| !unseen::rests(state));
        let Some(first) = states.first() else { continue };
        let fault = Screen.state(context.site, context.wiring, first.state);
        let reads = if states.iter().any(|state| unseen::rests(state)) { "reads" } else { "may read" };
        let resistors = resistors(site, readings.zone);
        let at_board = resistors.iter().find(|(at, _)| at.is_none());
        let branch = states.iter().filter_map(|state| run_of(state)).find(|run| loop_words::on_branch(site, *run));
        let (span, title) = match (at_board, branch) {
            (Some((_, resistor)), _) => (
                resistor.span,
                format!("the resistor of zone {number} stands at the board: with {fault} it {reads} normal"),
            ),
            (None, Some(run)) => {
                let cable = Screen.cable(context.wiring, run);
                (site.runs[run].span(), format!("zone {number} {reads} normal with {fault}: {cable} is on a branch"))
            }
            (None, None) => (known.wired.place.span, format!("zone {number} {reads} normal with {fault}")),
        };
        let mut finding = Diagnostic::new(&RULE, span, title)
            .here(if at_board.is_some() { "at the board" } else { "seen as a loop at rest" })
            .why("A resistor supervises the cable between the board and itself, and nothing beyond. A fault there goes unseen for years, and with it every contact behind it.")
            .help(help(context, readings, &known, &states))
            .about(number);
        for run in states.iter().filter_map(|state| run_of(state)).collect::<std::collections::BTreeSet<_>>() {
            finding = finding.also(site.runs[run].span(), Screen.cable(context.wiring, run));
        }
        let finding = loop_words::figures(context, finding, &states);
        sink.push(loop_words::bands(finding, known.sensing, &[BandName::Normal]));
    }
}

/// True for a fault of a cable that was not there before.
fn is_new(context: Context<'_>, reading: &StateReading) -> bool {
    run_of(reading).is_some_and(|run| !context.site.is_existing(run))
}

fn run_of(reading: &StateReading) -> Option<Id<Run>> {
    reading.state.damage().map(|(run, _)| run)
}

/// Where the resistor has to go. What was there before may stay, once it is said to have been there.
fn help(context: Context<'_>, readings: &LoopReadings, known: &Known<'_>, states: &[&StateReading]) -> String {
    let runs: std::collections::BTreeSet<Id<Run>> = states.iter().filter_map(|state| run_of(state)).collect();
    let cables = if runs.len() == 1 { "this cable is" } else { "these cables are" };
    if let Some(blind) = loop_words::short_unread(known).filter(|_| states.iter().all(|state| is_short(state))) {
        return blind.to_owned();
    }
    let all_cut = states.iter().all(|state| matches!(state.state.damage(), Some((_, Damage::Cut))));
    if let Some(blind) = loop_words::open_unread(known).filter(|_| all_cut) {
        return blind;
    }
    if all_cut && two_wire::feeds(&readings.network) && loop_words::resistor_to_last(context, readings).is_none() {
        return "With this cable cut the detectors before it go on taking their current, and the volts that they leave lie in the band for normal. Put fewer of them on this loop, copy the bands again from the board's sheet, or sense it by another input.".to_owned();
    }
    let to_move = loop_words::resistor_to_last(context, readings).unwrap_or_else(|| {
        "The resistor stands at the last place already, and the cable itself adds what is read: take a heavier or shorter one, or sense the loop by another input.".to_owned()
    });
    format!("{to_move} If {cables} in the wall already, write existing=#true on the run.")
}

fn is_short(reading: &StateReading) -> bool {
    matches!(reading.state.damage(), Some((_, Damage::ShortNear | Damage::ShortFar)))
}
