//! The channel between the house and what stands apart: the track of each wire that goes through it.

use std::collections::BTreeMap;

use super::bands::{LANE, Plan};
use super::grid::{Side, TRACKS};
use super::wires::{Slot, apart};
use crate::draw::text::count;

/// The height of a lane of a strip.
pub(super) fn axis(plan: &Plan, here: &BTreeMap<usize, f64>, strip: usize, lane: usize) -> Option<f64> {
    let of = plan.strips.get(strip)?;
    Some(here.get(&strip)? + of.above() - of.flags - (count(lane) + 0.5) * LANE)
}

/// Where a wire comes into the channel: from the house at its left or from what is apart, at which height, and its track.
struct Mouth {
    side: Side,
    height: f64,
    track: usize,
}

impl Mouth {
    /// True where the ends of two wires would lie on each other: one from each side at one height, the left one beyond
    /// the right one.
    fn meets(&self, other: &Self) -> bool {
        let on = (self.height - other.height).abs() < LANE / 2.0 + 0.9;
        let (house, apart) = if self.side == Side::House { (self, other) } else { (other, self) };
        on && house.side != apart.side && house.track >= apart.track
    }
}

/// The track of each wire that goes through the channel on a page, by the board to which it leads.
pub(super) fn tracks(plan: &Plan, here: &BTreeMap<usize, f64>) -> BTreeMap<usize, usize> {
    let mut taken: Vec<Vec<(f64, f64)>> = vec![Vec::new(); TRACKS];
    let mut mouths: Vec<Mouth> = Vec::new();
    let mut tracks = BTreeMap::new();
    for wire in plan.wires.iter().filter(|wire| wire.from.strip != wire.to.strip && wire.lanes.is_some()) {
        let ends = |strip: usize| {
            let top = here.get(&strip)?;
            Some((*top, top + plan.strips.get(strip)?.above()))
        };
        let (Some(one), Some(other)) = (ends(wire.from.strip), ends(wire.to.strip)) else { continue };
        let piece = (one.0.min(other.0), one.1.max(other.1));
        let ends = |track: usize| {
            let lanes = wire.lanes.map(|(one, other)| [(wire.from, one), (wire.to, other)]);
            let mouth = move |(slot, lane): (Slot, usize)| {
                Some(Mouth { side: slot.side, height: axis(plan, here, slot.strip, lane)?, track })
            };
            lanes.into_iter().flatten().filter_map(mouth)
        };
        let is_clear = |track: usize| ends(track).all(|end| mouths.iter().all(|other| !end.meets(other)));
        let free = taken
            .iter_mut()
            .enumerate()
            .find(|(number, track)| track.iter().all(|other| apart(*other, piece)) && is_clear(*number));
        if let Some((track, pieces)) = free {
            pieces.push(piece);
            mouths.extend(ends(track));
            tracks.insert(wire.wire.to, track);
        }
    }
    tracks
}
