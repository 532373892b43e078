//! Zones and emergency keys whose alarm has to be heard, where no sounder sounds for it.

use std::collections::BTreeMap;

use crate::base::{Id, wording};
use crate::calc::power::suits::charges;
use crate::calc::sound::{Alarm, counts_for, sounds_for};
use crate::checks::{Context, accept};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Board, Circuit, Device, DeviceKind, KeyInUse, Site, Zone};
use crate::terms::ZoneType;

check!("alarm-without-sounder", Basis::Works, "zones whose alarm has to be heard, and no sounder for it");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    let (zones, keys) = unheard(site);
    // What is accepted of one zone is not accepted of another.
    let is_accepted = |subject: &str| accept::is_accepted(site, RULE.slug, subject);
    let (yes, no): (Vec<&Zone>, Vec<&Zone>) =
        zones.into_iter().partition(|zone| is_accepted(&zone.number.value.to_string()));
    let (yes_keys, no_keys): (Vec<_>, Vec<_>) =
        keys.into_iter().partition(|(board, _)| is_accepted(&site.boards[*board].name.value));
    sink.extend([(no, no_keys), (yes, yes_keys)].into_iter().filter_map(|(zones, keys)| finding(site, &zones, &keys)));
}

/// The zones and emergency keys whose alarm has to be heard and is not.
pub(super) fn unheard(site: &Site) -> (Vec<&Zone>, Vec<(Id<Board>, &KeyInUse)>) {
    if !site.sound || !describes_use(site) {
        return (Vec::new(), Vec::new());
    }
    let sounders = || site.devices.entries().filter(|(_, device)| device.kind == DeviceKind::Sounder);
    // One that an alarm takes the supply from, or that is always on, is another finding's; but a siren with a battery of
    // its own sounds then.
    let is_told = |id: Id<Device>, device: &Device, alarm: Alarm| {
        let circuit = device.run.and_then(|run| site.circuit_of(run));
        let silenced = |of: &Circuit| of.opened_by_alarm().is_some() && !charges(site, id);
        let is_told = |of: &Circuit| of.switching.is_none() || silenced(of);
        circuit.is_some_and(|circuit| alarm.reaches(site, circuit) && is_told(circuit))
    };
    // Every sounder may be for other alarms.
    let mut sounds: BTreeMap<Alarm, bool> = BTreeMap::new();
    let mut is_heard = |alarm: Alarm| {
        let sounds_or_told = |(id, device): (Id<Device>, &Device)| {
            counts_for(site, device, alarm) && (is_told(id, device, alarm) || sounds_for(site, device, alarm))
        };
        *sounds.entry(alarm).or_insert_with(|| sounders().any(sounds_or_told))
    };
    let zones = site.zones_in_use().map(|(_, zone)| zone).filter(|zone| has_to_sound(site, zone));
    let zones: Vec<&Zone> =
        zones.filter(|zone| Alarm::of_zone(site, zone).is_some_and(|alarm| !is_heard(alarm))).collect();
    let keys = site.boards.entries().flat_map(|(id, board)| board.emergency_keys.iter().map(move |key| (id, key)));
    let alarm = |(board, key): &(Id<Board>, &KeyInUse)| Alarm::of_key(site, *board, key.key.value);
    let keys = keys.filter(|key| alarm(key).is_some_and(|alarm| !is_heard(alarm)));
    (zones, keys.collect())
}

