//! A zone whose type reports something else than what its devices sense.

use crate::base::Id;
use crate::checks::reporting::event_code_of_other_kind;
use crate::checks::{Context, about};
use crate::diag::{Basis, Certainty, Diagnostic, Sink};
use crate::model::{Device, DeviceKind, Site, Zone};
use crate::profiles::events;
use crate::terms::{EventGroup, Senses, ZoneType};
use crate::words::Screen;

check!("zone-reports-otherwise", Basis::Mismatch, "a zone whose type is not what its devices sense");

/// What is sensed by the devices of a zone.
fn sensed(site: &Site, of: Id<Zone>) -> impl Iterator<Item = (Id<Device>, &Device, Senses)> {
    site.devices_of(of).filter_map(|(id, device)| {
        let is_fault = device.kind == DeviceKind::Fault;
        // A relay that watches the supply is beside the detectors of any zone.
        let sensed = || site.senses(id).filter(|senses| *senses != Senses::Supply);
        let senses = if is_fault { Some(Senses::Supply) } else { sensed() };
        senses.map(|senses| (id, device, senses))
    })
}

/// The first device of a zone that senses something else than its type reports.
pub(crate) fn other(site: &Site, of: Id<Zone>) -> Option<(Id<Device>, &Device, Senses)> {
    let zone = Some(&site.zones[of]).filter(|zone| zone.whole && zone.reserved.is_none())?;
    let kind = zone.kind.as_ref()?.value;
    let code = zone.event.as_ref().map(|event| event.value);
    // A code that is of no list, or does not fit the type, is another rule's.
    let is_told = |code| events::find(code).is_none() || event_code_of_other_kind::is_handled_otherwise(kind, code);
    if code.is_some_and(is_told) {
        return None;
    }
    let sent = code.map(events::group);
    // A button beside detectors of smoke or heat calls for the same help.
    let is_fire = sensed(site, of).any(|(_, _, senses)| matches!(senses, Senses::Smoke | Senses::Heat));
    let calls_too = |senses| is_fire && senses == Senses::Button && matches!(kind, ZoneType::Smoke | ZoneType::Heat);
    let otherwise = |device: &Device, senses| {
        // The contact of a lock or a box is a contact too; one that is said to be on a door or window is neither.
        let on_opening = senses == Senses::Opening && device.opening.is_some();
        let of_opening = on_opening && matches!(kind, ZoneType::Keyswitch | ZoneType::Tamper | ZoneType::Trouble);
        (reports_otherwise(senses, kind) || of_opening)
            && !calls_too(senses)
            && !sent.is_some_and(|sent| fits(senses, sent))
    };
    sensed(site, of).find(|(_, device, senses)| otherwise(device, *senses))
}

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for (of, zone) in site.zones.entries() {
        let (Some(kind), Some((id, device, senses))) = (&zone.kind, other(site, of)) else { continue };
        let (number, word) = (zone.number.value, kind.value.word());
        let fitting = fitting(senses).word();
        let code = zone.event.as_ref().and_then(|event| Some((event.span, events::find(event.value)?)));
        let reported = match &code {
            Some((_, event)) => format!("code {} ({})", event.code, event.meaning),
            None => meaning(kind.value).to_owned(),
        };
        let title =
            format!("zone {number} reports {reported}, and {} senses {}", Screen.device(site, id), what(senses));
        let leave = if code.is_some() { " and leave event= out" } else { "" };
        let finding = Diagnostic::new(&RULE, kind.span, title)
            .here(format!("{} {}", if code.is_some() { "a type for" } else { "reports" }, meaning(kind.value)))
            .also(device.span(), format!("senses {}", what(senses)))
            .why(match kind.value {
                ZoneType::Keyswitch => "Whoever sets it off arms or disarms the area: a burglar too, by walking in.",
                ZoneType::Tamper | ZoneType::Trouble => "A zone of this type is never disarmed: it tells at any time, and what it tells is something else than what has happened.",
                ZoneType::EntryExit | ZoneType::Perimeter | ZoneType::Interior | ZoneType::DayNight
                | ZoneType::TwentyFourHour | ZoneType::Fire | ZoneType::Smoke | ZoneType::Heat
                | ZoneType::CarbonMonoxide | ZoneType::PanicAudible | ZoneType::PanicSilent | ZoneType::Medical
                | ZoneType::Water | ZoneType::LowTemperature | ZoneType::Gas => "The dispatcher reads what the zone reports and never sees the device. What comes from it is handled as something that it is not.",
            })
            .help(if device.kind == DeviceKind::Fault {
                format!("Give it a zone of its own with type=\"{fitting}\".")
            } else if senses == Senses::Button && kind.value == ZoneType::TwentyFourHour {
                format!("Write type=\"{fitting}\", \"panic-silent\" or \"medical\", as help is called by it; or give it a zone of its own of that type. If it calls nobody, as the button of a bell or a gate, accept this.")
            } else {
                format!("If the device is right, write type=\"{fitting}\"{leave}, or give it a zone of its own of that type. If type=\"{word}\" is right, correct its part.")
            });
        // Several devices of one kind in a zone tell which of the two is wrong.
        let agreed = code.is_none()
            && senses != Senses::Button
            && sensed(site, of).count() > 1
            && sensed(site, of).all(|(_, _, other)| other == senses);
        let finding =
            if agreed { finding.edit(Certainty::Likely, kind.span, format!("\"{fitting}\"")) } else { finding };
        let finding = match code {
            Some((span, event)) => finding.also(span, event.meaning),
            None => finding,
        };
        sink.push(about::device(site, device, finding));
    }
}

