//! Fire, carbon monoxide and gas detectors whose supply could fail unseen.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::base::wording::list;
use crate::calc::power::{Consumer, Feeding};
use crate::checks::supply::detector_without_supply::is_unfed;
use crate::checks::supply::power_verdict;
use crate::checks::supply::power_verdict::output_of;
use crate::checks::supply::power_words;
use crate::checks::supply::smoke_supply_unswitched::is_never_reset;
use crate::checks::{Context, about, accept};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Device, Site, Zone};
use crate::terms::{Senses, When};
use crate::words::Screen;

check!(
    "fire-supply-unwatched",
    Basis::Practice,
    "fire, carbon monoxide or gas detectors without a relay behind the last of them that watches their supply"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    // A relay that could not be read may be the one that is missed.
    if !context.site.sound {
        return;
    }
    for feeding in &context.power.feedings {
        // A relay behind the last of a chain watches all of it, whatever zones they are in: one finding a chain, in the zone of its last.
        // What is accepted of one chain is not accepted of another, nor of a detector that is put behind its last.
        let mut by_zone: BTreeMap<(Option<Id<Zone>>, bool), Vec<Chain>> = BTreeMap::new();
        for chain in chains(feeding, unwatched(context, feeding)) {
            let Some((_, Consumer::Device(last))) = chain.last() else { continue };
            let last = &context.site.devices[*last];
            let accepted = accept::is_accepted_of(context.site, RULE.slug, last);
            by_zone.entry((last.zone, accepted)).or_default().push(chain);
        }
        for chains in by_zone.values() {
            sink.extend(finding(context, feeding, chains));
        }
    }
}

/// The fire, carbon monoxide and gas detectors of a tree with no relay at their place or beyond it.
fn unwatched(context: Context<'_>, feeding: &Feeding) -> Chain {
    let site = context.site;
    let tree = &feeding.tree;
    let at_rest = |node| output_of(site, tree, node).is_some_and(|output| output.when == When::Always);
    tree.loads()
        .zip(tree.watched(site))
        .filter(|((node, load), watched)| {
            let deadly = load.senses(site).is_some_and(Senses::is_deadly);
            // What is on the wrong supply is told first, and so is a relay that has none.
            let is_told = || is_never_reset(site, tree, *node, load) || has_unfed_relay(site, load.consumer);
            deadly && power_verdict::fed_once(site, load.consumer) && at_rest(*node) && !watched && !is_told()
        })
        .map(|((node, load), _)| (node, load.consumer))
        .collect()
}

/// True where a relay in the zone of a detector has no supply.
fn has_unfed_relay(site: &Site, detector: Consumer) -> bool {
    let Consumer::Device(detector) = detector else { return false };
    let mut with = site.devices[detector].zone.into_iter().flat_map(|zone| site.devices_of(zone));
    with.any(|(id, device)| site.senses(id) == Some(Senses::Supply) && is_unfed(device))
}

/// Detectors with their places in a tree, from the supply on.
type Chain = Vec<(usize, Consumer)>;

/// The detectors in chains: those that one relay behind the last of them watches. Where cables fork, what is before the fork
/// is with the branch that comes first.
fn chains(feeding: &Feeding, detectors: Chain) -> Vec<Chain> {
    let mut chains: Vec<(Vec<usize>, Chain)> = Vec::new();
    // From the far ends on: whoever is on the way to one that has been met is in its chain.
    for (node, consumer) in detectors.into_iter().rev() {
        match chains.iter_mut().rev().find(|(way, _)| way.contains(&node)) {
            Some((_, chain)) => chain.push((node, consumer)),
            None => {
                // What is before a module's output has another supply.
                let output = feeding.tree.outlet_node(node);
                let way = feeding.tree.way(node).into_iter().skip_while(|at| *at != output).collect();
                chains.push((way, vec![(node, consumer)]));
            }
        }
    }
    chains.into_iter().rev().map(|(_, chain)| chain.into_iter().rev().collect()).collect()
}

