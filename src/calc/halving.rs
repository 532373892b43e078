//! What to measure next: the places where a fault may be, halved by lifting two conductors and measuring what is behind.
//!
//! A *spot* is a cable, a joint, a device or a resistor that one of the remaining explanations puts the fault at. A *test*
//! isolates a part of the loop; where that reads as it should, no spot in it has the fault. Tests are chosen so that each
//! leaves as few spots as can be, and only where every explanation inside would show. Several faults at once are out of scope.

use std::collections::{BTreeMap, BTreeSet};

use super::contacts::{self, Contact};
use super::diagnose::{Diagnosis, Fault};
use super::loops::LoopReadings;
use super::meter;
use super::network::{Element, Network};
use super::spread::Spread;
use super::state::State;
use crate::base::Id;
use crate::model::{Device, Run, Site};

/// After so many halvings a leaf names what is left: 2 to the power of this is more than a person walks to.
const DEEPEST: usize = 4;

/// Where a fault may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Spot {
    /// Somewhere along a run.
    Cable(Id<Run>),
    /// The joints at the far end of a run.
    Joint(Id<Run>),
    /// A device.
    Device(Id<Device>),
    /// A loop resistor, by its position among the loop's.
    Resistor(usize),
    /// A resistor at the far end of a run that the spec does not have.
    Left(Id<Run>),
}

/// A part of the loop that is measured by itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Test {
    /// Both conductors of a run lifted at its near end, and measured into it.
    Into(Id<Run>),
    /// Both conductors of a run lifted at its far end, and what is behind measured.
    Behind(Id<Run>),
    /// A resistor with one of its ends lifted, with the run at whose end it is.
    Resistor(usize, Option<Id<Run>>),
    /// The contact of a device, one of its conductors lifted.
    Device(Id<Device>),
}

/// A measurement, and what follows from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What is measured.
    pub test: Test,
    /// What it reads where it has no fault.
    pub right: Spread,
    /// Where it reads that.
    pub elsewhere: Next,
    /// Where it reads something else.
    pub inside: Next,
}

/// What to do.
#[derive(Clone, Debug, PartialEq)]
pub enum Next {
    /// Measure.
    Measure(Box<Step>),
    /// These are left.
    Left(Vec<Spot>),
}

/// What an explanation does to what is measured.
#[derive(Clone, Debug)]
enum Change {
    /// The loop is in another state.
    State(State),
    /// So many ohms across it.
    Across(f64),
    /// So many ohms more in series.
    More(f64),
    /// A part is another one.
    Other(Network),
}

/// What to measure next; `None` where nothing has a place.
pub fn next(site: &Site, readings: &LoopReadings, found: &Diagnosis) -> Option<Next> {
    let loop_ = Loop::of(site, readings);
    let suspects = loop_.suspects(found);
    let spots: BTreeSet<Spot> = suspects.iter().map(|(spot, _)| *spot).collect();
    (!spots.is_empty()).then(|| loop_.halve(&suspects, &spots, DEEPEST))
}

/// The cables that start at the board, in the order of the loop, each with what it reads by itself at rest.
pub(crate) fn home_runs(site: &Site, readings: &LoopReadings) -> Vec<(Id<Run>, Spread)> {
    let loop_ = Loop::of(site, readings);
    let alone = |run: &Id<Run>| Some((*run, loop_.reading(&readings.network, Test::Into(*run), State::Normal)?));
    loop_.first.iter().filter_map(alone).collect()
}

struct Loop<'s> {
    site: &'s Site,
    readings: &'s LoopReadings,
    /// The place of each run in the order in which they are met, and the place behind the last that is behind it.
    places: BTreeMap<Id<Run>, (usize, usize)>,
    /// The runs that start at the board.
    first: Vec<Id<Run>>,
    /// The run at whose end a device or resistor stands first.
    stands: BTreeMap<Spot, Option<Id<Run>>>,
    /// The run at whose end each device and resistor stands, in the order of the loop.
    at: Vec<(Spot, Option<Id<Run>>)>,
    /// In the order of the loop.
    tests: Vec<Test>,
}

