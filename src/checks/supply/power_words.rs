//! How supplies, loads, cables and remedies are told in the findings about power.

use std::collections::BTreeMap;

use crate::base::wording::{count, list};
use crate::base::{Id, Span};
use crate::calc::pair::carrier;
use crate::calc::power::remedy::{self, Heavier, Move, Unit};
use crate::calc::power::{Case, Consumer, Demand, Feeding, Load, Tree};
use crate::checks::Context;
use crate::diag::Diagnostic;
use crate::model::{Owner, Run, Site, Source};
use crate::quantity::{Amperes, Volts, print};
use crate::register::Function;
use crate::words::{self, Screen};

/// How many loads or cables a finding lists; the others are counted.
const LISTED: usize = 8;

/// Where a supply's figures stand in the spec.
pub(crate) fn source_span(site: &Site, source: Source) -> Span {
    site.source_name(source).unwrap_or(&site.boards[source.board()].name).span
}

/// Where a load stands in the spec.
pub(crate) fn span(site: &Site, consumer: Consumer) -> Span {
    match consumer {
        Consumer::Device(id) => site.devices[id].span(),
        Consumer::Board(id) => site.boards[id].name.span,
        Consumer::Hop(line, hop) => {
            site.communicators[line].hops.get(hop).map_or(site.communicators[line].name.span, |hop| hop.name.span)
        }
    }
}

/// Adds a label and a figure for every cable on the way to a node in a case: its current, its drop, the volts behind it.
#[must_use]
pub(crate) fn way(
    context: Context<'_>,
    finding: Diagnostic,
    feeding: &Feeding,
    node: usize,
    in_case: Case,
) -> Diagnostic {
    let site = context.site;
    let Some(flow) = feeding.flow(in_case.supply, in_case.demand, in_case.wire) else { return finding };
    let mut finding = finding;
    for at in feeding.tree.way(node) {
        let Some(place) = feeding.tree.nodes.get(at) else { continue };
        let (Some(amperes), Some(volts)) = (flow.amperes.get(at), flow.volts.get(at).copied().flatten()) else {
            continue;
        };
        match place.run {
            Some(run) => {
                let drop = Volts(amperes.0 * in_case.wire.of(place.ohms));
                let length = site.runs[run].length.as_ref().map_or(site.runs[run].span(), |length| length.span);
                finding = finding.also(length, format!("{} drops {drop}", Screen.cable(context.wiring, run))).figure(
                    format!(
                        "{}: {amperes} drop {drop}, leaving {volts}",
                        words::sized_cable(site, context.wiring, run)
                    ),
                );
            }
            None => {
                let outlet = place.outlet.map_or_else(String::new, |outlet| Screen.source(site, outlet));
                finding = finding.figure(format!("{outlet}: {volts} {}", words::supply(in_case.supply)));
            }
        }
    }
    finding
}

/// What takes current at a node and beyond it, like parts together, the greatest first: words and current.
pub(crate) fn items(site: &Site, feeding: &Feeding, node: usize, in_demand: Demand) -> Vec<(String, Amperes)> {
    let volts = feeding.battery_volts.or(feeding.tree.volts).unwrap_or(Volts(12.0));
    let mut sums: BTreeMap<String, (usize, f64)> = BTreeMap::new();
    let beyond = |at: usize| node == 0 || feeding.tree.way(at).contains(&node);
    for (_, load) in feeding.tree.loads().filter(|(at, _)| beyond(*at)) {
        let current = load.takes(in_demand).at(volts);
        let sum = sums.entry(kind(site, load.consumer)).or_default();
        *sum = (sum.0 + 1, sum.1 + current.0);
    }
    let mut items: Vec<(String, Amperes)> = sums
        .into_iter()
        .filter(|(_, (_, amperes))| *amperes > 0.0)
        .map(|(kind, (number, amperes))| {
            (if number > 1 { format!("{number} of {kind}") } else { kind }, Amperes(amperes))
        })
        .collect();
    items.sort_by(|(_, one), (_, other)| other.0.total_cmp(&one.0));
    items
}

