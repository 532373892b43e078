//! A supply with more volts or power than the cable on it is made for, where the profile is that of the United States.
//!
//! Judged by the greatest volts on mains times the output's limit, or by the transformer's rating. A source that is listed
//! and marked as class 2 is one whatever its figures say, and a sheet may show that: the finding can be accepted.

use std::collections::BTreeMap;

use crate::checks::Context;
use crate::checks::supply::power_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Board, CableType, Run};
use crate::profiles::jackets::{self, CLASS_2_VOLTS};
use crate::quantity::{VoltAmperes, Volts};
use crate::terms::Profile;
use crate::words::Screen;

check!(
    "source-beyond-class-2",
    Basis::Published("NFPA 70 (NEC), edition not named, from memory; the local code prevails"),
    "a supply with more volts or power than its power-limited cable is made for"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if site.profile != Some(Profile::UsHousehold) {
        return;
    }
    for feeding in &context.power.feedings {
        let tree = &feeding.tree;
        // What starts at each place by such a cable, the first.
        let mut fed = BTreeMap::new();
        for (before, run) in
            tree.nodes.iter().filter_map(|node| Some((node.before, power_limited(context, node.run?)?)))
        {
            fed.entry(before).or_insert(run);
        }
        for (at, outlet) in tree.nodes.iter().enumerate() {
            let (Some(source), Some(most), Some(limit)) = (outlet.outlet, outlet.most, outlet.limit) else { continue };
            let Some((run, kind)) = fed.get(&at).copied() else { continue };
            let gives = (Volts(most.greatest), VoltAmperes(most.greatest * limit.0));
            let Some(finding) = finding(&Screen.source(site, source), gives, run, kind) else { continue };
            let limited = power_words::source_span(site, source);
            sink.push(finding.also(limited, "its limit").about(&site.boards[source.board()].name.value));
        }
    }
    for board in &site.boards {
        sink.extend(of_transformer(context, board));
    }
}

fn of_transformer(context: Context<'_>, board: &Board) -> Option<Diagnostic> {
    let transformer = board.transformer.as_ref()?;
    let (run, kind) = power_limited(context, transformer.run?)?;
    let what = format!("the transformer of `{}`", board.name.value);
    let finding = finding(&what, (transformer.volts.value, transformer.rating.value), run, kind)?;
    Some(finding.also(transformer.rating.span, "its rating").about(&board.name.value))
}

/// A run with the type of its cable, where its jacket is one for power-limited circuits.
fn power_limited(context: Context<'_>, run: crate::base::Id<Run>) -> Option<(&Run, &CableType)> {
    let site = context.site;
    let kind = &site.cables[context.wiring.cable_of(run)?.kind];
    kind.jacket.as_ref().filter(|jacket| jackets::known(&jacket.value)).map(|_| (&site.runs[run], kind))
}

fn finding(what: &str, (volts, power): (Volts, VoltAmperes), run: &Run, kind: &CableType) -> Option<Diagnostic> {
    if volts.0 <= CLASS_2_VOLTS && power.0 <= jackets::class_2_rating(volts.0) * (1.0 + 1e-9) {
        return None;
    }
    let jacket = kind.jacket.as_ref()?;
    let title = format!("{what} can give {volts} and {power} into a cable of type {}", jacket.value);
    Some(
        Diagnostic::new(&RULE, run.span(), title)
            .here(format!("a power-limited cable, `{}`", kind.name.value))
            .also(jacket.span, "its type")
            .why("Such a cable is allowed to be thin and to lie beside others because its source cannot heat it. A stronger source can set a short alight behind a wall.")
            .figure(jackets::class_2())
            .help("Take a source that is listed and marked as class 2 or power-limited, or divide the load over several outputs that are. If the board's sheet says that this one is, accept the finding with the page."),
    )
}