impl<'s> Loop<'s> {
    fn of(site: &'s Site, readings: &'s LoopReadings) -> Self {
        let (places, stands) = (BTreeMap::new(), BTreeMap::new());
        let mut found = Self { site, readings, places, first: Vec::new(), stands, at: Vec::new(), tests: Vec::new() };
        found.walk(&readings.network, None);
        for (spot, run) in &found.at {
            found.stands.entry(*spot).or_insert(*run);
        }
        // The leads of the only run at the board are off already.
        if let [only] = found.first[..] {
            found.tests.retain(|test| *test != Test::Into(only));
        }
        found
    }

    fn walk(&mut self, network: &Network, run: Option<Id<Run>>) {
        match network {
            Network::Series(parts) | Network::Parallel(parts) => parts.iter().for_each(|part| self.walk(part, run)),
            Network::Run(next, _, behind) => {
                if run.is_none() {
                    self.first.push(*next);
                }
                let place = self.places.len();
                self.places.insert(*next, (place, place));
                self.tests.extend([Test::Into(*next), Test::Behind(*next)]);
                self.walk(behind, Some(*next));
                let end = self.places.len();
                self.places.insert(*next, (place, end));
            }
            Network::Element(Element::Contact(device, _) | Element::Detector(device), _) => {
                if !self.at.contains(&(Spot::Device(*device), run)) {
                    self.at.push((Spot::Device(*device), run));
                    self.tests.push(Test::Device(*device));
                }
            }
            Network::Element(Element::Resistor(position), _) => {
                self.at.push((Spot::Resistor(*position), run));
                self.tests.push(Test::Resistor(*position, run));
            }
            Network::Element(Element::Shunt(_) | Element::Wire(_), _) | Network::Joined | Network::Open => {}
        }
    }

    /// Every spot with what an explanation does there.
    fn suspects(&self, found: &Diagnosis) -> Vec<(Spot, Change)> {
        let mut all = Vec::new();
        for state in found.states(self.readings) {
            let spot = match state {
                State::Alarm(device) | State::Cover(device) | State::SupplyLost(device) => Spot::Device(device),
                State::Cut(run) | State::ShortNear(run) | State::ShortFar(run) => Spot::Cable(run),
                State::Normal | State::Alarms(_) | State::AllAlarms => continue,
            };
            all.push((spot, Change::State(state)));
        }
        for fault in &found.faults {
            match *fault {
                Fault::Short { run, .. } | Fault::Touch(run, _) => {
                    all.push((Spot::Cable(run), Change::State(State::ShortFar(run))));
                }
                Fault::Actuated(device, _) => all.push((Spot::Device(device), Change::State(State::Alarm(device)))),
                Fault::Leakage(ohms) => {
                    // A cable of which a short gives more than what was measured has no leak that gives it.
                    let shorted = |run: Id<Run>| {
                        let at = self.readings.states.iter().find(|read| read.state == State::ShortNear(run));
                        at.is_some_and(|read| read.ohms.least <= found.ohms)
                    };
                    let runs = self.runs().filter(|run| shorted(*run));
                    all.extend(runs.map(|run| (Spot::Cable(run), Change::Across(ohms))));
                }
                Fault::InSeries(ohms) => all.extend(self.in_series(ohms)),
                Fault::LeftIn(ohms) => {
                    all.extend(self.in_series(ohms));
                    all.extend(self.runs().map(|run| (Spot::Left(run), Change::More(ohms))));
                }
                Fault::Open => all.extend(self.open_parts()),
                Fault::OpenWithLeakage(_) => {
                    all.extend(self.runs().map(|run| (Spot::Cable(run), Change::State(State::Cut(run)))));
                    all.extend(self.open_parts());
                    let devices = self.at.iter().filter_map(|(spot, _)| match spot {
                        Spot::Device(device) if self.is_closed(*device) => Some(*device),
                        Spot::Device(_) | Spot::Cable(_) | Spot::Joint(_) | Spot::Resistor(_) | Spot::Left(_) => None,
                    });
                    all.extend(devices.map(|device| (Spot::Device(device), Change::State(State::Alarm(device)))));
                }
                Fault::Resistor { position, needed, .. } => {
                    all.push(self.instead(position, Spread::exact(needed)));
                }
                Fault::LeftOut { position, .. } => all.push(self.instead(position, Spread::exact(0.0))),
                Fault::Second { position, ohms, second, parallel, .. } => {
                    all.push(self.instead(position, ohms));
                    if !parallel {
                        all.extend(self.in_series(second));
                    }
                }
                Fault::LeadsTouch
                | Fault::OtherVoltage(_)
                | Fault::Mistaken { .. }
                | Fault::Contact { .. }
                | Fault::AtBoard => {}
            }
        }
        all
    }

