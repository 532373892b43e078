//! Consumers of which no sheet says what they take, so that every sum is short by them.

use crate::base::wording::list;
use crate::calc::power::Consumer;
use crate::checks::{Context, words};
use crate::checks::supply::power_words;
use crate::diag::{Basis, Diagnostic, Sink};

check!("consumption-unknown", Basis::Practice, "a supply that feeds something of which nobody says what it takes");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for feeding in &context.power.feedings {
        let tree = &feeding.tree;
        let Some(first) = tree.unknown.first() else { continue };
        let board = &site.boards[tree.source.board()];
        let name = |consumer: &Consumer| match consumer {
            Consumer::Device(device) => words::device(&site.devices[*device]),
            Consumer::Board(board) => words::board(&site.boards[*board]),
            Consumer::Hop(line, hop) => {
                let hop = site.communicators[*line].hops.get(*hop);
                hop.map_or_else(String::new, |hop| format!("“{}”", hop.name.value))
            }
        };
        let span = |consumer: &Consumer| match consumer {
            Consumer::Device(device) => site.devices[*device].span(),
            Consumer::Board(board) => site.boards[*board].part_span,
            Consumer::Hop(line, hop) => {
                let line = &site.communicators[*line];
                line.hops.get(*hop).map_or(line.name.span, |hop| hop.name.span)
            }
        };
        let names: Vec<String> = tree.unknown.iter().map(name).collect();
        let help = match first {
            Consumer::Board(_) | Consumer::Device(_) => {
                "Add to its part, from the data sheet: draw idle=(mA)… alarm=(mA)…"
            }
            Consumer::Hop(..) => "Add what it takes to the hop, from its sheet: draw=(mA)…",
        };
        let source = power_words::name(site, tree.source);
        let mut finding = Diagnostic::new(
            &RULE,
            span(first),
            format!("nobody says what {} takes from {source} of {}", list(&names, "or"), words::board(board)),
        )
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
