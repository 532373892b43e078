//! A bus whose bias cannot be computed.

use crate::checks::Context;
use crate::checks::bus::bus_verdict::{Cause, found, own_port};
use crate::checks::bus::bus_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!("bus-bias-unknown", Basis::Practice, "a bus whose bias cannot be computed");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (bus, _, _) in found(context, |cause| *cause == Cause::BiasUnknown) {
        let (Some(own), Some(port)) = (&bus.board, own_port(site, bus)) else { continue };
        let board = &site.boards[own.value];
        let part = board.part.map_or("", |part| site.parts[part].name.value.as_str());
        let lacks = match (port.bias, port.bias_supply) {
            (Some(_), None) => "bias-supply=",
            (None, Some(_)) => "bias=",
            _ => "bias= and bias-supply=",
        };
        let title = format!("the bias of bus `{}` is not known", bus.name.value);
        let finding = Diagnostic::new(&RULE, bus.name.span, title)
            .here(format!("starts at {}", Screen.board(site, own.value)))
            .also(port.name.span, format!("lacks {lacks}"))
            .why("While nobody sends, bias resistors hold the pair at 200 mV or more; with less, noise reads as data. Without the board's figures nothing can be said about it.")
            .help(format!("Look in the board's sheet for the bias resistors (also called fail-safe or pull-up and pull-down resistors) and the voltage behind them, and write {lacks} in the bus-port of part `{part}`."));
        sink.push(bus_words::about(finding, bus).about(part));
    }
}
