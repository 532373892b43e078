//! A detector, a sounder that charges a battery of its own, or a load that something else than an alarm turns on, on a
//! supply that is on during an alarm only.

use crate::calc::power::Consumer;
use crate::calc::power::suits::fitting;
use crate::checks::supply::power_verdict::{charges, fed_once, output_of, rests};
use crate::checks::supply::power_words;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Circuit, DeviceKind, Drive, Output, Switch, SwitchKind};
use crate::terms::{DrivenBy, SwitchContact, When};
use crate::words::Screen;

check!("supply-only-in-alarm", Basis::Contradiction, "a device that has no supply until there is an alarm");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for feeding in &context.power.feedings {
        for (node, load) in feeding.tree.loads() {
            let Some(output) = output_of(site, &feeding.tree, node) else { continue };
            let drives = drives_besides_alarm(feeding.tree.circuit_of(site, node), output);
            let is_load = matches!(load.consumer, Consumer::Device(id) if site.devices[id].kind == DeviceKind::Load);
            let is_driven = is_load && !drives.is_empty() && fed_once(site, load.consumer);
            if !is_driven && !rests(site, load, output) {
                continue;
            }
            let who = Screen.consumer(site, load.consumer);
            let outlet = feeding.tree.outlet_of(node);
            let always = fitting(site, outlet.board(), load.consumer).map(|(_, output)| output).next();
            let feed = match always {
                Some(Output { name, .. }) => format!("Feed it from \"{}\", which is always on", name.value),
                None => "Feed it from an output that is always on".to_owned(),
            };
            let charges = charges(site, load);
            let help = if charges {
                let part = site.part_of(outlet.board());
                let breaks = |switch: &&Switch| matches!(switch.kind, SwitchKind::Relay { breaks: Some(_), .. });
                let relay = part.and_then(|part| part.switches.iter().find(breaks));
                let relay = relay.map_or("…", |relay| relay.name.value.as_str());
                format!(
                    "{feed}, through a relay that takes it away in an alarm: switch=\"{relay}\" contact=\"break\", with drive \"alarm\" in the circuit. See that its sheet wants it so."
                )
            } else {
                format!("{feed}.")
            };
            let why = if is_driven {
                "What drives the relay or transistor gives it nothing while the output gives nothing: it works only where an alarm comes at the same time."
            } else if charges {
                "By its part it takes current at rest, and by the spec it has a battery of its own: that is never charged. A siren with a battery sounds, too, as long as its supply is away."
            } else {
                "A detector without supply sees nothing, so the alarm that would give it its supply never comes from it. Without supply a motion detector's contact mostly stands in alarm, a smoke detector's as at rest."
            };
            let finding = Diagnostic::new(
                &RULE,
                power_words::span(site, load.consumer),
                format!("{who} hangs on {}, which is on in alarm only", Screen.source(site, outlet)),
            )
            .here("has no supply at rest")
            .also(power_words::source_span(site, outlet), "on in alarm only")
            .why(why)
            .help(help);
            let driven = drives.iter().filter(|_| is_driven);
            let finding = driven.fold(finding, |finding, drive| {
                finding.also(drive.by.span, format!("to be turned on by {}", drive.by.value.printed()))
            });
            sink.push(about::consumer(site, load.consumer, finding));
        }
    }
}

/// What turns a circuit on, on an output for alarms, where no alarm does.
fn drives_besides_alarm<'s>(circuit: Option<&'s Circuit>, output: &Output) -> &'s [Drive] {
    let switching = circuit.and_then(|circuit| circuit.switching.as_ref());
    let made = switching.filter(|switching| output.when == When::Alarm && switching.contact == SwitchContact::Make);
    let drives = made.map(|switching| switching.drives.as_slice()).unwrap_or_default();
    if drives.iter().any(|drive| drive.by.value == DrivenBy::Alarm) { &[] } else { drives }
}
