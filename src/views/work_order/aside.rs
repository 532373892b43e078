//! What is taken down before its turn and set aside, where those that exchange what they have would wait for each other.

use super::Sides;
use super::place::{Places, Stage, When, in_room};
use crate::base::Id;
use crate::diff::{Handed, Subject};
use crate::model::Room;
use crate::words;

/// The step that takes something down before its turn, for one that goes up here: it is the first of all in the place that would
/// wait for it, since what hangs there is waited for in turn.
pub(super) fn steps(
    sides: &Sides<'_>,
    handed: &Handed,
    (from, to): (Option<Id<Room>>, Option<Id<Room>>),
    places: &mut Places,
) -> When {
    let (old, new) = (&sides.old.site, &sides.new.site);
    let Some(id) = sides.old_keys.devices.get(&handed.was.key) else { return String::new().into() };
    let fetch = if in_room(old, from) == in_room(new, to) { "take it down" } else { "go there and take it down" };
    let text = format!("{}: {fetch} first, and set it aside: it goes up again here", words::placed(old, *id));
    places.add_at(Stage::First, new, to, "remove", text);
    "; the one that was set aside".to_owned().into()
}

/// Whether something of the old site is set aside before its turn.
pub(super) fn is_set_aside(sides: &Sides<'_>, was: &Subject) -> bool {
    sides.found.materials.handed.iter().any(|handed| handed.aside && handed.was == *was)
}
