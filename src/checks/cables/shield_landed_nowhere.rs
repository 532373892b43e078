//! A shield that is landed at no place of its line.

use std::collections::BTreeMap;

use super::shield_landed_twice::first_of;
use crate::base::Id;
use crate::base::wording::list;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Owner, Run};
use crate::register::{Cable, End};
use crate::terms::ShieldEnds;
use crate::words::Screen;

check!("shield-landed-nowhere", Basis::Practice, "a shield that is landed at no end");

fn run(context: Context<'_>, sink: &mut Sink) {
    let Context { site, wiring, .. } = context;
    let mut lines: BTreeMap<Id<Run>, Vec<&Cable>> = BTreeMap::new();
    for cable in wiring.cables.iter().filter(|cable| cable.shield.is_some()) {
        lines.entry(first_of(wiring, cable)).or_default().push(cable);
    }
    for cables in lines.into_values() {
        let landed = |cable: &&&Cable| {
            [End::Near, End::Far].iter().any(|end| cable.shield_at(*end).is_some_and(|at| at.landed.is_some()))
        };
        let meant = |cable: &&&Cable| {
            let run = &site.runs[cable.run];
            let neither = run.shield.as_ref().is_some_and(|said| said.value == ShieldEnds::Neither);
            neither || matches!(run.owner, Owner::Spare(_))
        };
        let Some((first, rest)) = cables.split_first() else { continue };
        if cables.iter().any(|cable| landed(&cable) || meant(&cable)) {
            continue;
        }
        let labels: Vec<String> = cables.iter().map(|cable| Screen.name(&cable.label)).collect();
        let run = &site.runs[first.run];
        let title = format!("the shield of {} is landed at no end", list(&labels, "and"));
        let mut finding = Diagnostic::new(&RULE, run.span(), title).here("cut back where it starts");
        if let Some(before) = run.upstream {
            finding = finding.also(site.runs[before].span(), "the cable before it has no shield to go on from");
        }
        for cable in rest {
            finding = finding.also(site.runs[cable.run].span(), "and this one goes on from it");
        }
        sink.push(about::owner(
            site,
            run.owner,
            finding
                .why("A shield that hangs free is one more conductor beside the data: it takes up what hums nearby and hands it on. Landed at one end it leads that away.")
                .help("Write shield=\"near\" at this run, or shield=\"far\" where it ends, at the board that has a terminal for it; shield=\"neither\" where the board's sheet wants it so."),
        ));
    }
}
