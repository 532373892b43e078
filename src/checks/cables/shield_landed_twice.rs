//! A shield that is landed at more than one place of its line.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Run;
use crate::register::shields::is_wanted_at_both_ends;
use crate::register::{Cable, End, Wiring};
use crate::words::{self, Screen};

check!("shield-landed-twice", Basis::Practice, "a shield that is landed at more than one end");

fn run(context: Context<'_>, sink: &mut Sink) {
    let Context { site, wiring, .. } = context;
    let mut lines: BTreeMap<Id<Run>, Vec<(&Cable, End)>> = BTreeMap::new();
    for cable in wiring.cables.iter().filter(|cable| cable.shield.is_some()) {
        let landed = [End::Near, End::Far].into_iter();
        let landed = landed.filter(|end| cable.shield_at(*end).is_some_and(|at| at.landed.is_some()));
        lines.entry(first_of(wiring, cable)).or_default().extend(landed.map(|end| (cable, end)));
    }
    for (first, landed) in lines.into_iter().filter(|(_, landed)| landed.len() > 1) {
        let owner = site.runs[first].owner;
        if is_wanted_at_both_ends(site, owner) {
            continue;
        }
        let place = |(cable, end): &(&Cable, End)| {
            let at = match end {
                End::Near => "starts",
                End::Far => "ends",
            };
            format!("where {} {at}: {}", Screen.name(&cable.label), words::shield_end(site, wiring, cable, *end))
        };
        let span = |(cable, _): &(&Cable, End)| {
            let run = &site.runs[cable.run];
            run.shield.as_ref().map_or(run.span(), |said| said.span)
        };
        let Some((last, before)) = landed.split_last() else { continue };
        let title = format!("the shield of {} is landed at {} places", Screen.owner(site, owner), landed.len());
        let finding = Diagnostic::new(&RULE, span(last), title).here(place(last));
        let finding = before.iter().fold(finding, |finding, end| finding.also(span(end), place(end)));
        sink.push(about::owner(
            site,
            owner,
            finding
                .why("Two earths are never quite alike. Between them a current flows through the shield, and hums into what it should keep quiet; in a thunderstorm it goes through the boards.")
                .help("Land it where the line starts, and cut it back at the other end: leave out shield=. Where the board's sheet wants both ends, write shield-at-both-ends=#true at its bus port."),
        ));
    }
}

/// The cable at which the line of a shield starts.
pub(super) fn first_of(wiring: &Wiring, cable: &Cable) -> Id<Run> {
    let mut at = cable;
    // Longer than any line: a run never starts at one behind it.
    for _ in 0..wiring.cables.len() {
        let before = at.shield_at(End::Near).and_then(|end| wiring.cable_of(*end.joined.first()?));
        match before {
            Some(before) => at = before,
            None => break,
        }
    }
    at.run
}
