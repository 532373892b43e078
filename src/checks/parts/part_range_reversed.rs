//! A part whose least volts are more than its greatest.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{LoopFed, Part};
use crate::quantity::Volts;

check!(
    "part-range-reversed",
    Basis::Contradiction,
    "a part whose least volts or first address are more than its greatest"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    for part in &context.site.parts {
        for (node, [(min, least), (max, greatest)]) in reversed(part) {
            let title = format!("`{node}` of part `{}` has {min}={least} and {max}={greatest}", part.name.value);
            let finding = Diagnostic::new(&RULE, part.name.span, title)
                .here(format!("{min}= is more than {max}="))
                .why("The first is the least voltage and the second the greatest: no voltage lies between them as they are, so nothing can be said of the part's supply.")
                .help(format!("Copy both from the sheet again: the smaller belongs to {min}=. If they are only exchanged, write {min}=(V){} {max}=(V){}.", greatest.0, least.0))
                .about(&part.name.value);
            sink.push(finding);
        }
        for port in &part.bus_ports {
            let Some((first, last)) = port.addresses.filter(|(first, last)| first > last) else { continue };
            let title = format!(
                "bus-port `{}` of part `{}` knows addresses {first} to {last}",
                port.name.value, part.name.value
            );
            sink.push(
                Diagnostic::new(&RULE, port.name.span, title)
                    .here("the first is behind the last")
                    .why("No address lies between the two, so nothing could be said of the boards on the bus.")
                    .help(format!("Write first-address={last} last-address={first}, if they are only exchanged."))
                    .about(&part.name.value),
            );
        }
    }
}

fn reversed(part: &Part) -> Vec<(&'static str, [(&'static str, Volts); 2])> {
    let supply = part.supply.iter().filter_map(|supply| Some([("min", supply.min), ("max", supply.max?)]));
    let supply = supply.filter(|[(_, least), (_, greatest)]| least > greatest).map(|edges| ("supply", edges));
    let fed = part.loop_fed.iter().flat_map(LoopFed::reversed).map(|edges| ("loop-fed", edges));
    supply.chain(fed).collect()
}
