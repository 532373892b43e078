//! How loud an alarm is in each bedroom: the sheet's level, less the distance, less walls and closed doors.
//!
//! In free field the level falls by 20 lg of the ratio of distances. A room adds its own sound, so this is the cautious
//! side; furniture and heavy doors take more. Only sounders indoors count that an alarm of fire turns on, on the bedroom's
//! own level: nothing is said of what comes through a floor. The pillow may be anywhere: the farthest corner counts.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::Id;
use crate::model::{Area, Board, Circuit, Device, DeviceKind, Drive, Room, Site, Sound, Zone};
use crate::profiles::timing::WALL_LOSS;
use crate::quantity::{Decibels, Metres, Seconds};
use crate::terms::{DrivenBy, EmergencyKey, RoomKind, SwitchContact, When, ZoneType};

/// A bedroom and what is heard there.
#[derive(Clone, Debug, PartialEq)]
pub struct Bedroom {
    /// The bedroom.
    pub room: Id<Room>,
    /// The sounder that is loudest there, in the alarm that is heard least; `None` where none can be computed.
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
    /// The type of zone of the alarm, where not all of fire and carbon monoxide sound alike.
    pub alarm: Option<ZoneType>,
    /// Its sheet's level.
    pub rated: Sound,
    /// To the farthest corner.
    pub distance: Metres,
    /// Walls or closed doors between: none in the same room, one where the rooms adjoin, else two.
    pub walls: u32,
    /// What arrives.
    pub level: Decibels,
}

/// A level as it is told: whole, and down, never to the nearest. What is told is there.
pub fn told(level: Decibels) -> Decibels {
    Decibels((level.0 + 1e-9).floor())
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

/// The alarms of the zones in use and of the emergency keys that have to sound, each once.
fn alarms(site: &Site) -> BTreeSet<Alarm> {
    let zones = site.zones_in_use().filter_map(|(_, zone)| Alarm::of_zone(site, zone));
    let keys = site.boards.entries().flat_map(|(id, board)| board.emergency_keys.iter().map(move |key| (id, key)));
    zones.chain(keys.filter_map(|(board, in_use)| Alarm::of_key(site, board, in_use.key.value))).collect()
}

/// True where a zone in use, or an emergency key, of a board's panel sounds so; of any panel where that is not known.
pub(crate) fn sounds(site: &Site, board: Id<Board>, wanted: Pattern) -> bool {
    let here = site.panel_of(Some(board));
    alarms(site).into_iter().any(|alarm| pattern(alarm.kind()) == Some(wanted) && alarm.is_of(here))
}

/// True where a sounder of the site sounds at an alarm of some types of zone.
pub(crate) fn is_heard(site: &Site, of: impl Fn(ZoneType) -> bool) -> bool {
    let mut sounders = site.devices.iter().filter(|device| device.kind == DeviceKind::Sounder);
    sounders.any(|device| is_sounded_by(site, device, &of))
}

/// True where an alarm of the site of some types of zone turns a sounder on.
pub(crate) fn is_sounded_by(site: &Site, sounder: &Device, of: impl Fn(ZoneType) -> bool) -> bool {
    alarms(site).into_iter().any(|alarm| of(alarm.kind()) && sounds_for(site, sounder, alarm))
}

/// True where the site has a zone of fire or carbon monoxide.
pub(crate) fn has_fire(site: &Site) -> bool {
    site.zones_in_use().any(|(_, zone)| zone.kind.as_ref().is_some_and(|kind| kind.value.is_fire()))
}

/// The least time for which an alarm must sound to be noticed; common practice.
pub(crate) const NOTICED: Seconds = Seconds(30.0);

/// An alarm that sounders may be for, each with its panel: it drives nothing of another one. `None` where that is not known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Alarm {
    /// Of a zone of a type, in an area or in none.
    Zone(ZoneType, Option<Id<Area>>, Option<Id<Board>>),
    /// Of an emergency key that counts as a zone of a type, in whatever area its keypad is.
    Key(ZoneType, Option<Id<Board>>),
}

impl Alarm {
    /// The alarm of a zone; `None` where its type was reported.
    pub(crate) fn of_zone(site: &Site, zone: &Zone) -> Option<Self> {
        Some(Self::Zone(zone.kind.as_ref()?.value, zone.area, site.panel_of_zone(zone)))
    }

    /// The alarm of an emergency key of a board that has to sound.
    pub(crate) fn of_key(site: &Site, board: Id<Board>, key: EmergencyKey) -> Option<Self> {
        let panel = site.panel_of(Some(board));
        match key {
            EmergencyKey::Fire => Some(Self::Key(ZoneType::Fire, panel)),
            EmergencyKey::PanicAudible => Some(Self::Key(ZoneType::PanicAudible, panel)),
            EmergencyKey::PanicSilent | EmergencyKey::Medical => None,
        }
    }

    /// Its type of zone.
    pub(crate) fn kind(self) -> ZoneType {
        match self {
            Self::Zone(kind, ..) | Self::Key(kind, _) => kind,
        }
    }

    /// True where a circuit is of its panel, as far as both are known.
    pub(crate) fn reaches(self, site: &Site, circuit: &Circuit) -> bool {
        // What switches it decides; a supply that stands alone switches nothing by itself.
        let switch = circuit.switching.as_ref().and_then(|switching| switching.switch.as_ref());
        self.is_of(site.panel_of(switch.map(|switch| switch.value.board).or(circuit.board())))
    }

