//! A jack in parallel with the house phones: one of them off the hook stops the report.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::cited;
use crate::terms::JackKind;

check!(
    "jack-behind-phones",
    Basis::Published("ANSI/TIA-1096-A, summary read: series jack ahead of all other equipment"),
    "a telephone jack behind the house phones, which can block the report"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    for way in &context.site.communicators {
        let telephone = way.is_telephone();
        if !telephone || way.jack != Some(JackKind::Bridged) {
            continue;
        }
        let name = &way.name.value;
        sink.push(
            Diagnostic::new(&RULE, way.name.span, format!("the jack of `{name}` is behind the house phones"))
                .here("jack=\"bridged\"")
                .why("A phone that is off the hook, or that a burglar lifts, holds the line. The board cannot take it, and nobody hears of the alarm.")
                .figure(cited::LINE_SEIZURE.cited())
                .help("Put a series jack ahead of every phone, where the line comes in, and write jack=\"line-seizure\".")
                .about(name),
        );
    }
}
