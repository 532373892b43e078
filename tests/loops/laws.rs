//! Laws that every loop obeys, on made-up loops of every wiring.

use loopwright::calc::{LoopReadings, Spread, StateReading, loops};
use loopwright::model::{Mounted, Site};
use proptest::prelude::*;

use super::circuit::{Circuit, Event, Values};
use super::plan::{BOARDS, Plan, spec};
use super::random::{Bounds, USUAL, plans};
use super::{event, nodal, site, zones};

/// Rounding, against differences of least figures.
const ROUNDING: f64 = 1e-9;

/// Loops few of whose values are uncertain, so that every choice of their ends can be tried.
const SMALL: Bounds = Bounds { home_runs: 2, legs: 2, branches: 1 };

const LEAKAGE: f64 = 1e6;

fn readings(site: &Site) -> Vec<LoopReadings> {
    zones(site).into_iter().map(|zone| loops::of_zone(site, zone).unwrap()).collect()
}

/// The readings of two sites of the same loops, state by state.
fn beside(a: &Site, b: &Site) -> Vec<(StateReading, StateReading)> {
    let pairs = readings(a).into_iter().zip(readings(b));
    let pairs: Vec<_> = pairs.flat_map(|(a, b)| a.states.into_iter().zip(b.states)).collect();
    assert!(pairs.iter().all(|(a, b)| a.state == b.state));
    pairs
}

fn at_most(a: f64, b: f64) -> bool {
    a <= b || a - b <= ROUNDING * b.abs()
}

fn inside(inner: Spread, outer: Spread) -> bool {
    at_most(outer.least, inner.least) && at_most(inner.greatest, outer.greatest)
}

fn below(low: Spread, high: Spread) -> bool {
    at_most(low.least, high.least) && at_most(low.nominal, high.nominal) && at_most(low.greatest, high.greatest)
}

fn each<T>(arena: &loopwright::base::Arena<T>) -> Vec<loopwright::base::Id<T>> {
    arena.entries().map(|(id, _)| id).collect()
}

/// The site with every tolerance `factor` times as wide.
fn widened(mut site: Site, factor: f64) -> Site {
    for run in each(&site.runs) {
        for item in &mut site.runs[run].mounted {
            if let Mounted::Resistor(resistor) = item {
                resistor.value.tolerance.0 *= factor;
            }
        }
    }
    for device in each(&site.devices) {
        if let Some(shunt) = &mut site.devices[device].shunt {
            shunt.value.tolerance.0 *= factor;
        }
    }
    for part in each(&site.parts) {
        if let Some(sensing) = &mut site.parts[part].sensing {
            sensing.tolerance.0 *= factor;
            sensing.supply_tolerance.0 *= factor;
        }
    }
    site
}

/// One end or the other of each uncertain value, by the bits of a number.
struct Ends {
    bits: u64,
    asked: u32,
}

impl Values for Ends {
    fn choose(&mut self, least: f64, _: f64, greatest: f64) -> f64 {
        let high = self.bits >> self.asked & 1 == 1;
        self.asked += 1;
        if high { greatest } else { least }
    }
}

/// The circuits that a row of the table stands for.
fn choices(plan: &Plan, event: &Event) -> Vec<Event> {
    let Event::SomeTripped(count) = event else { return vec![event.clone()] };
    let numbers: Vec<usize> = plan.all_contacts().iter().map(|contact| contact.number).collect();
    (0_u32..1 << numbers.len())
        .filter(|set| set.count_ones() as usize == *count)
        .map(|set| Event::Tripped(numbers.iter().copied().filter(|number| set >> number & 1 == 1).collect()))
        .collect()
}

/// Least and greatest resistance of a loop over every choice of ends, by node equations; `None` where there are more
/// than 2⁹ of them.
fn swept(plan: &Plan, event: &Event) -> Option<(f64, f64)> {
    let (mut least, mut greatest) = (f64::INFINITY, 0.0_f64);
    for event in choices(plan, event) {
        let mut counter = Ends { bits: 0, asked: 0 };
        Circuit::of(plan, &event, &mut counter);
        if counter.asked > 9 {
            return None;
        }
        for bits in 0..1 << counter.asked {
            let ohms = nodal::resistance(&Circuit::of(plan, &event, &mut Ends { bits, asked: 0 }));
            least = least.min(if ohms.is_infinite() { LEAKAGE } else { ohms * LEAKAGE / (ohms + LEAKAGE) });
            greatest = greatest.max(ohms);
        }
    }
    Some((least, greatest))
}

/// Compares a plan's table with the sweep; the number of rows that were small enough.
fn check_sweep(plan: &Plan) -> usize {
    let site = site(&spec(std::slice::from_ref(plan)));
    let zone = zones(&site)[0];
    let mut checked = 0;
    for reading in loops::of_zone(&site, zone).unwrap().states {
        let event = event(&site, zone, reading.state);
        let Some((least, greatest)) = swept(plan, &event) else { continue };
        let close = |a: f64, b: f64| (a.is_infinite() && b.is_infinite()) || (a - b).abs() <= 1e-6 * b.abs() + 1e-9;
        assert!(
            close(reading.ohms.least, least) && close(reading.ohms.greatest, greatest),
            "{event:?}: {:?} against {least} to {greatest}\n{}",
            reading.ohms,
            spec(std::slice::from_ref(plan)),
        );
        checked += 1;
    }
    checked
}

