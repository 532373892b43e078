//! A way whose silence the service notices later than a published figure says.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::supervision;

check!("silence-noticed-late", Basis::Practice, "a way whose silence the service notices late");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for way in &site.communicators {
        let Some(row) = supervision::of_way(site, way) else { continue };
        let Some(every) = way.supervised_every.as_ref().filter(|every| every.value > row.figure.time()) else {
            continue;
        };
        let name = &way.name.value;
        sink.push(
            Diagnostic::new(&RULE, every.span, format!("the service notices after {} that `{name}` is silent", every.value))
                .here(every.value.to_string())
                .why("A way that was cut looks like a quiet house until then. The figure is asked of supervising stations; for a household it is common practice to come near it, and the contract with the station decides.")
                .figure(format!("{}: within {} ({})", row.what, row.figure.time(), row.figure.source()))
                .help(format!("Agree supervised-every of {} or less with the service, or accept what the contract says.", row.figure.time()))
                .about(name),
        );
    }
}
