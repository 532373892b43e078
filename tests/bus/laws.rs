//! Laws that every bus obeys, on made-up buses.

use loopwright::calc::Spread;
use loopwright::calc::bus::layout::{Place, Port};
use loopwright::calc::bus::{BusFigures, Layout, idle, terminators};
use loopwright::quantity::Metres;
use proptest::prelude::*;

use super::ngspice::figures;
use super::plan::{Dice, Plan};

const ROUNDING: f64 = 1e-9;

fn at_most(one: f64, other: f64) -> bool {
    one <= other || one - other <= ROUNDING * other.abs()
}

fn made(seed: u64, several: bool) -> (Plan, BusFigures) {
    let plan = Plan::random(&mut Dice(seed), several);
    let figures = figures(std::slice::from_ref(&plan)).remove(0);
    (plan, figures)
}

fn bias(layout: &Layout) -> Vec<Spread> {
    idle::of(layout).unwrap().volts
}

/// The same bus with its tree drawn from another place; with the new position of each place.
fn drawn_from(layout: &Layout, root: usize) -> (Layout, Vec<usize>) {
    let mut order = vec![(root, root)];
    let mut next = 0;
    while next < order.len() {
        let (at, back) = order[next];
        order.extend(layout.neighbours(at).map(|(place, _)| (place, at)).filter(|(place, _)| *place != back));
        next += 1;
    }
    let mut position = vec![0; layout.places.len()];
    for (new, (old, _)) in order.iter().enumerate() {
        position[*old] = new;
    }
    let places = order
        .iter()
        .map(|(old, back)| {
            // The cable between two places belongs to the later one of the first drawing.
            let cable = &layout.places[(*old).max(*back)];
            let first = old == back;
            Place {
                before: position[*back],
                run: if first { None } else { cable.run },
                length: if first { Metres(0.0) } else { cable.length },
                ohms: if first { Spread::SHORT } else { cable.ohms },
                boards: layout.places[*old].boards.clone(),
            }
        })
        .collect();
    let mut drawn = Layout { places, ..layout.clone() };
    drawn.terminators.iter_mut().for_each(|one| one.place = position[one.place]);
    drawn.ports.iter_mut().for_each(|one| one.place = position[one.place]);
    drawn.trunk = drawn.longest_way();
    (drawn, position)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_bias_supply_that_is_off_moves_the_bias_by_its_share(seed: u64, share in 0.0..0.2_f64) {
        let (_, BusFigures { layout, .. }) = made(seed, false);
        let mut off = layout.clone();
        off.ports.iter_mut().for_each(|port| port.bias_tolerance = share);
        for (exact, off) in bias(&layout).into_iter().zip(bias(&off)) {
            prop_assert!((off.least - exact.least * (1.0 - share)).abs() < 1e-9);
            prop_assert!((off.nominal - exact.nominal).abs() < 1e-12);
            prop_assert!((off.greatest - exact.greatest * (1.0 + share)).abs() < 1e-9);
        }
    }

    #[test]
    fn more_receivers_never_raise_the_bias(seed: u64, place: prop::sample::Index, load in 0.1..10.0_f64) {
        let (_, BusFigures { layout, .. }) = made(seed, true);
        let mut more = layout.clone();
        let port = layout.ports[0];
        more.ports.push(Port { place: place.index(layout.places.len()), unit_load: load, bias: None, ..port });
        for (before, after) in bias(&layout).into_iter().zip(bias(&more)) {
            prop_assert!(at_most(after.least, before.least));
            prop_assert!(at_most(after.nominal, before.nominal));
            prop_assert!(at_most(after.greatest, before.greatest));
        }
    }

    #[test]
    fn more_cable_on_the_way_never_raises_the_bias_beyond_it(seed: u64, place: prop::sample::Index, factor in 1.0..20.0_f64) {
        let (plan, BusFigures { layout, .. }) = made(seed, false);
        let far = layout.places.len() - 1;
        let way = plan.way(far);
        let cable = way[place.index(way.len() - 1)];
        let mut longer = layout.clone();
        longer.places[cable].ohms = layout.places[cable].ohms.map(|ohms| ohms * factor);
        let (before, after) = (bias(&layout)[far], bias(&longer)[far]);
        prop_assert!(at_most(after.nominal, before.nominal) && at_most(after.least, before.least));
    }

    #[test]
    fn the_bounds_hold_every_choice_of_cold_and_hot(seed: u64, several: bool, bits: u64) {
        let (_, BusFigures { layout, .. }) = made(seed, several);
        let mut chosen = layout.clone();
        for (at, place) in chosen.places.iter_mut().enumerate() {
            place.ohms = Spread::exact(if bits >> at & 1 == 1 { place.ohms.greatest } else { place.ohms.least });
        }
        for (bounds, one) in bias(&layout).into_iter().zip(bias(&chosen)) {
            prop_assert!(at_most(bounds.least, one.least) && at_most(one.greatest, bounds.greatest));
            prop_assert!(at_most(one.least, one.nominal) && at_most(one.nominal, one.greatest));
        }
    }

    /// Each bound is what some choice gives, of all that there are.
    #[test]
    fn the_bounds_of_several_biased_boards_are_corners(seed: u64) {
        const CABLES: usize = 6;
        let (_, BusFigures { mut layout, .. }) = made(seed, true);
        for place in layout.places.iter_mut().skip(CABLES) {
            place.ohms = Spread::exact(place.ohms.greatest);
        }
        let bounds = bias(&layout);
        let mut corners = vec![(f64::INFINITY, 0.0_f64); bounds.len()];
        for bits in 0..1_u32 << CABLES {
            let mut chosen = layout.clone();
            for (at, place) in chosen.places.iter_mut().enumerate().take(CABLES) {
                place.ohms = Spread::exact(if bits >> at & 1 == 1 { place.ohms.greatest } else { place.ohms.least });
            }
            for (corner, one) in corners.iter_mut().zip(bias(&chosen)) {
                *corner = (corner.0.min(one.least), corner.1.max(one.greatest));
            }
        }
        for (bounds, (least, greatest)) in bounds.into_iter().zip(corners) {
            prop_assert!((bounds.least / least - 1.0).abs() < ROUNDING && (bounds.greatest / greatest - 1.0).abs() < ROUNDING);
        }
    }

    #[test]
    fn it_does_not_matter_from_which_place_the_tree_is_drawn(seed: u64, root: prop::sample::Index) {
        let (_, BusFigures { layout, .. }) = made(seed, true);
        let (drawn, position) = drawn_from(&layout, root.index(layout.places.len()));
        for (old, (one, other)) in bias(&layout).iter().zip((0..).map(|old: usize| bias(&drawn)[position[old]])).enumerate() {
            prop_assert!((one.nominal / other.nominal - 1.0).abs() < ROUNDING, "place {}", old);
            prop_assert!((one.least / other.least - 1.0).abs() < ROUNDING);
            prop_assert!((one.greatest / other.greatest - 1.0).abs() < ROUNDING);
        }
        prop_assert!((layout.length().0 - drawn.length().0).abs() < 1e-6);
        let stubs = |layout: &Layout| {
            let mut lengths: Vec<i64> = layout.stubs().iter().map(|stub| (stub.length.0 * 1e3).round() as i64).collect();
            lengths.sort_unstable();
            lengths
        };
        let ways = |layout: &Layout| -> usize { layout.trunk.len() };
        // Two ways of one length may both be the trunk; the tree then has other stubs, of the same worth.
        if ways(&layout) == ways(&drawn) {
            let same = layout.trunk.iter().map(|at| position[*at]).collect::<std::collections::BTreeSet<_>>()
                == drawn.trunk.iter().copied().collect();
            if same {
                prop_assert_eq!(stubs(&layout), stubs(&drawn));
                let ends = |layout: &Layout| { let ends = terminators::of(layout); (ends.missing.len(), ends.surplus.len()) };
                prop_assert_eq!(ends(&layout), ends(&drawn));
            }
        }
        let of = |layout: &Layout, from: usize, to: usize| layout.distances(from)[to].0;
        let (one, other) = layout.ends();
        prop_assert!((of(&layout, one, other) - of(&drawn, position[one], position[other])).abs() < 1e-6);
    }

    /// The longest way is the longest of all pairs.
    #[test]
    fn the_trunk_is_the_longest_way(seed: u64) {
        let (_, BusFigures { layout, .. }) = made(seed, false);
        let all = (0..layout.places.len()).flat_map(|from| layout.distances(from)).map(|length| length.0);
        prop_assert!((all.fold(0.0, f64::max) - layout.length().0).abs() < 1e-6);
        let along: f64 = layout.trunk.windows(2).map(|pair| layout.distances(pair[0])[pair[1]].0).sum();
        prop_assert!((along - layout.length().0).abs() < 1e-6);
        prop_assert!(layout.stubs().iter().all(|stub| stub.length.0 <= layout.length().0 / 2.0 + 1e-6));
    }
}
