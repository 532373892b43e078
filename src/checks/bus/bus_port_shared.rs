//! Two buses on one port of a board.

use std::collections::BTreeSet;

use crate::base::Id;
use crate::base::wording::list;
use crate::checks::Context;
use crate::checks::bus::bus_verdict::shared_ports;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Board, Bus, Site};
use crate::words::Screen;

check!("bus-port-shared", Basis::Contradiction, "two buses on one port of a board");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    // Boards that feed each other have that finding; once it is corrected, they start elsewhere.
    let circles: BTreeSet<_> = context.power.circles.iter().flatten().copied().collect();
    for (board, buses) in shared_ports(site).into_iter().filter(|(board, _)| !circles.contains(board)) {
        let names: Vec<String> = buses.iter().map(|bus| format!("`{}`", site.buses[*bus].name.value)).collect();
        let Some((last, others)) = buses.split_last() else { continue };
        if others.iter().all(|bus| bus == last) {
            sink.push(on_itself(site, board, *last));
            continue;
        }
        let title = format!("buses {} are on one port", list(&names, "and"));
        let mut finding = Diagnostic::new(&RULE, site.buses[*last].name.span, title)
            .here("on the same terminals")
            .why("On one port they are one pair of wires: terminators, addresses and loads count together, and each of the two would be judged as if the other were not there.")
            .help("Write their runs in one `bus`, the first of the second cable with from=\"board\", or give one of them another port with port=.")
            .about(&site.buses[*last].name.value);
        for bus in others {
            let name = &site.buses[*bus].name;
            finding = finding.also(name.span, "and this one").about(&name.value);
        }
        sink.push(finding);
    }
}

/// A bus that starts at a board which hangs on it.
fn on_itself(site: &Site, board: Id<Board>, bus: Id<Bus>) -> Diagnostic {
    let (name, board) = (&site.buses[bus].name, (Screen.board(site, board), &site.boards[board].name));
    Diagnostic::new(&RULE, board.1.span, format!("bus `{}` starts at {}, which also hangs on it", name.value, board.0))
        .here("hangs on the bus that starts here")
        .also(name.span, "starts at it")
        .why("A bus leads from one board to others. A board at its start and again on its way would have its own cable come back to its own terminals.")
        .help("Let the bus start at the panel or at another board (board=), or take this one out of its runs.")
        .about(&name.value)
        .about(&board.1.value)
}
