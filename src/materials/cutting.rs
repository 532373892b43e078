//! Which lengths are cut from which box, so that few boxes are opened.
//!
//! Best fit, the longest first: each length comes from the box that has the least left of those that have enough. This
//! needs at most 11/9 of the fewest boxes and a few more (D. S. Johnson and others, "Worst-case performance bounds for
//! simple one-dimensional packing algorithms", 1974, from memory). Where the lengths would fill fewer boxes, ways to cut them
//! from fewer are tried, as many as take no time that anybody notices.

use std::collections::BTreeSet;

use crate::quantity::Metres;

/// What a length may lack by rounding: a hundredth of a millimetre.
pub(super) const TRACE: f64 = 1e-5;

/// How many times a length is put into a box while fewer boxes are tried.
const TRIES: usize = 50_000;

/// Which lengths are cut from which box, by position.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Plan {
    /// The boxes as they are opened, each with its lengths in the order of cutting.
    pub(crate) boxes: Vec<Vec<usize>>,
    /// Lengths that no box has.
    pub(crate) too_long: Vec<usize>,
}

/// Plans the cutting of lengths above zero from boxes of one length.
pub(crate) fn plan(lengths: &[Metres], in_box: Metres) -> Plan {
    let (fitting, too_long) =
        longest_first(lengths).into_iter().partition::<Vec<_>, _>(|(_, one)| *one <= in_box.0 + TRACE);
    let found = best_fit(&fitting, in_box);
    let all: f64 = fitting.iter().map(|(_, length)| length).sum();
    let mut tries = TRIES;
    let mut fewer = (1..found.len()).filter(|count| all <= std::iter::repeat_n(in_box.0, *count).sum::<f64>() + TRACE);
    let boxes = fewer.find_map(|count| {
        let mut boxes = vec![(in_box.0, Vec::new()); count];
        packed(&fitting, &mut boxes, &mut tries).then(|| boxes.into_iter().map(|(_, cut)| cut).collect())
    });
    Plan { boxes: boxes.unwrap_or(found), too_long: too_long.into_iter().map(|(at, _)| at).collect() }
}

/// Lengths with their positions; those of one length in their order.
fn longest_first(lengths: &[Metres]) -> Vec<(usize, f64)> {
    let mut sorted: Vec<(usize, f64)> = lengths.iter().map(|length| length.0).enumerate().collect();
    sorted.sort_by(|(_, one), (_, other)| other.total_cmp(one));
    sorted
}

/// Whether some lengths, the longest first, go into boxes of which each has so much left. `tries` counts down.
fn packed(lengths: &[(usize, f64)], boxes: &mut [(f64, Vec<usize>)], tries: &mut usize) -> bool {
    let Some(((at, length), rest)) = lengths.split_first() else { return true };
    let mut tried: Vec<u64> = Vec::new();
    for nth in 0..boxes.len() {
        let Some((left, cut)) = boxes.get_mut(nth) else { continue };
        // A box like one that was tried leads to nothing else.
        if *left + TRACE < *length || tried.contains(&left.to_bits()) || *tries == 0 {
            continue;
        }
        *tries -= 1;
        let before = *left;
        tried.push(before.to_bits());
        *left = (before - length).max(0.0);
        cut.push(*at);
        if packed(rest, boxes, tries) {
            return true;
        }
        if let Some((left, cut)) = boxes.get_mut(nth) {
            *left = before;
            cut.pop();
        }
    }
    false
}

