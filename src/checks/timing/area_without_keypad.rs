//! Areas and zones that nobody can arm or disarm: their panel has no keypad, and no keyswitch of it is in their area.

use std::collections::BTreeMap;

use super::alarm_without_sounder::describes_use;
use crate::base::wording::{list, numbers};
use crate::base::{Id, Span};
use crate::calc::timing::is_armed;
use crate::checks::{Context, accept};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Area, Board, Site, Zone};
use crate::words::Screen;

check!("area-without-keypad", Basis::Works, "areas and zones that nobody can arm or disarm");

/// What nobody arms at a panel.
#[derive(Default)]
struct Unarmed<'s> {
    areas: Vec<&'s Area>,
    /// Those whose area has others that are armed.
    zones: Vec<&'s Zone>,
}

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if !site.sound || !describes_use(site) {
        return;
    }
    // One cause: a panel without a keypad. What is accepted of one area or zone is not accepted of another.
    let mut unarmed: BTreeMap<(Option<Id<Board>>, bool), Unarmed<'_>> = BTreeMap::new();
    let is_accepted = |subject: &str| accept::is_accepted(site, RULE.slug, subject);
    for (id, area) in site.areas.entries() {
        let watches = |zone: &&Zone| {
            let sleeps = zone.kind.as_ref().is_some_and(|kind| kind.value.sleeps_unarmed());
            zone.reserved.is_none() && site.is_in(zone, id) && sleeps
        };
        let (yes, no): (Vec<&Zone>, Vec<&Zone>) =
            site.zones.iter().filter(watches).partition(|zone| is_armed(site, zone));
        for zone in no {
            let panel = site.panel_of_zone(zone);
            if yes.is_empty() {
                let found = unarmed.entry((panel, is_accepted(&area.name.value))).or_default();
                if !found.areas.contains(&area) {
                    found.areas.push(area);
                }
            } else {
                let accepted = is_accepted(&zone.number.value.to_string());
                unarmed.entry((panel, accepted)).or_default().zones.push(zone);
            }
        }
    }
    sink.extend(unarmed.into_iter().filter_map(|((panel, _), found)| finding(site, panel, &found)));
}

fn finding(site: &Site, panel: Option<Id<Board>>, Unarmed { areas, zones }: &Unarmed<'_>) -> Option<Diagnostic> {
    let names: Vec<String> = areas.iter().map(|area| Screen.name(&area.name.value)).collect();
    let zone_numbers: Vec<u32> = zones.iter().map(|zone| zone.number.value).collect();
    let noun = |one: &str, many: usize| if many == 1 { one.to_owned() } else { format!("{one}s") };
    let of_areas = (!names.is_empty()).then(|| format!("{} {}", noun("area", names.len()), list(&names, "or")));
    let of_zones = (!zones.is_empty()).then(|| format!("{} {}", noun("zone", zones.len()), numbers(&zone_numbers)));
    let all: Vec<String> = of_areas.into_iter().chain(of_zones).collect();
    let places = areas.iter().map(|area| (area.name.span, area.name.value.clone(), "has zones that are armed"));
    let its = |zone: &&Zone| (zone.number.span, zone.number.value.to_string(), "its area is armed at another panel");
    let mut places = places.chain(zones.iter().map(its));
    let (first, subject, label): (Span, String, &str) = places.next()?;
    let board = panel.map(|panel| Screen.board(site, panel));
    let who = board.as_ref().map_or_else(|| "Its panel".to_owned(), |panel| crate::base::wording::capital(panel));
    let are_several = site.boards.iter().filter(|board| board.kind.is_panel()).count() > 1;
    let other = if are_several { " A keypad of another panel arms nothing here." } else { "" };
    let (what, watch) = if zones.is_empty() {
        ("the area", "its zones never watch, or never stop")
    } else {
        ("them", "they never watch, or never stop")
    };
    let why = format!("{who} has no keypad, and no key or button of it arms {what}: {watch}.{other}");
    let finding = Diagnostic::new(&RULE, first, format!("nobody can arm or disarm {}", list(&all, "or")))
        .here(label)
        .why(why)
        .help("Write a keypad on the bus of that panel, or a zone of type \"keyswitch\" in the area and on that panel; or accept this with what arms it.")
        .about(subject);
    let finding = match panel.filter(|_| are_several) {
        Some(panel) => finding.also(site.boards[panel].name.span, "no keypad on its bus"),
        None => finding,
    };
    Some(places.fold(finding, |finding, (span, subject, _)| finding.also(span, "nor this one").about(subject)))
}
