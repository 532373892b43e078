//! A form for a service that nothing reaches.

use std::collections::BTreeSet;

use crate::base::Id;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Board, Monitoring, Site};
use crate::words::Screen;

check!("form-without-way", Basis::Practice, "a monitoring service's form, and no way to the service: local alarm only");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    // A form alone may be that of a service to come; with a format, something is meant to speak.
    let Some(form) = site.monitoring.as_ref().filter(|form| form.format.is_some() && site.sound) else { return };
    if !site.communicators.is_empty() {
        return panels(site, form, sink);
    }
    // Where the node gives no width, this span is that of its name.
    sink.push(
        Diagnostic::new(&RULE, form.description_width.span, "the alarm is local only: nothing reaches the service")
            .here("the service's form, with a format=")
            .why("The spec says what the communicator speaks, and has none. Sounders call the neighbours, and nobody else is told.")
            .help("Add the way as a `communicator`, or take the `monitoring` node out where a local alarm is all that is meant."),
    );
}

/// Of several panels, those whose alarms go by no way, while those of another one do.
fn panels(site: &Site, form: &Monitoring, sink: &mut Sink) {
    let ways: Option<BTreeSet<Id<Board>>> = site.communicators.iter().map(|way| site.panel_of_way(way)).collect();
    // A way without its panel is a finding of its own.
    let Some(ways) = ways else { return };
    let used: BTreeSet<Id<Board>> = site.zones_in_use().filter_map(|(_, zone)| site.panel_of_zone(zone)).collect();
    for panel in used.difference(&ways) {
        let board = &site.boards[*panel];
        let finding = Diagnostic::new(
            &RULE,
            board.name.span,
            format!("the alarm of {} is local only: no way leads from it to the service", Screen.board(site, *panel)),
        )
        .here("its zones are sent to nobody")
        .also(form.description_width.span, "the service's form, with a format=")
        .why("The ways of the spec belong to another panel, and carry what that one has to tell.")
        .help(format!(
            "Add a `communicator` with board=\"{}\"; or accept this where a local alarm is all that is meant, or where this panel has the other one report for it.",
            board.name.value
        ))
        .about(&board.name.value);
        sink.push(finding);
    }
}
