//! A run that is said to end in a room and in an enclosure that is in another.

use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!("joint-box-elsewhere", Basis::Contradiction, "a run that ends in one room and in an enclosure of another");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for run in &site.runs {
        let Some(into) = &run.into else { continue };
        let board = &site.boards[into.value];
        let (Some(here), Some(there)) = (run.room, board.room) else { continue };
        if here == there {
            continue;
        }
        let (here, there) = (&site.rooms[here].title, &site.rooms[there].title);
        let enclosure = Screen.board(site, into.value);
        let finding =
            Diagnostic::new(&RULE, into.span, format!("this run ends in {here}, and {enclosure} is in {there}"))
                .here(format!("in {there}"))
                .also(run.span(), format!("in {here}"))
                .also(board.name.span, format!("in {there}"))
                .why("A cable ends in one place. Whoever pulls it goes to the room, and whoever joins it to the box.")
                .help(
                    "Leave room= out, so that the run ends where the enclosure is, or name the enclosure of that room.",
                );
        sink.push(about::owner(site, run.owner, finding));
    }
}
