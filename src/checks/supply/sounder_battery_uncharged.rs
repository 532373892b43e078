//! A sounder with a battery of its own that gets nothing at rest and, by its part, takes nothing.

use crate::calc::power::Consumer;
use crate::calc::power::suits::charges;
use crate::checks::supply::power_verdict::output_of;
use crate::checks::supply::power_words;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::DeviceKind;
use crate::terms::When;
use crate::words::Screen;

check!("sounder-battery-uncharged", Basis::Works, "a sounder's own battery that nothing charges");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for feeding in &context.power.feedings {
        for (node, load) in feeding.tree.loads() {
            let Consumer::Device(id) = load.consumer else { continue };
            let device = &site.devices[id];
            // One that takes current at rest to charge is another rule's.
            let has_own = device.kind == DeviceKind::Sounder && device.own_battery().is_some() && !charges(site, id);
            let output = output_of(site, &feeding.tree, node).filter(|output| output.when == When::Alarm);
            if !has_own || output.is_none() {
                continue;
            }
            let who = Screen.consumer(site, load.consumer);
            let outlet = feeding.tree.outlet_of(node);
            let finding = Diagnostic::new(
                &RULE,
                power_words::span(site, load.consumer),
                format!("nothing charges the battery of {who}"),
            )
            .here("has a battery of its own")
            .also(power_words::source_span(site, outlet), "on in alarm only")
            .why("A battery that is charged needs a supply at rest. This sounder gets none there, and by its part takes none: after some months its battery is flat, and whoever cuts its cable has silenced it.")
            .help("Look at its sheet. If the battery is charged, write its current at rest in the part (idle=) and feed it from an output that is always on; if it is exchanged and not charged, accept this; if it has none, leave battery= out.");
            sink.push(about::consumer(site, load.consumer, finding));
        }
    }
}