fn kind(site: &Site, consumer: Consumer) -> String {
    let part = match consumer {
        Consumer::Device(id) => site.devices[id].part,
        Consumer::Board(id) => site.boards[id].part,
        Consumer::Hop(..) => None,
    };
    part.map_or_else(|| Screen.consumer(site, consumer), |part| format!("part `{}`", site.parts[part].name.value))
}

/// Adds what takes current at a node and beyond it, the greatest first.
#[must_use]
pub(crate) fn itemised(
    site: &Site,
    finding: Diagnostic,
    feeding: &Feeding,
    node: usize,
    in_demand: Demand,
) -> Diagnostic {
    let items = items(site, feeding, node, in_demand);
    let listed = items
        .iter()
        .take(LISTED)
        .fold(finding, |finding, (what, amperes)| finding.figure(format!("{what}: {amperes}")));
    let more = items.get(LISTED..).unwrap_or_default();
    let rest: Amperes = more.iter().map(|(_, amperes)| *amperes).sum();
    let rest = (!more.is_empty()).then(|| format!("and {} of less: {rest}", count(more.len(), "kind", None)));
    rest.into_iter().chain(words::raising(&feeding.tree)).fold(listed, Diagnostic::figure)
}

/// Cables in words: "cable `Z7`", "cables `Z7` and `Z7-2`".
pub(crate) fn cables(context: Context<'_>, runs: &[Id<Run>]) -> String {
    let mut labels: Vec<String> = Vec::new();
    for label in runs.iter().map(|run| Screen.name(words::cable(context.wiring, *run))) {
        if !labels.contains(&label) {
            labels.push(label);
        }
    }
    match labels.as_slice() {
        [one] => format!("cable {one}"),
        several if several.len() > LISTED => {
            let (first, rest) = several.split_at(LISTED);
            format!("cables {} and {} more", first.join(", "), rest.len())
        }
        several => format!("cables {}", list(several, "and")),
    }
}

/// True where a run's cable has free conductors for one more pair of every supply that the run carries.
pub(crate) fn has_spare_pair(context: Context<'_>, run: Id<Run>) -> bool {
    let Some(cable) = context.wiring.cable_of(run) else { return false };
    let positive = |function: Function| matches!(function, Function::SupplyPositive(_) | Function::BusPlus);
    let uses = cable.conductors.iter().filter(|used| used.run == run && positive(used.function)).count();
    let pairs = usize::try_from(context.site.runs[run].pairs).unwrap_or(1).max(1);
    cable.spare.len() >= 2 * (uses / pairs).max(1)
}

/// The remedies of a branch, the one to advise first.
pub(crate) fn remedies(context: Context<'_>, feeding: &Feeding, branch: &Tree) -> Vec<String> {
    let site = context.site;
    let spare = |run| has_spare_pair(context, run);
    let doubled = remedy::doubled(site, branch, &spare).map(|runs| {
        let mut by_pairs: BTreeMap<u32, Vec<Id<Run>>> = BTreeMap::new();
        for run in &runs {
            by_pairs.entry(site.runs[*run].pairs + 1).or_default().push(*run);
        }
        let several = by_pairs.len() > 1;
        let written = by_pairs.iter().map(|(pairs, of)| {
            if several { format!("pairs={pairs} at {}", cables(context, of)) } else { format!("pairs={pairs}") }
        });
        let written = list(&written.collect::<Vec<_>>(), "and");
        format!("Join a free pair of {} to its supply: write {written}", cables(context, &runs))
    });
    let heavier = remedy::heavier(site, branch).map(|Heavier { size, runs }| {
        let cables = cables(context, &runs);
        if runs.iter().any(|run| site.is_existing(*run)) {
            format!("Pull copper conductors of {size} in the place of {cables}")
        } else {
            format!("Take copper conductors of {size} for {cables}")
        }
    });
    let moved = best_move(context, feeding, branch, |_| true).map(|found| move_words(site, found));
    let shorter = remedy::shorter(site, branch)
        .map(|(run, length)| (run, words::rounded_down(length, site.lengths)))
        .filter(|(_, length)| length.0 > 0.0)
        .map(|(run, length)| {
            let longest = print::length(length, site.lengths);
            format!("Make {} no longer than {longest}", cables(context, &[run]))
        });
    [doubled, heavier, moved, shorter].into_iter().flatten().collect()
}

