//! Two boards whose inputs the panel knows by the same numbers.

use std::ops::RangeInclusive;

use crate::base::Id;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Board, Site};
use crate::words::Screen;

check!("inputs-overlap", Basis::Contradiction, "two boards whose inputs the panel knows by the same numbers");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (panel, _) in site.boards.entries().filter(|(_, board)| board.kind.is_panel()) {
        let mut known: Vec<(Id<Board>, RangeInclusive<u32>)> = Vec::new();
        let modules = site.boards.entries().filter(|(_, board)| on_bus_of(site, board, panel)).map(|(id, _)| id);
        for id in std::iter::once(panel).chain(modules) {
            let Some(own) = numbers(site, id) else { continue };
            let overlaps = |other: &RangeInclusive<u32>| own.start() <= other.end() && other.start() <= own.end();
            if let Some((other, theirs)) = known.iter().find(|(_, other)| overlaps(other)) {
                let board = &site.boards[id];
                let (title, first) = (Screen.board(site, id), Screen.board(site, *other));
                sink.push(
                    Diagnostic::new(
                        &RULE,
                        board.name.span,
                        format!("the inputs of {title} are numbered {} to {}, as inputs of {first} are", own.start(), own.end()),
                    )
                    .here(format!("{} to {}", own.start(), own.end()))
                    .also(site.boards[*other].name.span, format!("{} to {}", theirs.start(), theirs.end()))
                    .why("The panel knows each input of its bus by one number. Of two that have the same, one is never heard.")
                    .help("Write inputs-from= with a number behind those of the other board, as the panel is programmed.")
                    .about(&board.name.value),
                );
            }
            known.push((id, own));
        }
    }
}

/// True for a board on a bus of a panel, with inputs that the panel numbers anew.
fn on_bus_of(site: &Site, board: &Board, panel: Id<Board>) -> bool {
    let head = board.bus.and_then(|(bus, _)| site.buses[bus].board.as_ref());
    head.is_some_and(|head| head.value == panel) && board.kind.inputs_from().is_some()
}

/// The numbers by which the panel knows a board's inputs; `None` where its part has none.
fn numbers(site: &Site, board: Id<Board>) -> Option<RangeInclusive<u32>> {
    let own = site.part_of(board)?.inputs.iter().map(|input| input.number.value);
    let (first, last) = (own.clone().min()?, own.max()?);
    Some(match site.boards[board].kind.inputs_from() {
        Some(from) => from..=from.saturating_add(last - first),
        None => first..=last,
    })
}
