//! A powered device on the way to the monitoring service with two supplies.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!("hop-supplied-twice", Basis::Contradiction, "a hop with two supplies");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, hop) in site.hops() {
        let supplies = usize::from(hop.output.is_some()) + hop.fed_by.len() + usize::from(hop.from.is_some());
        if supplies < 2 {
            continue;
        }
        let name = Screen.name(&hop.name.value);
        let mut finding = Diagnostic::new(&RULE, hop.name.span, format!("{name} has {supplies} supplies"))
            .here("this hop")
            .why("One socket takes one supply. Which of them is meant decides what the battery carries and how long the way lasts.")
            .help("Leave one of them, and take the others out. A circuit that feeds it says the output by itself.")
            .about(&site.communicators[id.line].name.value);
        if let Some(output) = &hop.output {
            finding = finding.also(output.span, "from an output");
        }
        for circuit in &hop.fed_by {
            finding = finding
                .also(circuit.span, format!("from circuit {}", Screen.name(&site.circuits[circuit.value].name.value)));
        }
        if let Some(from) = &hop.from {
            finding = finding.also(from.span, "from another hop");
        }
        sink.push(finding);
    }
}
