//! Areas: what arms as one, its times, and the ways from its doors to a keypad.

use crate::base::{Id, Span, Spanned};
use crate::quantity::{Metres, Seconds};

use super::board::Board;
use super::place::{Opening, Room};
use super::site::Site;
use super::zone::Zone;

/// A part of the house that arms as one.
#[derive(Clone, Debug, PartialEq)]
pub struct Area {
    /// The name that others refer to.
    pub name: Spanned<String>,
    /// Name for people; the name where none is given.
    pub title: String,
    /// The number it reports with.
    pub number: u32,
    /// Entry delay.
    pub entry: Option<Spanned<Seconds>>,
    /// Exit delay.
    pub exit: Option<Spanned<Seconds>>,
    /// Abort window.
    pub abort: Option<Spanned<Seconds>>,
    /// Alarms of one zone after which it is shut out.
    pub swinger_shutdown: Option<Spanned<u32>>,
    /// How long its sounders sound.
    pub sounder_cut_off: Option<Spanned<Seconds>>,
    /// Ways from its doors to a keypad, by door.
    pub walks: Vec<Walk>,
    /// Zones that confirm each other, by the first of them.
    pub cross_zones: Vec<CrossZones>,
    /// False where something of it could not be read and was reported.
    pub(crate) whole: bool,
}

/// The way from a door to a keypad, as the spec gives it.
#[derive(Clone, Debug, PartialEq)]
pub struct Walk {
    /// The door.
    pub from: Spanned<Id<Opening>>,
    /// The keypad; any board until that is checked.
    pub to: Spanned<Id<Board>>,
    /// How long it takes.
    pub time: Option<Spanned<Seconds>>,
    /// How long it is.
    pub length: Option<Spanned<Metres>>,
    /// Rooms on the way, besides those of the two ends.
    pub through: Vec<Id<Room>>,
}

/// Zones that confirm each other.
#[derive(Clone, Debug, PartialEq)]
pub struct CrossZones {
    /// Their numbers, in order.
    pub zones: Vec<Spanned<u32>>,
    /// How long the first waits for another.
    pub window: Option<Seconds>,
    /// The node's name in the spec.
    pub(crate) place: Spanned<()>,
}

impl CrossZones {
    /// Where it stands in the spec.
    pub(crate) fn span(&self) -> Span {
        self.place.span
    }
}

impl Site {
    /// The areas by the number that they report with.
    pub(crate) fn areas_by_number(&self) -> Vec<(Id<Area>, &Area)> {
        let mut areas: Vec<(Id<Area>, &Area)> = self.areas.entries().collect();
        areas.sort_by_key(|(_, area)| area.number);
        areas
    }

    /// The area that a zone arms with: the one that is written, or the only one that the house has.
    pub(crate) fn arms_with(&self, zone: &Zone) -> Option<Id<Area>> {
        let mut areas = self.areas.entries().map(|(id, _)| id);
        zone.area.or_else(|| areas.next().filter(|_| areas.next().is_none()))
    }

    /// True where a zone arms with an area.
    pub(crate) fn is_in(&self, zone: &Zone, area: Id<Area>) -> bool {
        self.arms_with(zone) == Some(area)
    }

    /// The zones with which a zone is confirmed, itself among them; `None` where it is an alarm by itself.
    pub(crate) fn confirmed_by(&self, zone: &Zone) -> Option<&CrossZones> {
        let mut groups = self.areas.iter().flat_map(|area| &area.cross_zones);
        groups.find(|group| group.zones.iter().any(|number| number.value == zone.number.value))
    }
}
