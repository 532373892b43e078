//! A zone's description of which the service's form cuts off the room.

use super::cuts;
use crate::base::wording::{self, cut};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};

check!("description-loses-room", Basis::Intent, "a description of which the service's form cuts off the room");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let Some(monitoring) = &site.monitoring else { return };
    let width = monitoring.description_width.value as usize;
    for id in cuts::of_site(site).alone() {
        let Some(word) = cuts::lost_room(site, id) else { continue };
        let zone = &site.zones[id];
        let (description, number) = (&zone.description, zone.number.value);
        let length = wording::length(&description.value);
        let kept = cut(&description.value, width);
        sink.push(
            Diagnostic::new(
                &RULE,
                description.span,
                format!("the service's form cuts the room off the description of zone {number}"),
            )
            .here(format!("{length} characters, and “{}” is lost", word.to_lowercase()))
            .also(monitoring.description_width.span, format!("{width} are taken"))
            .why("The dispatcher tells the police or the fire service which room it is. What is left names another, or none.")
            .figure(format!("the dispatcher reads: {kept}|"))
            .help(format!("Say it in {width} characters, the room first."))
            .about(number),
        );
    }
}
