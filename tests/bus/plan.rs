//! Made-up buses: as spec text, and as the network of their two conductors.

use std::fmt::Write as _;

use loopwright::calc::ambient::{ATTIC, Ambient, INSIDE, OUTDOORS, UNDERGROUND};
use loopwright::calc::conductor;
use loopwright::quantity::{Metres, WireSize};

/// A small generator of numbers that is the same everywhere (SplitMix64).
pub struct Dice(pub u64);

impl Dice {
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    pub fn below(&mut self, bound: usize) -> usize {
        (self.next() % bound as u64) as usize
    }

    pub fn of<T: Copy>(&mut self, choices: &[T]) -> T {
        choices[self.below(choices.len())]
    }
}

/// A place with the cable that comes to it; the first is at the board and has none.
#[derive(Clone, Debug)]
pub struct Spot {
    pub before: usize,
    pub decimetres: usize,
    pub gauge: i32,
    pub passes: usize,
    /// Unit loads in percent, one for each module.
    pub modules: Vec<u32>,
    pub terminators: Vec<u32>,
    /// Bias in each leg of a module of its own, behind 5 V.
    pub bias: Option<u32>,
}

#[derive(Clone, Debug)]
pub struct Plan {
    pub spots: Vec<Spot>,
    /// The board's own: terminator, bias in each leg, volts behind them in tenths.
    pub terminator: Option<u32>,
    pub bias: u32,
    pub supply: u32,
}

/// Every bus is inside the house, so what a cable passes comes on top of that.
const PASSES: [(&str, Ambient); 4] = [
    ("stud", INSIDE),
    ("attic", ATTIC),
    ("outdoors", OUTDOORS),
    ("underground", Ambient { hot: INSIDE.hot, ..UNDERGROUND }),
];
const GAUGES: [i32; 4] = [18, 20, 22, 24];
const LOADS: [u32; 4] = [25, 50, 100, 200];
const TERMINATORS: [u32; 3] = [100, 120, 150];
const LEGS: [u32; 4] = [330, 470, 720, 1000];

impl Plan {
    /// A bus with a trunk, and branches here and there; places follow each other as they stand in the text.
    pub fn random(dice: &mut Dice, several_biased: bool) -> Self {
        let mut spots = vec![Spot {
            before: 0,
            decimetres: 0,
            gauge: 20,
            passes: 0,
            modules: Vec::new(),
            terminators: Vec::new(),
            bias: None,
        }];
        for at in 1..=1 + dice.below(11) {
            // On from the last place, or a branch from one on the way to it: so the order is that of nested text.
            let mut before = at - 1;
            while before > 0 && dice.below(3) == 0 {
                before = spots[before].before;
            }
            spots.push(Spot {
                before,
                decimetres: 1 + dice.below(2000),
                gauge: dice.of(&GAUGES),
                passes: dice.below(4),
                modules: (0..dice.below(3)).map(|_| dice.of(&LOADS)).collect(),
                terminators: (0..usize::from(dice.below(4) == 0)).map(|_| dice.of(&TERMINATORS)).collect(),
                bias: (several_biased && dice.below(5) == 0).then(|| dice.of(&LEGS)),
            });
        }
        // At least one module, and something across.
        let last = spots.len() - 1;
        spots[last].modules.push(100);
        Self {
            spots,
            terminator: (dice.below(2) == 0).then(|| dice.of(&TERMINATORS)),
            bias: dice.of(&LEGS),
            supply: dice.of(&[33, 50]),
        }
    }

    pub fn is_single(&self) -> bool {
        self.spots.iter().all(|spot| spot.bias.is_none())
    }

    /// The conductor of the cable to a place in ohm.
    pub fn ohms(&self, at: usize, wire: Wire) -> f64 {
        let spot = &self.spots[at];
        let ambient = PASSES[spot.passes].1;
        let temperature = match wire {
            Wire::Cold => ambient.cold,
            Wire::Usual => ambient.usual,
            Wire::Hot => ambient.hot,
        };
        conductor::resistance(WireSize::Awg(spot.gauge), false, Metres(spot.decimetres as f64 / 10.0), temperature).0
    }

    /// The places from the board to one.
    pub fn way(&self, at: usize) -> Vec<usize> {
        let mut way = vec![at];
        while way[way.len() - 1] != 0 {
            way.push(self.spots[way[way.len() - 1]].before);
        }
        way
    }

