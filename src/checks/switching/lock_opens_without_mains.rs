//! A lock that current holds shut, on a supply that goes with the mains.

use crate::calc::power::{Demand, Feeding, Supply};
use crate::checks::switching::hung::locks;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Site;
use crate::terms::Fails;
use crate::words::Screen;

check!("lock-opens-without-mains", Basis::Practice, "a fail-safe lock that no battery holds when the mains is lost");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, _, feeding, node) in locks(context).filter(|(_, part, ..)| part.fails == Some(Fails::Safe)) {
        let is_held = |supply| feeding.tree.is_on(node, supply, Demand::Idle);
        let own = site.devices[id].own_battery().is_some();
        if own || !is_held(Supply::Mains) || has_battery(site, feeding) && is_held(Supply::Battery) {
            continue;
        }
        let title = format!("{} opens when the mains is lost", Screen.device(site, id));
        let finding = Diagnostic::new(&RULE, site.devices[id].span(), title)
            .here("held shut by current")
            .also(site.boards[feeding.tree.source.board()].name.span, "feeds it with the mains alone")
            .why("A fail-safe lock is held by current. With nothing but the mains behind it, whoever opens a switch or a fuse outside opens the door as well.")
            .help("Feed it from a supply with a battery, or give it a battery of its own and write battery= with its day. Where the door is to open then, accept this. On a way out the door opens by hand in any case; local code says what more it asks of such a lock.");
        sink.push(about::device(site, &site.devices[id], finding));
    }
}

/// True where a supply has a battery, or where that it has none is told of its board.
fn has_battery(site: &Site, feeding: &Feeding) -> bool {
    let charges = site.part_of(feeding.tree.source.board()).is_some_and(|part| part.charger.is_some());
    feeding.battery_volts.is_some() || charges
}
