//! A network cable that is longer than the standard lets it be.

use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::connectors::{NETWORK_LENGTHS, NETWORK_LINK_METRES};
use crate::profiles::limits::Limit;
use crate::quantity::{Metres, print};
use crate::words::Screen;

check!(
    "network-cable-too-long",
    Basis::Published("TIA-568, edition not named, from memory"),
    "a network cable that is longer than the standard lets it be"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let most = Metres(f64::from(NETWORK_LINK_METRES));
    for cable in &context.wiring.cables {
        let run = &site.runs[cable.run];
        let carries = cable.conductors.iter().any(|used| used.function.pin().is_some());
        let Some(length) = run.length.as_ref().filter(|_| carries) else { continue };
        if length.value.0 <= most.0 * (1.0 + 1e-9) {
            continue;
        }
        let long = print::length(length.value, site.lengths);
        let label = Screen.cable(context.wiring, cable.run);
        let title =
            format!("{label} is {long} long, and a network cable has at most {}", print::length(most, site.lengths));
        let finding = Diagnostic::new(&RULE, length.span, title)
            .here("longer than the standard lets a laid cable be")
            .why("Past its length a network cable still lights the lamps on a good day. What it loses are packets, when it is hot or when something hums beside it, and then the board is off the line.")
            .help("Put a powered device in between, as a switch: a `hop` for it, a `run` to it and a `run` from there.");
        let finding = NETWORK_LENGTHS.iter().map(Limit::cited).fold(finding, Diagnostic::figure);
        sink.push(about::owner(site, run.owner, finding));
    }
}
