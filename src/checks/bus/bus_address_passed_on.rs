//! One address on both sides of a module that starts another bus and knows no addresses of its own: a repeater. It makes a
//! new segment of the cable, and passes on what it hears: to the panel both are one bus.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::wording::list;
use crate::base::{Id, Spanned};
use crate::checks::Context;
use crate::checks::bus::bus_addresses;
use crate::diag::{Basis, Certainty, Diagnostic, Sink};
use crate::model::{Board, Bus, Site};
use crate::words::Screen;

check!("bus-address-passed-on", Basis::Works, "one address on both sides of a module that passes a bus on");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if !site.sound {
        return;
    }
    let mut groups: BTreeMap<Id<Bus>, Vec<Id<Bus>>> = BTreeMap::new();
    for (id, _) in site.buses.entries() {
        if let Some(first) = bus_addresses::first_of(site, id) {
            groups.entry(first).or_default().push(id);
        }
    }
    for (first, buses) in groups {
        let mut by_address: BTreeMap<u32, Vec<Taken<'_>>> = BTreeMap::new();
        for bus in buses {
            // Two on one bus are told there.
            let mut seen = BTreeSet::new();
            for (id, board, address) in bus_addresses::of_bus(site, bus).filter(|(.., at)| seen.insert(at.value)) {
                by_address.entry(address.value).or_default().push(Taken { id, board, address, bus });
            }
        }
        let (least, greatest) = bus_addresses::range(site, first).unwrap_or((1, 255));
        let mut free = (least..=greatest).filter(|address| !by_address.contains_key(address));
        for taken in by_address.values().filter(|taken| taken.len() > 1) {
            sink.extend(finding(site, taken, free.next()));
        }
    }
}

/// A board with its address.
struct Taken<'s> {
    id: Id<Board>,
    board: &'s Board,
    address: &'s Spanned<u32>,
    bus: Id<Bus>,
}

fn finding(site: &Site, taken: &[Taken<'_>], free: Option<u32>) -> Option<Diagnostic> {
    let (first, others) = taken.split_first()?;
    let last = others.last()?;
    let names: Vec<String> = taken.iter().map(|one| Screen.board(site, one.id)).collect();
    let address = first.address.value;
    let title = format!("{} have address {address}, and a module between them passes the bus on", list(&names, "and"));
    let set = free.map_or_else(
        || "Put one of them on a bus that starts at the panel itself".to_owned(),
        |free| format!("Set {} to a free address and write it: address={free}", Screen.board(site, last.id)),
    );
    let mut finding = Diagnostic::new(&RULE, first.address.span, title)
        .here(format!("on bus `{}`", site.buses[first.bus].name.value))
        .why("A repeater makes a new segment of the cable, with its own length and terminators. What is said on one side it says on the other, so both boards answer at once, and the panel understands neither.")
        .help(format!(
            "{set}. If the module knows the boards behind it by addresses of its own, write those on that bus-port of its part: first-address= and last-address=, as its sheet has them."
        ));
    for one in others {
        finding = finding.also(one.address.span, format!("on bus `{}`", site.buses[one.bus].name.value));
    }
    finding = taken.iter().fold(finding, |finding, one| finding.about(&one.board.name.value));
    Some(match free {
        Some(free) if others.len() == 1 => finding.edit(Certainty::House, last.address.span, free.to_string()),
        Some(_) | None => finding,
    })
}
