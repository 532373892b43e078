//! Areas with zones of panels that know nothing of each other.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::base::wording::{list, numbers};
use crate::calc::timing::is_armed_at;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Board, Zone};
use crate::words::Screen;

check!("area-of-two-panels", Basis::Works, "areas with zones of panels that know nothing of each other");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if !site.sound {
        return;
    }
    let keypads: Vec<Id<Board>> = site.keypads().map(|(keypad, _)| keypad).collect();
    for (id, area) in site.areas.entries() {
        let zones = site.zones_in_use().map(|(_, zone)| zone).filter(|zone| site.is_in(zone, id));
        // What watches at any time needs nobody to arm it.
        let zones = zones.filter(|zone| zone.kind.as_ref().is_some_and(|kind| kind.value.sleeps_unarmed()));
        let mut by_panel: BTreeMap<Id<Board>, Vec<&Zone>> = BTreeMap::new();
        for zone in zones {
            if let Some(panel) = site.panel_of_zone(zone) {
                by_panel.entry(panel).or_default().push(zone);
            }
        }
        // A panel without any keypad is another rule's.
        let is_armed = |zone: &&Zone| keypads.iter().any(|keypad| is_armed_at(site, zone, *keypad));
        if by_panel.len() < 2 || !by_panel.values().flatten().all(is_armed) {
            continue;
        }
        let of = |(panel, zones): (&Id<Board>, &Vec<&Zone>)| {
            let zones: Vec<u32> = zones.iter().map(|zone| zone.number.value).collect();
            let noun = if zones.len() == 1 { "zone" } else { "zones" };
            format!("{noun} {} of {}", numbers(&zones), Screen.board(site, *panel))
        };
        let parts: Vec<String> = by_panel.iter().map(of).collect();
        let title = format!("area {} has {}", Screen.name(&area.name.value), list(&parts, "and"));
        let mut finding = Diagnostic::new(&RULE, area.name.span, title)
            .here("armed at one panel at a time")
            .why("No bus joins these panels: who arms the area at a keypad of one of them arms the zones of that one alone. The others never watch with it.")
            .help("Give the zones of each panel an area of their own; or bring them to inputs of one panel.")
            .about(&area.name.value);
        // The fewest are most likely in the wrong area.
        let fewest = by_panel.values().min_by_key(|zones| zones.len());
        for zone in fewest.into_iter().flatten() {
            finding = finding.also(zone.number.span, "in this area").about(zone.number.value);
        }
        sink.push(finding);
    }
}
