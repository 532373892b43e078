//! How loud an alarm is in each bedroom: the sheet's level, less the distance, less walls and closed doors.
//!
//! In free field the level falls by 20 lg of the ratio of distances. A room adds its own sound, so this is the cautious
//! side; furniture and heavy doors take more. Only sounders indoors count that an alarm of fire turns on, on the bedroom's
//! own level: nothing is said of what comes through a floor. The pillow may be anywhere: the farthest corner counts.

use crate::base::Id;
use crate::model::{Circuit, Device, DeviceKind, Owner, Room, Site, Sound};
use crate::profiles::timing::WALL_LOSS;
use crate::quantity::{Decibels, Metres};
use crate::terms::{DrivenBy, EmergencyKey, RoomKind, SwitchContact, When, ZoneType};

/// A bedroom and what is heard there.
#[derive(Clone, Debug, PartialEq)]
pub struct Bedroom {
    /// The bedroom.
    pub room: Id<Room>,
    /// The sounder that is loudest there; `None` where none can be computed.
    pub loudest: Option<Heard>,
    /// Sounders on its level of which something is not known: the sheet's level, or a place on the plan.
    pub unknown: Vec<Id<Device>>,
    /// Sounders indoors on other levels, which are not counted.
    pub elsewhere: Vec<Id<Device>>,
}

/// A sounder as it is heard in a room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Heard {
    /// The sounder.
    pub sounder: Id<Device>,
    /// Its sheet's level.
    pub rated: Sound,
    /// To the farthest corner.
    pub distance: Metres,
    /// Walls or closed doors between: none in the same room, one where the rooms adjoin, else two.
    pub walls: u32,
    /// What arrives.
    pub level: Decibels,
}

/// The level at a distance in free field.
pub fn free_field(rated: Sound, distance: Metres) -> Decibels {
    Decibels(rated.level.0 - 20.0 * (distance.0 / rated.at.0).log10())
}

/// What an alarm sounds like. Three tones and four tones are those of the household figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Pattern {
    /// Three long tones and a pause.
    Fire,
    /// Four short tones and a pause.
    CarbonMonoxide,
    /// Anything else that sounds.
    Other,
}

/// What an alarm of a type of zone sounds like; `None` where it is silent, or where it is for those who live there to say.
pub(crate) fn pattern(kind: ZoneType) -> Option<Pattern> {
    match kind {
        ZoneType::Fire | ZoneType::Smoke | ZoneType::Heat => Some(Pattern::Fire),
        ZoneType::CarbonMonoxide => Some(Pattern::CarbonMonoxide),
        ZoneType::EntryExit
        | ZoneType::Perimeter
        | ZoneType::Interior
        | ZoneType::DayNight
        | ZoneType::TwentyFourHour
        | ZoneType::PanicAudible
        | ZoneType::Gas
        | ZoneType::Tamper => Some(Pattern::Other),
        ZoneType::PanicSilent
        | ZoneType::Medical
        | ZoneType::Water
        | ZoneType::LowTemperature
        | ZoneType::Trouble
        | ZoneType::Keyswitch => None,
    }
}

/// True where a zone in use, or an emergency key, sounds so.
pub(crate) fn sounds(site: &Site, wanted: Pattern) -> bool {
    let of_key = |key: EmergencyKey| match key {
        EmergencyKey::Fire => Some(Pattern::Fire),
        EmergencyKey::PanicAudible => Some(Pattern::Other),
        EmergencyKey::PanicSilent | EmergencyKey::Medical => None,
    };
    let mut zones = site.zones_in_use().filter_map(|(_, zone)| pattern(zone.kind.as_ref()?.value));
    let mut keys = site.boards.iter().flat_map(|board| &board.emergency_keys);
    zones.any(|pattern| pattern == wanted) || keys.any(|in_use| of_key(in_use.key.value) == Some(wanted))
}

/// True where a type of zone is an alarm of fire or carbon monoxide, by which sleepers must wake.
pub(crate) fn is_fire(kind: ZoneType) -> bool {
    matches!(pattern(kind), Some(Pattern::Fire | Pattern::CarbonMonoxide))
}

/// True where the site has a zone of fire or carbon monoxide.
pub(crate) fn has_fire(site: &Site) -> bool {
    site.zones_in_use().any(|(_, zone)| zone.kind.as_ref().is_some_and(|kind| is_fire(kind.value)))
}

