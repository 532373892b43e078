//! A zone's description that the service's form cuts.

use super::cuts;
use crate::base::wording::{self, cut};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};

check!("description-too-long", Basis::Intent, "a description that the service's form cuts");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let Some(monitoring) = &site.monitoring else { return };
    let width = monitoring.description_width.value as usize;
    // Those that are cut to the same words, or lose their room, are other rules'.
    for id in cuts::of_site(site).alone().filter(|id| cuts::lost_room(site, *id).is_none()) {
        let zone = &site.zones[id];
        let (description, number) = (&zone.description, zone.number.value);
        let length = wording::length(&description.value);
        let kept = cut(&description.value, width);
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
