//! A circuit or bus that nothing hangs on.

use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Owner;
use crate::words::Screen;

check!("nothing-connected", Basis::NoEffect, "a circuit or bus that nothing hangs on");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    // What hangs there may be what could not be read.
    if !site.sound {
        return;
    }
    let circuits = site.circuits.entries().filter(|(id, _)| site.consumers_on(*id).next().is_none());
    let circuits = circuits.map(|(id, circuit)| (Owner::Circuit(id), circuit.name.span));
    let buses = site.buses.entries().filter(|(id, _)| site.boards_on(*id).next().is_none());
    let buses = buses.map(|(id, bus)| (Owner::Bus(id), bus.name.span));
    for (owner, span) in circuits.chain(buses) {
        let what = if matches!(owner, Owner::Bus(_)) { "keypad, module or receiver" } else { "sounder, load or feed" };
        let finding = Diagnostic::new(&RULE, span, format!("nothing hangs on {}", Screen.owner(site, owner)))
            .here(format!("without a {what}"))
            .why("Its cable is pulled, labelled and landed for nothing, or what belongs there was forgotten: a siren that is not in the spec is not bought, not counted on the battery and not tried.")
            .help(format!("Put the {what} at the end of a run; write a cable that is only pulled for later as a `spare-cable`."));
        sink.push(about::owner(site, owner, finding));
    }
}
