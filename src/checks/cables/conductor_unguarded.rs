//! A supply that can drive more through a conductor than the conductor may carry.

use std::collections::BTreeSet;

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Source;
use crate::profiles::{guards, jackets};
use crate::words::Screen;

check!(
    "conductor-unguarded",
    Basis::Published("NEC, edition not named, from memory, as an upper guard; below 18 AWG common practice"),
    "a supply that can drive more through a conductor than it may carry"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let outlets = context.power.feedings.iter().flat_map(|feeding| {
        let nodes = feeding.tree.nodes.iter().enumerate();
        nodes.filter_map(move |(at, node)| Some((&feeding.tree, at, node.outlet?, node.limit?)))
    });
    for (tree, outlet, source, limit) in outlets {
        let board = &site.boards[source.board()];
        let mut seen = BTreeSet::new();
        // What a module's own output feeds is behind that output's limit.
        let behind = |at: &usize| tree.outlet_node(*at) == outlet;
        let thin = (0..tree.nodes.len()).filter(behind).filter_map(|at| {
            let run = &site.runs[tree.nodes.get(at)?.run?];
            let cable = run.cable.as_ref()?;
            let guard = site.cables[cable.value].size.map_or(guards::THINNEST, guards::of);
            (limit > guard.most() && seen.insert(cable.value)).then_some((run, cable, guard))
        });
        let thin: Vec<_> = thin.collect();
        let Some((_, first, guard)) = thin.first() else { continue };
        let cable = &site.cables[first.value];
        let what = match source {
            Source::Output(_) => "output",
            Source::Port(..) => "port",
        };
        let source = Screen.source(site, source);
        let mut finding = Diagnostic::new(
            &RULE,
            first.span,
            format!("{source} lets {limit} through `{}`, which may carry {}", cable.name.value, guard.most()),
        )
        .here(format!("{}: {} at most", cable.sized(), guard.most()))
        .also(board.part_span, format!("the {what} gives up to {limit} before it lets go"))
        .why("In a short the cable is the fuse. It lies in the wall, between things that burn.")
        .help(format!("Put a fuse of at most {} in this supply at the board, or take a cable of heavier conductors. The cable's sheet and the local code have the last word.", guard.most()))
        .figure(format!("at most {} through {}: {}", guard.most(), cable.sized(), guard.origin()))
        .figure(jackets::class_2())
        .about(&board.name.value);
        for (run, ..) in thin.iter().skip(1) {
            finding = finding.also(run.span(), "too thin as well");
        }
        sink.push(finding);
    }
}