    /// True where it is of a panel, as far as both are known.
    fn is_of(self, panel: Option<Id<Board>>) -> bool {
        let (Self::Zone(_, _, own) | Self::Key(_, own)) = self;
        own.zip(panel).is_none_or(|(own, panel)| own == panel)
    }

    /// True where it drives a relay or transistor for so long that it is noticed.
    fn drives(self, drive: &Drive) -> bool {
        self.is_meant_by(drive) && drive.lasts.is_none_or(|lasts| lasts >= NOTICED)
    }

    /// True where it drives a relay or transistor, for however long.
    pub(crate) fn is_meant_by(self, drive: &Drive) -> bool {
        let here = |only: Id<Area>| match self {
            Self::Zone(_, area, _) => area == Some(only),
            Self::Key(..) => true,
        };
        drive.by.value == DrivenBy::Alarm
            && drive.kind.is_none_or(|only| only == self.kind())
            && drive.area.is_none_or(here)
    }
}

/// The alarms of fire and carbon monoxide of the zones in use, each once.
fn of_fire(site: &Site) -> BTreeSet<Alarm> {
    let alarms = site.zones_in_use().filter_map(|(_, zone)| Alarm::of_zone(site, zone));
    alarms.filter(|alarm| alarm.kind().is_fire()).collect()
}

/// False for a sounder outdoors at an alarm of fire or carbon monoxide: it is for the neighbours, and wakes nobody inside.
pub(crate) fn counts_for(site: &Site, device: &Device, alarm: Alarm) -> bool {
    !alarm.kind().is_fire() || device.room.is_none_or(|room| !site.rooms[room].is_outdoors())
}

/// The sounders indoors that some alarm turns on, by circuit.
fn indoors(site: &Site, alarms: &BTreeSet<Alarm>) -> Vec<(Id<Device>, Id<Room>)> {
    let sounders = site.devices.entries().filter(|(_, device)| device.kind == DeviceKind::Sounder);
    let indoors = |(id, device): (Id<Device>, &Device)| {
        let room = device.room.filter(|room| !site.rooms[*room].is_outdoors())?;
        let on_circuit = device.run.and_then(|run| site.circuit_of(run)).is_some();
        let sounds = on_circuit && alarms.iter().any(|alarm| sounds_for(site, device, *alarm));
        sounds.then_some((id, room))
    };
    sounders.filter_map(indoors).collect()
}

/// The sounders indoors that an alarm of fire turns on, by circuit.
pub(crate) fn sounders(site: &Site) -> Vec<(Id<Device>, Id<Room>)> {
    indoors(site, &of_fire(site))
}

/// True where an alarm turns a sounder on. Where its circuit is not known it is taken to.
pub(crate) fn sounds_for(site: &Site, device: &Device, alarm: Alarm) -> bool {
    let circuit = device.run.and_then(|run| site.circuit_of(run));
    let of_panel = circuit.is_none_or(|circuit| alarm.reaches(site, circuit));
    let is_on = |circuit: &Circuit| match &circuit.switching {
        // A siren with a battery of its own sounds when its supply goes away.
        Some(switching) => {
            (switching.contact == SwitchContact::Make || device.own_battery().is_some())
                && switching.drives.iter().any(|drive| alarm.drives(drive))
        }
        None => circuit
            .feed
            .as_ref()
            .and_then(|feed| site.output(feed.value))
            .is_some_and(|output| output.when == When::Alarm),
    };
    of_panel && circuit.is_none_or(is_on)
}

/// The bedrooms of a site, by name.
pub fn bedrooms(site: &Site) -> Vec<Bedroom> {
    let alarms = of_fire(site);
    // What sounds for each alarm: mostly the same. One that nothing sounds for is told by itself.
    let by_alarm: BTreeMap<Vec<_>, ZoneType> = alarms
        .into_iter()
        .map(|alarm| (indoors(site, &[alarm].into()), alarm.kind()))
        .filter(|(sounders, _)| !sounders.is_empty())
        .collect();
    let rooms = site.rooms.entries().filter(|(_, room)| room.kind == Some(RoomKind::Bedroom));
    rooms
        .map(|(id, room)| {
            // The alarm that is heard least there; one that sounds on other levels alone is not heard.
            let each = by_alarm.iter().map(|(sounders, alarm)| (bedroom(site, id, room, sounders), *alarm));
            let level = |bedroom: &Bedroom| bedroom.loudest.as_ref().map_or(f64::NEG_INFINITY, |heard| heard.level.0);
            let least = each.min_by(|(one, _), (other, _)| level(one).total_cmp(&level(other)));
            let (mut least, alarm) = least.unwrap_or_else(|| (bedroom(site, id, room, &[]), ZoneType::Fire));
            if let Some(heard) = least.loudest.as_mut().filter(|_| by_alarm.len() > 1) {
                heard.alarm = Some(alarm);
            }
            least
        })
        .collect()
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
        let distance = site.place_of_device(*sounder).and_then(|place| room.farthest(place));
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
            bedroom.loudest = Some(Heard { sounder: *sounder, alarm: None, rated, distance, walls, level });
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
