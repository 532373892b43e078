//! An output or bus port that gives more than it can.

use crate::calc::power::{Demand, remedy};
use crate::checks::Context;
use crate::checks::supply::power_verdict::{Stage, out_of_range_of, stage};
use crate::checks::supply::power_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Source;
use crate::quantity::print::apart;
use crate::words::{self, Screen};

check!("output-overloaded", Basis::Contradiction, "more current from a supply than its limit");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let judged = context.power.feedings.iter().filter_map(|feeding| match stage(site, feeding) {
        Stage::Overloaded => Some((feeding, false)),
        Stage::Collapsed(..) => Some((feeding, true)),
        Stage::Broken | Stage::Misplaced | Stage::Open => None,
    });
    let overloads = judged.flat_map(|(feeding, fails)| feeding.overloads().map(move |over| (feeding, over, fails)));
    for (feeding, over, fails) in overloads {
        let source = feeding.tree.outlet_of(over.node);
        let board = source.board();
        let (what, when) = (Screen.source(site, source), words::demand(over.demand));
        let (gives, limit) = apart(over.current, over.limit);
        let title = format!("{what} gives {gives} {when}; its limit is {limit}");
        let finding = Diagnostic::new(&RULE, site.boards[board].name.span, title)
            .here(format!("{gives} {when}"))
            .also(power_words::source_span(site, source), format!("limit {limit}"))
            .why("A supply past its limit drops its volts or trips its protection, and then everything on it is dead: detectors, keypads, sounders. Where all is in alarm at once counts, for that is when it must hold.")
            .about(&site.boards[board].name.value);
        let finding = power_words::itemised(site, finding, feeding, over.node, over.demand);
        let by_sheets = fails.then_some("a cable on it cannot carry what is taken: the current is counted by the sheets, as a heavier cable would bring it");
        let finding = by_sheets.into_iter().fold(finding, Diagnostic::figure);
        let other = if over.demand == Demand::Idle { Demand::Alarm } else { Demand::Idle };
        let finding = finding.figure(format!("{}: {}", words::demand(other), feeding.current_at(over.node, other)));
        if let Some((load, takes)) = out_of_range_of(feeding, over) {
            let who = Screen.consumer(site, load.consumer);
            let alone = format!("{takes} for this alone");
            sink.push(finding.also(power_words::span(site, load.consumer), alone).help(format!("{who} alone takes {takes}, many times what {what} gives: hold that figure and its unit against the sheet. If it is right, feed it from a supply of its own.")));
            continue;
        }
        if over.node > 0 {
            sink.push(finding.help("Feed part of them from another output, from a board with a supply of its own, or take devices that need less."));
            continue;
        }
        let moved = power_words::best_move(context, feeding, &feeding.tree, |_| true);
        let transformer = matches!(source, Source::Port(..)).then(|| remedy::own_supply(site, &feeding.tree)).flatten();
        sink.push(match (moved, transformer) {
            (Some(moved), _) => finding.help(format!("{}.", power_words::move_words(site, moved))),
            (None, Some(module)) => finding.help(format!(
                "Give {} a transformer and a battery of its own: write them in its node.",
                Screen.board(site, module)
            )),
            (None, None) => finding.help("No other output of this board takes any one of them as it is wired. Feed part of them from a board with a supply of its own, or take devices that need less."),
        });
    }
}
