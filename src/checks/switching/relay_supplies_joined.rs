//! Circuits with different supplies on one relay, whose common joins them.

use std::collections::BTreeMap;

use crate::checks::switching::hung::{Switched, switched};
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Owner, Site, Source, SwitchRef};
use crate::words::Screen;

check!("relay-supplies-joined", Basis::Contradiction, "a relay whose common joins two supplies");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let mut by_relay: BTreeMap<SwitchRef, Vec<Switched<'_>>> = BTreeMap::new();
    // What feeds a circuit may have been reported.
    let known = |one: &Switched<'_>| one.switching.dry || one.circuit.feed.is_some();
    for one in switched(site).filter(|one| one.switch.common().is_some() && known(one)) {
        by_relay.entry(one.of).or_default().push(one);
    }
    for (of, circuits) in by_relay {
        let Some((first, others)) = circuits.split_first() else { continue };
        let Some(other) = others.iter().find(|other| differ(first, other)) else { continue };
        let title = format!("the common of {} joins two supplies", Screen.switch(site, of));
        let finding = Diagnostic::new(&RULE, other.span(), title)
            .here(supply(site, other))
            .also(first.span(), supply(site, first))
            .also(first.switch.name.span, "one common for both contacts")
            .why("Both contacts of a relay start at its common. A load with a supply of its own, and another that something else feeds, would be tied to each other there, whatever the relay does.")
            .help("Put one of the two circuits on another relay.");
        sink.push(about::owner(site, Owner::Circuit(other.id), finding));
    }
}

/// True for circuits of which each has its own supply.
fn differ(one: &Switched<'_>, other: &Switched<'_>) -> bool {
    let feed = |of: &Switched<'_>| of.circuit.feed.as_ref().map(|feed| feed.value);
    one.switching.dry || other.switching.dry || feed(one) != feed(other)
}

fn supply(site: &Site, one: &Switched<'_>) -> String {
    match &one.circuit.feed {
        Some(feed) => format!("fed from {}", Screen.outlet(site, Source::Output(feed.value))),
        None => "dry, for a supply of the load's own".to_owned(),
    }
}
