//! A device that works, at the end of a cable that takes much of its supply.

use crate::calc::power::judge::{DROP, Drop};
use crate::calc::power::{Case, Supply, Wire};
use crate::checks::supply::power_verdict;
use crate::checks::supply::power_words;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Source;
use crate::profiles::bus::COMMON_MODE_BELOW;
use crate::quantity::Ratio;
use crate::words::{self, Screen};

check!("supply-drop-large", Basis::Practice, "a cable that takes over a tenth of the supply");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for feeding in power_verdict::open(context) {
        for branch in power_verdict::fed_well(feeding) {
            let Some(found) = feeding.greatest_drop(branch) else { continue };
            let Drop { node, load, demand, supply, lost: drop } = found;
            if found.share() <= DROP * (1.0 + 1e-9) {
                continue;
            }
            // Half of it is lost in the minus; on a bus so much is a finding of its own, `bus-ground-shift`.
            let on_bus = matches!(feeding.tree.source, Source::Port(..));
            if on_bus && drop.0 / 2.0 > COMMON_MODE_BELOW.value {
                continue;
            }
            let who = Screen.consumer(site, load.consumer);
            let when = words::demand(demand);
            let share = Ratio((found.share() * 1000.0).round() / 1000.0);
            let least = load.min.map_or_else(String::new, |min| format!(" of at least {min}"));
            let title = format!("{drop} of {supply} are lost on the way to {who} {when}");
            let finding = Diagnostic::new(&RULE, power_words::span(site, load.consumer), title)
                .here(format!("{share} lost"))
                .why("It works by its sheet, and little is left for a joint that corrodes or the next detector on this cable. Common practice (the budget rule) keeps the drop at the last device under a tenth of the supply.")
                .help(format!("Take heavier conductors for the cable with the greatest drop, or join a free pair of it to the supply. Accept it if the need{least} and the margin on the power sheet are enough for you."));
            let in_case = Case { supply: Supply::Mains, demand, wire: Wire::Hot };
            let finding = power_words::way(context, finding, feeding, node, in_case);
            sink.push(about::consumer(site, load.consumer, finding));
        }
    }
}