/// Each length, the longest first, from the box that has the least left of those that have enough.
fn best_fit(lengths: &[(usize, f64)], in_box: Metres) -> Vec<Vec<usize>> {
    let mut boxes: Vec<Vec<usize>> = Vec::new();
    // What is left of each open box. Numbers above zero are in the order of their bits.
    let mut left: BTreeSet<(u64, usize)> = BTreeSet::new();
    for (at, length) in lengths {
        let fits = left.range(((length - TRACE).max(0.0).to_bits(), 0)..).next().copied();
        let (rest, nth) = if let Some(open) = fits {
            left.remove(&open);
            (f64::from_bits(open.0), open.1)
        } else {
            boxes.push(Vec::new());
            (in_box.0, boxes.len() - 1)
        };
        left.insert(((rest - length).max(0.0).to_bits(), nth));
        boxes.get_mut(nth).into_iter().for_each(|cut| cut.push(*at));
    }
    boxes
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// The fewest boxes of 60, found by trying every way: each length in each open box, or in a new one.
    fn fewest(lengths: &[u32], left: &mut Vec<u32>, best: &mut usize) {
        let Some((length, rest)) = lengths.split_first() else {
            *best = (*best).min(left.len());
            return;
        };
        for nth in 0..left.len() {
            if left[nth] >= *length {
                left[nth] -= length;
                fewest(rest, left, best);
                left[nth] += length;
            }
        }
        if left.len() + 1 < *best {
            left.push(60 - length);
            fewest(rest, left, best);
            left.pop();
        }
    }

    fn metres(lengths: &[u32]) -> Vec<Metres> {
        lengths.iter().map(|length| Metres(f64::from(*length) * 0.3048)).collect()
    }

    /// All 11,628 ways to take 5 of 15 lengths, one more than once as well, and all 1,287 to take 8 of 6.
    #[test]
    fn the_plan_needs_as_few_boxes_as_any() {
        fn sets(from: &[u32], take: usize, set: &mut Vec<u32>, found: &mut dyn FnMut(&[u32])) {
            if take == 0 {
                return found(set);
            }
            for (at, length) in from.iter().enumerate() {
                set.push(*length);
                sets(&from[at..], take - 1, set, found);
                set.pop();
            }
        }
        let mut seen = 0;
        let mut compare = |lengths: &[u32]| {
            let mut best = usize::MAX;
            fewest(lengths, &mut Vec::new(), &mut best);
            let needs = plan(&metres(lengths), Metres(60.0 * 0.3048)).boxes.len();
            assert_eq!(needs, best, "{lengths:?}: {needs} boxes where {best} do");
            seen += 1;
        };
        let fifteen: Vec<u32> = (1..=15).map(|nth| nth * 4).collect();
        sets(&fifteen, 5, &mut Vec::new(), &mut compare);
        sets(&[9, 14, 20, 24, 30, 37], 8, &mut Vec::new(), &mut compare);
        assert!(seen > 12_000, "{seen}");
    }

    /// 60 is 20 + 20 + 20 and 30 + 15 + 15, but the 20 that goes beside the 30 takes the place of both 15.
    #[test]
    fn where_best_fit_opens_a_box_more_another_way_is_found() {
        let (lengths, in_box) = (metres(&[30, 20, 20, 20, 15, 15]), Metres(60.0 * 0.3048));
        let found = best_fit(&longest_first(&lengths), in_box);
        assert_eq!([found, plan(&lengths, in_box).boxes].map(|boxes| boxes.len()), [3, 2]);
    }

    /// Where nobody could try all ways, the plan is that of best fit.
    #[test]
    fn a_plan_of_many_lengths_ends() {
        let lengths: Vec<u32> = (0..300).map(|nth| 11 + nth * 7 % 23).collect();
        let (lengths, in_box) = (metres(&lengths), Metres(60.0 * 0.3048));
        assert!(plan(&lengths, in_box).boxes.len() <= best_fit(&longest_first(&lengths), in_box).len());
    }

    proptest! {
        #[test]
        fn every_length_is_cut_once_and_no_box_gives_more_than_it_has(
            lengths in prop::collection::vec(1_u32..700, 0..80),
            in_box in 1_u32..600,
        ) {
            let plan = plan(&metres(&lengths), metres(&[in_box])[0]);
            let mut cut: Vec<usize> = plan.boxes.iter().flatten().chain(&plan.too_long).copied().collect();
            cut.sort_unstable();
            prop_assert_eq!(cut, (0..lengths.len()).collect::<Vec<_>>());
            for of in &plan.boxes {
                prop_assert!(!of.is_empty() && of.iter().map(|at| lengths[*at]).sum::<u32>() <= in_box);
            }
            prop_assert!(plan.too_long.iter().all(|at| lengths[*at] > in_box));
            // No two boxes could have been one.
            let sums: Vec<u32> = plan.boxes.iter().map(|of| of.iter().map(|at| lengths[*at]).sum()).collect();
            let pairs = sums.iter().enumerate().flat_map(|(at, one)| sums[..at].iter().map(move |other| one + other));
            prop_assert!(pairs.into_iter().all(|both| both > in_box));
        }
    }
}
