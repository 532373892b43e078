//! A sounder whose supply a break contact takes away in an alarm.

use crate::calc::power::Consumer;
use crate::checks::supply::power_verdict::charges;
use crate::checks::supply::power_words;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Circuit, DeviceKind};
use crate::words::Screen;

check!("sounder-silent-in-alarm", Basis::Contradiction, "a sounder that loses its supply in an alarm");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for feeding in &context.power.feedings {
        for (node, load) in feeding.tree.loads() {
            let Consumer::Device(id) = load.consumer else { continue };
            let is_sounder = site.devices[id].kind == DeviceKind::Sounder && !charges(site, load);
            let opened = feeding.tree.circuit_of(site, node).and_then(Circuit::opened_by_alarm);
            let Some(drive) = opened.filter(|_| is_sounder) else { continue };
            let title =
                format!("{} is silent in an alarm: the break contact opens then", Screen.consumer(site, load.consumer));
            let finding = Diagnostic::new(&RULE, power_words::span(site, load.consumer), title)
                .here("has no supply in an alarm")
                .also(drive.by.span, "opens the break contact")
                .why("Where its output is always on it sounds from the minute it is connected, and stops when it is needed. Where its output is on in an alarm only it never sounds.")
                .help("Write contact=\"make\". A siren that sounds by its own battery when its supply goes away has battery= and takes current at rest, by its part.");
            sink.push(about::consumer(site, load.consumer, finding));
        }
    }
}
