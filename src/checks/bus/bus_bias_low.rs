//! A bus with less than 200 mV between A and B when nobody sends.

use crate::calc::bus::remedy;
use crate::checks::Context;
use crate::checks::bus::bus_verdict::{Cause, found, remedied};
use crate::checks::bus::bus_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::bus::{THRESHOLD, UNIT_LOAD, UNIT_LOAD_MEANS};
use crate::quantity::Ohms;
use crate::words::Screen;

check!(
    "bus-bias-low",
    Basis::Published("TIA-485-A, quoted"),
    "a bus with less than 200 mV between A and B when nobody sends"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (bus, figures, _) in found(context, |cause| *cause == Cause::BiasLow) {
        let layout = &figures.layout;
        let Some(idle) = &figures.idle else { continue };
        let (worst, least) = idle.worst();
        let there = bus_words::place(context, layout, worst);
        let title = format!("bus `{}` idles at {} at {there}", bus.name.value, bus_words::millivolts(least));
        let mut finding = Diagnostic::new(&RULE, bus.name.span, title)
            .here(format!("{} are needed", bus_words::millivolts(THRESHOLD.value)))
            .also(bus_words::place_span(context, layout, worst), "the least stands here")
            .why("Between −200 and +200 mV a receiver may read either state. While nobody sends, noise then looks like data, and the bus shows faults that come and go.");
        for port in &layout.ports {
            let Some((leg, supply)) = port.bias else { continue };
            let board = Screen.board(site, port.board);
            finding = finding.figure(format!("{board}: {leg} in each leg from {supply}"));
        }
        let values: Vec<String> = layout.terminators.iter().map(|terminator| terminator.ohms.to_string()).collect();
        finding = finding.figure(format!(
            "across the pair: {}, {} unit loads of {UNIT_LOAD_MEANS} ({})",
            if values.is_empty() {
                "no terminator".to_owned()
            } else {
                format!("terminators {}", values.join(" and "))
            },
            bus_words::unit_loads(layout.unit_loads()),
            UNIT_LOAD.source(),
        ));
        finding =
            finding.figure(format!("needed: {} ({})", bus_words::millivolts(THRESHOLD.value), THRESHOLD.source()));
        // Followed with the others, not beside them.
        let causes = context.bus_causes.get(&layout.bus).map(Vec::as_slice).unwrap_or_default();
        let help = match remedy::bias(&remedied(site, layout, causes)) {
            Some(bias) => {
                let board = layout.ports.get(bias.port).map_or_else(String::new, |port| Screen.board(site, port.board));
                let leg = Ohms(bias.leg.0.floor());
                format!(
                    "Bias resistors of {leg} in each leg work. Ask the maker of {board} whether it can be set so, or whether {} may be put beside each of them at its terminals, and write bias=(ohm){} in its bus-port then.",
                    bias.beside, bias.leg.0.floor(),
                )
            }
            None => "No bias that the drivers can bear is enough. Put fewer boards on this bus, or ask the board's maker how it is biased.".to_owned(),
        };
        sink.push(bus_words::about(finding.help(help), bus));
    }
}
