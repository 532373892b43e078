//! The circuit of a plan: every conductor of every run a resistor of its own, laid out node by node.
//!
//! Node 0 is the board's return terminal, node 1 its signal terminal. A joint makes one node of two.

use super::plan::{BOARDS, CABLES, Item, Leg, PARTS, PASSAGES, Plan, ROOMS, Sheath, Switch};

/// What has happened to a loop.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Event {
    Rest,
    /// These contacts are in alarm.
    Tripped(Vec<usize>),
    /// So many of them, any.
    SomeTripped(usize),
    /// All but those that watch the supply.
    AllTripped,
    CoverOff(usize),
    Cut(usize),
    ShortNear(usize),
    ShortFar(usize),
}

/// The events that a loop's table has to show, without those of several contacts.
pub fn events(plan: &Plan) -> Vec<Event> {
    let contacts = plan.all_contacts();
    let alarms = contacts.iter().filter(|contact| !PARTS[contact.part].watches_supply).count();
    let mut events = vec![Event::Rest];
    events.extend(contacts.iter().map(|contact| Event::Tripped(vec![contact.number])));
    if alarms > 1 {
        events.push(Event::AllTripped);
    }
    events.extend(contacts.iter().filter(|c| c.cover_in_loop).map(|contact| Event::CoverOff(contact.number)));
    events.extend((0..plan.legs).flat_map(|leg| [Event::Cut(leg), Event::ShortNear(leg), Event::ShortFar(leg)]));
    events
}

/// The end of its spread that every quantity is at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Corner {
    Least,
    Nominal,
    Greatest,
}

pub const CORNERS: [Corner; 3] = [Corner::Least, Corner::Nominal, Corner::Greatest];

/// The values of what is uncertain: the next one between its least, nominal and greatest value.
pub trait Values {
    /// Chooses a value.
    fn choose(&mut self, least: f64, nominal: f64, greatest: f64) -> f64;
}

impl Values for Corner {
    fn choose(&mut self, least: f64, nominal: f64, greatest: f64) -> f64 {
        match self {
            Self::Least => least,
            Self::Nominal => nominal,
            Self::Greatest => greatest,
        }
    }
}

/// Resistors between nodes, with the board's divider in front of nodes 0 and 1.
#[derive(Default)]
pub struct Circuit {
    pub supply: f64,
    pub pull_up: f64,
    resistors: Vec<(usize, usize, f64)>,
    /// For each node the one it is joined to, itself where it is not.
    joined: Vec<usize>,
}

impl Circuit {
    /// The circuit of a plan after an event, with the values of everything chosen by `values`.
    pub fn of(plan: &Plan, event: &Event, values: &mut impl Values) -> Self {
        let mut layout = Layout { plan, event, values, circuit: Self::default() };
        let (back, signal) = (layout.circuit.node(), layout.circuit.node());
        layout.place(&plan.items, &[], signal, back);
        layout.circuit
    }

    /// The same with the board's divider and the leakage of 1 MΩ at that corner of the terminal voltage.
    pub fn sensed(plan: &Plan, event: &Event, mut corner: Corner) -> Self {
        let mut circuit = Self::of(plan, event, &mut corner);
        let board = &BOARDS[plan.board];
        let sign = match corner {
            Corner::Least => -1.0,
            Corner::Nominal => 0.0,
            Corner::Greatest => 1.0,
        };
        circuit.supply = board.supply * (1.0 + sign * board.supply_tolerance);
        circuit.pull_up = board.pull_up * (1.0 - sign * board.tolerance);
        if corner == Corner::Least {
            circuit.resistors.push((1, 0, 1e6));
        }
        circuit
    }

    /// The resistors between different nodes, joints applied.
    pub fn resistors(&self) -> impl Iterator<Item = (usize, usize, f64)> {
        self.resistors.iter().map(|(a, b, ohms)| (self.find(*a), self.find(*b), *ohms)).filter(|(a, b, _)| a != b)
    }

    /// The node that a node is joined to; the return stays 0.
    pub fn find(&self, mut node: usize) -> usize {
        while self.joined[node] != node {
            node = self.joined[node];
        }
        node
    }

    /// How many nodes there are, joined ones included.
    pub fn nodes(&self) -> usize {
        self.joined.len()
    }

    fn node(&mut self) -> usize {
        self.joined.push(self.joined.len());
        self.joined.len() - 1
    }

    fn join(&mut self, a: usize, b: usize) {
        let (a, b) = (self.find(a), self.find(b));
        self.joined[a.max(b)] = a.min(b);
    }

    fn resistor(&mut self, a: usize, b: usize, ohms: f64) {
        if ohms > 0.0 {
            self.resistors.push((a, b, ohms));
        } else {
            self.join(a, b);
        }
    }
}

