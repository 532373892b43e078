//! A shield that is landed at no place of its line.

use std::collections::BTreeMap;

use super::shield_landed_twice::first_of;
use crate::base::Id;
use crate::base::wording::list;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Board, Owner, Run, Site};
use crate::register::wiring::ShieldLanding;
use crate::register::{Cable, End, shields};
use crate::terms::ShieldEnds;
use crate::words::Screen;

check!("shield-landed-nowhere", Basis::Practice, "a shield that is landed at no end");

const ENDS: [End; 2] = [End::Near, End::Far];

const WHY: &str = "A shield that hangs free is one more conductor beside the data: it takes up what hums nearby and hands it on. Landed at one end it leads that away.";

fn run(context: Context<'_>, sink: &mut Sink) {
    let Context { site, wiring, .. } = context;
    // A board of an unknown part has no terminals at all.
    if !site.sound {
        return;
    }
    let mut lines: BTreeMap<Id<Run>, Vec<&Cable>> = BTreeMap::new();
    for cable in wiring.cables.iter().filter(|cable| cable.shield.is_some()) {
        lines.entry(first_of(wiring, cable)).or_default().push(cable);
    }
    for cables in lines.into_values() {
        let wanted = |cable: &Cable, end: End| cable.shield_at(end).is_some_and(|at| at.landed.is_some());
        let landed = |cable: &&Cable| {
            ENDS.iter().any(|end| wanted(cable, *end) && without_terminal(site, cable, *end).is_none())
        };
        let meant = |cable: &&Cable| {
            let run = &site.runs[cable.run];
            let neither = run.shield.as_ref().is_some_and(|said| said.value == ShieldEnds::Neither);
            neither || matches!(run.owner, Owner::Spare(_))
        };
        let Some((first, rest)) = cables.split_first() else { continue };
        // Two ends at which it is wanted are a finding of their own.
        let places: usize = cables.iter().map(|cable| ENDS.iter().filter(|end| wanted(cable, **end)).count()).sum();
        let twice = places > 1 && !shields::is_wanted_at_both_ends(site, site.runs[first.run].owner);
        if twice || cables.iter().any(|cable| landed(cable) || meant(cable)) {
            continue;
        }
        let labels: Vec<String> = cables.iter().map(|cable| Screen.name(&cable.label)).collect();
        let run = &site.runs[first.run];
        let title = format!("the shield of {} is landed at no end", list(&labels, "and"));
        let written = cables.iter().find_map(|cable| {
            let board = ENDS.iter().find_map(|end| without_terminal(site, cable, *end))?;
            Some((site.runs[cable.run].shield.as_ref()?.span, board))
        });
        if let Some((span, board)) = written {
            let finding = Diagnostic::new(&RULE, span, title)
                .here(format!("{} has no terminal for it", Screen.board(site, board)))
                .why(WHY)
                .help(help(context, &cables));
            sink.push(about::owner(site, run.owner, finding));
            continue;
        }
        let mut finding = Diagnostic::new(&RULE, run.span(), title).here("cut back where it starts");
        if let Some(before) = run.upstream {
            finding = finding.also(site.runs[before].span(), "the cable before it has no shield to go on from");
        }
        for cable in rest {
            finding = finding.also(site.runs[cable.run].span(), "and this one goes on from it");
        }
        sink.push(about::owner(site, run.owner, finding.why(WHY).help(help(context, &cables))));
    }
}

/// At which end a board has a terminal for it; what is to be done where none has.
fn help(context: Context<'_>, cables: &[&Cable]) -> String {
    let site = context.site;
    let taker = cables
        .iter()
        .find_map(|cable| ENDS.iter().find_map(|end| Some((cable, end, shields::taker(site, cable.run, *end)?))));
    match taker {
        Some((cable, end, board)) => format!(
            "Write shield=\"{}\" at the run of cable {}: {} has a terminal for it. Write shield=\"neither\" where the board's sheet wants it so.",
            match end {
                End::Near => ShieldEnds::Near.word(),
                End::Far => ShieldEnds::Far.word(),
            },
            Screen.name(&cable.label),
            Screen.board(site, board)
        ),
        None => "No board where it starts or ends has a terminal for it by its part. If a board's sheet has one, write it: shield= in the bus-port of its part, or earth-terminal. If none has, write shield=\"neither\" at the run: its shield is cut back and insulated at both ends.".to_owned(),
    }
}

/// The board at an end where `shield=` wants a cable's shield landed, and which has no terminal for it by a part that was
/// read whole.
fn without_terminal(site: &Site, cable: &Cable, end: End) -> Option<Id<Board>> {
    site.runs[cable.run].shield.as_ref()?;
    let unnamed = cable.shield_at(end)?.landed == Some(ShieldLanding::Unnamed);
    let board = shields::board_of(site, cable.run, end).filter(|_| unnamed)?;
    site.part_of(board).filter(|part| part.whole).map(|_| board)
}
