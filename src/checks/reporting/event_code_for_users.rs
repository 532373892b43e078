//! A zone that reports with a code behind which a user's number is read.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::events::{self, Subject};

check!(
    "event-code-for-users",
    Basis::Published("ANSI/SIA DC-05-1999, quoted: event codes"),
    "a zone with an event code that is about a user"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    for zone in &context.site.zones {
        let Some(written) = &zone.event else { continue };
        let Some(event) = events::find(written.value).filter(|event| event.subject == Subject::User) else { continue };
        let number = zone.number.value;
        sink.push(
            Diagnostic::new(&RULE, written.span, format!("event code {} of zone {number} is about a user", event.code))
                .here(event.meaning)
                .why(format!("Behind this code the service reads the number of a user, not of a zone: the report would name user {number}, and no place in the house."))
                .help("Take a code whose number is a zone, or leave event= out for the type's usual one.")
                .about(number),
        );
    }
}