    /// The places where so many ohms more may be in series: along each cable, at its end, in what is closed.
    fn in_series(&self, ohms: f64) -> impl Iterator<Item = (Spot, Change)> {
        let closed = |spot: &Spot| matches!(spot, Spot::Device(device) if self.is_closed(*device));
        let devices = self.at.iter().map(|(spot, _)| *spot).filter(closed);
        let spots = self.runs().flat_map(|run| [Spot::Cable(run), Spot::Joint(run)]).chain(devices);
        spots.map(move |spot| (spot, Change::More(ohms)))
    }

    /// The joints that came apart and the resistors that broke, each where the loop then has no connection: a cut cable
    /// and an open contact read the same.
    fn open_parts(&self) -> Vec<(Spot, Change)> {
        let is_open = |(_, change): &(Spot, Change)| {
            let (network, state) = match change {
                Change::State(state) => (&self.readings.network, *state),
                Change::Other(network) => (network, State::Normal),
                Change::Across(_) | Change::More(_) => return false,
            };
            self.of_network(network, state).nominal.is_infinite()
        };
        let joints = self.runs().map(|run| (Spot::Joint(run), Change::State(State::Cut(run))));
        let resistors = self.at.iter().filter_map(|(spot, _)| match spot {
            Spot::Resistor(position) => Some(self.instead(*position, Spread::exact(f64::INFINITY))),
            Spot::Cable(_) | Spot::Joint(_) | Spot::Device(_) | Spot::Left(_) => None,
        });
        joints.chain(resistors).filter(is_open).collect()
    }

    fn instead(&self, position: usize, ohms: Spread) -> (Spot, Change) {
        (
            Spot::Resistor(position),
            Change::Other(super::diagnose::with_resistor(&self.readings.network, position, ohms)),
        )
    }

    fn runs(&self) -> impl Iterator<Item = Id<Run>> {
        self.tests.iter().filter_map(|test| if let Test::Behind(run) = test { Some(*run) } else { None })
    }

    fn is_closed(&self, device: Id<Device>) -> bool {
        contacts::is_closed(self.site, (device, super::network::Which::Alarm), &BTreeSet::new())
    }

    fn halve(&self, suspects: &[(Spot, Change)], spots: &BTreeSet<Spot>, deep: usize) -> Next {
        let left = || Next::Left(spots.iter().copied().collect());
        if spots.len() < 2 || deep == 0 {
            return left();
        }
        let split = |test: &Test| {
            let inside = spots.iter().filter(|spot| self.holds(*test, **spot)).count();
            (inside > 0 && inside < spots.len()).then(|| (spots.len().abs_diff(2 * inside), *test))
        };
        let mut tests: Vec<(usize, Test)> = self.tests.iter().filter_map(split).collect();
        // The sort is stable: of those that halve alike, the first on the way.
        tests.sort_by_key(|(off, _)| *off);
        let step = tests.into_iter().find_map(|(_, test)| {
            let right = self.reading(&self.readings.network, test, State::Normal)?;
            let (inside, elsewhere): (Vec<_>, Vec<_>) = spots.iter().copied().partition(|spot| self.holds(test, *spot));
            let [inside, elsewhere] = [inside, elsewhere].map(|spots| spots.into_iter().collect::<BTreeSet<Spot>>());
            let shows = |(spot, change): &(Spot, Change)| {
                !inside.contains(spot)
                    || self.changed(test, change, right).is_some_and(|ohms| !meter::fits(ohms, right, true))
            };
            suspects.iter().all(shows).then_some((test, right, inside, elsewhere))
        });
        let Some((test, right, inside, elsewhere)) = step else { return left() };
        let [elsewhere, inside] = [elsewhere, inside].map(|spots| {
            let those: Vec<_> = suspects.iter().filter(|(spot, _)| spots.contains(spot)).cloned().collect();
            self.halve(&those, &spots, deep - 1)
        });
        Next::Measure(Box::new(Step { test, right, elsewhere, inside }))
    }

