//! A transformer that gives more volts than its board stands.

use crate::checks::Context;
use crate::checks::battery::standby;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::AcPort;
use crate::quantity::Volts;
use crate::words::{Screen, rated};

check!(
    "transformer-volts-high",
    Basis::Published(
        "the board's sheet; where it gives no most, common practice: twice the least volts of its AC port"
    ),
    "a transformer that gives more volts than its board stands"
);

/// Volts of a transformer for each of the least volts of its board from which they are taken for a slip: common practice.
const FAR_TOO_HIGH: f64 = 2.0;

fn run(context: Context<'_>, sink: &mut Sink) {
    for head in standby::heads(context) {
        let Some(transformer) = &head.board.transformer else { continue };
        let Some(port) = &head.part.ac_port else { continue };
        let volts = transformer.volts.value;
        let Some(limit) = most(port).filter(|limit| volts > *limit && !port.is_reversed()) else { continue };
        let label = match (port.max, port.min) {
            (None, Some(min)) => format!("works from {} on, and the part gives no most", rated(min)),
            (Some(_), _) | (None, None) => format!("stands {} here, by the part", rated(limit)),
        };
        let who = Screen.board(context.site, head.id);
        let finding = Diagnostic::new(
            &RULE,
            transformer.volts.span,
            format!("the transformer of {who} gives {}, too much for its AC port", rated(volts)),
        )
        .here("more than the board stands")
        .also(port.a.span, label)
        .why("Too many volts destroy what is behind the AC port at once, or heat it until it burns. Without a load a transformer gives more still than it is rated for.")
        .help(if port.max.is_some() {
            format!("Take a transformer of {} at most, as the board's sheet asks for it.", rated(limit))
        } else {
            "Write the transformer's volts as they stand on it, and take the one that the board's sheet asks for. Where the sheet allows this one, write its most as max= at the part's `ac-port`.".to_owned()
        });
        sink.push(standby::about(&head, finding));
    }
}

/// The most that a board stands of its transformer; `None` where its part says nothing.
pub(super) fn most(port: &AcPort) -> Option<Volts> {
    port.max.or_else(|| Some(Volts(port.min?.0 * FAR_TOO_HIGH)))
}
