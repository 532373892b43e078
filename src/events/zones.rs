//! What zones report: their own event, covers, faults of the loop, and what a wireless detector tells of itself.

use std::collections::BTreeMap;

use super::{About, Number, Report, Sent};
use crate::base::Id;
use crate::calc::{LoopReadings, State, StateReading, Verdict};
use crate::model::{Site, Zone};
use crate::profiles::events::{self, Subject};
use crate::terms::{BandName, ZoneType};

/// The code that a zone reports with: the spec's, else the usual one of its type.
pub(crate) fn code(zone: &Zone) -> Option<u32> {
    let usual = zone.kind.as_ref().map(|kind| u32::from(events::usual(kind.value)));
    zone.event.as_ref().map(|event| event.value).or(usual)
}

/// The reports of all zones that are not kept for later, by number.
pub(super) fn reports(site: &Site, loops: &BTreeMap<Id<Zone>, LoopReadings>) -> Vec<Report> {
    let zones = site.zones_in_use();
    zones.flat_map(|(id, zone)| of_zone(site, id, zone, loops.get(&id))).collect()
}

fn of_zone(site: &Site, id: Id<Zone>, zone: &Zone, readings: Option<&LoopReadings>) -> Vec<Report> {
    let report = |code: u32, sent: Sent| {
        let by_user = events::find(code).is_some_and(|event| event.subject == Subject::User);
        let number = if by_user { Number::User } else { Number::Given(zone.number.value) };
        Report { about: About::Zone(id), code, sent, number, area: zone.area }
    };
    let kind = zone.kind.as_ref().map(|kind| kind.value);
    let mut reports: Vec<Report> = code(zone).map(|code| report(code, Sent::Both)).into_iter().collect();
    let told = readings.map(|readings| told(kind, readings)).unwrap_or_default();
    if told.cover || wireless_cover(site, zone) {
        reports.push(report(383, Sent::Both));
    }
    if told.fault {
        reports.push(report(fault(kind), Sent::Both));
    }
    if zone.wireless.is_some() {
        reports.extend([report(384, Sent::Both), report(381, Sent::Both)]);
    }
    if kind == Some(ZoneType::EntryExit) {
        reports.push(report(374, Sent::New));
    }
    reports.extend(kind.and_then(bypass).map(|code| report(code, Sent::Both)));
    // The spec may give a zone a code that its board sends of it anyway.
    let own = reports.first().map(|own| own.code);
    let mut first = true;
    reports.retain(|report| std::mem::take(&mut first) || Some(report.code) != own);
    reports
}

/// What a board tells of a loop besides the alarm of its zone.
#[derive(Default)]
struct Told {
    /// A cover that is open.
    cover: bool,
    /// A cable that is cut or shorted, or the detectors' supply that is lost.
    fault: bool,
}

/// A board tells a cover or a fault apart where it reads in a band of its own: neither at rest nor in alarm.
fn told(kind: Option<ZoneType>, readings: &LoopReadings) -> Told {
    let band =
        |reading: &StateReading| if let Verdict::Reads(band) = reading.reading.verdict { Some(band) } else { None };
    let of = |wanted: fn(State) -> bool| -> Vec<BandName> {
        readings.states.iter().filter(|reading| wanted(reading.state)).filter_map(band).collect()
    };
    let alarms = of(State::is_alarm);
    let covers = of(|state| matches!(state, State::Cover(_)));
    let faults = of(|state| state.damage().is_some() || matches!(state, State::SupplyLost(_)));
    let apart = |band: &BandName| *band != BandName::Normal && !alarms.contains(band);
    // What reads as a cover does is told as one, whatever it is; but a fire's or a panic's cable has a trouble of its own.
    let is_tamper = |band: BandName| band == BandName::Tamper && fault(kind) == 370;
    let as_cover = |band: &&BandName| is_tamper(**band) || covers.contains(*band);
    let (as_covers, others): (Vec<&BandName>, Vec<_>) = faults.iter().filter(|band| apart(band)).partition(as_cover);
    Told { cover: covers.iter().any(apart) || !as_covers.is_empty(), fault: !others.is_empty() }
}

/// True where a wireless detector has a cover contact.
fn wireless_cover(site: &Site, zone: &Zone) -> bool {
    zone.wireless.and_then(|device| site.device_part(device)).is_some_and(|part| part.tamper.is_some())
}

/// The code of a fault in a zone's loop: nobody is sent to a fire or a panic that is a broken wire.
fn fault(kind: Option<ZoneType>) -> u32 {
    match kind {
        Some(ZoneType::Fire | ZoneType::Smoke | ZoneType::Heat) => 373,
        Some(ZoneType::PanicAudible | ZoneType::PanicSilent) => 375,
        Some(
            ZoneType::EntryExit
            | ZoneType::Perimeter
            | ZoneType::Interior
            | ZoneType::DayNight
            | ZoneType::TwentyFourHour
            | ZoneType::CarbonMonoxide
            | ZoneType::Medical
            | ZoneType::Water
            | ZoneType::LowTemperature
            | ZoneType::Gas
            | ZoneType::Tamper
            | ZoneType::Trouble
            | ZoneType::Keyswitch,
        )
        | None => 370,
    }
}

/// The code with which a zone is reported as bypassed; `None` of a keyswitch, which is none that could be.
fn bypass(kind: ZoneType) -> Option<u32> {
    match kind {
        ZoneType::EntryExit | ZoneType::Perimeter | ZoneType::Interior | ZoneType::DayNight => Some(573),
        ZoneType::Fire | ZoneType::Smoke | ZoneType::Heat => Some(571),
        ZoneType::TwentyFourHour
        | ZoneType::CarbonMonoxide
        | ZoneType::PanicAudible
        | ZoneType::PanicSilent
        | ZoneType::Medical
        | ZoneType::Water
        | ZoneType::LowTemperature
        | ZoneType::Gas
        | ZoneType::Tamper
        | ZoneType::Trouble => Some(572),
        ZoneType::Keyswitch => None,
    }
}
