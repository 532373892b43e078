//! A two-wire loop whose resistor is not the one of the board's sheet.

use crate::checks::Context;
use crate::checks::loops::two_wire;
use crate::diag::{Basis, Diagnostic, Sink};

check!("two-wire-resistor-other", Basis::Contradiction, "a two-wire loop with another resistor than the sheet's");

fn run(context: Context<'_>, sink: &mut Sink) {
    for fed in two_wire::fed(context) {
        let others = two_wire::other_resistors(context.site, &fed);
        let (Some((first, more)), Some(wanted)) = (others.split_first(), &fed.feed.resistor) else { continue };
        let number = fed.known.zone.number.value;
        let title = format!(
            "the two-wire loop of zone {number} ends in {}, and its board wants {}",
            first.value.nominal, wanted.value.nominal
        );
        let finding = Diagnostic::new(&RULE, first.span, title)
            .here(first.value.nominal.to_string())
            .also(wanted.span, format!("{} by the board's sheet", wanted.value.nominal))
            .why("What an input can feed was tried with its own resistor. A smaller one takes the detectors' volts away, and with a greater one a cut cable may not be told from a loop at rest.")
            .help(format!("Write `resistor \"{}\"`.", wanted.value.marking().unwrap_or_else(|| wanted.value.nominal.to_string())))
            .about(number);
        sink.push(more.iter().fold(finding, |finding, other| finding.also(other.span, "and here")));
    }
}
