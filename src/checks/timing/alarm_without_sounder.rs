//! Zones whose alarm has to be heard, where no sounder sounds for it.

use std::collections::BTreeMap;

use crate::base::wording::numbers;
use crate::calc::sound::{is_fire, sounds_for};
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{BoardKind, Device, DeviceKind, Site, Zone};
use crate::terms::ZoneType;

check!("alarm-without-sounder", Basis::Intent, "zones whose alarm has to be heard, and no sounder for it");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if !site.sound || !describes_use(site) {
        return;
    }
    let sends = !site.communicators.is_empty();
    let sounders = || site.devices.iter().filter(|device| device.kind == DeviceKind::Sounder);
    // One that an alarm takes the supply from, or that is always on, is another finding's.
    let is_told = |device: &Device| {
        let circuit = device.run.and_then(|run| site.circuit_of(run));
        circuit.is_some_and(|circuit| circuit.switching.is_none() || circuit.opened_by_alarm().is_some())
    };
    // Every sounder may be for other alarms.
    let mut sounds: BTreeMap<ZoneType, bool> = BTreeMap::new();
    let mut is_heard = |kind: ZoneType| {
        let sounds_or_told = |device: &Device| is_told(device) || sounds_for(site, device, |of| of == kind);
        *sounds.entry(kind).or_insert_with(|| sounders().any(sounds_or_told))
    };
    let zones = site.zones_in_use().map(|(_, zone)| zone).filter(|zone| has_to_sound(zone, sends));
    let heard_by_nobody: Vec<&Zone> =
        zones.filter(|zone| !zone.kind.as_ref().is_some_and(|kind| is_heard(kind.value))).collect();
    let Some(first) = heard_by_nobody.first() else { return };
    let all: Vec<u32> = heard_by_nobody.iter().map(|zone| zone.number.value).collect();
    let title =
        format!("nothing sounds at an alarm of {} {}", if all.len() == 1 { "zone" } else { "zones" }, numbers(&all));
    let why = if sends {
        "Whoever is in the house must hear an alarm of fire, carbon monoxide or panic. The service that is called wakes nobody."
    } else {
        "No sounder tells of it in the house, and nothing is sent out of it: an alarm stays with the board."
    };
    let finding = Diagnostic::new(&RULE, first.number.span, title).here("has to be heard").why(why).help(
        "Write a circuit with a sounder, indoors where people sleep; or accept this with what sounds in its place.",
    );
    sink.push(all.iter().fold(finding, Diagnostic::about));
}

/// True where a spec says how the house is used: one that says nothing of it describes wiring only so far.
pub(super) fn describes_use(site: &Site) -> bool {
    site.boards.iter().any(|board| board.kind == BoardKind::Keypad)
        || site.devices.iter().any(|device| device.kind == DeviceKind::Sounder)
        || site.areas.iter().any(|area| area.sounder_cut_off.is_some())
        || !site.communicators.is_empty()
}

/// True where an alarm of a zone is lost on the house without a sounder; a burglar's only where nothing is sent either.
fn has_to_sound(zone: &Zone, sends: bool) -> bool {
    let Some(kind) = zone.kind.as_ref().map(|kind| kind.value) else { return false };
    let burglary = kind.sleeps_unarmed() || kind == ZoneType::TwentyFourHour;
    is_fire(kind) || matches!(kind, ZoneType::PanicAudible | ZoneType::Gas) || (burglary && !sends)
}
