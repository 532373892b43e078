//! More zones than the service's form has lines for.

use crate::base::wording;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Zone;

check!("form-overfull", Basis::Mismatch, "more zones than the service's form has lines for");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let Some(lines) = site.monitoring.as_ref().and_then(|form| form.zones.as_ref()) else { return };
    // A panel with no way sends nothing of its zones, and the form leaves them out; without any way it is of one to come.
    let is_sent = |zone: &Zone| site.communicators.is_empty() || site.is_sent(site.panel_of_zone(zone));
    let all = || site.zones.iter().filter(|zone| zone.reserved.is_none());
    let mut zones = all().filter(|zone| is_sent(zone));
    let count = zones.clone().count();
    let Some(first_beyond) = zones.nth(lines.value as usize) else { return };
    let sends = if count < all().count() { "sends " } else { "" };
    let has = wording::count(lines.value as usize, "line", None);
    sink.push(
        Diagnostic::new(&RULE, lines.span, format!("the service's form has {has}, and the site {sends}{}", wording::count(count, "zone", None)))
            .here(has.clone())
            .also(first_beyond.number.span, "the first zone that has no line")
            .why("What is on no line of the form is an unknown zone to the dispatcher: the alarm comes in, and nobody is sent.")
            .help("Ask the service for a second form and correct zones=, or join zones that are answered alike.")
            .about(first_beyond.number.value),
    );
}
