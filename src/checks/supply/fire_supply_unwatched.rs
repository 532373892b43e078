//! Fire and carbon monoxide detectors whose supply could fail unseen.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::calc::power::{Consumer, Feeding};
use crate::checks::supply::power_verdict;
use crate::checks::supply::power_verdict::output_of;
use crate::checks::supply::power_words;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Device, Zone};
use crate::terms::{Senses, When};
use crate::words::Screen;

check!(
    "fire-supply-unwatched",
    Basis::Practice,
    "fire or carbon monoxide detectors without a relay behind the last of them that watches their supply"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    // A relay that could not be read may be the one that is missed.
    if !context.site.sound {
        return;
    }
    for feeding in &context.power.feedings {
        let mut by_zone: BTreeMap<Option<Id<Zone>>, Vec<(usize, Consumer)>> = BTreeMap::new();
        for (node, consumer) in unwatched(context, feeding) {
            let Consumer::Device(id) = consumer else { continue };
            by_zone.entry(context.site.devices[id].zone).or_default().push((node, consumer));
        }
        for devices in by_zone.values() {
            sink.extend(finding(context, feeding, devices));
        }
    }
}

/// The fire and carbon monoxide detectors of a tree with no relay at their place or beyond it.
fn unwatched(context: Context<'_>, feeding: &Feeding) -> Vec<(usize, Consumer)> {
    let site = context.site;
    let tree = &feeding.tree;
    let watched = tree.watched(site);
    let at_rest = |node| output_of(site, tree, node).is_some_and(|output| output.when == When::Always);
    tree.loads()
        .filter(|(node, load)| {
            let fire = matches!(load.senses(site), Some(Senses::Smoke | Senses::Heat | Senses::CarbonMonoxide));
            fire && power_verdict::fed_once(site, load.consumer)
                && at_rest(*node)
                && !watched.get(*node).copied().unwrap_or_default()
        })
        .map(|(node, load)| (node, load.consumer))
        .collect()
}

/// The relay in the zone of a detector that watches another supply than the detector's.
fn relay_elsewhere(context: Context<'_>, feeding: &Feeding, detector: Consumer) -> Option<Id<Device>> {
    let Consumer::Device(detector) = detector else { return None };
    let zone = context.site.devices[detector].zone?;
    context.power.feedings.iter().filter(|other| other.tree.source != feeding.tree.source).find_map(|other| {
        other.tree.loads().find_map(|(_, load)| {
            let Consumer::Device(id) = load.consumer else { return None };
            let watches = load.senses(context.site) == Some(Senses::Supply);
            (watches && context.site.devices[id].zone == Some(zone)).then_some(id)
        })
    })
}

fn finding(context: Context<'_>, feeding: &Feeding, devices: &[(usize, Consumer)]) -> Option<Diagnostic> {
    let site = context.site;
    let (last, others) = devices.split_last()?;
    let who = Screen.consumer(site, last.1);
    let place = feeding.tree.nodes.get(last.0).and_then(|node| node.run);
    let place =
        place.map_or_else(String::new, |run| format!(" at the far end of {}", Screen.cable(context.wiring, run)));
    let relay = relay_elsewhere(context, feeding, last.1);
    let help = match relay {
        Some(relay) => format!(
            "Feed {} from {}, which feeds the detectors, and from nothing else.",
            Screen.device(site, relay),
            Screen.source(site, feeding.tree.outlet_of(last.0))
        ),
        None => format!(
            "Put a relay across the supply after {who}{place}: a detector whose part says senses=\"supply\", fed like it, in the same zone before the resistor."
        ),
    };
    let finding = Diagnostic::new(&RULE, power_words::span(site, last.1), format!("nothing watches the supply of {who}"))
        .here("the last detector here")
        .why("When its supply fails, a detector on four wires is dead and its contact stays as it was: the loop reads normal. A relay behind the last detector drops with the supply and opens the loop, and the board shows a trouble.")
        .help(help);
    let finding = match relay {
        Some(relay) => finding.also(site.devices[relay].span(), "this relay watches another supply"),
        None => finding,
    };
    let finding = others
        .iter()
        .fold(finding, |finding, (_, other)| finding.also(power_words::span(site, *other), "nor of this one"));
    Some(devices.iter().fold(finding, |finding, (_, device)| about::consumer(site, *device, finding)))
}
