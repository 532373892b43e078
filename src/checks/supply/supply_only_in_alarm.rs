//! A detector on a supply that is on during an alarm only.

use crate::checks::supply::power_verdict::{output_of, rests};
use crate::checks::{Context, about};
use crate::checks::supply::power_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Output;
use crate::terms::When;
use crate::words::Screen;

check!("supply-only-in-alarm", Basis::Contradiction, "a device that has no supply until there is an alarm");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for feeding in &context.power.feedings {
        for (node, load) in feeding.tree.loads() {
            if !output_of(site, &feeding.tree, node).is_some_and(|output| rests(site, load, output)) {
                continue;
            }
            let who = Screen.consumer(site, load.consumer);
            let outlet = feeding.tree.outlet_of(node);
            let always = site.outputs(outlet.board()).map(|(_, output)| output).find(|other| other.when == When::Always);
            let help = match always {
                Some(Output { name, .. }) => format!("Feed it from \"{}\", which is always on.", name.value),
                None => "Feed it from an output that is always on.".to_owned(),
            };
            let finding = Diagnostic::new(
                &RULE,
                power_words::span(site, load.consumer),
                format!("{who} hangs on {}, which is on in alarm only", Screen.source(site, outlet)),
            )
            .here("has no supply at rest")
            .also(power_words::source_span(site, outlet), "on in alarm only")
            .why("A detector without supply sees nothing, so the alarm that would give it its supply never comes from it; and a detector's contact without supply stands in alarm.")
            .help(help);
            sink.push(about::consumer(site, load.consumer, finding));
        }
    }
}
