//! A cable whose conductors are copper-clad aluminium.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::conductors;
use crate::terms::Metal;

check!("cable-copper-clad", Basis::Practice, "a cable in use whose conductors are copper-clad aluminium");

fn run(context: Context<'_>, sink: &mut Sink) {
    for (id, kind) in context.site.cables.entries().filter(|(_, kind)| kind.metal.value == Metal::CopperClad) {
        let Some(first) = context.wiring.cables.iter().find(|cable| cable.kind == id) else { continue };
        let run = &context.site.runs[first.run];
        let more = conductors::more_than_copper(Metal::CopperClad).unwrap_or_default();
        let finding = Diagnostic::new(&RULE, kind.metal.span, format!("cable `{}` is copper-clad aluminium", kind.name.value))
            .here("not copper all through")
            .also(run.span(), "in use here")
            .why("Aluminium creeps under a screw and breaks after a few bends, so joints go bad with the years; many sheets and lists of cable for alarm use ask for copper. The volts are computed for it all the same.")
            .figure(format!("against plain copper: {more}"))
            .help("Pull copper. Where the cable is in the wall already, write accept with the reason, and look at its joints first when a loop reads high.")
            .about(&kind.name.value);
        sink.push(finding);
    }
}
