//! A supply with little left.

use crate::calc::power::Demand;
use crate::calc::power::judge::SPARE;
use crate::checks::Context;
use crate::checks::supply::power_verdict;
use crate::checks::supply::power_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::Amperes;
use crate::words::{self, Screen};

check!("output-nearly-full", Basis::Practice, "a supply with less than a tenth of its limit left");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let limits = power_verdict::open(context).flat_map(|feeding| feeding.limits().map(move |limit| (feeding, limit)));
    for (feeding, (node, limit)) in limits {
        let spare = feeding.spare(node, limit);
        if spare >= SPARE {
            continue;
        }
        let (idle, alarm) = (feeding.current_at(node, Demand::Idle), feeding.current_at(node, Demand::Alarm));
        let (most, when) = if alarm >= idle { (alarm, Demand::Alarm) } else { (idle, Demand::Idle) };
        let source = feeding.tree.outlet_of(node);
        let board = source.board();
        let what = Screen.source(site, source);
        let left = Amperes((limit.0 - most.0).max(0.0));
        let title = format!("{what} has {left} left of {limit}");
        let finding = Diagnostic::new(&RULE, site.boards[board].name.span, title)
            .here(format!("{most} {}", words::demand(when)))
            .also(power_words::source_span(site, source), format!("limit {limit}"))
            .why("Sheets give usual currents, and houses grow: the next detector goes where there is a supply. Common practice leaves a tenth of it free.")
            .figure(format!("left: {}", words::share(spare.max(0.0), 1000.0)))
            .help("Spread the load over the board's outputs, or plan a supply of its own for what comes next.")
            .about(&site.boards[board].name.value);
        sink.push(power_words::itemised(site, finding, feeding, node, when));
    }
}
