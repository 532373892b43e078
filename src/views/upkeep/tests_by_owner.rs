//! What the owner tries, by the way in which it is tried.

use serde::Serialize;

use crate::compiled::Compiled;
use crate::terms::Senses;

/// A way of trying, and the zones that are tried so.
#[derive(Debug, Serialize)]
pub(crate) struct Trial {
    how: &'static str,
    zones: String,
}

/// The ways of trying that the site calls for, each with its zones.
pub(crate) fn trials(compiled: &Compiled) -> Vec<Trial> {
    let site = &compiled.site;
    let zones_of = |senses: Senses| -> Vec<String> {
        let has = |id| {
            site.devices_of(id).any(|(device, _)| site.device_part(device).and_then(|part| part.senses) == Some(senses))
        };
        let zones = site.zones.entries().filter(|(id, zone)| zone.reserved.is_none() && has(*id));
        zones.map(|(_, zone)| format!("{} {}", zone.number.value, zone.description.value)).collect()
    };
    let trial = |senses: &Senses| {
        let zones = zones_of(*senses);
        let how = how(*senses).filter(|_| !zones.is_empty())?;
        Some(Trial { how, zones: zones.join("; ") })
    };
    Senses::ALL.iter().filter_map(trial).collect()
}

/// How a detector is tried by who lives there; `None` for what only the installer tries.
fn how(senses: Senses) -> Option<&'static str> {
    Some(match senses {
        Senses::Opening => "Open it, see its number on the keypad, shut it again",
        Senses::Motion => "Leave the room for some minutes, then walk across it: its lamp or the keypad shows you",
        Senses::Glass => "Knock on the frame, or use the tester of its maker; never hit the glass",
        Senses::Smoke => "Its test button, or test smoke as its sheet says; no flame, no cigarette",
        Senses::Heat => "Look that nothing covers it; heat only as its sheet says, for some serve but once",
        Senses::CarbonMonoxide => "Its test button, or test gas as its sheet says; see that its lamp is on",
        Senses::Gas => "Its test button, or test gas as its sheet says; no lighter",
        Senses::Water => "A wet cloth, or lift its float",
        Senses::Temperature => "As its sheet says",
        Senses::Button => "Only after the service has said that it sends nobody",
        Senses::Tamper => "Lift its cover where you stand safely; not up a ladder",
        Senses::Supply => return None,
    })
}
