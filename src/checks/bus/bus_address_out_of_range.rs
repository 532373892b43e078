//! A board with an address that the board at the head of the bus does not know.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::base::wording::numbers;
use crate::checks::Context;
use crate::checks::bus::bus_addresses;
use crate::diag::{Basis, Certainty, Diagnostic, Sink};
use crate::model::Bus;
use crate::words::Screen;

check!(
    "bus-address-out-of-range",
    Basis::Contradiction,
    "a board with an address that the board at the head of its bus does not know"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    // Of buses that are one to the panel, how many were given a free address.
    let mut given: BTreeMap<Id<Bus>, usize> = BTreeMap::new();
    for (of, bus) in site.buses.entries() {
        let Some((from, (first, last))) = bus_addresses::known(site, of) else { continue };
        let Some(own) = &site.buses[from].board else { continue };
        // A range that ends before it begins is told of the part.
        if first > last {
            continue;
        }
        let outside: Vec<_> =
            bus_addresses::of_bus(site, of).filter(|(_, _, at)| !(first..=last).contains(&at.value)).collect();
        // A free one for each, so that all the helps can be followed.
        if outside.is_empty() {
            continue;
        }
        let before = given.entry(from).or_default();
        let free: Vec<u32> = bus_addresses::free(site, of, *before + outside.len()).into_iter().skip(*before).collect();
        *before += outside.len();
        for (position, (id, board, address)) in outside.into_iter().enumerate() {
            let head = Screen.board(site, own.value);
            let title =
                format!("{} has address {}, and {head} knows {first} to {last}", Screen.board(site, id), address.value);
            let help = match free.get(position) {
                Some(free) => format!("Set it to a free address and write it: address={free}."),
                None => "No address that the board knows is free: put it on another bus.".to_owned(),
            };
            let mut finding = Diagnostic::new(&RULE, address.span, title)
                .here(format!("{first} to {last}"))
                .why("The panel asks each address that it knows in turn. A board with another is never asked, and what hangs on it is not watched.")
                .figure(format!("addresses in use: {}", numbers(&bus_addresses::taken_together(site, of))))
                .help(help)
                .about(&board.name.value);
            if let Some(free) = free.get(position) {
                finding = finding.edit(Certainty::House, address.span, free.to_string());
            }
            if let Some(port) = crate::checks::bus_verdict::own_port(site, &site.buses[from]) {
                finding = finding.also(port.name.span, format!("knows {first} to {last}"));
            }
            sink.push(finding.about(&bus.name.value));
        }
    }
}
