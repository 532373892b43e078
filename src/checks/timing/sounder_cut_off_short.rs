//! Sounders that are silent before anybody has heard them.

use crate::calc::sound::{Alarm, NOTICED};
use crate::checks::Context;
use crate::checks::timing::alarm_without_sounder::unheard;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::{Circuit, DeviceKind, Drive};
use crate::quantity::Seconds;
use crate::terms::DrivenBy;
use crate::words::Screen;

check!("sounder-cut-off-short", Basis::Practice, "sounders that are silent before anybody has heard them");

const WHY: &str =
    "Nobody who sleeps or is in the garden hears what an alarm says in that time, and a burglar waits it out.";

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    // Where an alarm has no other sounder, that it is not heard is told instead.
    let (zones, keys) = unheard(site);
    let of_zones = zones.into_iter().filter_map(|zone| Alarm::of_zone(site, zone));
    let of_keys = keys.into_iter().filter_map(|(board, key)| Alarm::of_key(site, board, key.key.value));
    let unheard: Vec<Alarm> = of_zones.chain(of_keys).collect();
    let sounds = |circuit| site.devices_on(circuit).any(|(_, device)| device.kind == DeviceKind::Sounder);
    for (_, circuit) in site.circuits.entries().filter(|(id, _)| sounds(*id)) {
        let Some((drive, time)) = short_drive(circuit) else { continue };
        if unheard.iter().any(|alarm| alarm.reaches(site, circuit) && alarm.is_meant_by(drive)) {
            continue;
        }
        let name = Screen.name(&circuit.name.value);
        sink.push(
            Diagnostic::new(&RULE, drive.by.span, format!("sounders of circuit {name} sound for {time} only"))
                .here("hardly noticed")
                .why(WHY)
                .help("Look at the unit: minutes are usual. Write for=(min)5, or as the ordinance wants it; without for= they sound as long as the alarm does.")
                .about(&circuit.name.value),
        );
    }
    for area in &site.areas {
        let Some(time) = area.sounder_cut_off.filter(|time| time.value < NOTICED) else { continue };
        let name = Screen.name(&area.name.value);
        sink.push(
            Diagnostic::new(&RULE, time.span, format!("sounders of area {name} sound for {} only", time.value))
                .here("hardly noticed")
                .why(WHY)
                .help(
                    "Look at the unit: minutes are usual. Write sounder-cut-off=(min)5, or as the ordinance wants it.",
                )
                .about(&area.name.value),
        );
    }
}

/// What drives a circuit in an alarm for too short a time, where no other drive of it goes on longer.
fn short_drive(circuit: &Circuit) -> Option<(&Drive, Seconds)> {
    let drives = || circuit.switching.iter().flat_map(|switching| &switching.drives);
    let mut alarms = drives().filter(|drive| drive.by.value == DrivenBy::Alarm);
    let first = alarms.next()?;
    let is_short = |drive: &Drive| drive.lasts.is_some_and(|time| time < NOTICED);
    (is_short(first) && alarms.all(is_short)).then_some(())?;
    Some((first, first.lasts?))
}
