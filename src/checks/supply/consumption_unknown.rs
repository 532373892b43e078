//! Consumers of which no sheet says what they take, so that every sum is short by them.

use std::collections::BTreeSet;

use crate::base::Id;
use crate::base::wording::list;
use crate::calc::power::{Consumer, trees};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Part;
use crate::words::Screen;

check!(
    "consumption-unknown",
    Basis::Practice,
    "a supply that feeds something of which nobody says what it takes, or a board with a battery of which nobody does"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let mut told: BTreeSet<Id<Part>> = BTreeSet::new();
    for id in trees::heads(site) {
        let board = &site.boards[id];
        let is_sized = board.battery.is_some() || board.transformer.is_some();
        let (Some(of), Some(part)) = (board.part, site.part_of(id)) else { continue };
        // One cause, however many boards are of the part.
        if !is_sized || part.draw.is_some() || !part.whole || !told.insert(of) {
            continue;
        }
        let title = format!("nobody says what {} takes itself", Screen.board(site, id));
        sink.push(
            Diagnostic::new(&RULE, board.part_span, title)
                .here("takes an unknown current")
                .also(part.name.span, "the part, without `draw`")
                .why("Battery and transformer are computed without it, and come out better than they are.")
                .help("Add to its part, from the data sheet: draw idle=(mA)… alarm=(mA)…")
                .about(&board.name.value),
        );
    }
    for feeding in &context.power.feedings {
        let tree = &feeding.tree;
        let Some(first) = tree.unknown.first() else { continue };
        let board = &site.boards[tree.source.board()];
        let span = |consumer: &Consumer| match consumer {
            Consumer::Device(device) => site.devices[*device].span(),
            Consumer::Board(board) => site.boards[*board].part_span,
            Consumer::Hop(line, hop) => {
                let line = &site.communicators[*line];
                line.hops.get(*hop).map_or(line.name.span, |hop| hop.name.span)
            }
        };
        let names: Vec<String> = tree.unknown.iter().map(|consumer| Screen.consumer(site, *consumer)).collect();
        let (hops, boards): (Vec<_>, Vec<_>) =
            tree.unknown.iter().partition(|consumer| matches!(consumer, Consumer::Hop(..)));
        let named = |of: Vec<&Consumer>| {
            let names: Vec<String> = of.into_iter().map(|consumer| Screen.consumer(site, *consumer)).collect();
            (!names.is_empty()).then(|| list(&names, "and"))
        };
        let boards = named(boards)
            .map(|of| format!("Add to the part of {of}, from the data sheet: draw idle=(mA)… alarm=(mA)…"));
        let hops = named(hops).map(|of| format!("Add what it takes to hop {of}, from its sheet: draw=(mA)…"));
        let help = boards.into_iter().chain(hops).collect::<Vec<_>>().join(". ");
        let source = Screen.source(site, tree.source);
        let mut finding =
            Diagnostic::new(&RULE, span(first), format!("nobody says what {} takes from {source}", list(&names, "or")))
                .here("takes an unknown current")
                .why("Volts, battery and transformer are computed without it, and come out better than they are.")
                .help(help)
                .about(&board.name.value);
        for consumer in tree.unknown.iter().skip(1) {
            finding = finding.also(span(consumer), "and this one");
        }
        sink.push(finding);
    }
}
