//! Wires between boxes: where each leaves and comes in, and the lane that it has above a strip.

use std::collections::BTreeMap;

use super::Wire;
use super::grid::{Grid, Side};
use crate::draw::text::count;

/// Wires that leave a box by lines of their own; of more the box only says where they go.
const MOST_OUT: usize = 4;
/// Lanes above a strip.
const MOST_LANES: usize = 6;
/// From the side of a box to its first line, and from line to line.
const FIRST: f64 = 2.0;
const STEP: f64 = 2.0;
/// Lines that share a lane are so far apart at least.
const CLEAR: f64 = 1.0;

/// Where a box stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Slot {
    /// Its strip, among all.
    pub(crate) strip: usize,
    /// Its column there.
    pub(crate) column: usize,
    /// In the house or apart.
    pub(crate) side: Side,
}

/// A wire with its way.
#[derive(Clone, Debug)]
pub(crate) struct Routed<'r> {
    /// The wire.
    pub(crate) wire: &'r Wire,
    /// Its boxes.
    pub(crate) from: Slot,
    pub(crate) to: Slot,
    /// Where it leaves the one, if by a line of its own, and comes to the other.
    pub(crate) out: Option<f64>,
    pub(crate) into: f64,
    /// Its lanes above both; the same where both are on one strip. `None` where it is only told.
    pub(crate) lanes: Option<(usize, usize)>,
}

impl Routed<'_> {
    /// True where both boxes are on one strip and a lane joins them, so that no page can part them.
    pub(crate) fn is_drawn_for_sure(&self) -> bool {
        self.from.strip == self.to.strip && self.lanes.is_some()
    }
}

/// Every wire with its way, and how many lanes each strip needs.
pub(crate) fn route<'r>(
    wires: &'r [Wire],
    slots: &BTreeMap<usize, Slot>,
    grid: &Grid,
) -> (Vec<Routed<'r>>, BTreeMap<usize, usize>) {
    let mut lanes = Lanes::default();
    let mut leaving: BTreeMap<usize, usize> = BTreeMap::new();
    let mut routed = Vec::new();
    for wire in wires {
        let (Some(from), Some(to)) = (slots.get(&wire.from), slots.get(&wire.to)) else { continue };
        let (from, to) = (*from, *to);
        let nth = leaving.entry(wire.from).or_default();
        let right = grid.left(from.side, from.column) + grid.box_width() - FIRST;
        let out = (*nth < MOST_OUT).then(|| right - count(*nth) * STEP);
        *nth += 1;
        let into = grid.left(to.side, to.column) + FIRST;
        let lanes = out.and_then(|out| {
            if from.strip == to.strip {
                let lane = lanes.take(from.strip, (out.min(into), out.max(into)))?;
                return Some((lane, lane));
            }
            let one = lanes.take(from.strip, grid.reaching_channel(out))?;
            Some((one, lanes.take(to.strip, grid.reaching_channel(into))?))
        });
        routed.push(Routed { wire, from, to, out, into, lanes });
    }
    (routed, lanes.needed())
}

/// How much of a box's width its lines take at the right.
pub(crate) fn taken_at_right(wires: &[Routed], board: usize) -> f64 {
    let out = wires.iter().filter(|wire| wire.wire.from == board && wire.out.is_some()).count();
    FIRST + count(out) * STEP
}

/// How much the line takes that comes to it.
pub(crate) fn taken_at_left() -> f64 {
    FIRST + STEP / 2.0
}

/// What is taken of each lane of each strip.
#[derive(Default)]
struct Lanes(BTreeMap<usize, Vec<Vec<(f64, f64)>>>);

impl Lanes {
    /// The lowest lane of a strip with room for a piece; `None` where all are taken.
    fn take(&mut self, strip: usize, piece: (f64, f64)) -> Option<usize> {
        let lanes = self.0.entry(strip).or_default();
        let free = lanes.iter().position(|lane| lane.iter().all(|other| apart(*other, piece)));
        let lane = match free {
            Some(lane) => lane,
            None if lanes.len() < MOST_LANES => {
                lanes.push(Vec::new());
                lanes.len() - 1
            }
            None => return None,
        };
        lanes.get_mut(lane)?.push(piece);
        Some(lane)
    }

    fn needed(&self) -> BTreeMap<usize, usize> {
        self.0.iter().map(|(strip, lanes)| (*strip, lanes.len())).collect()
    }
}

/// True where two pieces of one line are clear of each other.
pub(crate) fn apart(one: (f64, f64), other: (f64, f64)) -> bool {
    one.1 + CLEAR < other.0 || other.1 + CLEAR < one.0
}
