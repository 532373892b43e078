//! A form that cuts most of the descriptions.

use super::cuts::{self, read};
use crate::base::wording;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};

check!("form-too-narrow", Basis::Mismatch, "a service's form that cuts most of the descriptions");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let Some(width) = site.monitoring.as_ref().map(|monitoring| &monitoring.description_width) else { return };
    let cuts = cuts::of_site(site);
    // Where zones read the same, that is said, with all that is cut.
    if !cuts.narrow || cuts.alike.iter().any(|group| cuts.by_form(group)) {
        return;
    }
    let zones = || cuts.cut.iter().map(|id| &site.zones[*id]);
    let lengths = || site.zones_in_use().map(|(_, zone)| zone.description.value.chars().count());
    let all = cuts.cut.len() == lengths().count();
    let shortest = lengths().min().unwrap_or_default();
    let numbers: Vec<u32> = zones().map(|zone| zone.number.value).collect();
    let title = if all {
        format!("the form's {} characters are fewer than the shortest description has, {shortest}", width.value)
    } else {
        format!("the form's {} characters cut the descriptions of zones {}", width.value, wording::numbers(&numbers))
    };
    let mut finding = Diagnostic::new(&RULE, width.span, title)
        .here(format!("{} characters are taken", width.value))
        .why("The dispatcher reads what is left, and has only that to send somebody to the right door.")
        .help(format!(
            "Say every description in {} characters, the place first; or ask the service for a wider form and correct description-width=.",
            width.value
        ));
    for zone in zones() {
        finding = finding
            .figure(format!("zone {}: the dispatcher reads: {}|", zone.number.value, read(site, zone)))
            .about(zone.number.value);
    }
    sink.push(finding);
}
