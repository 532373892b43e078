//! A telephone line that is voice over the internet connection.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::cited;
use crate::terms::Service;

check!(
    "voice-over-internet",
    Basis::Published("NFPA 72, edition not named, from memory: managed networks of a telephone company"),
    "a report by telephone over the internet connection"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    for way in &context.site.communicators {
        let telephone = way.is_telephone();
        if !telephone || way.service != Some(Service::Voip) {
            continue;
        }
        let name = &way.name.value;
        sink.push(
            Diagnostic::new(&RULE, way.name.span, format!("`{name}` is a telephone over the internet connection"))
                .here("service=\"voip\"")
                .why("It is no second way beside the internet: it ends with the router's supply and with a cut at the street. Its voice coding may garble the tones of a report. Only a telephone company's managed network, with standby of its own, counts as a line.")
                .figure(cited::MANAGED_NETWORKS.cited())
                .help("Report over the internet connection itself (type=\"internet\") or by a radio of its own; or accept it where the company confirms a managed network with standby, and test it each month.")
                .about(name),
        );
    }
}
