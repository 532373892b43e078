//! A device on the way to the service on an output that the board takes away to reset detectors.

use crate::calc::power::Consumer;
use crate::calc::power::suits::fitting;
use crate::checks::supply::power_verdict::{fed_once, output_of};
use crate::checks::supply::power_words;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::HopRef;
use crate::words::Screen;

check!("hop-supply-reset", Basis::Works, "a device on the way to the service that a reset of detectors switches off");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for feeding in &context.power.feedings {
        for (node, load) in feeding.tree.loads() {
            // One with a backup of its own outlasts a reset.
            let is_hop = match load.consumer {
                Consumer::Hop(line, hop) => {
                    let hop = site.hop(HopRef { line, hop });
                    hop.is_some_and(|hop| hop.backup.is_none_or(|time| time.0 <= 0.0))
                }
                Consumer::Device(_) | Consumer::Board(_) => false,
            } && fed_once(site, load.consumer);
            if !is_hop || !output_of(site, &feeding.tree, node).is_some_and(|output| output.switched) {
                continue;
            }
            let outlet = feeding.tree.outlet_of(node);
            let other = fitting(site, outlet.board(), load.consumer).map(|(_, output)| output).next();
            let help = other.map_or_else(
                || "Feed it from an output that is always on and that no reset takes away.".to_owned(),
                |output| format!("Feed it from \"{}\", which no reset takes away.", output.name.value),
            );
            let who = Screen.consumer(site, load.consumer);
            let finding = Diagnostic::new(
                &RULE,
                power_words::span(site, load.consumer),
                format!("{who} hangs on {}, which a reset takes away", Screen.source(site, outlet)),
            )
            .here("starts anew at each reset")
            .also(power_words::source_span(site, outlet), "taken away to reset detectors")
            .why("The board takes this output away for some seconds to reset smoke detectors. A router or modem then needs minutes to come back, just after an alarm, and the next report waits or is lost.")
            .help(help);
            sink.push(about::consumer(site, load.consumer, finding));
        }
    }
}
