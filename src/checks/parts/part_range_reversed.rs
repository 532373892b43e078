//! A part whose least volts are more than its greatest, or whose board has none left at the end of its battery.

use crate::calc::power::own_supply::{end_of_battery, own_drop};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{LoopFed, Part};
use crate::quantity::Volts;

check!(
    "part-range-reversed",
    Basis::Contradiction,
    "a part whose least volts or first address are more than its greatest, or that loses all its volts"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    for part in &context.site.parts {
        for (node, [(min, least), (max, greatest)]) in reversed(part) {
            let title = format!("`{node}` of part `{}` has {min}={least} and {max}={greatest}", part.name.value);
            let finding = Diagnostic::new(&RULE, part.name.span, title)
                .here(format!("{min}= is more than {max}="))
                .why(if node == "ac-port" {
                    "The first is the least voltage and the second the greatest: no transformer's voltage lies between them as they are, so none is held against them."
                } else {
                    "The first is the least voltage and the second the greatest: no voltage lies between them as they are, so nothing can be said of the part's supply."
                })
                .help(if node == "output" {
                    "Copy both from the sheet again: least= is what the output gives at the end of the battery, volts= what it gives on mains.".to_owned()
                } else {
                    format!("Copy both from the sheet again: the smaller belongs to {min}=. If they are only exchanged, write {min}=(V){} {max}=(V){}.", greatest.0, least.0)
                })
                .about(&part.name.value);
            sink.push(finding);
        }
        sink.extend(loses_all(part));
        for port in &part.bus_ports {
            let Some((first, last)) = port.addresses.filter(|(first, last)| first > last) else { continue };
            let title = format!(
                "bus-port `{}` of part `{}` knows addresses {first} to {last}",
                port.name.value, part.name.value
            );
            sink.push(
                Diagnostic::new(&RULE, port.name.span, title)
                    .here("the first is higher than the last")
                    .why("No address lies between the two, so nothing could be said of the boards on the bus.")
                    .help(format!("Write first-address={last} last-address={first}, if they are only exchanged."))
                    .about(&part.name.value),
            );
        }
    }
}

/// A board that has nothing left for an output when its battery ends.
fn loses_all(part: &Part) -> Option<Diagnostic> {
    let (end, own) = (end_of_battery(part), own_drop(part));
    let outputs = part.outputs.iter().filter(|output| output.least.is_none()).map(|output| output.drop);
    let greatest = outputs.chain((!part.bus_ports.is_empty()).then_some(Volts(0.0))).map(|drop| own + drop);
    let lost = greatest.max_by(|one, other| one.0.total_cmp(&other.0)).filter(|lost| lost.0 >= end.0)?;
    let title = format!("part `{}` loses {lost} of its battery's last {end}", part.name.value);
    Some(
        Diagnostic::new(&RULE, part.name.span, title)
            .here("nothing is left")
            .why("drop= is what a board loses in its fuse and switches, a few tenths of a volt. With all of the volts lost in it, no output gives anything on battery, and nothing can be said of what hangs there.")
            .help("Copy drop= of the charger and of the output from the sheet again; look at the unit. Leave it out where the sheet does not say.")
            .about(&part.name.value),
    )
}

/// Where the second of two is to be more than the first and is not: of a part's node, their names and volts.
fn reversed(part: &Part) -> Vec<(&'static str, [(&'static str, Volts); 2])> {
    let draw = part.draw.iter().filter_map(|draw| Some(("draw", [("min", draw.min?), ("max", draw.max?)])));
    let outputs = part.outputs.iter();
    let outputs = outputs.filter_map(|output| Some(("output", [("least", output.least?), ("volts", output.volts)])));
    let others = draw.chain(outputs).filter(|(_, [(_, least), (_, greatest)])| least > greatest);
    let supply = part.supply.iter().filter_map(|supply| Some([("min", supply.min), ("max", supply.max?)]));
    let supply = supply.filter(|[(_, least), (_, greatest)]| least > greatest).map(|edges| ("supply", edges));
    let ac = part.ac_port.as_ref().filter(|port| port.is_reversed());
    let ac = ac.and_then(|port| Some(("ac-port", [("min", port.min?), ("max", port.max?)])));
    let fed = part.loop_fed.iter().flat_map(LoopFed::reversed).map(|edges| ("loop-fed", edges));
    supply.chain(fed).chain(ac).chain(others).collect()
}
