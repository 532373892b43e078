//! More on a contact or transistor than its sheet lets it switch.

use std::collections::BTreeMap;

use crate::checks::switching::hung::{Hung, MAINS, Switched, switched};
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Owner, Site, SwitchRef};
use crate::quantity::print::apart;
use crate::quantity::{Amperes, Volts};
use crate::terms::{CurrentKind, SwitchContact};
use crate::words::Screen;

check!("switch-overloaded", Basis::Contradiction, "more on a relay or transistor than it can switch");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let mut by_contact: BTreeMap<(SwitchRef, SwitchContact), Vec<Switched<'_>>> = BTreeMap::new();
    for one in switched(site) {
        by_contact.entry((one.of, one.switching.contact)).or_default().push(one);
    }
    for circuits in by_contact.values() {
        let hung: Vec<Hung> = circuits.iter().flat_map(|one| one.hung(site)).collect();
        let Some(first) = circuits.first().filter(|_| hung.iter().all(|hung| hung.volts.0 <= MAINS.0)) else {
            continue;
        };
        for kind in [CurrentKind::Direct, CurrentKind::Alternating] {
            let hung: Vec<&Hung> = hung.iter().filter(|hung| hung.kind == kind).collect();
            sink_one(site, first, kind, &hung, sink);
        }
    }
}

fn sink_one(site: &Site, one: &Switched<'_>, kind: CurrentKind, hung: &[&Hung], sink: &mut Sink) {
    let Some(volts) = hung.iter().map(|hung| hung.volts.0).reduce(f64::max).map(Volts) else { return };
    let current: Amperes = hung.iter().map(|hung| hung.current).sum();
    let rating = one.switch.rating(kind);
    let (who, word) = (Screen.switch(site, one.of), kind.printed());
    let over = |most: f64, is: f64| is > most * (1.0 + 1e-9);
    let over_its_limit = |(is, most): (String, String)| format!("{who} switches {is} {word}; its limit is {most}");
    let unrated = kind == CurrentKind::Alternating && rating.current.is_none() && rating.volts.is_none();
    let (title, edge, help) = match (rating.volts, rating.current) {
        _ if unrated => (
            format!("{who} switches {word}, and its sheet gives no rating for that"),
            "rated for d.c. only".to_owned(),
            "Let it switch the coil of a relay of its own whose contact is rated for a.c.: the load is then that coil."
                .to_owned(),
        ),
        (Some(most), _) if over(most.0, volts.0) => (
            over_its_limit(apart(volts, most)),
            format!("at most {most} {word}"),
            "Let it switch the coil of a relay of its own whose contact stands that: the load is then that coil."
                .to_owned(),
        ),
        (_, Some(most)) if over(most.0, current.0) => (
            over_its_limit(apart(current, most)),
            format!("at most {most} {word}"),
            if hung.len() > 1 {
                "Put some of the loads on another relay or transistor, or let this one switch the coil of a relay that carries them all.".to_owned()
            } else {
                "Put the load on a relay that carries it, or let this one switch the coil of such a relay.".to_owned()
            },
        ),
        _ => return,
    };
    let finding = Diagnostic::new(&RULE, one.span(), title)
        .here("switched by it")
        .also(one.switch.name.span, edge)
        .why("A contact that breaks more than it can welds or burns, and a transistor dies at once. Then the load stays on, or never comes on again, and nobody hears of it.")
        .help(help);
    let finding = hung
        .iter()
        .fold(finding, |finding, hung| finding.also(hung.span, format!("{} at {}", hung.current, hung.volts)));
    sink.push(about::owner(site, Owner::Circuit(one.id), finding));
}
