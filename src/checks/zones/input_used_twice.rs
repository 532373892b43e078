//! Two loops on one input.

use std::collections::BTreeMap;

use crate::base::{Id, Span};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Board, Site};
use crate::words::Screen;

check!("input-used-twice", Basis::Contradiction, "two loops on one input");

/// Board and input → zone numbers with the places of `input=`.
type Given = BTreeMap<(Id<Board>, u32), Vec<(u32, Span)>>;

/// The inputs that the spec gives, of boards that have them.
pub(crate) fn given(site: &Site) -> Given {
    let mut given = Given::new();
    for zone in &site.zones {
        let Some(wired) = &zone.wired else { continue };
        let (Some(board), Some(input)) = (&wired.board, &wired.input) else { continue };
        // An input that the board does not have is another rule's.
        if site.input(board.value, input.value).is_some() {
            given.entry((board.value, input.value)).or_default().push((zone.number.value, input.span));
        }
    }
    given
}

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let given = given(site);
    for ((id, input), zones) in &given {
        let id = *id;
        let [(first, first_span), others @ ..] = zones.as_slice() else { continue };
        let board = &site.boards[id];
        for (zone, span) in others {
            let title = format!("input {input} of {} is used twice", Screen.board(site, id));
            sink.push(
                Diagnostic::new(&RULE, *span, title)
                    .here(format!("zone {zone}"))
                    .also(*first_span, format!("zone {first}"))
                    .why("A board reads one loop on one input. Two loops under the same screws are one loop to it, and both would be reported by one number.")
                    .help(help(site, id, &given))
                    .about(zone)
                    .about(first)
                    .about(&board.name.value),
            );
        }
    }
}

/// The first input of the board that no loop asks for.
pub(crate) fn free(site: &Site, board: Id<Board>, given: &Given) -> Option<u32> {
    let numbers = site.part_of(board).into_iter().flat_map(|part| &part.inputs).map(|input| input.number.value);
    numbers.filter(|number| !given.contains_key(&(board, *number))).min()
}

fn help(site: &Site, board: Id<Board>, given: &Given) -> String {
    free(site, board, given).map_or_else(
        || "No other input of the board is free: move one loop to another board.".to_owned(),
        |free| format!("Move one loop to another input, input={free} for example, or leave input= out: the first free one is taken."),
    )
}