    /// Whether what a test measures holds a spot.
    fn holds(&self, test: Test, spot: Spot) -> bool {
        let stands = |spot| self.stands.get(&spot).copied().flatten();
        match (test, spot) {
            (Test::Into(run), Spot::Cable(other) | Spot::Joint(other)) => self.is_behind(other, run),
            // The joints at the end of the run are opened by the test.
            (Test::Behind(run), Spot::Cable(other) | Spot::Joint(other)) => other != run && self.is_behind(other, run),
            (Test::Into(run) | Test::Behind(run), Spot::Left(at)) => self.is_behind(at, run),
            (Test::Into(run) | Test::Behind(run), Spot::Device(_) | Spot::Resistor(_)) => {
                stands(spot).is_some_and(|at| self.is_behind(at, run))
            }
            (Test::Resistor(one, _), Spot::Resistor(other)) => one == other,
            (Test::Device(one), Spot::Device(other)) => one == other,
            (Test::Resistor(..) | Test::Device(_), _) => false,
        }
    }

    /// Whether a run is another or behind it.
    fn is_behind(&self, run: Id<Run>, other: Id<Run>) -> bool {
        let places = self.places.get(&run).zip(self.places.get(&other));
        places.is_some_and(|((at, _), (from, to))| from <= at && at < to)
    }

    /// What a test reads, usually, with what an explanation does.
    fn changed(&self, test: Test, change: &Change, right: Spread) -> Option<f64> {
        Some(match change {
            Change::State(state) => self.reading(&self.readings.network, test, *state)?.nominal,
            Change::Across(ohms) => super::spread::parallel(right.nominal, *ohms),
            Change::More(ohms) => right.nominal + ohms,
            Change::Other(network) => self.reading(network, test, State::Normal)?.nominal,
        })
    }

    /// What a test reads of a network in a state.
    fn reading(&self, network: &Network, test: Test, state: State) -> Option<Spread> {
        part(network, test).map(|part| self.of_network(part, state))
    }

    /// What a network or a part of it reads in a state.
    fn of_network(&self, network: &Network, state: State) -> Spread {
        let devices: Vec<Id<Device>> = super::network::devices(self.site, self.readings.zone).collect();
        let moved: BTreeSet<Contact> = contacts::moved(self.site, &self.readings.network, &devices, state);
        let closed = |device, which| contacts::is_closed(self.site, (device, which), &moved);
        network.resistance(&state, &closed)
    }
}

/// The part of a network that a test measures.
fn part(network: &Network, test: Test) -> Option<&Network> {
    match (network, test) {
        (Network::Run(run, _, _), Test::Into(wanted)) if *run == wanted => Some(network),
        (Network::Run(run, _, behind), Test::Behind(wanted)) if *run == wanted => Some(behind),
        (Network::Element(Element::Resistor(at), _), Test::Resistor(wanted, _)) if *at == wanted => Some(network),
        (Network::Element(Element::Contact(at, which), _), Test::Device(wanted)) => {
            (*at == wanted && *which == super::network::Which::Alarm).then_some(network)
        }
        (Network::Series(parts) | Network::Parallel(parts), _) => parts.iter().find_map(|one| part(one, test)),
        (Network::Run(_, _, behind), _) => part(behind, test),
        (Network::Element(..) | Network::Joined | Network::Open, _) => None,
    }
}
