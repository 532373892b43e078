//! Boards of one bus with the same address.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::base::wording::{count, list, numbers};
use crate::checks::Context;
use crate::checks::bus::bus_addresses;
use crate::diag::{Basis, Certainty, Diagnostic, Sink};
use crate::model::Board;
use crate::words::Screen;

check!("bus-address-repeated", Basis::Contradiction, "boards of one bus with the same address");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, bus) in site.buses.entries() {
        let mut by_address: BTreeMap<u32, Vec<(Id<Board>, &Board)>> = BTreeMap::new();
        // Those that the panel does not know are another rule's: each is given an address of its own there.
        let known = bus_addresses::range(site, id).map_or(0..=u32::MAX, |(first, last)| first..=last);
        for (id, board, address) in bus_addresses::of_bus(site, id).filter(|(_, _, at)| known.contains(&at.value)) {
            by_address.entry(address.value).or_default().push((id, board));
        }
        by_address.retain(|_, boards| boards.len() > 1);
        // Each finding gets addresses of its own, so that all of them can be followed.
        let wanted = by_address.values().map(|boards| boards.len() - 1).sum();
        let mut unused = if wanted > 0 { bus_addresses::free(site, id, wanted) } else { Vec::new() }.into_iter();
        for (address, mut boards) in by_address {
            // As they stand in the spec: the first keeps its address.
            boards.sort_by_key(|(_, board)| board.address.as_ref().map(|address| address.span));
            let names: Vec<String> = boards.iter().map(|(id, _)| Screen.board(site, *id)).collect();
            let free: Vec<u32> = unused.by_ref().take(boards.len() - 1).collect();
            let addresses: Vec<String> = free.iter().map(|free| format!("address={free}")).collect();
            let addresses = list(&addresses, "and");
            let title = format!("{} have address {address} on bus `{}`", list(&names, "and"), bus.name.value);
            let Some(Some(first)) = boards.first().map(|(_, board)| board.address.as_ref()) else { continue };
            let mut finding = Diagnostic::new(&RULE, first.span, title)
                .here("the first")
                .why("Both answer at once, and the panel understands neither: it shows the same fault for two boards, and the second never comes up.")
                .help(match free.as_slice() {
                    [] => "No address that the board knows is free: put one of them on another bus.".to_owned(),
                    [_] if boards.len() == 2 => {
                        format!("Set one of them to a free address and write it: {addresses}.")
                    }
                    _ if free.len() + 1 < boards.len() => format!(
                        "Leave one of them, and set others to the addresses that are free: {addresses}. No more are: put the rest on another bus."
                    ),
                    _ => format!("Leave one of them, and set the others to free addresses: {addresses}."),
                })
                .figure(format!(
                    "{} on the bus, addresses {}",
                    count(bus_addresses::of_bus(site, id).count(), "board", None),
                    numbers(&bus_addresses::taken(site, id)),
                ))
                .about(&bus.name.value);
            for (_, board) in &boards {
                finding = finding.about(&board.name.value);
            }
            for (rank, (_, board)) in boards.iter().skip(1).enumerate() {
                if let Some(address) = &board.address {
                    finding = finding.also(address.span, "the same address again");
                    if let Some(free) = free.get(rank).filter(|_| free.len() + 1 == boards.len()) {
                        finding = finding.edit(Certainty::House, address.span, free.to_string());
                    }
                }
            }
            sink.push(finding);
        }
    }
}
