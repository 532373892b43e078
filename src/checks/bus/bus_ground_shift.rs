//! A module whose minus stands too far above the board's.

use crate::calc::power::{Demand, Supply};
use crate::checks::Context;
use crate::checks::bus::bus_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::bus::COMMON_MODE_BELOW;
use crate::quantity::Volts;

check!(
    "bus-ground-shift",
    Basis::Published("TIA-485-A, from memory"),
    "a module whose minus stands too far above the board's"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    for (id, figures) in context.buses {
        let bus = &context.site.buses[*id];
        let layout = &figures.layout;
        let places = (0..layout.places.len()).filter_map(|at| Some((at, figures.shifts.worst(at)?.0)));
        let Some((worst, shift)) = places.max_by(|(_, one), (_, other)| one.total_cmp(other)) else { continue };
        // Where a load has too little supply, that is the cause.
        if shift <= COMMON_MODE_BELOW.value || !bus.differential || starved(context, figures, worst) {
            continue;
        }
        let there = bus_words::place(context, layout, worst);
        let most = COMMON_MODE_BELOW.value;
        let title = format!("the minus at {there} stands {} above the board's", Volts(shift));
        let mut finding = Diagnostic::new(&RULE, bus.name.span, title)
            .here(format!("{most:.0} V at most"))
            .also(bus_words::place_span(context, layout, worst), "here")
            .why("The modules' supply current comes back through the minus conductor and lifts their end of it. A receiver reads the pair from 7 V below its own minus to 12 V above it; beyond, it reads nothing and may break.")
            .help("Feed the modules at the far end from a supply of their own, or take a heavier cable or a second pair for the supply (pairs=2, in a cable with two conductors more).");
        finding = finding.figure(format!("allowed: {most:.0} V ({})", COMMON_MODE_BELOW.source()));
        for (supply, what) in [(Supply::Mains, "on mains"), (Supply::Battery, "at the end of the battery")] {
            if let Some(shift) = figures.shifts.at(worst, supply, Demand::Alarm) {
                finding = finding.figure(format!("in alarm, hot wire, {what}: {shift}"));
            }
        }
        sink.push(bus_words::about(finding, bus));
    }
}

/// True where a load on the way to a place gets less than its least.
fn starved(context: Context<'_>, figures: &crate::calc::bus::BusFigures, place: usize) -> bool {
    let Some((feeding, _)) = figures.shifts.feeding(context.power, place) else { return false };
    feeding.flows.values().any(|flow| match flow {
        Ok(flow) => feeding.tree.loads().any(|(node, load)| {
            let volts = flow.volts.get(node).copied().flatten();
            volts.zip(load.min).is_some_and(|(volts, min)| volts.0 < min.0)
        }),
        Err(_) => true,
    })
}
