//! How loud an alarm is in each bedroom.

use serde::Serialize;

use crate::calc::sound::{self, Bedroom, Heard};
use crate::model::{DeviceKind, Site};
use crate::profiles::detectors::{PILLOW, PILLOW_LEVEL};
use crate::profiles::timing::WALL_LOSS;
use crate::quantity::{Decibels, print};
use crate::words;

/// A bedroom.
#[derive(Serialize)]
pub(super) struct Row {
    bedroom: String,
    sounder: String,
    rated: String,
    distance: String,
    walls: String,
    level: String,
    low: bool,
}

/// The bedrooms by name, and the sounders that none of them counts.
pub(super) fn rows(site: &Site) -> (Vec<Row>, Vec<String>) {
    let bedrooms = sound::bedrooms(site);
    let counted: Vec<_> = sound::sounders(site).into_iter().map(|(sounder, _)| sounder).collect();
    let others = site
        .devices
        .entries()
        .filter(|(id, device)| device.kind == DeviceKind::Sounder && !counted.contains(id) && !bedrooms.is_empty());
    let others = others.map(|(id, _)| words::placed(site, id)).collect();
    (bedrooms.iter().map(|bedroom| row(site, bedroom)).collect(), others)
}

fn row(site: &Site, bedroom: &Bedroom) -> Row {
    let length = |length| print::length(length, site.lengths);
    let mut row = Row {
        bedroom: site.room_title(bedroom.room),
        sounder: String::new(),
        rated: String::new(),
        distance: String::new(),
        walls: String::new(),
        level: String::new(),
        low: false,
    };
    match (&bedroom.loudest, bedroom.unknown.first(), bedroom.elsewhere.first()) {
        (Some(Heard { sounder, alarm, rated, distance, walls, level }), ..) => {
            let at = alarm.map_or_else(String::new, |kind| format!(", at an alarm of {}", kind.word()));
            row.sounder = words::placed(site, *sounder) + &at;
            row.rated = format!("{} at {}", rated.level, length(rated.at));
            row.distance = length(*distance);
            row.walls = walls.to_string();
            row.level = sound::told(*level).to_string();
            row.low = level.0 < f64::from(PILLOW_LEVEL);
        }
        (None, Some(sounder), _) => {
            row.sounder =
                format!("{}: its level or a place on the plan is not in the spec", words::placed(site, *sounder));
        }
        (None, None, Some(_)) => "only on another level: not reckoned".clone_into(&mut row.sounder),
        (None, None, None) => {
            "none indoors that fire turns on".clone_into(&mut row.sounder);
            "nothing is heard".clone_into(&mut row.level);
        }
    }
    row
}

/// What counts, with the sources.
pub(super) fn counted() -> String {
    format!(
        "Wanted: {}. Counted: sounders indoors that an alarm of fire turns on, on the bedroom's level. The level of the sheet falls by 20 lg of the ratio of distances, to the farthest corner of the bedroom; each wall or closed door takes {} ({}), one where the rooms adjoin, two where they do not. An estimate: measure at the pillow with the doors shut, on the day of the walk test. Ears are protected and nobody stands on a ladder beside a sounder meanwhile.",
        PILLOW.cited(),
        Decibels(WALL_LOSS.value).to_string().replace("dBA", "dB"),
        WALL_LOSS.source()
    )
}
