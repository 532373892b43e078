//! Time of 10,000 loops by the calculation, and of the same networks by ngspice where it is installed.
//!
//! `cargo bench --bench loops`. Ours is every state of every loop at all three corners; `at_rest` is the one state and
//! corner that ngspice is given too, in one process a batch.

#![allow(clippy::disallowed_methods, clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]
#![allow(dead_code, reason = "the made-up loops are shared with the tests")]

#[path = "../loops/circuit.rs"]
mod circuit;
#[path = "../ngspice.rs"]
mod ngspice;
#[path = "../loops/plan.rs"]
mod plan;
#[path = "../loops/random.rs"]
mod random;
#[path = "../loops/spice.rs"]
mod spice;

use std::collections::BTreeMap;

use circuit::{Circuit, Corner, Event};
use divan::counter::ItemsCount;
use loopwright::base::Id;
use loopwright::calc::{State, loops, network};
use loopwright::diag::Sink;
use loopwright::model::{Site, Zone};
use loopwright::resolve::load::MemoryFiles;
use loopwright::resolve::resolve;
use plan::Plan;

const LOOPS: usize = 10_000;
/// A spec holds zones 1 to 999.
const ZONES: usize = 500;
const BATCH: usize = 100;

fn main() {
    divan::main();
}

fn all_plans() -> Vec<Vec<Plan>> {
    (0..LOOPS / ZONES).map(|seed| random::plans(seed as u64, ZONES, random::USUAL)).collect()
}

fn all_sites() -> Vec<(Site, Vec<Id<Zone>>)> {
    let site = |plans: &Vec<Plan>| {
        let files = BTreeMap::from([("site.kdl".to_owned(), plan::spec(plans).into_bytes())]);
        let site = resolve(&MemoryFiles(files), &mut Sink::default()).site.unwrap();
        let zones = site.zones.entries().map(|(id, _)| id).collect();
        (site, zones)
    };
    all_plans().iter().map(site).collect()
}

/// Network, every state, three corners, verdict.
#[divan::bench(sample_count = 10, sample_size = 1)]
fn every_state(bencher: divan::Bencher<'_, '_>) {
    let sites = all_sites();
    bencher.counter(ItemsCount::new(LOOPS)).bench(|| {
        let zones = sites.iter().flat_map(|(site, zones)| zones.iter().map(move |zone| (site, *zone)));
        zones.map(|(site, zone)| loops::of_zone(site, zone).unwrap().states.len()).sum::<usize>()
    });
}

/// The network alone, and its resistance at rest.
#[divan::bench(sample_count = 10, sample_size = 1)]
fn at_rest(bencher: divan::Bencher<'_, '_>) {
    let sites = all_sites();
    bencher.counter(ItemsCount::new(LOOPS)).bench(|| {
        let zones = sites.iter().flat_map(|(site, zones)| zones.iter().map(move |zone| (site, *zone)));
        let ohms = zones.map(|(site, zone)| {
            let network = network::of_zone(site, zone).unwrap();
            network.resistance(&State::Normal, &|_, _| true).nominal
        });
        ohms.filter(|ohms| ohms.is_finite()).sum::<f64>()
    });
}

/// The same loops at rest by ngspice, from circuits that are already laid out.
#[divan::bench(sample_count = 1, sample_size = 1)]
fn at_rest_by_ngspice(bencher: divan::Bencher<'_, '_>) {
    if ngspice::version().is_none() {
        return;
    }
    let circuits: Vec<Circuit> =
        all_plans().iter().flatten().map(|plan| Circuit::sensed(plan, &Event::Rest, Corner::Nominal)).collect();
    let solve = |batch: &[Circuit]| ngspice::volts(&spice::netlist(batch), &spice::terminals(batch.len()));
    bencher.counter(ItemsCount::new(LOOPS)).bench(|| circuits.chunks(BATCH).flat_map(solve).sum::<f64>());
}