    /// The two conductors with their ground: node 0 is ground, 2n + 1 and 2n + 2 are A and B at place n.
    pub fn network(&self, wire: impl Fn(usize) -> Wire, corner: Corner, powered: bool) -> Network {
        let (a, b) = (|at: usize| 2 * at + 1, |at: usize| 2 * at + 2);
        let mut network = Network { nodes: 2 * self.spots.len() + 1, ..Network::default() };
        let bias = |network: &mut Network, at: usize, leg: u32, volts: f64| {
            let rail = network.nodes;
            network.nodes += 1;
            network.sources.push((rail, if powered { volts } else { 0.0 }));
            network.resistors.push((rail, a(at), f64::from(leg) * corner.legs));
            network.resistors.push((b(at), 0, f64::from(leg) * corner.legs));
        };
        bias(&mut network, 0, self.bias, f64::from(self.supply) / 10.0);
        // The board itself is one unit load.
        let receiver = |network: &mut Network, at: usize, percent: f64| {
            if corner.receivers {
                network.resistors.push((a(at), b(at), 12_000.0 * 100.0 / percent));
            }
        };
        receiver(&mut network, 0, 100.0);
        if let Some(ohms) = self.terminator {
            network.resistors.push((a(0), b(0), f64::from(ohms) * corner.terminators));
        }
        for (at, spot) in self.spots.iter().enumerate() {
            if at > 0 {
                let ohms = self.ohms(at, wire(at));
                network.resistors.push((a(spot.before), a(at), ohms));
                network.resistors.push((b(spot.before), b(at), ohms));
            }
            for percent in &spot.modules {
                receiver(&mut network, at, f64::from(*percent));
            }
            for ohms in &spot.terminators {
                network.resistors.push((a(at), b(at), f64::from(*ohms) * corner.terminators));
            }
            if let Some(leg) = spot.bias {
                bias(&mut network, at, leg, 5.0);
                receiver(&mut network, at, 100.0);
            }
        }
        network
    }
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Wire {
    Cold,
    Usual,
    Hot,
}

/// Factors on terminators and bias legs, and whether receivers are there.
#[derive(Clone, Copy, Debug)]
pub struct Corner {
    pub terminators: f64,
    pub legs: f64,
    pub receivers: bool,
}

pub const NOMINAL: Corner = Corner { terminators: 1.0, legs: 1.0, receivers: true };
pub const WEAK: Corner = Corner { terminators: 0.95, legs: 1.05, receivers: true };
/// A receiver takes a unit load at most, so there may as well be none.
pub const STRONG: Corner = Corner { terminators: 1.05, legs: 0.95, receivers: false };

/// Resistors, voltage sources to ground, and currents into a node out of another.
#[derive(Clone, Debug, Default)]
pub struct Network {
    pub nodes: usize,
    pub resistors: Vec<(usize, usize, f64)>,
    pub sources: Vec<(usize, f64)>,
    pub currents: Vec<(usize, usize, f64)>,
}

/// The spec of several plans: bus `b7` is plan 7.
pub fn spec(plans: &[Plan]) -> String {
    let mut text = "site \"made-up\" title=\"Made up\" lengths=\"m\"\nlevel \"l\" { room \"r\"; }\n".to_owned();
    for gauge in GAUGES {
        writeln!(text, "cable \"c{gauge}\" conductors=4 size=(AWG){gauge} {{ conductor \"RD\"; conductor \"BK\"; conductor \"BU\"; conductor \"WH\"; }}").unwrap();
    }
    let port = |more: &str| format!("bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"{more}");
    let part =
        |name: &str, more: &str| format!("part \"{name}\" {{ basis \"sheet\"; {}; draw idle=(mA)1; }}\n", port(more));
    for load in LOADS {
        text += &part(&format!("m{load}"), &format!(" unit-load=(percent){load}"));
    }
    for leg in LEGS {
        text += &part(&format!("bias{leg}"), &format!(" bias=(ohm){leg} bias-supply=(V)5"));
    }
    for (number, plan) in plans.iter().enumerate() {
        let terminator = plan.terminator.map(|ohms| format!(" terminator=(ohm){ohms}")).unwrap_or_default();
        let supply = f64::from(plan.supply) / 10.0;
        let more = format!("{terminator} bias=(ohm){} bias-supply=(V){supply}", plan.bias);
        text += &part(&format!("p{number}"), &more);
        writeln!(text, "panel \"p{number}\" part=\"p{number}\" room=\"r\"\nbus \"b{number:04}\" board=\"p{number}\" rate=(baud)9600 {{").unwrap();
        let mut address = 0;
        run(plan, number, 0, &mut address, &mut text);
        text += "}\n";
    }
    text
}

fn run(plan: &Plan, number: usize, before: usize, address: &mut usize, text: &mut String) {
    for (at, spot) in plan.spots.iter().enumerate().filter(|(at, spot)| *at > 0 && spot.before == before) {
        let from = if before == 0 { " from=\"board\"" } else { "" };
        let (length, passes) = (spot.decimetres as f64 / 10.0, PASSES[spot.passes].0);
        writeln!(text, "run \"c{}\" length=(m){length} room=\"r\" passes=\"{passes}\"{from} {{", spot.gauge).unwrap();
        let loads = spot.modules.iter().map(|load| format!("m{load}"));
        for part in loads.chain(spot.bias.map(|leg| format!("bias{leg}"))) {
            *address += 1;
            writeln!(text, "module \"b{number}m{address}\" part=\"{part}\" address={address}").unwrap();
        }
        for ohms in &spot.terminators {
            writeln!(text, "terminator (ohm){ohms}").unwrap();
        }
        run(plan, number, at, address, text);
        text.push_str("}\n");
    }
}
