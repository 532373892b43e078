//! A zone's description that the service's form cuts.

use crate::base::wording::cut;
use crate::checks::Context;
use crate::checks::reporting::description_cut_ambiguous;
use crate::diag::{Basis, Diagnostic, Sink};

check!("description-too-long", Basis::Intent, "a description that the service's form cuts");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let Some(monitoring) = &site.monitoring else { return };
    let width = monitoring.description_width.value as usize;
    let ambiguous: Vec<_> = description_cut_ambiguous::groups(site).into_iter().flatten().collect();
    for (id, zone) in site.zones.entries() {
        let description = &zone.description;
        let length = description.value.chars().count();
        // Two that are cut to the same words are the other rule's.
        if length <= width || ambiguous.contains(&id) {
            continue;
        }
        let kept = cut(&description.value, width);
        let number = zone.number.value;
        sink.push(
            Diagnostic::new(
                &RULE,
                description.span,
                format!("the description of zone {number} is cut by the service's form"),
            )
            .here(format!("{length} characters"))
            .also(monitoring.description_width.span, format!("{width} are taken"))
            .why("The dispatcher reads what is left, and has only that to send somebody to the right door.")
            .figure(format!("the dispatcher reads: {kept}|"))
            .help(format!("Say it in {width} characters, the place first."))
            .about(number),
        );
    }
}
