//! A network cable that could be wired by a table, and is wired by none because the spec does not say which.

use crate::checks::Context;
use crate::diag::{Basis, Certainty, Diagnostic, Sink};
use crate::model::Owner;
use crate::terms::PinOrder;
use crate::words::{self, Screen};

check!(
    "network-wired-unsaid",
    Basis::Practice,
    "a network cable of which the spec does not say by which table its plugs are made"
);

/// The table that is proposed: the one that most plugs are made by.
const USUAL: PinOrder = PinOrder::T568b;

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, way) in site.communicators.entries().filter(|(_, way)| way.pin_order.is_none()) {
        let Some(path) = &way.path else { continue };
        let cables = context.wiring.cables.iter().filter(|cable| site.runs[cable.run].owner == Owner::Communicator(id));
        let by_none = |order| {
            cables.clone().find(|cable| {
                let differ = words::not_by(cable, order);
                !differ.is_empty() && words::has_colours(&site.cables[cable.kind], order, &differ)
            })
        };
        let (Some(cable), Some(_)) = (by_none(USUAL), by_none(PinOrder::T568a)) else { continue };
        let label = Screen.cable(context.wiring, cable.run);
        let finding = Diagnostic::new(&RULE, path.span, format!("nothing says by which table {label} is wired"))
            .here("has no wired=")
            .also(site.runs[cable.run].span(), "its pins follow the colours of the cable\u{2019}s type, one after the other")
            .why("Plugs and jacks are marked by T568A and by T568B, and people make them so. Wired one colour after the other, pins 3 and 6 are on two pairs: a link is slow there, or is none.")
            .help("Write wired=\"T568B\", or \"T568A\" where the jacks of the house are made so. Where both ends are made as the sheets say, accept this.")
            .about(&way.name.value);
        sink.push(finding.edit(Certainty::Likely, path.span.behind(), format!(" wired=\"{}\"", USUAL.word())));
    }
}