#[test]
fn corners_are_the_extremes_of_every_choice() {
    // Hosts of shared cables are other zones: a lone plan has none.
    let checked: usize =
        (0..30).flat_map(|seed| plans(seed, 7, SMALL)).filter(alone).map(|plan| check_sweep(&plan)).sum();
    assert!(checked > 500, "only {checked} rows were small enough");
}

fn alone(plan: &Plan) -> bool {
    !spec(std::slice::from_ref(plan)).contains("along=")
}

#[test]
fn counts_of_contacts_span_every_choice_of_them() {
    use super::plan::{Contact, Item, Leg, RESISTORS, Sheath};
    // Three contacts with shunts of different tolerances and resistances, so that neither order is the nominal one's.
    let contact = |number: usize, part: usize, shunt: usize| {
        Item::Contact(Contact { part, number, shunt: Some(RESISTORS[shunt]), cover_in_loop: false })
    };
    for shunts in [[1, 1, 0], [2, 3, 1], [4, 4, 0], [3, 2, 2]] {
        let items = (0..3).map(|n| contact(n, n, shunts[n])).chain([Item::Resistor(RESISTORS[1])]).collect();
        let written = Sheath { name: "z1r0".into(), cable: 1, metres: 20.0, start: 0, room: 0, passage: None };
        let leg = Leg { number: 0, written, host: None, items };
        let plan =
            Plan { wiring: "double-end-of-line", board: 0, across: false, items: vec![Item::Legs(vec![leg])], legs: 1 };
        assert_eq!(check_sweep(&plan), 1 + 3 + 1 + 1 + 3);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn wider_tolerances_narrow_nothing(seed: u64, factor in 1.0..3.0) {
        let site = site(&spec(&plans(seed, 7, USUAL)));
        for (before, after) in beside(&site, &widened(site.clone(), factor)) {
            prop_assert!(inside(before.ohms, after.ohms), "{:?} {:?}", before, after);
            prop_assert!(inside(before.volts.unwrap(), after.volts.unwrap()), "{:?} {:?}", before, after);
        }
    }

    #[test]
    fn longer_runs_lower_nothing(seed: u64, one in any::<prop::sample::Index>(), metres in 0.1..500.0) {
        let site = site(&spec(&plans(seed, 7, USUAL)));
        let mut longer = site.clone();
        // A run that shares a cable is as long as that.
        let run = *one.get(&each(&site.runs));
        let run = site.runs[run].along.as_ref().map_or(run, |host| host.value);
        longer.runs[run].length.as_mut().unwrap().value.0 += metres;
        let pairs = beside(&site, &longer);
        for (before, after) in &pairs {
            prop_assert!(below(before.ohms, after.ohms), "{:?} {:?}", before, after);
            prop_assert!(below(before.volts.unwrap(), after.volts.unwrap()), "{:?} {:?}", before, after);
        }
        // The run's own short at its far end must show it.
        prop_assert!(pairs.iter().any(|(before, after)| after.ohms.nominal > before.ohms.nominal));
    }

    #[test]
    fn poorer_contacts_lower_nothing(seed: u64, ohms in 0.1..50.0) {
        let site = site(&spec(&plans(seed, 7, USUAL)));
        let mut poorer = site.clone();
        for part in each(&site.parts) {
            poorer.parts[part].contacts.iter_mut().for_each(|contact| contact.resistance.0 += ohms);
            poorer.parts[part].tamper.iter_mut().for_each(|contact| contact.resistance.0 += ohms);
        }
        let pairs = beside(&site, &poorer);
        for (before, after) in &pairs {
            prop_assert!(below(before.ohms, after.ohms), "{:?} {:?}", before, after);
        }
        prop_assert!(pairs.iter().any(|(before, after)| after.ohms.greatest > before.ohms.greatest));
    }

    #[test]
    fn spreads_are_in_order_and_volts_within_the_supply(seed: u64) {
        let plans = plans(seed, 7, USUAL);
        let site = site(&spec(&plans));
        for (plan, readings) in plans.iter().zip(readings(&site)) {
            let board = &BOARDS[plan.board];
            let most = board.supply * (1.0 + board.supply_tolerance);
            for StateReading { state, ohms, volts, .. } in readings.states {
                let volts = volts.unwrap();
                for Spread { least, nominal, greatest } in [ohms, volts] {
                    prop_assert!(least <= nominal && nominal <= greatest, "{:?}: {:?} {:?}", state, ohms, volts);
                }
                prop_assert!(volts.least >= 0.0 && at_most(volts.greatest, most), "{:?}: {:?}", state, volts);
            }
        }
    }
}
