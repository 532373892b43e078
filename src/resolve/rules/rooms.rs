//! Rooms of a size that no room has: the plan is drawn as if they were not measured, so that nothing else is said of them.

use crate::diag::{Basis, Diagnostic, Rule};
use crate::model::Room;
use crate::quantity::{LengthUnit, Metres, print};
use crate::rule;

pub(super) static ROOM_TOO_LARGE: Rule =
    rule!("room-too-large", Basis::Contradiction, "a room that is larger than any house is");
pub(super) static ROOM_TOO_SMALL: Rule =
    rule!("room-too-small", Basis::Guess, "a room that is too small for anybody to stand in");

/// The most that a measure of a room may be.
const MOST: Metres = Metres(1000.0);

/// A side shorter than that is of no room, nor is one with both sides shorter than the other: a shaft of pipes is 0.2 m deep,
/// a narrow cupboard 0.6 m wide. Ours.
const LEAST: [Metres; 2] = [Metres(0.15), Metres(0.5)];

/// What is said of the size of a room; `None` where it may be.
pub(crate) fn room_size(room: &Room, unit: LengthUnit) -> Option<Diagnostic> {
    let [x, y, width, depth] = room.rect?;
    let largest = [x, y, width, depth].into_iter().max_by(|one, other| one.0.total_cmp(&other.0))?;
    if largest.0 > MOST.0 {
        return Some(too_large(room, largest, unit));
    }
    let (short, long) = if width.0 < depth.0 { (width, depth) } else { (depth, width) };
    let [least, least_of_both] = LEAST;
    (short.0 < least.0 || long.0 < least_of_both.0).then(|| too_small(room, [width, depth], unit))
}

fn too_large(room: &Room, largest: Metres, unit: LengthUnit) -> Diagnostic {
    let length = |length| print::length(length, unit);
    let title = format!("room `{}` has a measure of {}", room.name.value, length(largest));
    Diagnostic::new(&ROOM_TOO_LARGE, room.name.span, title)
        .here(format!("more than {}", length(MOST)))
        .why("No house is that large: a unit or a decimal point is wrong, and every way on the plan with it.")
        .help("Correct the rect: the corner nearest the plan's origin, then width and depth, each with its unit.")
        .about(&room.name.value)
}

fn too_small(room: &Room, sides: [Metres; 2], unit: LengthUnit) -> Diagnostic {
    let [width, depth] = sides.map(|side| print::length(side, unit));
    let [as_width, as_depth] = sides.map(|side| print::in_larger_unit(side, unit));
    Diagnostic::new(&ROOM_TOO_SMALL, room.name.span, format!("room `{}` is {width} by {depth}", room.name.value))
        .here("nobody could stand in it")
        .why("Mostly the unit is a slip, or the point. The plan is drawn as if the room were not measured, and no way in it is.")
        .help(format!("Look at the unit of the rect: {as_width} {as_depth}, perhaps. A niche needs no room of its own."))
        .about(&room.name.value)
}
