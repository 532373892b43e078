//! A detector of burglars on an output that the board takes away to reset smoke detectors.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::calc::power::suits::fitting;
use crate::calc::power::{Consumer, Load};
use crate::checks::supply::power_verdict::{fed_once, output_of};
use crate::checks::supply::power_words;
use crate::checks::{Context, about, accept};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Site, Source, Zone};
use crate::terms::Senses;
use crate::words::Screen;

check!(
    "detector-supply-reset",
    Basis::Practice,
    "a motion or glass-break detector that a reset of smoke detectors switches off"
);

/// What makes detectors one finding: their supply, their zone, and whether it is accepted of them.
type Together = (Source, Option<Id<Zone>>, bool);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let mut found: BTreeMap<Together, Vec<Consumer>> = BTreeMap::new();
    for feeding in &context.power.feedings {
        for (node, load) in feeding.tree.loads() {
            let Consumer::Device(id) = load.consumer else { continue };
            if goes_dark(site, load) && output_of(site, &feeding.tree, node).is_some_and(|output| output.switched) {
                let device = &site.devices[id];
                let accepted = accept::is_accepted_of(site, RULE.slug, device);
                let together = (feeding.tree.outlet_of(node), device.zone, accepted);
                found.entry(together).or_default().push(load.consumer);
            }
        }
    }
    for ((outlet, ..), devices) in found {
        let [first, others @ ..] = devices.as_slice() else { continue };
        let other = fitting(site, outlet.board(), *first).map(|(_, output)| output).next();
        let help = other.map_or_else(
            || "Feed it from an output that is always on and that no reset takes away.".to_owned(),
            |output| format!("Feed it from \"{}\", which no reset takes away.", output.name.value),
        );
        let title = format!(
            "{} hangs on {}, which a reset takes away",
            Screen.consumer(site, *first),
            Screen.source(site, outlet)
        );
        let finding = Diagnostic::new(&RULE, power_words::span(site, *first), title)
            .here("dark at each reset")
            .also(power_words::source_span(site, outlet), "taken away to reset smoke detectors")
            .why("The board takes this output away for some seconds to reset smoke detectors. A detector without supply opens its contact, and after that it needs a minute or more to warm up: it trips at each reset, and sees nobody for that while.")
            .help(help);
        let finding =
            others.iter().fold(finding, |finding, other| finding.also(power_words::span(site, *other), "and this one"));
        sink.push(devices.iter().fold(finding, |finding, device| about::consumer(site, *device, finding)));
    }
}

/// True for what trips without its supply, and has to warm up behind it.
fn goes_dark(site: &Site, load: &Load) -> bool {
    matches!(load.senses(site), Some(Senses::Motion | Senses::Glass)) && fed_once(site, load.consumer)
}
