//! What the owner tries, by the way in which it is tried.

use serde::Serialize;

use crate::base::Id;
use crate::compiled::Compiled;
use crate::model::{Device, DeviceKind, Site, Zone};
use crate::profiles::upkeep::{HAND, STICK};
use crate::terms::{KeyAction, Senses, ZoneType};

/// A way of trying, and the zones that are tried so.
#[derive(Debug, Serialize)]
pub(crate) struct Trial {
    how: &'static str,
    zones: String,
}

/// The ways of trying that the site calls for, each with its zones; what nobody reaches from the floor comes last.
pub(crate) fn trials(compiled: &Compiled) -> Vec<Trial> {
    let site = &compiled.site;
    let zones = || site.zones_in_use();
    let trial = |how: &'static str, wanted: &dyn Fn(Id<Zone>) -> bool| {
        let said: Vec<String> = zones().filter(|(id, _)| wanted(*id)).map(|(_, zone)| said(zone)).collect();
        (!said.is_empty()).then(|| Trial { how, zones: said.join("; ") })
    };
    let has = |id: Id<Zone>, wanted: &dyn Fn(Id<Device>, Senses) -> bool| {
        site.devices_of(id).any(|(device, _)| senses(site, device).is_some_and(|senses| wanted(device, senses)))
    };
    let key = |id: Id<Zone>| {
        let keyswitch = site.zones[id].kind.as_ref().is_some_and(|kind| kind.value == ZoneType::Keyswitch);
        keyswitch.then(|| site.zones[id].action.as_ref().map_or(KeyAction::Momentary, |action| action.value))
    };
    let has_keypad = site.keypads().next().is_some();
    let is_sent = |id: Id<Zone>| site.is_sent(site.panel_of_zone(&site.zones[id]));
    let mut trials: Vec<Trial> = Vec::new();
    for senses in Senses::ALL {
        let near = |device, of| of == *senses && !is_high(site, device, of);
        let near = |id| key(id).is_none() && has(id, &near);
        let [at_home, at_service] = [false, true].map(|sent| how(*senses, sent, has_keypad));
        if at_home == at_service {
            trials.extend(at_home.and_then(|how| trial(how, &near)));
        } else {
            for (how, sent) in [(at_home, false), (at_service, true)] {
                trials.extend(how.and_then(|how| trial(how, &|id| is_sent(id) == sent && near(id))));
            }
        }
    }
    for action in KeyAction::ALL {
        trials.extend(trial(turn(*action), &|id| key(id) == Some(*action)));
    }
    let is_unsaid =
        |(id, device): (Id<Device>, &Device)| senses(site, id).is_none() && device.kind != DeviceKind::Fault;
    trials.extend(trial(UNSAID, &|id| key(id).is_none() && site.devices_of(id).any(is_unsaid)));
    let high = |device, senses| how(senses, false, has_keypad).is_some() && is_high(site, device, senses);
    trials.extend(trial(HIGH, &|id| key(id).is_none() && has(id, &high)));
    trials
}

/// The zones of fault contacts, which tell what becomes of a supply: nobody tries them but by its mains.
pub(crate) fn faults(site: &Site) -> String {
    let is_fault = |id| site.devices_of(id).any(|(_, device)| device.kind == DeviceKind::Fault);
    let zones = site.zones_in_use().filter(|(id, _)| is_fault(*id));
    zones.map(|(_, zone)| said(zone)).collect::<Vec<_>>().join("; ")
}

/// What a device watches for, by its part or by the opening that it is on.
fn senses(site: &Site, id: Id<Device>) -> Option<Senses> {
    site.senses(id).or_else(|| site.devices[id].opening.as_ref().map(|_| Senses::Opening))
}

const UNSAID: &str = "As its sheet says; what it watches for is not written down";
const HIGH: &str = "Not to be reached from the floor: the installer tries it, with somebody at the ladder's foot";

fn said(zone: &Zone) -> String {
    format!("{} {}", zone.number.value, zone.description.value)
}

/// How a key that arms is tried.
fn turn(action: KeyAction) -> &'static str {
    match action {
        KeyAction::Momentary => "Turn and let go: it arms; once more: it disarms",
        KeyAction::Maintained => "Turn: it arms; turn back: it disarms",
    }
}

/// True where a detector that is tried by hand is mounted above what is reached so from the floor.
fn is_high(site: &Site, id: Id<Device>, senses: Senses) -> bool {
    let reach = match senses {
        Senses::Smoke | Senses::Heat | Senses::CarbonMonoxide | Senses::Gas | Senses::Opening => STICK,
        Senses::Vibration | Senses::Water | Senses::Temperature | Senses::Button | Senses::Tamper => HAND,
        Senses::Motion | Senses::Glass | Senses::Step | Senses::Supply => return false,
    };
    let device = &site.devices[id];
    let ceiling = || site.levels[site.rooms[device.room?].level].ceiling;
    let on_ceiling = matches!(senses, Senses::Smoke | Senses::Heat);
    let mount = device.mount.or_else(|| ceiling().filter(|_| on_ceiling));
    mount.is_some_and(|mount| mount.0 > reach.feet().0)
}

/// How a detector is tried by who lives there, whose alarm is sent to the service or not, in a house with a keypad or without;
/// `None` for what only the installer tries.
fn how(senses: Senses, is_sent: bool, has_keypad: bool) -> Option<&'static str> {
    Some(match senses {
        Senses::Opening if !has_keypad => "Open it, see that the board tells it, shut it again",
        Senses::Opening => "Open it, see its number on the keypad, shut it again",
        Senses::Motion if !has_keypad => {
            "Leave the room for some minutes, then walk across it: its lamp or the board shows you"
        }
        Senses::Motion => "Leave the room for some minutes, then walk across it: its lamp or the keypad shows you",
        Senses::Glass => "Knock on the frame, or use the tester of its maker; never hit the glass",
        Senses::Vibration => "Knock on the frame or wall beside it with a knuckle, never on glass",
        Senses::Step => "Step on it, in each corner",
        Senses::Smoke => {
            "Its test button, with a stick from the floor, or test smoke as its sheet says; no flame, no cigarette"
        }
        Senses::Heat => "Look that nothing covers it; heat only as its sheet says, for some serve but once",
        Senses::CarbonMonoxide => "Its test button, or test gas as its sheet says; see that its lamp is on",
        Senses::Gas => "Its test button, or test gas as its sheet says; no lighter",
        Senses::Water => "A wet cloth, or lift its float; nobody climbs into a pit",
        Senses::Temperature => "As its sheet says",
        Senses::Button if !is_sent => "Press it, and reset it as its sheet says",
        Senses::Button => "Only after the service has said that it sends nobody",
        Senses::Tamper => "Lift its cover",
        Senses::Supply => return None,
    })
}