/// True where it is certain that a zone of this type tells something else than what is sensed. A danger in a zone that
/// sleeps is another rule's. A zone of type twenty-four-hour goes to the service as a burglary at any time.
fn reports_otherwise(senses: Senses, kind: ZoneType) -> bool {
    use ZoneType::{
        CarbonMonoxide, DayNight, EntryExit, Fire, Gas, Heat, Interior, Keyswitch, LowTemperature, Medical,
        PanicAudible, PanicSilent, Perimeter, Smoke, Tamper, Trouble, TwentyFourHour, Water,
    };
    let sleeps = kind.sleeps_unarmed();
    match senses {
        Senses::Smoke | Senses::Heat => !sleeps && !matches!(kind, Fire | Smoke | Heat),
        Senses::CarbonMonoxide => !sleeps && !matches!(kind, CarbonMonoxide),
        Senses::Gas => !sleeps && !matches!(kind, Gas),
        Senses::Water => kind != Water,
        // A temperature that is too high is reported as heat.
        Senses::Temperature => !matches!(kind, LowTemperature | Heat | Trouble),
        Senses::Button => {
            matches!(kind, Smoke | Heat | CarbonMonoxide | Gas | Water | LowTemperature | Tamper | TwentyFourHour)
        }
        // A mat at a bed or a counter calls for help.
        Senses::Step => {
            matches!(
                kind,
                Fire | Smoke | Heat | CarbonMonoxide | Gas | Water | LowTemperature | Tamper | Trouble | Keyswitch
            )
        }
        Senses::Opening | Senses::Motion | Senses::Glass | Senses::Vibration | Senses::Tamper => match kind {
            Fire | Smoke | Heat | CarbonMonoxide | Gas | Water | LowTemperature | PanicAudible | PanicSilent
            | Medical => true,
            EntryExit | Perimeter | Interior | DayNight | TwentyFourHour => false,
            Tamper => matches!(senses, Senses::Motion | Senses::Glass),
            Trouble => matches!(senses, Senses::Motion | Senses::Glass | Senses::Vibration),
            Keyswitch => matches!(senses, Senses::Motion | Senses::Glass | Senses::Vibration),
        },
        // In a loop of fire or gas an open contact is a fault by itself.
        Senses::Supply => match kind {
            EntryExit | Perimeter | Interior | DayNight | TwentyFourHour | PanicAudible | PanicSilent | Medical
            | Water | LowTemperature | Keyswitch => true,
            Fire | Smoke | Heat | CarbonMonoxide | Gas | Tamper | Trouble => false,
        },
    }
}

/// True where a code of its own is handled as what is sensed, whatever the zone's type is.
fn fits(senses: Senses, sent: EventGroup) -> bool {
    match senses {
        Senses::Smoke | Senses::Heat => sent == EventGroup::Fire,
        Senses::CarbonMonoxide | Senses::Gas => sent == EventGroup::Gas,
        Senses::Water => sent == EventGroup::Technical,
        Senses::Temperature | Senses::Supply => matches!(sent, EventGroup::Technical | EventGroup::Trouble),
        // What a button is for, only its code says.
        Senses::Button => true,
        Senses::Step => {
            matches!(sent, EventGroup::Intrusion | EventGroup::Panic | EventGroup::PanicSilent | EventGroup::Medical)
        }
        Senses::Opening | Senses::Motion | Senses::Glass | Senses::Vibration | Senses::Tamper => {
            matches!(sent, EventGroup::Intrusion | EventGroup::Trouble)
        }
    }
}

/// The type that reports what is sensed.
fn fitting(senses: Senses) -> ZoneType {
    match senses {
        Senses::Smoke => ZoneType::Smoke,
        Senses::Heat => ZoneType::Heat,
        Senses::CarbonMonoxide => ZoneType::CarbonMonoxide,
        Senses::Gas => ZoneType::Gas,
        Senses::Water => ZoneType::Water,
        Senses::Temperature => ZoneType::LowTemperature,
        Senses::Button => ZoneType::PanicAudible,
        Senses::Opening | Senses::Glass | Senses::Vibration => ZoneType::Perimeter,
        Senses::Motion | Senses::Step => ZoneType::Interior,
        Senses::Tamper => ZoneType::Tamper,
        Senses::Supply => ZoneType::Trouble,
    }
}

/// What a zone of a type reports, in words.
fn meaning(kind: ZoneType) -> &'static str {
    match kind {
        ZoneType::EntryExit | ZoneType::Perimeter | ZoneType::Interior | ZoneType::DayNight => "a burglary while armed",
        ZoneType::TwentyFourHour => "an intrusion at any time",
        ZoneType::Fire => "a fire",
        ZoneType::Smoke => "smoke",
        ZoneType::Heat => "heat",
        ZoneType::CarbonMonoxide => "carbon monoxide",
        ZoneType::PanicAudible | ZoneType::PanicSilent => "a panic call",
        ZoneType::Medical => "a call for medical help",
        ZoneType::Water => "a water leak",
        ZoneType::LowTemperature => "frost",
        ZoneType::Gas => "gas",
        ZoneType::Tamper => "a tampering",
        ZoneType::Trouble => "a trouble",
        ZoneType::Keyswitch => "a turned key",
    }
}

/// What is sensed, in words.
fn what(senses: Senses) -> &'static str {
    match senses {
        Senses::Opening => "an opening",
        Senses::Motion => "motion",
        Senses::Glass => "breaking glass",
        Senses::Vibration => "blows",
        Senses::Step => "a foot on a mat",
        Senses::Smoke => "smoke",
        Senses::Heat => "heat",
        Senses::CarbonMonoxide => "carbon monoxide",
        Senses::Gas => "gas",
        Senses::Water => "water",
        Senses::Temperature => "a temperature out of bounds",
        Senses::Button => "a hand on a button",
        Senses::Tamper => "an opened cover",
        Senses::Supply => "a lost supply",
    }
}
