//! A fault contact at the end of a run where something else of the loop is mounted too.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Device, Mounted};
use crate::words::Screen;

check!("fault-contact-crowded", Basis::Contradiction, "a fault contact that has no run of its own");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for run in &site.runs {
        let devices: Vec<&Device> =
            run.mounted.iter().filter_map(Mounted::device).map(|device| &site.devices[device]).collect();
        let Some(fault) = devices.iter().find(|device| device.board.is_some()).filter(|_| devices.len() > 1) else {
            continue;
        };
        let Some(board) = &fault.board else { continue };
        let title = format!("the fault contact of {} shares the end of a run", Screen.board(site, board.value));
        let others = devices.iter().filter(|device| device.span() != fault.span());
        let finding = Diagnostic::new(&RULE, fault.span(), title)
            .here("two terminals of the board")
            .why("The conductors of the run land on the two terminals of the board. What else is mounted at its end has no conductor of its own, so the schedule could not say what goes where.")
            .help("Give each a run of its own: a short one that goes on from the first to the second is enough.")
            .about(&site.boards[board.value].name.value);
        sink.push(others.fold(finding, |finding, other| finding.also(other.span(), "at the end of the same run")));
    }
}
