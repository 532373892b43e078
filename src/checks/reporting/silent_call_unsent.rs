//! A silent call for help that nothing carries out of the house.

use std::collections::BTreeMap;

use crate::base::{Id, Span};
use crate::calc::sound::Alarm;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Board, DeviceKind, Drive, Site};
use crate::terms::{EmergencyKey, ZoneType};
use crate::words::Screen;

check!(
    "silent-call-unsent",
    Basis::Works,
    "a call for help that sounds nowhere, and that no way carries to the service"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    if !site.sound {
        return;
    }
    for (panel, calls) in calls(site) {
        let Some(((first, told), others)) = calls.split_first() else { continue };
        let from = panel.map(|panel| format!(" from {}", Screen.board(site, panel))).unwrap_or_default();
        let is_key = |call: &Call| call.1.starts_with("the key");
        let loud = match (calls.iter().all(is_key), calls.iter().any(is_key)) {
            (true, _) => "use emergency-key \"panic-audible\"",
            (_, true) => "make it one of type=\"panic-audible\", and the key emergency-key \"panic-audible\"",
            (_, false) => "make it one of type=\"panic-audible\"",
        };
        let mut finding = Diagnostic::new(&RULE, *first, format!("{told} calls nobody: no way leads{from} to a service"))
            .here("makes no sound")
            .why("A call of this type is for somebody outside the house: no sounder is for it. Whoever presses believes that help is coming.")
            .help(format!("Add the way as a `communicator`; or {loud}, which the house and the neighbours hear."));
        for (span, told) in others {
            finding = finding.also(*span, format!("so does {told}"));
        }
        sink.push(panel.iter().fold(finding, |finding, panel| finding.about(&site.boards[*panel].name.value)));
    }
}

/// Where a call is in the text, and what makes it.
type Call = (Span, String);

/// The calls for help that sound nowhere, turn nothing on and are sent nowhere, by panel.
fn calls(site: &Site) -> BTreeMap<Option<Id<Board>>, Vec<Call>> {
    let zones = site.zones_in_use().filter_map(|(_, zone)| {
        let kind = zone.kind.as_ref().filter(|kind| matches!(kind.value, ZoneType::PanicSilent | ZoneType::Medical))?;
        let call = (kind.span, format!("zone {}", zone.number.value));
        let turns_on = Alarm::of_zone(site, zone).is_none_or(|alarm| turns_on(site, alarm));
        (!turns_on).then(|| (site.panel_of_zone(zone), call))
    });
    let keys =
        site.boards.entries().flat_map(|(id, board)| board.emergency_keys.iter().map(move |in_use| (id, in_use)));
    let keys = keys.filter(|(_, in_use)| matches!(in_use.key.value, EmergencyKey::PanicSilent | EmergencyKey::Medical));
    let keys = keys.filter(|(board, in_use)| {
        let silent = in_use.key.value == EmergencyKey::PanicSilent;
        let kind = if silent { ZoneType::PanicSilent } else { ZoneType::Medical };
        !turns_on(site, Alarm::Key(kind, site.panel_of(Some(*board))))
    });
    let keys = keys.map(|(board, in_use)| {
        let told = format!("the key \"{}\" of {}", in_use.key.value.word(), Screen.board(site, board));
        (site.panel_of(Some(board)), (in_use.key.span, told))
    });
    let mut calls: BTreeMap<_, Vec<Call>> = BTreeMap::new();
    for (panel, call) in zones.chain(keys).filter(|(panel, _)| !site.is_sent(*panel)) {
        calls.entry(panel).or_default().push(call);
    }
    calls
}

/// Whether an alarm drives something, as a lamp. What every alarm drives is no sounder's for a silent one: it must be said.
fn turns_on(site: &Site, alarm: Alarm) -> bool {
    let circuits = site.circuits.entries().filter(|(_, circuit)| alarm.reaches(site, circuit));
    circuits.filter_map(|(id, circuit)| Some((id, circuit.switching.as_ref()?))).any(|(id, switching)| {
        let sounders_alone = || site.devices_on(id).all(|(_, device)| device.kind == DeviceKind::Sounder);
        let for_it = |drive: &Drive| alarm.is_meant_by(drive) && (drive.kind.is_some() || !sounders_alone());
        switching.drives.iter().any(for_it)
    })
}
