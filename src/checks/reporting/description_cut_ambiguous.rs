//! Zones that the dispatcher cannot tell apart.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::base::wording::{self, cut};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Site, Zone};

check!("description-cut-ambiguous", Basis::Contradiction, "zones that read the same to the dispatcher");

/// Zones whose descriptions read the same once the service's form has cut them, capitals aside.
pub(super) fn groups(site: &Site) -> Vec<Vec<Id<Zone>>> {
    let mut groups: BTreeMap<String, Vec<Id<Zone>>> = BTreeMap::new();
    for (id, zone) in site.zones.entries() {
        let read = read(site, zone);
        if !read.is_empty() {
            groups.entry(read.to_lowercase()).or_default().push(id);
        }
    }
    groups.into_values().filter(|zones| zones.len() > 1).collect()
}

/// What the dispatcher reads.
fn read(site: &Site, zone: &Zone) -> String {
    let description = zone.description.value.trim();
    site.monitoring.as_ref().map_or_else(
        || description.to_owned(),
        |monitoring| cut(description, monitoring.description_width.value as usize),
    )
}

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for group in groups(site) {
        let zones: Vec<&Zone> = group.iter().map(|id| &site.zones[*id]).collect();
        let Some((last, earlier)) = zones.split_last() else { continue };
        let numbers: Vec<u32> = zones.iter().map(|zone| zone.number.value).collect();
        let title = format!("zones {} read the same to the dispatcher", wording::numbers(&numbers));
        let mut finding = Diagnostic::new(&RULE, last.description.span, title)
            .here(format!("zone {}", last.number.value))
            .why("The dispatcher has only these words to send somebody to the right door, and they fit more than one.")
            .help("Begin each with what tells it from the other.");
        for zone in earlier {
            finding = finding.also(zone.description.span, format!("zone {}", zone.number.value));
        }
        if let Some(monitoring) = &site.monitoring {
            let width = monitoring.description_width.value;
            if zones.iter().any(|zone| zone.description.value.chars().count() > width as usize) {
                finding = finding.also(monitoring.description_width.span, format!("{width} characters are taken"));
            }
        }
        for zone in &zones {
            finding = finding
                .figure(format!("zone {}: the dispatcher reads: {}", zone.number.value, read(site, zone)))
                .about(zone.number.value);
        }
        sink.push(finding);
    }
}
