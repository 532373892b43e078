//! The loop calculation against outside solvers and against laws of circuits.
//!
//! A *plan* is a made-up loop, known both as spec text and as the things that stand on it. From a plan the tests lay out
//! the *circuit* of its two conductors by themselves, node by node, without the calculation's own network.

pub mod circuit;
mod diagnosis;
mod laws;
mod ngspice;
mod nodal;
pub mod plan;
pub mod random;
mod size;
pub mod spice;
mod two_wire;

use std::collections::BTreeMap;

use loopwright::base::Id;
use loopwright::calc::State;
use loopwright::diag::{Severity, Sink};
use loopwright::model::{Device, Run, Site, Zone};
use loopwright::resolve::load::MemoryFiles;
use loopwright::resolve::resolve;

use circuit::Event;

/// The site of a spec that has no errors.
pub fn site(text: &str) -> Site {
    let mut sink = Sink::default();
    let files = BTreeMap::from([("site.kdl".to_owned(), text.as_bytes().to_vec())]);
    let resolved = resolve(&MemoryFiles(files), &mut sink);
    let errors: Vec<String> =
        sink.into_sorted().into_iter().filter(|d| d.severity() == Severity::Error).map(|d| d.title).collect();
    assert!(errors.is_empty(), "{errors:#?}\n{text}");
    resolved.site.unwrap()
}

/// The zones of a site; the plan at a position is zone position + 1.
pub fn zones(site: &Site) -> Vec<Id<Zone>> {
    site.zones.entries().map(|(id, _)| id).collect()
}

/// A state of the calculation in the words of the plan: devices and runs by their position in the text.
pub fn event(site: &Site, zone: Id<Zone>, state: State) -> Event {
    let device = |wanted: Id<Device>| {
        site.devices.entries().filter(|(_, d)| d.zone == Some(zone)).position(|(id, _)| id == wanted).unwrap()
    };
    let run = |wanted: Id<Run>| site.runs[wanted].order as usize - 1;
    match state {
        State::Normal => Event::Rest,
        State::Alarm(one) | State::SupplyLost(one) => Event::Tripped(vec![device(one)]),
        State::Alarms(count) => Event::SomeTripped(count),
        State::AllAlarms => Event::AllTripped,
        State::Cover(one) => Event::CoverOff(device(one)),
        State::Cut(one) => Event::Cut(run(one)),
        State::ShortNear(one) => Event::ShortNear(run(one)),
        State::ShortFar(one) => Event::ShortFar(run(one)),
    }
}
