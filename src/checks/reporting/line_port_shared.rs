//! Two telephone lines on one line port of a board.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::base::wording::list;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Board, Communicator};
use crate::words::Screen;

check!("line-port-shared", Basis::Contradiction, "two telephone lines on one line port of a board");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let mut by_port: BTreeMap<(Id<Board>, usize), Vec<&Communicator>> = BTreeMap::new();
    for line in &site.communicators {
        if let Some(port) = line.port {
            by_port.entry(port).or_default().push(line);
        }
    }
    for ((board, port), mut lines) in by_port {
        lines.sort_by_key(|line| line.name.span);
        let [first, others @ ..] = lines.as_slice() else { continue };
        if others.is_empty() {
            continue;
        }
        let names: Vec<String> = lines.iter().map(|line| Screen.name(&line.name.value)).collect();
        let title = format!("lines {} are on one port of {}", list(&names, "and"), Screen.board(site, board));
        let mut finding = Diagnostic::new(&RULE, first.name.span, title)
            .here("on this port")
            .why("Each conductor of one line is then joined to that of the other: each feeds and rings into the other, and neither works, not for the board and not for the phones.")
            .help("Leave one of the lines there. Give the other the board that it belongs to with board=, or another line port of this one with port=; a line that no board uses is not written.")
            .about(&first.name.value);
        for line in others {
            finding = finding.also(line.name.span, "and this one").about(&line.name.value);
        }
        if let Some(port) = site.part_of(board).and_then(|part| part.line_ports.get(port)) {
            finding = finding.also(port.name.span, "the port");
        }
        sink.push(finding);
    }
}
