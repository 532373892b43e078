//! A loop that meets a fault contact in another room than the board has it in.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!(
    "fault-contact-elsewhere",
    Basis::Contradiction,
    "a run that ends in another room than the board whose fault contact is there"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for device in &site.devices {
        let (Some(board), Some(run)) = (&device.board, device.run) else { continue };
        let (run, id) = (&site.runs[run], board.value);
        let (Some(here), Some(there)) = (run.room, site.boards[id].room) else { continue };
        if here == there {
            continue;
        }
        let (here, there) = (&site.rooms[here].title, &site.rooms[there].title);
        let title = format!(
            "the run to the fault contact of {} ends in {here}, and the board hangs in {there}",
            Screen.board(site, id)
        );
        sink.push(
            Diagnostic::new(&RULE, run.span(), title)
                .here(format!("ends in {here}"))
                .also(site.boards[id].name.span, format!("in {there}"))
                .why("The contact is two terminals of the board. A cable that ends in another room does not reach them.")
                .help("Leave room= of the run out: it then ends where the board hangs. Or add a run from there to the board.")
                .about(&site.boards[id].name.value),
        );
    }
}
