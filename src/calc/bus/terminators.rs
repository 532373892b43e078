//! Which terminators stand at the two ends, and which do not.

use super::layout::{Fitting, Layout};
use crate::profiles::bus::STUB;

/// The terminators of a bus, held against its two ends. One within a stub's length of an end counts as there.
#[derive(Clone, Debug, PartialEq)]
pub struct Ends {
    /// The ends without one: places.
    pub missing: Vec<usize>,
    /// Those that are too many or elsewhere: positions among the layout's.
    pub surplus: Vec<usize>,
    /// Those that stand right: positions among the layout's.
    pub right: Vec<usize>,
}

impl Ends {
    /// True where exactly the two ends have one each.
    pub fn are_right(&self) -> bool {
        self.missing.is_empty() && self.surplus.is_empty()
    }
}

/// Holds the terminators against the ends. A bus so short that it is no more than a stub itself needs none, but takes no
/// more than two either, for each loads the drivers and the bias.
pub fn of(layout: &Layout) -> Ends {
    if layout.length().0 <= STUB.value {
        let mut positions: Vec<usize> = (0..layout.terminators.len()).collect();
        positions.sort_by_key(|position| {
            layout.terminators.get(*position).is_some_and(|terminator| is_written(terminator.fitting))
        });
        let surplus = positions.split_off(positions.len().min(2));
        return Ends { missing: Vec::new(), surplus, right: positions };
    }
    let (first, last) = layout.ends();
    let away = [layout.distances(first), layout.distances(last)].map(|distances| {
        let of = |place: usize| distances.get(place).map_or(f64::INFINITY, |length| length.0);
        layout.terminators.iter().map(|terminator| of(terminator.place)).collect::<Vec<f64>>()
    });
    let [from_first, from_last] = &away;
    let mut ends = Ends { missing: Vec::new(), surplus: Vec::new(), right: Vec::new() };
    for (end, here, there) in [(first, from_first, from_last), (last, from_last, from_first)] {
        let candidates = layout.terminators.iter().zip(here.iter().zip(there)).enumerate();
        // Of several the one that is built in stays, else the nearest.
        let kept = candidates
            .filter(|(_, (_, (here, there)))| **here <= STUB.value && here <= there)
            .min_by(|(_, (one, (near, _))), (_, (other, (far, _)))| {
                is_written(one.fitting).cmp(&is_written(other.fitting)).then(near.total_cmp(far))
            })
            .map(|(position, _)| position);
        match kept {
            Some(position) => ends.right.push(position),
            None => ends.missing.push(end),
        }
    }
    ends.surplus.extend((0..layout.terminators.len()).filter(|position| !ends.right.contains(position)));
    ends
}

fn is_written(fitting: Fitting) -> bool {
    matches!(fitting, Fitting::Written(..))
}
