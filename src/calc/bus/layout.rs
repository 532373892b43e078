//! The data pair as a tree of places, its trunk and its stubs.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::calc::pair::Pair;
use crate::calc::spread::Spread;
use crate::model::{Board, Bus, BusPort, Mounted, Owner, Run, Site};
use crate::profiles::bus::STUB;
use crate::quantity::{Metres, Ohms, Volts};

/// A place of a bus.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// Position of the place before it; its own for the first, which is at the board.
    pub before: usize,
    /// The cable that comes from there; `None` at the board.
    pub run: Option<Id<Run>>,
    /// Its length.
    pub length: Metres,
    /// Resistance of its two data conductors in ohm: cold, at 20 °C, hot.
    pub ohms: Spread,
    /// The boards here, in the order of the text; the bus's own board is the first at the first place.
    pub boards: Vec<Id<Board>>,
}

/// How a terminator came to be there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fitting {
    /// Built into the bus port of a board.
    BuiltIn(Id<Board>),
    /// Written in the spec: at the far end of a run (`None`: at the board), by its position among what is mounted there.
    Written(Option<Id<Run>>, usize),
}

/// A resistor across the data pair.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Terminator {
    /// Its place.
    pub place: usize,
    /// Its resistance.
    pub ohms: Ohms,
    /// How it came to be there.
    pub fitting: Fitting,
}

/// A board's connection to the pair.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Port {
    /// Its place.
    pub place: usize,
    /// The board.
    pub board: Id<Board>,
    /// Load in unit loads.
    pub unit_load: f64,
    /// Bias resistor in each leg and the volts behind them, where its sheet gives both.
    pub bias: Option<(Ohms, Volts)>,
    /// By how much those volts may be off, as a share.
    pub bias_tolerance: f64,
}

/// What leaves the trunk at a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stub {
    /// The place of the trunk.
    pub(crate) junction: usize,
    /// The first place on it.
    pub(crate) first: usize,
    /// The longest way on it.
    pub length: Metres,
}

/// The places of a bus with what lies across the pair.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// The bus.
    pub bus: Id<Bus>,
    /// The places; each stands after the one before it.
    pub places: Vec<Place>,
    /// The terminators that are in place, by place.
    pub terminators: Vec<Terminator>,
    /// The boards' connections, by place.
    pub ports: Vec<Port>,
    /// The places of the longest way between two ends; it begins at the board where that is an end.
    pub trunk: Vec<usize>,
}

/// The layout of a bus; `None` where its board, its port, or a run's cable or length was reported, where a board on it
/// has no known port, or where nothing hangs on it.
pub(crate) fn of_bus(site: &Site, id: Id<Bus>) -> Option<Layout> {
    let bus = &site.buses[id];
    let board = bus.board.as_ref()?.value;
    let first = Place { before: 0, run: None, length: Metres(0.0), ohms: Spread::SHORT, boards: vec![board] };
    let mut layout =
        Layout { bus: id, places: vec![first], terminators: Vec::new(), ports: Vec::new(), trunk: Vec::new() };
    let mut place_of = BTreeMap::new();
    for (run_id, run) in site.runs_of(Owner::Bus(id)) {
        let wire = Pair::of_run(site, run)?;
        place_of.insert(run_id, layout.places.len());
        layout.places.push(Place {
            before: run.upstream.map_or(Some(0), |upstream| place_of.get(&upstream).copied())?,
            run: Some(run_id),
            length: wire.length,
            // Pairs side by side are the supply's only.
            ohms: wire.ohms(),
            boards: run.mounted.iter().filter_map(Mounted::board).collect(),
        });
    }
    layout.ports_and_terminators(site)?;
    layout.trunk = layout.longest_way();
    (layout.ports.len() > 1).then_some(layout)
}

impl Layout {
    fn ports_and_terminators(&mut self, site: &Site) -> Option<()> {
        for (place, item) in self.places.iter().enumerate() {
            for board in item.boards.iter().copied() {
                site.part_of(board).filter(|part| part.whole)?;
                let port = site.bus_port(self.bus, board)?;
                self.ports.push(Port {
                    place,
                    board,
                    unit_load: port.unit_load.0,
                    bias: bias_of(port),
                    bias_tolerance: port.bias_tolerance.0,
                });
                let built_in = port.terminator.filter(|_| !site.is_terminator_off(self.bus, board));
                self.terminators.extend(built_in.map(|ohms| Terminator {
                    place,
                    ohms,
                    fitting: Fitting::BuiltIn(board),
                }));
            }
            for (position, mounted) in site.mounted(Owner::Bus(self.bus), item.run).iter().enumerate() {
                if let Some(value) = mounted.terminator() {
                    let fitting = Fitting::Written(item.run, position);
                    self.terminators.push(Terminator { place, ohms: value.value, fitting });
                }
            }
        }
        Some(())
    }

