//! A device with more volts than it withstands.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::calc::power::judge::Unfit;
use crate::calc::power::{Consumer, Feeding};
use crate::checks::supply::power_verdict::{self, Stage, stage};
use crate::checks::supply::power_words;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Part;
use crate::quantity::print::apart;
use crate::words::{self, Screen};

check!("supply-above-maximum", Basis::Contradiction, "a device that gets more than the voltage that it withstands");

fn run(context: Context<'_>, sink: &mut Sink) {
    for feeding in &context.power.feedings {
        if matches!(stage(context.site, feeding), Stage::Broken | Stage::Misplaced) {
            continue;
        }
        // Devices of one part have one cause.
        let mut by_part: BTreeMap<Option<Id<Part>>, Vec<Unfit>> = BTreeMap::new();
        let fed_once = |unfit: &Unfit| power_verdict::fed_once(context.site, unfit.load.consumer);
        for unfit in feeding.flooded().into_iter().filter(fed_once) {
            let part = match unfit.load.consumer {
                Consumer::Device(id) => context.site.devices[id].part,
                Consumer::Board(_) | Consumer::Hop(..) => None,
            };
            by_part.entry(part).or_default().push(unfit);
        }
        for found in by_part.values_mut() {
            found.sort_by(|one, other| other.volts.0.total_cmp(&one.volts.0));
            sink.extend(finding(context, feeding, found));
        }
    }
}

fn finding(context: Context<'_>, feeding: &Feeding, found: &[Unfit]) -> Option<Diagnostic> {
    let site = context.site;
    let (worst, others) = found.split_first()?;
    let (who, when) = (Screen.consumer(site, worst.load.consumer), words::case(worst.case));
    let (volts, max) = apart(worst.volts, worst.edge);
    let (source, outlet) = (feeding.tree.outlet_of(worst.node), feeding.tree.outlet_node(worst.node));
    let gives = feeding.unloaded(outlet, worst.case).unwrap_or_default();
    let finding =
        Diagnostic::new(&RULE, power_words::span(site, worst.load.consumer), format!("{who} gets {volts} {when}; it withstands {max}"))
            .here(format!("withstands {max}, gets {volts}"))
            .also(power_words::source_span(site, source), "the supply")
            .why("A supply on mains gives more volts than its battery's name says, and a short cable in the cold takes nothing off it. More than its sheet allows destroys a device, at once or within the year.")
            .figure(format!("{} {}: {gives}", Screen.source(site, source), words::supply(worst.case.supply)))
            .figure(format!("most voltage of {who} by its sheet: {max}"));
    let finding = others
        .iter()
        .fold(finding, |finding, other| finding.also(power_words::span(site, other.load.consumer), "and this one"));
    let finding = found.iter().fold(finding, |finding, one| about::consumer(site, one.load.consumer, finding));
    let moved = power_words::best_move(context, feeding, &feeding.tree, |load| load.consumer == worst.load.consumer)
        .filter(|_| others.is_empty());
    Some(match moved {
        Some(moved) => finding.help(format!("{}.", power_words::move_words(site, moved))),
        None => finding.help("Take a device that withstands these volts, or an output that gives fewer. If its sheet says otherwise, correct `max=` in its part."),
    })
}
