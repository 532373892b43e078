//! A cable with fewer conductors than it must carry.
//!
//! Cables of one type in one loop, bus or circuit that lack the same conductors are one finding: what is mounted at the
//! last of them is the cause in all.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::wording::{count, list};
use crate::base::{Id, Span};
use crate::calc::power::Consumer;
use crate::checks::supply::power_verdict::fed_once;
use crate::checks::{Context, about};
use crate::diag::{Basis, Certainty, Diagnostic, Sink};
use crate::model::{CableType, OutputRef, Owner, Run, Site};
use crate::profiles::jackets;
use crate::quantity::WireSize;
use crate::register::{Cable, Function, TooFew};
use crate::terms::{Metal, Passage, Use};
use crate::words::{self, Screen};

check!("cable-conductors-short", Basis::Contradiction, "a cable with fewer conductors than it must carry");

/// What cables of one finding have in common: what they belong to, their type, what they are made for, and what they must carry.
type Alike = (Owner, Id<CableType>, &'static str, Vec<String>);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let twice = brings_a_second_supply(site);
    let mut alike: Vec<(&TooFew, Vec<&Cable>)> = Vec::new();
    // Where those of one loop, bus or circuit that lack the same stand in it; what is shared is a finding of its own.
    let mut known: BTreeMap<Alike, usize> = BTreeMap::new();
    for short in &context.wiring.too_few {
        let Some(cable) = context.wiring.cables.get(short.cable) else { continue };
        if cable.carries.iter().any(|run| twice.contains(run)) || is_contradicted(site, cable) {
            continue;
        }
        let run = &site.runs[cable.run];
        let first = if cable.carries.len() == 1 {
            let key = (run.owner, cable.kind, fit_for(site, run), needs(site, short));
            *known.entry(key).or_insert(alike.len())
        } else {
            alike.len()
        };
        match alike.get_mut(first) {
            Some((_, cables)) => cables.push(cable),
            None => alike.push((short, vec![cable])),
        }
    }
    for (short, cables) in alike {
        if let Some((first, others)) = cables.split_first() {
            sink.push(finding(site, first, others, short));
        }
    }
}

/// What a cable must carry, in words, a pair for each conductor.
fn needs(site: &Site, short: &TooFew) -> Vec<String> {
    short.needs.iter().map(|(run, function)| words::pair(site, *run, *function)).collect()
}

/// The runs that lead to a detector with two supplies: which of them goes is not known, and that is told of it.
fn brings_a_second_supply(site: &Site) -> BTreeSet<Id<Run>> {
    let twice = site.devices.entries().filter(|(id, _)| !fed_once(site, Consumer::Device(*id)));
    let mut found = BTreeSet::new();
    for run in twice.filter_map(|(_, device)| device.run) {
        let way = std::iter::once(run).chain(site.runs_before(run));
        let _ = way.take_while(|run| found.insert(*run)).count();
    }
    found
}

/// True for a cable of which a run that shares it says another type: which one is right decides how many it has.
fn is_contradicted(site: &Site, cable: &Cable) -> bool {
    let kinds = cable.carries.iter().filter_map(|run| site.runs[*run].cable.as_ref());
    kinds.into_iter().any(|kind| kind.value != cable.kind)
}

fn finding(site: &Site, cable: &Cable, others: &[&Cable], short: &TooFew) -> Diagnostic {
    let run = &site.runs[cable.run];
    let kind = &site.cables[cable.kind];
    let needed = short.needs.len();
    let span = run.cable.as_ref().map_or(run.span(), |written| written.span);
    let labels: Vec<String> = std::iter::once(&cable).chain(others).map(|cable| Screen.name(&cable.label)).collect();
    let has = if others.is_empty() { "has" } else { "have" };
    let title = format!(
        "{} {} {has} {}, and {needed} are needed",
        if others.is_empty() { "cable" } else { "cables" },
        list(&labels, "and"),
        count(short.has, "conductor", None)
    );
    let mut finding = Diagnostic::new(&RULE, span, title)
        .here(format!("`{}` has {}", kind.name.value, short.has))
        .why("Someone would stand at the far end with a wire too few in the wall. What a cable carries is what is mounted at its end and all that lies beyond it.");
    for guest in cable.carries.iter().filter(|guest| **guest != cable.run) {
        let guest = &site.runs[*guest];
        let along = guest.along.as_ref().map_or_else(Span::default, |along| along.span);
        finding = finding.also(along, format!("{} shares this cable", Screen.owner(site, guest.owner)));
    }
    for other in others {
        let run = &site.runs[other.run];
        let span = run.cable.as_ref().map_or(run.span(), |written| written.span);
        finding = finding.also(span, format!("so has {}", Screen.name(&other.label))).about(&other.label);
    }
    let needs = needs(site, short);
    for (at, what) in needs.iter().enumerate().filter(|(at, what)| !needs.iter().take(*at).any(|told| told == *what)) {
        let conductors = needs.iter().skip(at).filter(|other| *other == what).count();
        finding = finding.figure(format!("{what}: {}", count(conductors, "conductor", None)));
    }
    // What lies in the wall is not exchanged by writing another type.
    let is_old = std::iter::once(&cable).chain(others).any(|cable| site.runs[cable.run].existing);
    let other = if is_old { None } else { enough(site, run, kind, needed) };
    for cable in std::iter::once(&cable).chain(others) {
        if let (Some(other), Some(written)) = (other, &site.runs[cable.run].cable) {
            finding = finding.edit(Certainty::House, written.span, format!("\"{}\"", other.name.value));
        }
    }
    let help = match other {
        Some(other) => format!("Take `{}`, which has {}.", other.name.value, other.count.value),
        None if is_old => format!(
            "The cable is in the wall already: carry less on it, or pull a second one beside {} with the {} missing. If it has more conductors than its type says, write a cable type of its own for it.",
            if others.is_empty() { "it" } else { "each" },
            count(needed.saturating_sub(short.has), "conductor", None)
        ),
        None => format!(
            "Define a cable type {}with at least {needed} conductors of {}, or pull a second `{}`{}.",
            fit_for(site, run),
            kind.sized(),
            kind.name.value,
            if others.is_empty() { "" } else { " beside each" }
        ),
    };
    let help = format!("{help}{}", one_supply_for_all(site, short).unwrap_or_default());
    about::owner(site, run.owner, finding.help(help).about(&cable.label))
}

