//! A transformer that gives more volts than its board withstands.

use crate::checks::Context;
use crate::checks::battery::standby::{self, Head};
use crate::diag::{Basis, Diagnostic, Rule, Sink};
use crate::model::AcPort;
use crate::quantity::Volts;
use crate::words::{Screen, rated};

check!("transformer-volts-high", Basis::Contradiction, "a transformer that gives more volts than its board withstands");

/// Volts of a transformer for each of the least volts of its board from which they are taken for a slip: common practice.
const FAR_TOO_HIGH: f64 = 2.0;

fn run(context: Context<'_>, sink: &mut Sink) {
    for head in standby::heads(context) {
        let Some(port) = &head.part.ac_port else { continue };
        let Some(limit) = port.max else { continue };
        let label = format!("withstands {} here, by the part", rated(limit));
        let help = format!("Take a transformer of {} at most, as the board's sheet asks for it.", rated(limit));
        sink.extend(above(&head, port, &RULE, ("more than the board withstands", &label, &help)));
    }
}

/// The finding on a transformer of more volts than the most for its board's AC port; `None` where it has no more, or the two
/// limits of the port contradict each other.
pub(super) fn above(
    head: &Head<'_>,
    port: &AcPort,
    rule: &'static Rule,
    (here, label, help): (&str, &str, &str),
) -> Option<Diagnostic> {
    let transformer = head.board.transformer.as_ref()?;
    let volts = transformer.volts.value;
    most(port).filter(|limit| volts > *limit && !port.is_reversed())?;
    let who = Screen.board(head.context.site, head.id);
    let title = format!("the transformer of {who} gives {}, too much for its AC port", rated(volts));
    let finding = Diagnostic::new(rule, transformer.volts.span, title)
        .here(here)
        .also(port.a.span, label)
        .why("Too many volts destroy what is behind the AC port at once, or heat it until it burns. Without a load a transformer gives more still than it is rated for.")
        .help(help);
    Some(standby::about(head, finding))
}

/// The most that a board is to have of its transformer; `None` where its part says nothing.
pub(super) fn most(port: &AcPort) -> Option<Volts> {
    port.max.or_else(|| Some(Volts(port.min?.0 * FAR_TOO_HIGH)))
}