/// ": nobody knows the size of cable `BELL-1`", of a fault that follows only from such a guess; empty where it follows from none.
pub(crate) fn by_guess(context: Context<'_>, unknown: &[Id<Run>]) -> String {
    if unknown.is_empty() {
        return String::new();
    }
    format!(": nobody knows the size of {}", cables(context, unknown))
}

/// How such a size is found out: a remedy that comes before all others.
pub(crate) fn to_measure(context: Context<'_>, unknown: &[Id<Run>]) -> Option<String> {
    let site = context.site;
    let kind = carrier(site, &site.runs[*unknown.first()?]).cable.as_ref()?.value;
    let name = Screen.name(&site.cables[kind].name.value);
    Some(format!(
        "Measure the cable: with both its ends off, join its two conductors at the far end and read the ohms between them at the near end. Divide them by twice its length, and write that in cable type {name}, as in resistance=(ohm-per-kft)17"
    ))
}

/// What is said of a fault that is one only with the thinnest conductors that are usual.
pub(crate) const GUESSED: &str = "The cable may have any size. With the thinnest conductors that are usual this device gets too little, with the heaviest enough: the figures are those of the thinnest, and no fact. A meter tells.";

/// How many things are tried on another output.
const TRIED: usize = 12;

/// The best move of something in a tree, a branch or the whole, to another output: what takes least, with most margin.
/// Only what holds a load that is `wanted` is looked at.
pub(crate) fn best_move(
    context: Context<'_>,
    feeding: &Feeding,
    tree: &Tree,
    wanted: impl Fn(&Load) -> bool,
) -> Option<Move> {
    let site = context.site;
    // A second supply in the same cable needs a pair of its own.
    let second = |run| context.wiring.cable_of(run).is_some_and(|cable| cable.spare.len() >= 2);
    let excess = feeding.overloads().next().map_or(0.0, |over| over.current.0 - over.limit.0);
    let at = feeding.tree.volts.unwrap_or(Volts(12.0));
    let takes = |load: &&Load| load.alarm.at(at).0.max(load.idle.at(at).0);
    let mut units: Vec<(f64, Unit)> = remedy::units(site, tree)
        .into_iter()
        .filter(|(_, loads)| loads.iter().any(|load| wanted(load)))
        .map(|(unit, loads)| (loads.iter().map(takes).sum(), unit))
        .filter(|(takes, _)| *takes > 0.0 && *takes * 1.2 >= excess)
        .collect();
    units.sort_by(|(one, _), (other, _)| one.total_cmp(other));
    units.into_iter().take(TRIED).find_map(|(_, unit)| {
        let found = remedy::moves(site, context.power, tree, unit, &second);
        let margin = |found: &Move| found.margin.map_or(f64::INFINITY, |margin| margin.0);
        found.into_iter().max_by(|one, other| margin(one).total_cmp(&margin(other)))
    })
}

/// A move in words: "Feed `x` from output `aux-2` instead, which then gives 300 mA of its 500 mA".
pub(crate) fn move_words(site: &Site, found: Move) -> String {
    let what = match found.unit {
        Unit::Device(id) => Screen.device(site, id),
        Unit::Circuit(id) => Screen.owner(site, Owner::Circuit(id)),
    };
    let limit = site.output(found.to).map(|output| output.limit);
    let limit = limit.map_or_else(String::new, |limit| format!(" of its {limit}"));
    let margin = found.margin.map_or_else(String::new, |margin| format!(" and leaves {margin} over the minimum"));
    format!(
        "Feed {what} from {} instead, which then gives {}{limit}{margin}",
        Screen.outlet(site, Source::Output(found.to)),
        found.gives
    )
}

/// The first remedy as a help, the others as figures.
#[must_use]
pub(crate) fn helped(finding: Diagnostic, remedies: &[String], none: &str) -> Diagnostic {
    match remedies {
        [] => finding.help(none),
        [best, others @ ..] => {
            let lower = |text: &str| {
                let mut letters = text.chars();
                letters.next().map(|first| first.to_lowercase().chain(letters).collect::<String>()).unwrap_or_default()
            };
            let finding = others.iter().fold(finding, |finding, other| finding.figure(format!("or {}", lower(other))));
            finding.help(format!("{best}."))
        }
    }
}