/// The sounders indoors that an alarm of fire turns on, by circuit.
pub(crate) fn sounders(site: &Site) -> Vec<(Id<Device>, Id<Room>)> {
    let indoors = |(id, device): (Id<Device>, &Device)| {
        let room = device.room.filter(|room| !site.rooms[*room].is_outdoors())?;
        let run = device.run.map(|run| site.runs[run].owner);
        let Some(Owner::Circuit(circuit)) = run else { return None };
        (device.kind == DeviceKind::Sounder && turned_on(site, device, &site.circuits[circuit], is_fire))
            .then_some((id, room))
    };
    site.devices.entries().filter_map(indoors).collect()
}

/// True where an alarm of a type of zone turns a sounder on. Where its circuit is not known it is taken to.
pub(crate) fn sounds_for(site: &Site, device: &Device, is_meant: impl Fn(ZoneType) -> bool) -> bool {
    match device.run.map(|run| site.runs[run].owner) {
        Some(Owner::Circuit(circuit)) => turned_on(site, device, &site.circuits[circuit], is_meant),
        Some(_) | None => true,
    }
}

fn turned_on(site: &Site, device: &Device, circuit: &Circuit, is_meant: impl Fn(ZoneType) -> bool) -> bool {
    match &circuit.switching {
        // A siren with a battery of its own sounds when its supply goes away.
        Some(switching) => {
            let drives = switching.drives.iter();
            (switching.contact == SwitchContact::Make || device.own_battery().is_some())
                && drives.into_iter().any(|drive| drive.by.value == DrivenBy::Alarm && drive.kind.is_none_or(&is_meant))
        }
        None => circuit
            .feed
            .as_ref()
            .and_then(|feed| site.output(feed.value))
            .is_some_and(|output| output.when == When::Alarm),
    }
}

/// The bedrooms of a site, by name.
pub fn bedrooms(site: &Site) -> Vec<Bedroom> {
    let sounders = sounders(site);
    let rooms = site.rooms.entries().filter(|(_, room)| room.kind == Some(RoomKind::Bedroom));
    rooms.map(|(id, room)| bedroom(site, id, room, &sounders)).collect()
}

fn bedroom(site: &Site, id: Id<Room>, room: &Room, sounders: &[(Id<Device>, Id<Room>)]) -> Bedroom {
    let mut bedroom = Bedroom { room: id, loudest: None, unknown: Vec::new(), elsewhere: Vec::new() };
    for (sounder, at) in sounders {
        let there = &site.rooms[*at];
        if there.level != room.level {
            bedroom.elsewhere.push(*sounder);
            continue;
        }
        let sound = site.device_part(*sounder).and_then(|part| part.sound);
        let distance = there.middle().and_then(|middle| room.farthest(middle));
        let (Some(rated), Some(distance)) = (sound, distance) else {
            bedroom.unknown.push(*sounder);
            continue;
        };
        let walls = if *at == id {
            0
        } else if there.adjoins(room) {
            1
        } else {
            2
        };
        let level = free_field(rated, distance) - Decibels(WALL_LOSS.value * f64::from(walls));
        if bedroom.loudest.is_none_or(|loudest| level.0 > loudest.level.0) {
            bedroom.loudest = Some(Heard { sounder: *sounder, rated, distance, walls, level });
        }
    }
    bedroom
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A training text of audio-visual trade (level at 20, 40, 60 and 80 ft: 0, −6, −9.5, −12 dB), and a course on sound
    /// engineering (100 dB at 1 m are 94 dB at 2 m).
    #[test]
    fn the_level_falls_as_handbooks_have_it() {
        let rated = Sound { level: Decibels(0.0), at: Metres(20.0 * 0.3048) };
        for (feet, level) in [(20.0, 0.0), (40.0, -6.0), (60.0, -9.5), (80.0, -12.0)] {
            let found = free_field(rated, Metres(feet * 0.3048)).0;
            assert!((found - level).abs() < 0.06, "{feet} ft: {found}");
        }
        let found = free_field(Sound { level: Decibels(100.0), at: Metres(1.0) }, Metres(2.0)).0;
        assert!((found - 94.0).abs() < 0.03, "{found}");
    }
}
