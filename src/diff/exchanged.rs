//! What is exchanged for another of its kind in the same place: by the day that it carries, or because it was said to have
//! been there before and is said no more.

use jiff::civil::Date;

use super::{Atom, Change, Value};
use crate::model::{Battery, Transformer};
use crate::quantity::{AmpereHours, Volts};
use crate::record::fact;

/// One battery of a board.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct OneBattery {
    /// Rated capacity.
    pub(crate) capacity: AmpereHours,
    /// Rated voltage, where the spec gives it.
    volts: Option<Volts>,
    /// Day it was put in, where it is known.
    pub(crate) installed: Option<Date>,
    /// True where it was in the house before.
    pub(crate) existing: bool,
}

impl OneBattery {
    /// Every battery of a board.
    fn all(battery: &Battery) -> Vec<Self> {
        let one = |capacity, installed, existing| Self { capacity, volts: battery.volts, installed, existing };
        let alike = (0..battery.count.max(1)).map(|_| one(battery.capacity.value, battery.installed, battery.existing));
        let others = battery.others.iter();
        alike.chain(others.map(|other| one(other.capacity.value, other.installed, other.existing))).collect()
    }

    /// Whether it may be that one of a later revision: volts and days that only one of the two tells are written down later, and
    /// an earlier day is one that was put right. What was there before is there before ever after.
    fn may_be(&self, later: &Self) -> bool {
        let volts = self.volts.zip(later.volts).is_none_or(|(had, has)| had == has);
        let day = self.installed.zip(later.installed).is_none_or(|(had, has)| has <= had);
        self.capacity == later.capacity && volts && day && (later.existing || !self.existing)
    }
}

/// What becomes of the batteries of a board that stays. One of another day was exchanged; their order tells nothing.
pub(crate) struct BatteryChange {
    /// Those that stay: as they were, and as they are.
    pub(crate) stay: Vec<(OneBattery, OneBattery)>,
    /// Those that go.
    pub(crate) go: Vec<OneBattery>,
    /// Those that come.
    pub(crate) come: Vec<OneBattery>,
}

impl BatteryChange {
    /// Compares two.
    pub(crate) fn of(had: &Battery, now: &Battery) -> Self {
        let (mut go, mut come, mut stay) = (OneBattery::all(had), OneBattery::all(now), Vec::new());
        // Those of one day first, so that no other takes their place.
        let same_day = |one: &OneBattery, other: &OneBattery| one.installed == other.installed && one.may_be(other);
        for is_one in [same_day, OneBattery::may_be] {
            go.retain(|one| match come.iter().position(|other| is_one(one, other)) {
                Some(at) => {
                    stay.push((one.clone(), come.remove(at)));
                    false
                }
                None => true,
            });
        }
        Self { stay, go, come }
    }
}

/// Whether a day comes after another; both must be known.
pub(crate) fn is_later(was: Option<&Value>, is: Option<&Value>) -> bool {
    let day = |value: Option<&Value>| match value.map(|value| &**value) {
        Some([Atom::Figure { exact, .. }]) => Some(exact.clone()),
        _ => None,
    };
    day(was).zip(day(is)).is_some_and(|(was, is)| was < is)
}

/// Whether a board has another transformer: one of other figures, or one for that which was there before.
pub(crate) fn is_other_transformer(had: &Transformer, has: &Transformer) -> bool {
    (had.volts.value, had.rating.value) != (has.volts.value, has.rating.value) || had.existing && !has.existing
}

/// Whether a device or a board is exchanged for another of the same part: it was made later than the one that was there, or
/// was there before and is not said to have been any more. A day that was not written down before, or that is put right,
/// exchanges nothing.
pub(crate) fn is_renewed(change: &Change) -> bool {
    let made = change.field(fact::Device::made).is_some_and(|made| is_later(made.old.as_ref(), made.new.as_ref()));
    let said = |field: &str| change.field(field).is_some_and(|field| field.new.is_none());
    let was_there = change.new.is_some() && [fact::Device::existing, fact::Board::existing].into_iter().any(said);
    let is_fixed = change.thing().is_some_and(|thing| thing.fields.contains_key(fact::Device::fixed));
    (made || was_there) && change.field(fact::Device::part).is_none() && !is_fixed
}
