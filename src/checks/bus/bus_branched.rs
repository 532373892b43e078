//! A bus with branches, or wired as a star.

use crate::base::wording::{count, list};
use crate::calc::bus::Stub;
use crate::checks::Context;
use crate::checks::bus::bus_verdict::{Cause, found};
use crate::checks::bus::bus_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::bus::STUB;
use crate::words::Screen;

check!(
    "bus-branched",
    Basis::Published("application notes on TIA-485-A, from memory"),
    "a bus with branches, or wired as a star"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (bus, figures, _) in found(context, |cause| *cause == Cause::Branched) {
        let layout = &figures.layout;
        let stubs = layout.long_stubs();
        let Some(first) = stubs.first() else { continue };
        let here: Vec<&Stub> = stubs.iter().filter(|stub| stub.junction == first.junction).collect();
        let junction = bus_words::place(context, layout, first.junction);
        let mut arms = layout.arms(first.junction);
        let star = here.len() > 1 || first.junction == 0;
        let name = &bus.name.value;
        let title = if star {
            format!("bus `{name}` is a star: {} leave {junction}", count(arms.len(), "cable", None))
        } else {
            format!("bus `{name}` has a branch of {} at {junction}", bus_words::length(context, first.length))
        };
        let mut finding = Diagnostic::new(&RULE, bus.name.span, title)
            .here(if star { "one pair of data wires with many ends" } else { "one pair of data wires with a third end" })
            .why("A signal that runs into a branch comes back from its end and falls into the next bit. A bus is one cable with two ends; it passes each board, and terminators at the two ends take up what arrives.");
        for arm in &arms {
            // The cable between the two: that of whichever stands after the other.
            let later = if layout.places.get(arm.first).is_some_and(|place| place.before == first.junction) {
                arm.first
            } else {
                first.junction
            };
            let Some(run) = layout.places.get(later).and_then(|place| place.run) else { continue };
            let what = if layout.trunk.contains(&arm.first) {
                "the longest way passes here"
            } else if stubs.contains(arm) {
                "this arm is a branch"
            } else {
                "this one is short enough"
            };
            finding = finding.also(site.runs[run].span(), what);
        }
        for stub in stubs.iter().filter(|stub| stub.junction != first.junction) {
            finding = finding.also(bus_words::place_span(context, layout, stub.first), "another branch");
        }
        // Its ends are known when it is one cable; how many terminators that then takes is known now.
        if layout.terminators.len() != 2 {
            finding = finding.figure(format!(
                "{} on it; one cable has one at each of its two ends, and no other",
                count(layout.terminators.len(), "terminator", None)
            ));
        }
        for stub in &stubs {
            let run = layout.places.get(stub.first).and_then(|place| place.run);
            let cable = run.map_or_else(String::new, |run| Screen.cable(context.wiring, run));
            finding = finding.figure(format!("branch by {cable}: {}", bus_words::length(context, stub.length)));
        }
        let finding = finding.figure(bus_words::stub_limit(context));
        // From the board one cable goes out, so all its long arms but the longest are passed on the way to that.
        arms.retain(|arm| arm.length.0 > STUB.value);
        arms.sort_by(|one, other| one.length.0.total_cmp(&other.length.0));
        // The bus starts at its board, so an arm that leads back to that is gone along already.
        let to_start = |arm: &Stub| {
            first.junction != 0 && layout.places.get(first.junction).is_some_and(|at| at.before == arm.first)
        };
        let start_is_branch = stubs.iter().any(&to_start);
        arms.retain(|arm| !start_is_branch || !to_start(arm));
        let on = if first.junction == 0 || start_is_branch { arms.pop() } else { None };
        let passed = if on.is_some() { &arms } else { &stubs };
        let mut way: Vec<String> = passed
            .iter()
            .map(|arm| format!("out to {} and back", bus_words::place(context, layout, arm.first)))
            .collect();
        way.extend(on.map(|arm| format!("on to {}", bus_words::place(context, layout, arm.first))));
        let help = format!(
            "Lead one cable from place to place: {}, as runs one after the other, none from=\"board\". The run that follows gets the way back added to its length.",
            list(&way, "and then"),
        );
        sink.push(bus_words::about(finding.help(help), bus));
    }
}
