//! Two boards whose inputs the panel knows by the same numbers.

use std::collections::BTreeSet;

use crate::base::Id;
use crate::base::wording::numbers;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Board, Site};
use crate::words::Screen;

check!("inputs-overlap", Basis::Contradiction, "two boards whose inputs the panel knows by the same numbers");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (panel, _) in site.boards.entries().filter(|(_, board)| board.kind.is_panel()) {
        let mut known: Vec<(Id<Board>, BTreeSet<u32>)> = Vec::new();
        let modules = site.boards.entries().map(|(id, _)| id).filter(|id| is_numbered_by(site, *id, panel));
        for id in std::iter::once(panel).chain(modules) {
            let own: BTreeSet<u32> = site.known_inputs(id).map(|(known, _)| known).collect();
            if let Some((other, theirs)) = known.iter().find(|(_, other)| !own.is_disjoint(other)) {
                let [shared, all, theirs] = [own.intersection(theirs).copied().collect(), listed(&own), listed(theirs)]
                    .map(|all: Vec<u32>| numbers(&all));
                let board = &site.boards[id];
                let (title, first) = (Screen.board(site, id), Screen.board(site, *other));
                sink.push(
                    Diagnostic::new(
                        &RULE,
                        board.name.span,
                        format!("inputs of {title} are numbered {shared}, as inputs of {first} are"),
                    )
                    .here(all)
                    .also(site.boards[*other].name.span, theirs)
                    .why("The panel knows each input of its bus by one number. Of two that have the same, one is never heard.")
                    .help("Write inputs-from= with a number behind those of the other board, as the panel is programmed.")
                    .about(&board.name.value),
                );
            }
            known.push((id, own));
        }
    }
}

/// True for a board on a bus of a panel, maybe behind modules that carry the bus on, with inputs that the panel numbers anew.
fn is_numbered_by(site: &Site, id: Id<Board>, panel: Id<Board>) -> bool {
    let board = &site.boards[id];
    board.bus.is_some() && board.kind.inputs_from().is_some() && site.panel_of(Some(id)) == Some(panel)
}

fn listed(numbers: &BTreeSet<u32>) -> Vec<u32> {
    numbers.iter().copied().collect()
}
