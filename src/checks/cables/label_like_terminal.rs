//! Cables whose labels look like the marks of the terminals they come to.

use std::collections::BTreeMap;

use crate::base::wording::list;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::terminal::terminals;
use crate::register::{Cable, OnTerminal};
use crate::words::Screen;

check!("label-like-terminal", Basis::Practice, "cables whose labels look like the terminals of their board");

/// How many labels a finding names.
const NAMED: usize = 8;

fn run(context: Context<'_>, sink: &mut Sink) {
    let Context { site, wiring, .. } = context;
    for (id, board) in site.boards.entries() {
        let marks: Vec<String> = terminals(site, id).into_iter().map(|terminal| terminal.mark.to_lowercase()).collect();
        let here = wiring.terminals.iter().filter(|((on, _), _)| *on == id).flat_map(|(_, things)| things);
        let alike: BTreeMap<&str, &Cable> = here
            .filter_map(|thing| match thing {
                OnTerminal::Conductor(cable, _) | OnTerminal::Shield(cable) => wiring.cables.get(*cable),
                OnTerminal::Link(..) | OnTerminal::Lead(_) => None,
            })
            .filter(|cable| marks.contains(&cable.label.to_lowercase()))
            .map(|cable| (cable.label.as_str(), cable))
            .collect();
        if alike.is_empty() {
            continue;
        }
        let labels: Vec<String> = alike.keys().map(|label| Screen.name(label)).take(NAMED).collect();
        let more = if alike.len() > NAMED { format!(" and {} more", alike.len() - NAMED) } else { String::new() };
        let title = format!("{} has terminals that are marked like its cables", Screen.board(site, id));
        let finding = Diagnostic::new(&RULE, board.name.span, title).here(format!("{}{more}", list(&labels, "and")));
        let finding = alike.values().take(NAMED).fold(finding, |finding, cable| {
            finding.also(site.runs[cable.run].span(), format!("cable {}", Screen.name(&cable.label)))
        });
        sink.push(
            finding
                .why("On one line of the terminal schedule stand the mark of a screw and the label of a cable. Where both look alike, a cable is landed under the screw of its name.")
                .help("Before the labels are on the cables, write label-prefix=\"W\" in `site`. Cables that the register knows keep theirs: give those runs others, for example label=\"W1\".")
                .about(&board.name.value),
        );
    }
}
