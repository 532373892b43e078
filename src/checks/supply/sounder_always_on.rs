//! A sounder on a supply that is always on.

use crate::checks::supply::power_verdict::{output_of, sounds_always};
use crate::checks::supply::power_words;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Output;
use crate::terms::When;
use crate::words::Screen;

check!("sounder-always-on", Basis::Contradiction, "a sounder on an output that is always on");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for feeding in &context.power.feedings {
        // A part of which something could not be read may say when its outputs are on.
        let is_read = |node| site.part_of(feeding.tree.outlet_of(node).board()).is_none_or(|part| part.whole);
        // One cause, however many sounders hang there.
        let mut told: Option<Diagnostic> = None;
        for (node, load) in feeding.tree.loads().filter(|(node, _)| is_read(*node)) {
            let Some(output) = output_of(site, &feeding.tree, node)
                .filter(|output| sounds_always(site, (&feeding.tree, node), load, output))
            else {
                continue;
            };
            if let Some(first) = told.take() {
                told = Some(first.also(power_words::span(site, load.consumer), "and this one"));
                continue;
            }
            let who = Screen.consumer(site, load.consumer);
            let outlet = feeding.tree.outlet_of(node);
            let alarms = site.outputs(outlet.board()).map(|(_, output)| output).find(|other| other.when == When::Alarm);
            let help = match alarms {
                Some(Output { name, .. }) => {
                    format!("Feed it from output=\"{}\", which is on during an alarm only.", name.value)
                }
                None => {
                    "Feed it from an output that is on during an alarm only: its part says when=\"alarm\".".to_owned()
                }
            };
            let role = if output.switched { "an output for detectors, taken away to reset them" } else { "always on" };
            let finding = Diagnostic::new(
                &RULE,
                power_words::span(site, load.consumer),
                format!("{who} hangs on {}, which is always on", Screen.source(site, outlet)),
            )
            .here("this sounder")
            .also(power_words::source_span(site, outlet), role)
            .why("It would sound from the minute it is connected, and its current would take the detectors' supply down with it.")
            .help(help);
            told = Some(about::consumer(site, load.consumer, finding));
        }
        sink.extend(told);
    }
}
