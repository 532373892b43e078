//! Boards that feed each other.

use crate::base::wording::list;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!("supply-circle", Basis::Contradiction, "boards that feed each other in a circle");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for circle in &context.power.circles {
        let boards: Vec<_> = circle.iter().map(|board| &site.boards[*board]).collect();
        let Some((first, rest)) = boards.split_first() else { continue };
        let names: Vec<String> = circle.iter().map(|board| Screen.board(site, *board)).collect();
        let title = match rest {
            [] => format!("{} hangs on its own bus", names.join("")),
            _ => format!("{} feed each other in a circle", list(&names, "and")),
        };
        let mut finding = Diagnostic::new(&RULE, first.name.span, title)
            .here("takes its supply from a bus of the circle")
            .why("Each takes its supply from a bus that the next one feeds, and none of them is fed by a panel or has a transformer. Nothing in the circle ever gets any volts.")
            .help("Start one of these buses at the panel, or give one of the boards a `transformer` of its own.")
            .about(&first.name.value);
        for board in rest {
            finding = finding.also(board.name.span, "fed by the same circle").about(&board.name.value);
        }
        sink.push(finding);
    }
}