/// What is told of the zones and keys that nobody hears; `None` where there are none.
fn finding(site: &Site, zones: &[&Zone], keys: &[(Id<Board>, &KeyInUse)]) -> Option<Diagnostic> {
    let of = named(zones, keys);
    let key_places = || keys.iter().map(|(_, key)| key.key.span);
    let place = zones.first().map(|zone| zone.number.span).or_else(|| key_places().next())?;
    let unsent: Vec<&Zone> = zones.iter().copied().filter(|zone| !site.is_sent(site.panel_of_zone(zone))).collect();
    let unsent_keys: Vec<_> =
        keys.iter().copied().filter(|(keypad, _)| !site.is_sent(site.panel_of(Some(*keypad)))).collect();
    let unsent = named(&unsent, &unsent_keys);
    let why = if unsent.is_empty() {
        "Whoever is in the house must hear an alarm of fire, carbon monoxide or panic. The service that is called wakes nobody.".to_owned()
    } else if unsent == of {
        "No sounder tells of it in the house, and nothing is sent out of it: an alarm stays with the board.".to_owned()
    } else {
        format!(
            "No sounder tells of it in the house, and of {} nothing is sent out of it either: an alarm stays with the board.",
            wording::list(&unsent, "and")
        )
    };
    // A siren for the neighbours is none for those who sleep.
    let outdoors = site.devices.iter().filter(|device| {
        let of_keys = keys.iter().filter_map(|(board, key)| Alarm::of_key(site, *board, key.key.value));
        let mut alarms = zones.iter().filter_map(|zone| Alarm::of_zone(site, zone)).chain(of_keys);
        alarms.any(|alarm| sounds_for(site, device, alarm) && !counts_for(site, device, alarm))
    });
    let outdoors: Vec<&Device> = outdoors.filter(|device| device.kind == DeviceKind::Sounder).collect();
    let indoors = if outdoors.is_empty() { "" } else { " indoors" };
    let title = format!("nothing sounds{indoors} at an alarm of {}", wording::list(&of, "and"));
    let finding = Diagnostic::new(&RULE, place, title)
        .here("has to be heard")
        .why(why)
        .help("Write a circuit with a sounder, indoors where people sleep, that this alarm turns on: a `drive` with type=, area= or a short for= is for other alarms. Or accept this with what sounds in its place.");
    let finding =
        outdoors.iter().fold(finding, |found, device| found.also(device.span(), "outdoors, for the neighbours"));
    let finding = key_places().filter(|span| *span != place).fold(finding, |found, span| found.also(span, "this too"));
    let finding = zones.iter().fold(finding, |found, zone| found.about(zone.number.value));
    Some(keys.iter().fold(finding, |found, (board, _)| found.about(&site.boards[*board].name.value)))
}

/// Zones by number, keys by their word: "zones 3 and 4", "the key "fire"".
fn named(zones: &[&Zone], keys: &[(Id<Board>, &KeyInUse)]) -> Vec<String> {
    let numbers: Vec<u32> = zones.iter().map(|zone| zone.number.value).collect();
    let noun = if numbers.len() == 1 { "zone" } else { "zones" };
    let of_zones = (!zones.is_empty()).then(|| format!("{noun} {}", wording::numbers(&numbers)));
    let mut names: Vec<String> = keys.iter().map(|(_, key)| format!("the key \"{}\"", key.key.value.word())).collect();
    names.sort();
    names.dedup();
    of_zones.into_iter().chain(names).collect()
}

/// True where a spec says how the house is used: one that says nothing of it describes wiring only so far.
pub(super) fn describes_use(site: &Site) -> bool {
    site.keypads().next().is_some()
        || site.devices.iter().any(|device| device.kind == DeviceKind::Sounder)
        || site.areas.iter().any(|area| area.sounder_cut_off.is_some())
        || !site.communicators.is_empty()
}

/// True where an alarm of a zone is lost on the house without a sounder; a burglar's only where nothing is sent either.
fn has_to_sound(site: &Site, zone: &Zone) -> bool {
    let Some(kind) = zone.kind.as_ref().map(|kind| kind.value) else { return false };
    let burglary = kind.sleeps_unarmed() || kind == ZoneType::TwentyFourHour;
    kind.is_fire()
        || matches!(kind, ZoneType::PanicAudible | ZoneType::Gas)
        || (burglary && !site.is_sent(site.panel_of_zone(zone)))
}