/// The relay in the zone of a detector that watches another supply than the detector's, and none of its zone there.
fn relay_elsewhere(context: Context<'_>, feeding: &Feeding, detector: Consumer) -> Option<Id<Device>> {
    let Consumer::Device(detector) = detector else { return None };
    let zone = context.site.devices[detector].zone?;
    let site = context.site;
    context.power.feedings.iter().filter(|other| other.tree.source != feeding.tree.source).find_map(|other| {
        let in_zone = || {
            other.tree.loads().filter_map(|(_, load)| match load.consumer {
                Consumer::Device(id) if site.devices[id].zone == Some(zone) => Some((id, load.senses(site)?)),
                Consumer::Device(_) | Consumer::Board(_) | Consumer::Hop(..) => None,
            })
        };
        let relay = in_zone().find(|(_, senses)| *senses == Senses::Supply);
        relay.filter(|_| !in_zone().any(|(_, senses)| senses.is_deadly())).map(|(id, _)| id)
    })
}

/// The relay that stands at the place of a detector, before it.
fn relay_before(context: Context<'_>, feeding: &Feeding, node: usize) -> Option<Id<Device>> {
    feeding.tree.nodes.get(node)?.loads.iter().rev().find_map(|load| {
        let Consumer::Device(id) = load.consumer else { return None };
        (load.senses(context.site) == Some(Senses::Supply)).then_some(id)
    })
}

fn finding(context: Context<'_>, feeding: &Feeding, chains: &[Chain]) -> Option<Diagnostic> {
    let site = context.site;
    let devices = chains.concat();
    let (last, others) = devices.split_last()?;
    let who = Screen.consumer(site, last.1);
    let place = |(node, consumer): &(usize, Consumer)| {
        let run = feeding.tree.nodes.get(*node).and_then(|node| node.run);
        let end = run.map(|run| format!(" at the far end of {}", Screen.cable(context.wiring, run)));
        format!("{}{}", Screen.consumer(site, *consumer), end.unwrap_or_default())
    };
    let places: Vec<String> = chains.iter().filter_map(|chain| chain.last()).map(place).collect();
    let each = if places.len() > 1 { ", one at each" } else { "" };
    let relay = relay_elsewhere(context, feeding, last.1);
    // One cause for all chains, or the help for most of them is another.
    let before = relay_before(context, feeding, last.0).filter(|_| chains.len() == 1 && relay.is_none());
    let help = match (relay, before) {
        (None, Some(before)) => format!(
            "Write {} behind {who}, before the resistor, and wire it so: what stands first is nearer to the board.",
            Screen.device(site, before)
        ),
        (Some(relay), _) => format!(
            "Feed {} from {}, which feeds the detectors, and from nothing else.",
            Screen.device(site, relay),
            Screen.source(site, feeding.tree.outlet_of(last.0))
        ),
        (None, None) => format!(
            "Put a relay across the supply after {}{each}: a detector whose part says senses=\"supply\", fed like it, in the same zone before the resistor.",
            list(&places, "and")
        ),
    };
    let finding = Diagnostic::new(&RULE, power_words::span(site, last.1), format!("nothing watches the supply of {who}"))
        .here("the last detector here")
        .why("When its supply fails, a detector on four wires is dead and its contact stays as it was: the loop reads normal. A relay behind the last detector drops with the supply and opens the loop, and the board shows a trouble.")
        .help(help);
    let finding = match relay {
        Some(relay) => finding.also(site.devices[relay].span(), "this relay watches another supply"),
        None => match before {
            Some(before) => finding.also(site.devices[before].span(), "this relay stands before it"),
            None => finding,
        },
    };
    let finding = others
        .iter()
        .fold(finding, |finding, (_, other)| finding.also(power_words::span(site, *other), "nor of this one"));
    let lasts = chains.iter().filter_map(|chain| chain.last());
    Some(lasts.fold(finding, |finding, (_, device)| about::consumer(site, *device, finding)))
}
