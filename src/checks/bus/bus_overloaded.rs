//! More unit loads on a bus than a driver must drive.

use crate::checks::Context;
use crate::checks::bus::bus_verdict::{Cause, found};
use crate::checks::bus::bus_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::bus::MOST_UNIT_LOADS;
use crate::words::Screen;

check!("bus-overloaded", Basis::Published("TIA-485-A, quoted"), "more unit loads on a bus than a driver must drive");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (bus, figures, _) in found(context, |cause| *cause == Cause::Overloaded) {
        let layout = &figures.layout;
        let most = MOST_UNIT_LOADS.value;
        let said = bus_words::unit_loads(layout.unit_loads());
        let mut sum = 0.0;
        let beyond: Vec<_> = layout
            .ports
            .iter()
            .filter(|port| {
                sum += port.unit_load;
                sum > most
            })
            .collect();
        let title = format!("bus `{}` carries {said} unit loads of {most:.0}", bus.name.value);
        let mut finding = Diagnostic::new(&RULE, bus.name.span, title)
            .here(format!("{} boards", layout.ports.len()))
            .why("The standard asks no driver to drive more, and each receiver takes its share of the bias. The boards answer on a good day and not on a bad one.")
            .help(format!(
                "Move {} of the boards to another bus or behind a repeater. If their sheets say that they load the bus with a quarter or an eighth of a unit load, write it in the part: unit-load=(percent)25.",
                beyond.len(),
            ))
            .figure(format!("{} ports, {said} unit loads; a driver must drive {most:.0} ({})", layout.ports.len(), MOST_UNIT_LOADS.source()));
        for port in beyond.iter().take(8) {
            let board = &site.boards[port.board];
            finding = finding.also(board.name.span, format!("{} is beyond {most:.0}", Screen.board(site, port.board)));
        }
        sink.push(bus_words::about(finding, bus));
    }
}
