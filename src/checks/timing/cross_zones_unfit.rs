//! Cross zones that cannot confirm each other.

use crate::base::Id;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Area, CrossZones, Site};
use crate::terms::ZoneType;
use crate::words::Screen;

check!("cross-zones-unfit", Basis::Works, "cross zones that cannot confirm each other");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (id, area) in site.areas.entries().filter(|(_, area)| site.complete && area.whole) {
        for (position, cross) in area.cross_zones.iter().enumerate() {
            let numbers = |cross: &CrossZones| cross.zones.iter().map(|zone| zone.value).collect::<Vec<_>>();
            let again = area.cross_zones.iter().take(position).any(|earlier| numbers(earlier) == numbers(cross));
            let twice = (cross.span(), "this group once more".to_owned(), "Take one of the two out.".to_owned());
            let fault = if again { Some(twice) } else { fault(site, id, cross).or_else(|| unfit_window(cross)) };
            let Some((span, label, help)) = fault else { continue };
            let name = Screen.name(&area.name.value);
            let zones: Vec<u32> = numbers(cross);
            let title = format!("cross zones {} of area {name}: {label}", crate::base::wording::numbers(&zones));
            let finding = Diagnostic::new(&RULE, span, title)
                .here(label)
                .why("A cross zone is no alarm until another of its group trips within the window. One that has no such other is never heard, or hurts whoever relies on it.")
                .help(help)
                .about(&area.name.value);
            sink.push(finding);
        }
    }
}

/// Seconds in which two zones that one person sets off follow each other; common practice.
const WINDOW: std::ops::RangeInclusive<f64> = 10.0..=600.0;

fn unfit_window(cross: &CrossZones) -> Option<Fault> {
    let label = match cross.window {
        None => "no word on how long the first zone waits".to_owned(),
        Some(window) if !WINDOW.contains(&window.0) => {
            format!("the first zone waits {window}: 10 s to 10 min are usual")
        }
        Some(_) => return None,
    };
    Some((cross.span(), label, "Write window=(s)60, or as long as people need from one zone to the other.".to_owned()))
}

/// Where something is wrong, what, and what to do.
type Fault = (crate::base::Span, String, String);

/// The first thing that is wrong with the zones of a group.
fn fault(site: &Site, area: Id<Area>, cross: &CrossZones) -> Option<Fault> {
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
        if zone.reserved.is_some() {
            return said("kept for later: it confirms nothing", "Name zones that are in use.");
        }
        if zone.area != Some(area) {
            return said(
                "a zone of another area, or of none",
                "Name zones of this area: only they are armed together.",
            );
        }
        let Some(kind) = &zone.kind else { continue };
        if kind.value == ZoneType::EntryExit {
            return said(
                "an entry door, which is opened alone by whoever comes in, and by a burglar",
                "Take it out: its entry delay keeps the alarm back already.",
            );
        }
        if !matches!(kind.value, ZoneType::Perimeter | ZoneType::Interior) {
            let label = format!("of type {}, which nothing may keep back", kind.value.word());
            return Some((number.span, label, "Take it out: it is an alarm by itself.".to_owned()));
        }
    }
    let help = "Name at least two zones, or take the node out.".to_owned();
    (cross.zones.len() < 2).then(|| (cross.span(), "one zone alone".to_owned(), help))
}
