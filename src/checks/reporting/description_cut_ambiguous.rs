//! Zones that the dispatcher cannot tell apart.

use std::collections::BTreeSet;

use super::cuts::{self, Cuts, read};
use crate::base::Id;
use crate::base::wording;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Site, Zone};

check!("description-cut-ambiguous", Basis::Contradiction, "zones that read the same to the dispatcher");

const WHY: &str = "The dispatcher has only these words to send somebody to the right door, and they fit more than one.";

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let cuts = cuts::of_site(site);
    // A zone that is written twice is a finding of its own.
    let each_once = |group: &&Vec<Id<Zone>>| {
        let numbers = numbers(site, group);
        numbers.iter().collect::<BTreeSet<_>>().len() == numbers.len()
    };
    let (by_form, equal): (Vec<_>, Vec<_>) = cuts.alike.iter().filter(each_once).partition(|group| cuts.by_form(group));
    for group in equal {
        sink.push(alike(site, group, "Begin each with what tells it from the other.".to_owned()));
    }
    let Some(width) = site.monitoring.as_ref().map(|monitoring| monitoring.description_width.value) else { return };
    let help = format!("Say each in {width} characters, and begin it with what tells it from the other.");
    if cuts.narrow && !by_form.is_empty() {
        if let Some(finding) = narrow(site, &cuts, &by_form) {
            sink.push(finding);
        }
    } else {
        for group in by_form {
            sink.push(alike(site, group, help.clone()));
        }
    }
}

fn numbers(site: &Site, zones: &[Id<Zone>]) -> Vec<u32> {
    zones.iter().map(|id| site.zones[*id].number.value).collect()
}

/// One group.
fn alike(site: &Site, group: &[Id<Zone>], help: String) -> Diagnostic {
    let numbers = numbers(site, group);
    let zones: Vec<&Zone> = group.iter().map(|id| &site.zones[*id]).collect();
    let title = format!("zones {} read the same to the dispatcher", wording::numbers(&numbers));
    let (last, earlier) = match zones.split_last() {
        Some((last, earlier)) => (last.description.span, earlier),
        None => (crate::base::Span::default(), &[][..]),
    };
    let mut finding = Diagnostic::new(&RULE, last, title)
        .here(format!("zone {}", numbers.last().copied().unwrap_or_default()))
        .why(WHY)
        .help(help);
    for zone in earlier {
        finding = finding.also(zone.description.span, format!("zone {}", zone.number.value));
    }
    if let Some(monitoring) = &site.monitoring {
        let width = monitoring.description_width.value;
        if zones.iter().any(|zone| wording::length(&zone.description.value) > width as usize) {
            finding = finding.also(monitoring.description_width.span, format!("{width} characters are taken"));
        }
    }
    for zone in &zones {
        finding = finding
            .figure(format!("zone {}: the dispatcher reads: {}", zone.number.value, read(site, zone)))
            .about(zone.number.value);
    }
    finding
}

/// All groups of a form that cuts most descriptions: one cause, one finding.
fn narrow(site: &Site, cuts: &Cuts, groups: &[&Vec<Id<Zone>>]) -> Option<Diagnostic> {
    let width = &site.monitoring.as_ref()?.description_width;
    let count = wording::count(groups.len(), "group", None);
    let title = format!("a form of {} characters leaves {count} of zones that read the same", width.value);
    let mut finding = Diagnostic::new(&RULE, width.span, title)
        .here(format!("{} characters are taken", width.value))
        .why(WHY)
        .help(format!(
            "Say every description in {} characters, the place first and what tells it from the others; or ask the service for a wider form.",
            width.value
        ));
    for group in groups {
        let zones = numbers(site, group);
        let first = group.first().map(|id| read(site, &site.zones[*id])).unwrap_or_default();
        finding = finding.figure(format!("zones {}: the dispatcher reads: {first}", wording::numbers(&zones)));
        for id in *group {
            let zone = &site.zones[*id];
            finding =
                finding.also(zone.description.span, format!("zone {}", zone.number.value)).about(zone.number.value);
        }
    }
    Some(finding.figure(format!("cut in all: zones {}", wording::numbers(&numbers(site, &cuts.cut)))))
}
