//! A smoke detector that the board cannot reset.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::calc::power::suits::fitting;
use crate::calc::power::{Consumer, Load, Tree};
use crate::checks::supply::power_verdict;
use crate::checks::supply::power_verdict::output_of;
use crate::checks::supply::power_words;
use crate::checks::{Context, about, accept};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Circuit, Site, Source, Zone};
use crate::terms::{Senses, When};
use crate::words::Screen;

check!("smoke-supply-unswitched", Basis::Works, "a smoke detector on a supply that the board does not take away");

/// What makes detectors one finding: their supply, their zone, and whether it is accepted of them.
type Together = (Source, Option<Id<Zone>>, bool);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for feeding in &context.power.feedings {
        // What is accepted of one detector is not accepted of another.
        let mut by_zone: BTreeMap<Together, Vec<Consumer>> = BTreeMap::new();
        for (node, load) in feeding.tree.loads() {
            let Consumer::Device(id) = load.consumer else { continue };
            let device = &site.devices[id];
            if is_never_reset(site, &feeding.tree, node, load) {
                let accepted = accept::is_accepted_of(site, RULE.slug, device);
                by_zone.entry((feeding.tree.outlet_of(node), device.zone, accepted)).or_default().push(load.consumer);
            }
        }
        for ((outlet, ..), devices) in by_zone {
            let [first, others @ ..] = devices.as_slice() else { continue };
            let switched = fitting(site, outlet.board(), *first).map(|(_, output)| output).next();
            let help = switched.map_or_else(
                || "Feed it from an output that the board takes away to reset detectors (switched=#true in its part), or in a circuit through a relay that does so: contact=\"break\" with drive \"key\".".to_owned(),
                |output| format!("Feed it from \"{}\", which the board takes away to reset detectors.", output.name.value),
            );
            let title =
                format!("{} cannot be reset: {} stays on", Screen.consumer(site, *first), Screen.source(site, outlet));
            let finding = Diagnostic::new(&RULE, power_words::span(site, *first), title)
                .here("this detector")
                .also(power_words::source_span(site, outlet), "not switched")
                .why("A smoke detector on four wires stays in alarm until its supply is taken away. The board's reset has no effect on this one: somebody has to pull a wire to end the alarm.")
                .help(help);
            let finding = others
                .iter()
                .fold(finding, |finding, other| finding.also(power_words::span(site, *other), "and this one"));
            sink.push(devices.iter().fold(finding, |finding, device| about::consumer(site, *device, finding)));
        }
    }
}

/// True for a smoke detector on a supply that is always on, and that nothing takes away.
pub(super) fn is_never_reset(site: &Site, tree: &Tree, node: usize, load: &Load) -> bool {
    load.senses(site) == Some(Senses::Smoke)
        && power_verdict::fed_once(site, load.consumer)
        && !tree.circuit_of(site, node).is_some_and(goes_away)
        && output_of(site, tree, node).is_some_and(|output| !output.switched && output.when == When::Always)
}

/// True where something takes the supply away: for a reset, or for longer, which is another rule's.
fn goes_away(circuit: &Circuit) -> bool {
    circuit.switching.as_ref().is_some_and(|switching| !switching.drives.is_empty())
}
