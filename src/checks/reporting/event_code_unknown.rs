//! An event code that the standard's list does not have.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::events;

check!(
    "event-code-unknown",
    Basis::Published("ANSI/SIA DC-05-1999, quoted: event codes"),
    "an event code that the standard's list does not have"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    for zone in &context.site.zones {
        let Some(written) = zone.event.as_ref().filter(|event| events::find(event.value).is_none()) else { continue };
        let (number, code) = (zone.number.value, written.value);
        let finding = Diagnostic::new(&RULE, written.span, format!("event code {code} of zone {number} is in no list"))
            .here("not known")
            .why("The service's receiver looks the code up. One that it does not know is shown as a bare number, and nothing says how to handle it. A code that was added after 1999 may be known to your service: ask.")
            .about(number);
        let usual = zone.kind.as_ref().and_then(|kind| events::find(events::usual(kind.value)));
        sink.push(match usual {
            Some(usual) => finding.help(format!(
                "Leave event= out for the type's usual {} ({}), or accept it if the service knows the code.",
                usual.code, usual.meaning
            )),
            None => finding.help("Leave event= out, or accept it if the service knows the code."),
        });
    }
}
