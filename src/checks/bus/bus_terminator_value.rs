//! A terminator whose value is far from the cable's.

use crate::base::wording::list;
use crate::checks::Context;
use crate::checks::bus::bus_verdict::{Cause, found};
use crate::checks::bus::bus_words;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::bus::{TERMINATOR, TERMINATOR_LEAST, TERMINATOR_MOST};
use crate::quantity::Ohms;

check!(
    "bus-terminator-value",
    Basis::Published("application notes on TIA-485-A, quoted"),
    "a terminator whose value is far from the cable's"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    for (bus, figures, cause) in found(context, |cause| matches!(cause, Cause::TerminatorValue(_))) {
        let Cause::TerminatorValue(odd) = cause else { continue };
        let layout = &figures.layout;
        let said: Vec<String> = odd.iter().map(|one| bus_words::terminator(context, layout, *one)).collect();
        let usual = Ohms(TERMINATOR.value);
        let Some(first) = odd.first() else { continue };
        let span = bus_words::terminator_span(context, layout, *first);
        let title = format!("bus `{}` ends in {}, and its cable has about {usual}", bus.name.value, list(&said, "and"));
        let finding = Diagnostic::new(&RULE, span, title)
            .here("far from the cable's impedance")
            .why("A terminator takes up what arrives only if its ohms are those of the pair's impedance. The further it is from that, the more comes back.")
            .help(format!("Put a resistor of {usual} there, and say so in the spec or in the part's sheet."));
        let finding = odd.iter().skip(1).fold(finding, |finding, one| {
            finding.also(bus_words::terminator_span(context, layout, *one), "and this one")
        });
        let finding = odd.iter().filter_map(|one| layout.terminators.get(*one)).fold(finding, |finding, one| {
            let back = 100.0 * (one.ohms.0 - usual.0) / (one.ohms.0 + usual.0);
            finding.figure(format!("{}: {:.0} % of a step comes back", one.ohms, back.abs()))
        });
        let range = format!(
            "from {} to {} no more than a fifth does ({})",
            Ohms(TERMINATOR_LEAST.value),
            Ohms(TERMINATOR_MOST.value),
            TERMINATOR_LEAST.source()
        );
        sink.push(bus_words::about(finding.figure(range).figure(bus_words::terminator_limit()), bus));
    }
}
