//! A part that gives one name to two outputs, relays, inputs or ports.

use std::collections::BTreeMap;

use crate::base::Span;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Part;

check!(
    "part-name-repeated",
    Basis::Contradiction,
    "a part that gives one name to two outputs, relays, inputs or ports"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    for part in &context.site.parts {
        let mut earlier: BTreeMap<(&str, String), Span> = BTreeMap::new();
        for (noun, name, span) in names(part) {
            let Some(first) = earlier.get(&(noun, name.clone())) else {
                earlier.insert((noun, name), span);
                continue;
            };
            let title = format!("part `{}` gives the name `{name}` to two of its {noun}", part.name.value);
            let finding = Diagnostic::new(&RULE, span, title)
                .here("here again")
                .also(*first, "first here")
                .why("Whoever names it means one of the two. The other one's limit, terminals and times are then never looked at.")
                .help("Give each the name or number that is printed on the board.")
                .about(&part.name.value);
            sink.push(finding);
        }
    }
}

/// What of a part is referred to: the noun, the name, and where it stands, in the order of the text within each.
fn names(part: &Part) -> Vec<(&'static str, String, Span)> {
    let outputs = part.outputs.iter().map(|output| ("outputs", &output.name));
    let ports = part.bus_ports.iter().map(|port| ("bus ports", &port.name));
    let lines = part.line_ports.iter().map(|port| ("line ports", &port.name));
    // A circuit names relays and transistors by one property.
    let switches = part.switches.iter().map(|switch| ("relays or transistors", &switch.name));
    let named = outputs.chain(ports).chain(lines).chain(switches);
    let named = named.map(|(noun, name)| (noun, name.value.clone(), name.span));
    let inputs = part.inputs.iter().map(|input| ("inputs", input.number.value.to_string(), input.number.span));
    named.chain(inputs).collect()
}
