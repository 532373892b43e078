//! A form for a service that nothing reaches.

use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};

check!("form-without-way", Basis::Practice, "a monitoring service's form, and no way to the service: local alarm only");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if !site.communicators.is_empty() || !site.sound {
        return;
    }
    // A form alone may be that of a service to come; with a format, something is meant to speak.
    let Some(form) = site.monitoring.as_ref().filter(|form| form.format.is_some()) else { return };
    // Where the node gives no width, this span is that of its name.
    sink.push(
        Diagnostic::new(&RULE, form.description_width.span, "the alarm is local only: nothing reaches the service")
            .here("the service's form, with a format=")
            .why("The spec says what the communicator speaks, and has none. Sounders call the neighbours, and nobody else is told.")
            .help("Add the way as a `communicator`, or take the `monitoring` node out where a local alarm is all that is meant."),
    );
}
