//! A powered device on the way to the monitoring service that an output feeds by a cable that the spec does not have.

use crate::calc::power::trees::hop_output;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::words::Screen;

check!("hop-cable-missing", Basis::Practice, "a hop that an output feeds by a cable that is not in the spec");

/// A name for a hop of a way, which no hop of another way has.
fn named(way: &str, hop: &str) -> String {
    let words = hop.split(|letter: char| !letter.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
    words.fold(way.to_owned(), |name, word| format!("{name}-{}", word.to_ascii_lowercase()))
}

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, hop) in site.hops().filter(|(_, hop)| hop.fed_by.is_empty() && hop.from.is_none()) {
        let Some(output) = &hop.output else { continue };
        // An output that no panel has was reported.
        let Some(fed) = hop_output(site, &site.communicators[id.line], &output.value) else { continue };
        let (name, from) = (Screen.name(&hop.name.value), Screen.name(&output.value));
        let way = &site.communicators[id.line].name.value;
        let called = hop.reference.as_ref().map_or_else(|| named(way, &hop.name.value), |own| own.value.clone());
        let finding = Diagnostic::new(
            &RULE,
            output.span,
            format!("the cable from output {from} to {name} is not in the spec"),
        )
        .here("fed by a cable without label, length and terminals")
        .also(hop.name.span, "this hop")
        .why("Its conductors are under no screw of the schedule, no sheet says what to pull, and nobody computes the volts that arrive.")
        .help(format!(
            "Write instead of output=: hop \"{}\" name=\"{called}\" draw=(mA)…, and circuit \"{called}-supply\" board=\"{}\" output=\"{}\" {{ run … {{ feed \"{called}\" }} }}",
            hop.name.value, site.boards[fed.board].name.value, output.value
        ))
        .about(&site.communicators[id.line].name.value);
        sink.push(finding);
    }
}