struct Layout<'p, V> {
    plan: &'p Plan,
    event: &'p Event,
    values: &'p mut V,
    circuit: Circuit,
}

impl<V: Values> Layout<'_, V> {
    /// What is mounted at a place where the conductors `out` and `back` arrive, then the run that goes on.
    fn place(&mut self, items: &[Item], onward: &[Leg], mut out: usize, back: usize) {
        let across = self.plan.across;
        for item in items {
            match item {
                Item::Resistor(resistor) => {
                    let ohms = self.tolerance(resistor.ohms, resistor.tolerance);
                    let other = if across { back } else { self.circuit.node() };
                    self.circuit.resistor(out, other, ohms);
                    out = if across { out } else { other };
                }
                Item::Legs(legs) => {
                    let other = if across { back } else { self.circuit.node() };
                    self.legs(legs, out, other);
                    out = if across { out } else { other };
                }
                Item::Contact(contact) => {
                    let part = &PARTS[contact.part];
                    if let Some(cover) = part.cover.filter(|_| contact.cover_in_loop) {
                        let off = *self.event == Event::CoverOff(contact.number);
                        out = self.switch(cover, off, None, out, back);
                    }
                    let tripped = match self.event {
                        Event::Tripped(numbers) => numbers.contains(&contact.number),
                        Event::AllTripped => !part.watches_supply,
                        Event::SomeTripped(_) => unreachable!("say which"),
                        _ => false,
                    };
                    let shunt = contact.shunt.map(|shunt| self.tolerance(shunt.ohms, shunt.tolerance));
                    out = self.switch(part.alarm, tripped, shunt, out, back);
                }
            }
        }
        if !onward.is_empty() {
            self.legs(onward, out, back);
        } else if !across {
            self.circuit.join(out, back);
        }
    }

    /// A contact in one conductor, or across both where it is open at rest; gives the conductor that goes on.
    fn switch(&mut self, switch: Switch, moved: bool, shunt: Option<f64>, out: usize, back: usize) -> usize {
        let other = if switch.closed_at_rest { self.circuit.node() } else { back };
        let ohms = self.values.choose(0.0, switch.most / 2.0, switch.most);
        if let Some(shunt) = shunt {
            self.circuit.resistor(out, other, shunt);
        }
        if switch.closed_at_rest != moved {
            self.circuit.resistor(out, other, ohms);
        }
        if switch.closed_at_rest { other } else { out }
    }

    /// Runs that follow each other, starting at two nodes.
    fn legs(&mut self, legs: &[Leg], out: usize, back: usize) {
        let Some((leg, onward)) = legs.split_first() else { return };
        let (far_out, far_back) = (self.circuit.node(), self.circuit.node());
        let ohms = self.conductor(leg);
        // A cut takes one conductor or the other or both; the terminals must not tell.
        let cut = *self.event == Event::Cut(leg.number);
        if !cut || leg.number % 3 == 1 {
            self.circuit.resistor(out, far_out, ohms);
        }
        if !cut || leg.number % 3 == 2 {
            self.circuit.resistor(back, far_back, ohms);
        }
        if *self.event == Event::ShortNear(leg.number) {
            self.circuit.join(out, back);
        }
        if *self.event == Event::ShortFar(leg.number) {
            self.circuit.join(far_out, far_back);
        }
        self.place(&leg.items, onward, far_out, far_back);
    }

    /// One conductor: ρ = 1/58 Ω·mm²/m at 20 °C and 0.393 % a kelvin (IEC 60028), 2 % more where stranded; hot, the most that
    /// its size may have. A cable is as cold and as hot as any place on its way.
    fn conductor(&mut self, leg: &Leg) -> f64 {
        let Sheath { cable, metres, start, room, passage, .. } = leg.host.as_ref().unwrap_or(&leg.written);
        let cable = &CABLES[*cable];
        let passed = passage.and_then(|passage| PASSAGES[passage].1);
        let places = [Some(ROOMS[*start].2), Some(ROOMS[*room].2), passed].into_iter().flatten();
        let [cold, hot] = places.reduce(|one, other| [one[0].min(other[0]), one[1].max(other[1])]).unwrap();
        let at_20 = metres / (58.0 * cable.area) * if cable.stranded { 1.02 } else { 1.0 };
        let most = cable.most.map_or(at_20, |most| most * metres / 1000.0);
        let factor = |celsius: f64| 1.0 + 0.003_93 * (celsius - 20.0);
        self.values.choose(at_20 * factor(cold), at_20, most * factor(hot))
    }

    fn tolerance(&mut self, ohms: f64, tolerance: f64) -> f64 {
        self.values.choose(ohms * (1.0 - tolerance), ohms, ohms * (1.0 + tolerance))
    }
}