    /// The cables at a place: the one that comes there, and those that go on.
    pub fn neighbours(&self, place: usize) -> impl Iterator<Item = (usize, Metres)> {
        let here = self.places.get(place).filter(|here| here.before != place);
        let on = self.places.iter().enumerate().filter(move |(at, item)| item.before == place && *at != place);
        here.map(|here| (here.before, here.length)).into_iter().chain(on.map(|(at, item)| (at, item.length)))
    }

    /// The length of the way from a place to every other.
    pub fn distances(&self, from: usize) -> Vec<Metres> {
        // Up to the board first, for those places are nearer to it than what hangs on them; then outwards.
        let mut found: Vec<Option<f64>> = vec![None; self.places.len()];
        let (mut at, mut length) = (from, 0.0);
        while let Some(place) = self.places.get(at) {
            if let Some(slot) = found.get_mut(at) {
                *slot = Some(length);
            }
            if place.before == at {
                break;
            }
            length += place.length.0;
            at = place.before;
        }
        for (at, place) in self.places.iter().enumerate() {
            let before = found.get(place.before).copied().flatten();
            if let (Some(slot @ None), Some(before)) = (found.get_mut(at), before) {
                *slot = Some(before + place.length.0);
            }
        }
        found.into_iter().map(|length| Metres(length.unwrap_or_default())).collect()
    }

    /// The longest way between two places; of several one.
    pub fn longest_way(&self) -> Vec<usize> {
        let farthest = |from: usize| {
            let mut best = (from, 0.0);
            for (at, length) in self.distances(from).iter().enumerate() {
                if length.0 > best.1 {
                    best = (at, length.0);
                }
            }
            best.0
        };
        let one = farthest(0);
        let other = farthest(one);
        self.way(one.min(other), one.max(other))
    }

    /// The places on the way from one to another, both included.
    pub(crate) fn way(&self, from: usize, to: usize) -> Vec<usize> {
        let up = |mut at: usize| {
            let mut way = vec![at];
            while let Some(place) = self.places.get(at).filter(|place| place.before != at) {
                at = place.before;
                way.push(at);
            }
            way
        };
        let (mut there, mut back) = (up(from), up(to));
        // Both end at the board; what they share beyond their meeting point is no part of the way.
        while let [.., one, _] = there.as_slice()
            && let [.., other, _] = back.as_slice()
            && one == other
        {
            there.pop();
            back.pop();
        }
        back.pop();
        there.extend(back.into_iter().rev());
        there
    }

    /// The two ends of the trunk; twice the same where there is one place only.
    pub fn ends(&self) -> (usize, usize) {
        (self.trunk.first().copied().unwrap_or(0), self.trunk.last().copied().unwrap_or(0))
    }

    /// Length of the trunk.
    pub fn length(&self) -> Metres {
        let (one, other) = self.ends();
        self.distances(one).get(other).copied().unwrap_or_default()
    }

    /// Unit loads of all its ports.
    pub(crate) fn unit_loads(&self) -> f64 {
        self.ports.iter().map(|port| port.unit_load).sum()
    }

    /// What leaves the trunk, in its order.
    pub fn stubs(&self) -> Vec<Stub> {
        let arms = self.trunk.iter().flat_map(|junction| self.arms(*junction));
        arms.filter(|arm| !self.trunk.contains(&arm.first)).collect()
    }

    /// All that leaves a place, by whichever cable.
    pub(crate) fn arms(&self, junction: usize) -> Vec<Stub> {
        let arms = self.neighbours(junction);
        arms.map(|(first, length)| Stub { junction, first, length: length + self.reach(first, junction) }).collect()
    }

    /// The longest way on from a place without going back.
    fn reach(&self, from: usize, back: usize) -> Metres {
        let mut longest = 0.0_f64;
        let mut open = vec![(from, back, 0.0)];
        while let Some((at, back, length)) = open.pop() {
            longest = longest.max(length);
            let on = self.neighbours(at).filter(|(place, _)| *place != back);
            open.extend(on.map(|(place, more)| (place, at, length + more.0)));
        }
        Metres(longest)
    }

    /// The stubs that are longer than the limit.
    pub(crate) fn long_stubs(&self) -> Vec<Stub> {
        self.stubs().into_iter().filter(|stub| stub.length.0 > STUB.value).collect()
    }
}

fn bias_of(port: &BusPort) -> Option<(Ohms, Volts)> {
    Some((port.bias?, port.bias_supply?))
}
