//! Areas with their times, ways to the keypad and cross zones.

use super::item::{Reference, Title, record};
use super::names::Names;
use crate::model;
use crate::quantity::{Metres, Seconds};

record! {
    /// A part of the house that arms as one.
    Area {
        /// Identifier for what connects next; it stays while the name does.
        id: String,
        /// The name that others refer to.
        name: String,
        /// Name for people.
        title: Title => "title",
        /// The number it reports with.
        number: u32 => "number",
        /// Entry delay in seconds.
        entry_seconds: Option<Seconds> => "entry delay",
        /// Exit delay in seconds.
        exit_seconds: Option<Seconds> => "exit delay",
        /// Abort window in seconds.
        abort_seconds: Option<Seconds> => "abort window",
        /// Alarms of one zone after which it is shut out.
        swinger_shutdown: Option<u32> => "swinger shutdown",
        /// How long its sounders sound, in seconds.
        sounder_cut_off_seconds: Option<Seconds> => "sounder cut-off",
        /// Ways from its doors to a keypad, by door, as the spec gives them.
        walks: Vec<Walk> => "walk",
        /// Zones that confirm each other.
        cross_zones: Vec<CrossZones> => "cross zones",
    }

    /// The way from a door to a keypad.
    Walk {
        /// Name of the door.
        from: Reference => "from",
        /// Name of the keypad.
        to: Reference => "to",
        /// How long it takes, in seconds.
        time_seconds: Option<Seconds> => "time",
        /// How long it is, in metres.
        length_metres: Option<Metres> => "length",
        /// Names of the rooms on the way, besides those of the two ends.
        through: Vec<Reference> => "through",
    }

    /// Zones that confirm each other.
    CrossZones {
        /// Their numbers.
        zones: Vec<u32> => "zone",
        /// How long the first waits for another, in seconds.
        window_seconds: Option<Seconds> => "window",
    }
}

/// The areas, by name.
pub(crate) fn areas(names: &Names<'_>) -> Vec<Area> {
    let of_area = |area: &model::Area| {
        let model::Area {
            name,
            title,
            number,
            entry,
            exit,
            abort,
            swinger_shutdown,
            sounder_cut_off,
            walks,
            cross_zones,
            whole: _,
        } = area;
        Area {
            id: area.identifier(),
            name: name.value.clone(),
            title: Title::new(title, &name.value),
            number: *number,
            entry_seconds: entry.as_ref().map(|time| time.value),
            exit_seconds: exit.as_ref().map(|time| time.value),
            abort_seconds: abort.as_ref().map(|time| time.value),
            swinger_shutdown: swinger_shutdown.as_ref().map(|trips| trips.value),
            sounder_cut_off_seconds: sounder_cut_off.as_ref().map(|time| time.value),
            walks: walks.iter().map(|walk| of_walk(names, walk)).collect(),
            cross_zones: cross_zones.iter().map(of_cross_zones).collect(),
        }
    };
    names.site.areas.iter().map(of_area).collect()
}

fn of_walk(names: &Names<'_>, walk: &model::Walk) -> Walk {
    let model::Walk { from, to, time, length, through } = walk;
    Walk {
        from: names.opening(from.value),
        to: names.board(to.value),
        time_seconds: time.as_ref().map(|time| time.value),
        length_metres: length.as_ref().map(|length| length.value),
        through: through.iter().map(|room| names.room(*room)).collect(),
    }
}

fn of_cross_zones(cross: &model::CrossZones) -> CrossZones {
    let model::CrossZones { zones, window, place: _ } = cross;
    CrossZones { zones: zones.iter().map(|zone| zone.value).collect(), window_seconds: *window }
}
