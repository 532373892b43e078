//! A terminal strip in another room than the board that feeds it.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!("strip-elsewhere", Basis::Contradiction, "a terminal strip in another room than the board that feeds it");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for strip in &site.boards {
        let Some(feed) = strip.kind.feed() else { continue };
        let board = &site.boards[feed.board];
        let (Some(room), Some(there)) = (strip.room, board.room) else { continue };
        if room == there {
            continue;
        }
        let (here, there) = (&site.rooms[room].title, &site.rooms[there].title);
        let finding = Diagnostic::new(
            &RULE,
            strip.name.span,
            format!("strip `{}` is in {here}, and {} that feeds it in {there}", strip.name.value, Screen.board(site, feed.board)),
        )
        .here(format!("in {here}"))
        .also(board.name.span, format!("in {there}"))
        .why("Short wires feed a strip, from the output beside it. From room to room it would take a cable, with a label, a length and a drop of volts, and none is in the spec.")
        .help("Leave room= out, so that the strip stands beside its board. What is to be fed in the other room hangs on a `circuit`: a run to that room, and in its braces a run to each device.")
        .about(&strip.name.value);
        sink.push(finding);
    }
}