/// What does with fewer conductors where several detectors have each a supply of their own from one output.
fn one_supply_for_all(site: &Site, short: &TooFew) -> Option<String> {
    let outputs: Vec<_> = short.needs.iter().filter_map(|(_, function)| positive(*function)).collect();
    let twice = outputs.iter().enumerate().find(|(at, output)| outputs.iter().take(*at).any(|other| other == *output));
    let (_, output) = twice?;
    let name = &site.output(*output)?.name.value;
    let of_output = outputs.iter().filter(|other| *other == output).count();
    let rest = short.needs.len() - 2 * (of_output - 1);
    Some(format!(
        " Or let its {of_output} devices share one supply pair, as output `{name}` feeds them all, and {rest} conductors do: give each a name= and no supply=, and write one `circuit` with output=\"{name}\" whose runs go along= these cables, with a `feed` of each."
    ))
}

/// The output of which a conductor is the positive supply.
fn positive(function: Function) -> Option<OutputRef> {
    if let Function::SupplyPositive(output) = function { Some(output) } else { None }
}

/// The type with the fewest conductors that are enough, none thinner; first one that the same loop, bus or circuit has
/// elsewhere, then one whose conductors are meant for such. It is made for where the run goes, and its jacket is the same, one that may stand in for it, or not given.
fn enough<'s>(site: &'s Site, run: &Run, kind: &CableType, needed: usize) -> Option<&'s CableType> {
    let area = |kind: &CableType| kind.size.map_or(0.0, WireSize::square_millimetres);
    let mark = |kind: &CableType| kind.jacket.as_ref().map(|jacket| jacket.value.clone());
    let inside = fit_for(site, run).is_empty();
    let passes = run.passes.as_ref().map(|passes| passes.value);
    let fits = |other: &CableType| {
        let burns_alike = match (mark(kind), mark(other)) {
            (Some(wanted), Some(other)) => other == wanted || jackets::replaces(&other, &wanted),
            (None, _) | (_, None) => true,
        };
        let as_good = (other.shield.is_some() || kind.shield.is_none())
            && (other.metal == kind.metal || other.metal.value == Metal::Copper);
        burns_alike && as_good && other.suits(passes) && (inside || other.made_for.value >= kind.made_for.value)
    };
    let taken = |id| site.runs_of(run.owner).any(|(_, run)| run.cable.as_ref().is_some_and(|cable| cable.value == id));
    let has = |kind: &CableType, wanted: &[Use]| {
        kind.conductors.iter().filter_map(|one| one.purpose).any(|purpose| wanted.contains(&purpose))
    };
    let is_for_other = |other: &CableType| match run.owner {
        Owner::Bus(_) => !has(other, &[Use::BusA]),
        Owner::Zone(_) | Owner::Circuit(_) => has(other, &[Use::BusA, Use::LineIn, Use::Network, Use::Antenna]),
        Owner::Spare(_) | Owner::Communicator(_) | Owner::Transformer(_) => false,
    };
    site.cables
        .entries()
        .filter(|(_, other)| {
            other.count.value as usize >= needed && area(other) >= area(kind) * (1.0 - 1e-9) && fits(other)
        })
        .min_by_key(|(id, other)| {
            (!taken(*id), is_for_other(other), other.size != kind.size, mark(other) != mark(kind), other.count.value)
        })
        .map(|(_, other)| other)
}

/// What a cable must be made for, as a part of a sentence; empty inside the house.
fn fit_for(site: &Site, run: &Run) -> &'static str {
    match run.passes.as_ref().map(|passes| passes.value) {
        Some(Passage::Underground) => "for wet ground ",
        Some(Passage::Outdoors) => "for the outdoors ",
        _ if site.meets_open_air(run) => "for the outdoors ",
        _ => "",
    }
}
