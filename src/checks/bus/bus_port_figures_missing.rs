//! A bus whose board does not say what supply it gives to the modules.

use crate::base::wording::list;
use crate::calc::power::trees;
use crate::checks::Context;
use crate::checks::bus::bus_verdict::own_port;
use crate::checks::bus::bus_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Source;
use crate::words::Screen;

check!(
    "bus-port-figures-missing",
    Basis::Practice,
    "a bus whose board does not say what supply it gives to the modules"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let heads: Vec<_> = trees::heads(site).collect();
    for id in context.buses.keys() {
        let bus = &site.buses[*id];
        let (Some(own), Some(port), Some(at)) = (&bus.board, own_port(site, bus), bus.port) else { continue };
        // A board that is itself fed by a bus passes on what it gets.
        let feeds =
            context.power.of(Source::Port(own.value, at)).is_some_and(|feeding| feeding.tree.loads().count() > 0);
        let lacks: Vec<&str> = [(port.volts.is_none(), "volts="), (port.limit.is_none(), "limit=")]
            .into_iter()
            .filter_map(|(lacks, name)| lacks.then_some(name))
            .collect();
        if !heads.contains(&own.value) || !feeds || lacks.is_empty() {
            continue;
        }
        let board = &site.boards[own.value];
        let part = board.part.map_or("", |part| site.parts[part].name.value.as_str());
        let lacks = list(&lacks, "and");
        let title = format!(
            "what {} gives to the modules of bus `{}` is not known",
            Screen.board(site, own.value),
            bus.name.value
        );
        let finding = Diagnostic::new(&RULE, bus.name.span, title)
            .here("feeds modules")
            .also(port.name.span, format!("lacks {lacks}"))
            .why("Modules take their supply through the bus cable. Whether enough arrives at the last one, and whether the port can give it, cannot be said without the board's figures.")
            .help(format!("Look in the board's sheet for the voltage and the greatest current of the bus supply, and write {lacks} in the bus-port of part `{part}`."));
        sink.push(bus_words::about(finding, bus).about(part));
    }
}
