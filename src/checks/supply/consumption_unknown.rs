//! Consumers of which no sheet says what they take, so that every sum is short by them.

use crate::base::wording::list;
use crate::calc::power::Consumer;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!("consumption-unknown", Basis::Practice, "a supply that feeds something of which nobody says what it takes");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
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
        let help = match first {
            Consumer::Board(_) | Consumer::Device(_) => {
                "Add to its part, from the data sheet: draw idle=(mA)… alarm=(mA)…"
            }
            Consumer::Hop(..) => "Add what it takes to the hop, from its sheet: draw=(mA)…",
        };
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
