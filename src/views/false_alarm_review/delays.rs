//! The times of areas beside their published ranges, and the ways from doors to keypads.

use serde::Serialize;

use crate::base::wording::numbers;
use crate::base::{Id, Spanned};
use crate::calc::timing::{Door, Way};
use crate::model::{Area, CrossZones, Site};
use crate::profiles::source::Figure;
use crate::profiles::timing::{AT_DOOR_AND_KEYPAD, CUT_OFF, DETOUR, Range, WALKING_SPEED, delays};
use crate::quantity::{Seconds, print};
use crate::terms::ZoneType;
use crate::words::Paper;

/// An area with its times, one in each column.
#[derive(Serialize)]
pub(super) struct AreaRow {
    area: String,
    times: Vec<Time>,
}

/// A time as it is set.
#[derive(Serialize)]
struct Time {
    given: String,
    /// True where it is outside its range.
    outside: bool,
}

/// A published range, as a column has it.
#[derive(Serialize)]
pub(super) struct RangeRow {
    what: &'static str,
    range: String,
    basis: String,
}

/// Zones of an area that confirm each other.
#[derive(Serialize)]
pub(super) struct CrossRow {
    area: String,
    zones: String,
    window: String,
}

fn seconds(time: Option<&Spanned<Seconds>>) -> Option<Seconds> {
    time.map(|time| time.value)
}

/// The areas in the order of their numbers.
pub(super) fn areas(site: &Site) -> Vec<AreaRow> {
    let limits = delays(site.edition);
    let row = |(id, area): (Id<Area>, &Area)| {
        let starts = site.zones.iter().any(|zone| {
            let entry = zone.is_of(ZoneType::EntryExit);
            zone.reserved.is_none() && site.is_in(zone, id) && entry
        });
        let (entry, abort) = (seconds(area.entry.as_ref()), seconds(area.abort.as_ref()));
        let together = entry.zip(abort).map(|(entry, abort)| entry + abort);
        let trips = area.swinger_shutdown.as_ref().map(|trips| trips.value);
        let cut_off = seconds(area.sounder_cut_off.as_ref());
        let time = |time: Option<Seconds>, holds: &dyn Fn(f64) -> bool| Time {
            given: time.map(|time| time.to_string()).unwrap_or_default(),
            outside: time.is_some_and(|time| !holds(time.0)),
        };
        let mut entry_time = time(entry, &|value| limits.entry.holds(value));
        if entry.is_some() && !starts {
            entry_time.given.push_str(", no door starts it");
        }
        let times = vec![
            entry_time,
            time(seconds(area.exit.as_ref()), &|value| limits.exit.holds(value)),
            time(abort, &|value| limits.abort.holds(value)),
            time(together, &|value| value <= limits.together.value),
            Time {
                given: trips.map(|trips| trips.to_string()).unwrap_or_default(),
                outside: trips.is_some_and(|trips| !limits.trips.holds(f64::from(trips))),
            },
            time(cut_off, &|value| value <= CUT_OFF.value),
        ];
        AreaRow { area: format!("{}. {}", area.number, area.title), times }
    };
    site.areas_by_number().into_iter().map(row).collect()
}

/// The published ranges, in the order of the columns.
pub(super) fn ranges(site: &Site) -> Vec<RangeRow> {
    let limits = delays(site.edition);
    let times = |what, range: &Range| RangeRow {
        what,
        range: format!("{} to {}", range.least.time(), range.most.time()),
        basis: range.source(),
    };
    let most = |what, most: &Figure| RangeRow { what, range: format!("at most {}", most.time()), basis: most.source() };
    vec![
        times("entry delay", &limits.entry),
        times("exit delay", &limits.exit),
        times("abort window", &limits.abort),
        most("entry delay and abort window together", &limits.together),
        RangeRow {
            what: "alarms of a zone until it is shut out",
            range: format!("{} to {}", limits.trips.least.value, limits.trips.most.value),
            basis: limits.trips.source(),
        },
        most("sounders, where an ordinance limits them: often", &CUT_OFF),
    ]
}

/// The cross zones of all areas.
pub(super) fn cross_zones(site: &Site) -> Vec<CrossRow> {
    let of_area = |area: &Area| {
        let row = |cross: &CrossZones| CrossRow {
            area: area.title.clone(),
            zones: numbers(&cross.zones.iter().map(|zone| zone.value).collect::<Vec<_>>()),
            window: cross.window.map(|window| window.to_string()).unwrap_or_default(),
        };
        area.cross_zones.iter().map(row).collect::<Vec<_>>()
    };
    site.areas_by_number().into_iter().flat_map(|(_, area)| of_area(area)).collect()
}

/// A door with its way.
#[derive(Serialize)]
pub(super) struct DoorRow {
    door: String,
    zone: String,
    keypad: String,
    way: String,
    walking: String,
    needed: String,
    entry: String,
    entry_left: String,
    exit: String,
    exit_left: String,
    entry_tight: bool,
    exit_tight: bool,
}

/// The doors by zone.
pub(super) fn doors(site: &Site, doors: &[Door]) -> Vec<DoorRow> {
    doors.iter().map(|door| row(site, door)).collect()
}

fn row(site: &Site, door: &Door) -> DoorRow {
    let area = &site.areas[door.area];
    let (entry, exit) = (seconds(area.entry.as_ref()), seconds(area.exit.as_ref()));
    let needed = door.way.map(|way| Seconds(way.needed().0.ceil()));
    let left = |delay: Option<Seconds>| delay.zip(needed).map(|(delay, needed)| delay - needed);
    let is_tight = |delay| left(delay).is_some_and(|left| left.0 < 0.0);
    let shown = |time: Option<Seconds>| time.map(|time| time.to_string()).unwrap_or_default();
    DoorRow {
        door: Paper.opening(site, door.opening),
        zone: site.zones[door.zone].number.value.to_string(),
        keypad: door.keypad.map_or_else(|| "none within reach".to_owned(), |keypad| Paper.board(site, keypad)),
        way: match door.way {
            None => "not measured: walk it with a watch".to_owned(),
            Some(Way::Timed(_)) => "walked with a watch".to_owned(),
            Some(Way::Measured(length)) => format!("{}, measured", print::length(length, site.lengths)),
            Some(Way::Plan(length)) => format!("about {}, from the plan", print::length(length, site.lengths)),
        },
        walking: shown(door.way.map(|way| Seconds(way.walking().0.ceil()))),
        needed: shown(needed),
        entry: shown(entry),
        entry_left: shown(left(entry)),
        exit: shown(exit),
        exit_left: shown(left(exit)),
        entry_tight: is_tight(entry),
        exit_tight: is_tight(exit),
    }
}

/// How ways become times, in a sentence with the sources.
pub(super) fn reckoned() -> String {
    format!(
        "Walking at 3 ft/s (0.91 m/s), as slower pedestrians do ({}). A way from the plan is the straight line to the keypad (its spot, else the middle of its room) × {} ({}). For the door, the lights and the keys {} are added ({}).",
        WALKING_SPEED.source(),
        DETOUR.value,
        DETOUR.source(),
        AT_DOOR_AND_KEYPAD.time(),
        AT_DOOR_AND_KEYPAD.source()
    )
}
