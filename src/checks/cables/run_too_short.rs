//! A cable so short that it cannot be landed at both ends.

use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::quantity::{Metres, print};
use crate::words::Screen;

check!("run-too-short", Basis::Guess, "a cable that is too short to be landed at both ends");

/// Nothing shorter can be landed at both ends; ours.
pub(crate) const LEAST: Metres = Metres(0.05);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for cable in &context.wiring.cables {
        let run = &site.runs[cable.run];
        let Some(length) = run.length.as_ref().filter(|length| length.value.0 < LEAST.0) else { continue };
        let long = print::length(length.value, site.lengths);
        let meant = print::in_larger_unit(length.value, site.lengths);
        let label = Screen.cable(context.wiring, cable.run);
        let finding = Diagnostic::new(&RULE, length.span, format!("{label} is {long} long"))
            .here("too short to be landed at both ends")
            .why("Mostly the unit is a slip, or the point. Resistances, volts and what is bought follow from lengths.")
            .help(format!("Look at the unit: length={meant}, perhaps. Where it is so short, the two stand side by side and need no run."))
            .about(&cable.label);
        sink.push(about::owner(site, run.owner, finding));
    }
}
