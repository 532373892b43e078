//! A sounder or strobe on a supply that is always on.

use std::collections::BTreeMap;

use crate::base::Span;
use crate::calc::power::suits::fitting;
use crate::checks::supply::power_verdict::{is_strobe, output_of, sounds_always};
use crate::checks::supply::power_words;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Circuit, Output};
use crate::terms::When;
use crate::words::Screen;

check!("sounder-always-on", Basis::Contradiction, "a sounder or strobe on an output that is always on");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for feeding in &context.power.feedings {
        // A part of which something could not be read may say when its outputs are on.
        let is_read = |node| site.part_of(feeding.tree.outlet_of(node).board()).is_none_or(|part| part.whole);
        // One cause, however many sounders hang there: the output, or what drives a relay on it.
        let mut told: BTreeMap<Option<Span>, Diagnostic> = BTreeMap::new();
        for (node, load) in feeding.tree.loads().filter(|(node, _)| is_read(*node)) {
            let Some(output) = output_of(site, &feeding.tree, node)
                .filter(|output| sounds_always(site, (&feeding.tree, node), load, output))
            else {
                continue;
            };
            let drive = feeding.tree.circuit_of(site, node).and_then(Circuit::on_by_arming);
            let cause = drive.map(|drive| drive.by.span);
            if let Some(first) = told.remove(&cause) {
                told.insert(cause, first.also(power_words::span(site, load.consumer), "and this one"));
                continue;
            }
            let who = Screen.consumer(site, load.consumer);
            let (noun, does, sign) =
                if is_strobe(site, load) { ("strobe", "flashes", "flash") } else { ("sounder", "sounds", "sound") };
            if let Some(drive) = drive {
                let state = drive.by.value.word();
                let (title, lasts) = match drive.lasts {
                    None => (format!("{who} {does} for as long as an area is {state}"), "lasts for hours".to_owned()),
                    Some(time) => {
                        (format!("{who} {does} for {time} whenever an area is {state}"), format!("for {time}"))
                    }
                };
                let finding = Diagnostic::new(&RULE, power_words::span(site, load.consumer), title)
                    .here(format!("this {noun}"))
                    .also(drive.by.span, lasts)
                    .why(format!("Nobody leaves a {noun} on that {does} all night or all day, or for minutes at each arming: it is unhooked, and then tells no alarm. It empties the battery too."))
                    .help("Write drive \"alarm\" alone. Where it is to tell by a short sign that the area was armed or disarmed, add for=(s)1.");
                told.insert(cause, about::consumer(site, load.consumer, finding));
                continue;
            }
            let outlet = feeding.tree.outlet_of(node);
            let mut suit = fitting(site, outlet.board(), load.consumer).map(|(_, output)| output);
            let alarms = suit.find(|output| output.when == When::Alarm);
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
            .here(format!("this {noun}"))
            .also(power_words::source_span(site, outlet), role)
            .why(format!("It would {sign} from the minute it is connected, and its current would take the detectors' supply down with it."))
            .help(help);
            told.insert(cause, about::consumer(site, load.consumer, finding));
        }
        sink.extend(told.into_values());
    }
}
