//! More loops on a board than it has inputs.

use std::collections::BTreeMap;

use crate::base::wording::{count, list};
use crate::base::{Id, Span};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Board;
use crate::words::Screen;

check!("input-none-free", Basis::Contradiction, "more loops on a board than it has inputs");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let mut without: BTreeMap<Id<Board>, Vec<(u32, Span)>> = BTreeMap::new();
    for zone in &context.wiring.inputs.without {
        let zone = &site.zones[*zone];
        let Some(board) = zone.wired.as_ref().and_then(|wired| wired.board.as_ref()) else { continue };
        without.entry(board.value).or_default().push((zone.number.value, board.span));
    }
    for (id, zones) in without {
        let Some(part) = site.part_of(id).filter(|part| part.whole && !part.inputs.is_empty()) else { continue };
        let Some(((first, span), others)) = zones.split_first() else { continue };
        let board = &site.boards[id];
        let inputs = count(part.inputs.len(), "input", None);
        let numbers: Vec<String> = zones.iter().map(|(number, _)| number.to_string()).collect();
        let noun = if others.is_empty() { "zone" } else { "zones" };
        let title = format!("{} has no input left for {noun} {}", Screen.board(site, id), list(&numbers, "and"));
        let mut finding = Diagnostic::new(&RULE, *span, title)
            .here(format!("zone {first}"))
            .also(part.name.span, format!("this board has {inputs}"))
            .why("Every loop needs an input of its own, and all inputs of this board have their loop already.")
            .help("Name another board for it, or add an expander to the bus.")
            .about(first)
            .about(&board.name.value);
        for ((_, input), label) in context.wiring.inputs.dead.iter().filter(|((board, _), _)| *board == id) {
            finding = finding.figure(format!("input {input} has the dead cable `{label}` on it: take it off, and write off=#true in its entry of register.kdl"));
        }
        for (number, span) in others {
            finding = finding.also(*span, format!("zone {number}")).about(number);
        }
        sink.push(finding);
    }
}
