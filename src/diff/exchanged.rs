//! What is exchanged for another of its kind in the same place: batteries and detectors, by the day that they carry.

use super::{Atom, Change, Kind, Value};
use crate::record::fact;

/// True for a board whose battery was put in on another day. Where no day was known before, it is only written down.
pub(crate) fn is_battery_exchanged(change: &Change) -> bool {
    let of_board = change.subject().is_some_and(|subject| subject.kind == Kind::Board);
    let day = change.field(fact::Battery::installed).filter(|_| of_board);
    day.is_some_and(|day| day.old.is_some() && day.new.is_some())
}

/// Whether a day comes after another; both must be known.
pub(crate) fn is_later(was: Option<&Value>, is: Option<&Value>) -> bool {
    let day = |value: Option<&Value>| match value.map(|value| &**value) {
        Some([Atom::Figure { exact, .. }]) => Some(exact.clone()),
        _ => None,
    };
    day(was).zip(day(is)).is_some_and(|(was, is)| was < is)
}

/// Whether a device is exchanged for another of the same part: it was made later than the one that was there. A day that was
/// not written down before, or that is put right, exchanges nothing.
pub(crate) fn is_renewed(change: &Change) -> bool {
    let made = change.field(fact::Device::made).is_some_and(|made| is_later(made.old.as_ref(), made.new.as_ref()));
    let is_fixed = change.thing().is_some_and(|thing| thing.fields.contains_key(fact::Device::fixed));
    made && change.field(fact::Device::part).is_none() && !is_fixed
}
