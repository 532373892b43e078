//! Cross zones that cannot confirm each other.

use crate::base::Id;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Area, CrossZones, Site};
use crate::terms::ZoneType;
use crate::words::Screen;

check!("cross-zones-unfit", Basis::Intent, "cross zones that cannot confirm each other");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, area) in site.areas.entries().filter(|(_, area)| site.complete && area.whole) {
        for cross in &area.cross_zones {
            let Some((span, label, help)) = fault(site, id, cross) else { continue };
            let name = Screen.name(&area.name.value);
            let finding = Diagnostic::new(&RULE, span, format!("cross zones of area {name} cannot confirm each other"))
                .here(label)
                .why("A cross zone is no alarm until another of its group trips within the window. One that has no such other is never heard, or hurts whoever relies on it.")
                .help(help)
                .about(&area.name.value);
            sink.push(finding);
        }
    }
}

/// The first thing that is wrong with a group: where, what, and what to do.
fn fault(site: &Site, area: Id<Area>, cross: &CrossZones) -> Option<(crate::base::Span, String, String)> {
    for (one, next) in cross.zones.iter().zip(cross.zones.iter().skip(1)) {
        if one.value == next.value {
            return Some((next.span, "named twice".to_owned(), "Name each zone once.".to_owned()));
        }
    }
    for number in &cross.zones {
        let said = |label: &str, help: &str| Some((number.span, label.to_owned(), help.to_owned()));
        let Some((_, zone)) = site.zone_numbered(number.value) else {
            return said("no zone has this number", "Name zones that are there.");
        };
        if zone.area != Some(area) {
            return said("a zone of another area, or of none", "Name zones of this area: only they are armed together.");
        }
        let Some(kind) = &zone.kind else { continue };
        if !matches!(kind.value, ZoneType::Perimeter | ZoneType::Interior | ZoneType::EntryExit) {
            let label = format!("of type {}, which nothing may keep back", kind.value.word());
            return Some((number.span, label, "Take it out: it is an alarm by itself.".to_owned()));
        }
    }
    let help = "Name at least two zones, or take the node out.".to_owned();
    (cross.zones.len() < 2).then(|| (cross.span(), "one zone alone".to_owned(), help))
}
