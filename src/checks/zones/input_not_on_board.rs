//! A loop on an input that its board does not have.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::base::wording::{list, numbers};
use crate::checks::Context;
use crate::checks::zones::input_used_twice::{free, given};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Board, BoardKind, Loop, Site, Zone};
use crate::words::Screen;

check!("input-not-on-board", Basis::Contradiction, "a loop on an input that its board does not have");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let given = given(site);
    // A board without inputs is one cause, however many loops are said to be on it.
    let mut on_none: BTreeMap<Id<Board>, Vec<(&Zone, &Loop)>> = BTreeMap::new();
    for zone in &site.zones {
        let Some(wired) = &zone.wired else { continue };
        let Some(written) = &wired.board else { continue };
        let board = &site.boards[written.value];
        let inputs: Vec<u32> = match site.part_of(written.value).filter(|part| part.whole) {
            Some(part) => part.inputs.iter().map(|input| input.number.value).collect(),
            None if board.kind.offers_nothing() => Vec::new(),
            // What the board has is not known.
            None => continue,
        };
        if inputs.is_empty() {
            on_none.entry(written.value).or_default().push((zone, wired));
        } else if let Some(input) = wired.input.as_ref().filter(|input| !inputs.contains(&input.value)) {
            let finding = Diagnostic::new(
                &RULE,
                input.span,
                format!("{} has no input {}", Screen.board(site, written.value), input.value),
            )
            .here(format!("the loop of zone {}", zone.number.value))
            .also(board.part_span, "what the board offers is said by its part")
            .why("The loop would have no terminals to land on. The number here is the one that is printed on the board itself, whatever the panel calls it.")
            .about(zone.number.value)
            .about(&board.name.value);
            let meant = site.known_inputs(written.value).find(|(known, _)| *known == input.value);
            sink.push(match meant {
                Some((_, own)) => finding
                    .help(format!("If you mean the input that the panel knows as {}, write input={own}.", input.value)),
                None => {
                    let free = free(site, written.value, &given);
                    let free = free.map_or_else(String::new, |free| format!(", input={free} for example"));
                    finding.help(format!("It has {}: take one of them{free}, or leave input= out.", numbers(&inputs)))
                }
            });
        }
    }
    sink.extend(on_none.iter().filter_map(|(id, loops)| no_inputs(site, *id, loops)));
}

fn no_inputs(site: &Site, id: Id<Board>, loops: &[(&Zone, &Loop)]) -> Option<Diagnostic> {
    let board = &site.boards[id];
    let place = |wired: &Loop| wired.board.as_ref().map_or(wired.place.span, |board| board.span);
    let ((zone, wired), rest) = loops.split_first()?;
    let title = format!("{} has no inputs for loops", Screen.board(site, id));
    let finding = Diagnostic::new(&RULE, place(wired), title)
        .here(format!("the loop of zone {}", zone.number.value))
        .also(board.name.span, "this board")
        .why("Only a board with inputs can read a loop: it drives a small current around it and measures what comes back.")
        .about(zone.number.value)
        .about(&board.name.value);
    let finding = rest.iter().fold(finding, |finding, (zone, wired)| {
        finding.also(place(wired), format!("and that of zone {}", zone.number.value)).about(zone.number.value)
    });
    let other_part = if board.kind.is_panel() { " Or name another part for this one." } else { "" };
    let others: Vec<String> = site
        .boards
        .entries()
        .filter(|(id, board)| {
            board.kind != BoardKind::PowerSupply && site.part_of(*id).is_some_and(|part| !part.inputs.is_empty())
        })
        .map(|(_, other)| Screen.name(&other.name.value))
        .collect();
    Some(if others.is_empty() {
        finding.help(format!("Name a panel or an expander with inputs.{other_part}"))
    } else {
        finding.help(format!("Name {}.{other_part}", list(&others, "or")))
    })
}
