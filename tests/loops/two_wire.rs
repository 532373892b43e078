//! Made-up loops that feed their detectors, in every state and at every corner, by the calculation and by ngspice.
//!
//! A detector at rest is a current source; one in alarm takes what is needed to pull its place down to its volts, and never gives
//! any; cables are laid out node by node.

use std::fmt::Write as _;

use loopwright::calc::loops;

use super::circuit::{Corner, Event};
use super::random::Random;
use super::{event, site, zones};
use crate::ngspice::{Pair, none_differs};
use crate::outside::{self, Said};

const BATCH: usize = 100;
const CORNERS: [Corner; 3] = [Corner::Least, Corner::Nominal, Corner::Greatest];

/// Idle current in ampere, and least and most volts in alarm, of the parts `two-0` to `two-2`.
const DETECTORS: [(f64, f64, f64); 3] = [(90e-6, 4.0, 6.5), (45e-6, 5.2, 5.2), (400e-6, 3.1, 9.0)];
/// Supply with its tolerance, pull-up with its tolerance, of the boards `board-0` and `board-1`.
const BOARDS: [(f64, f64, f64, f64); 2] = [(13.6, 0.02, 680.0, 0.05), (24.0, 0.0, 1500.0, 0.01)];
/// The resistor, in ohm, ±5 %.
const RESISTOR: f64 = 4700.0;
/// Ampere that a detector in alarm takes for each volt above those that it holds: next to a short.
const PULL: f64 = 1e6;
/// Leakage that the least reading has across its terminals.
const LEAKAGE: f64 = 1e6;

/// A cable with what stands at its end, and the cables that start there: the last goes on, the others are branches.
struct Leg {
    metres: usize,
    detectors: Vec<usize>,
    resistor: bool,
    branches: Vec<Leg>,
}

struct Plan {
    board: usize,
    /// One behind the other.
    legs: Vec<Leg>,
}

fn plans(seed: u64, count: usize) -> Vec<Plan> {
    let mut random = Random::new(seed);
    let mut some = |most: usize| random.below(most);
    let mut plan = || {
        let last = some(5);
        let mut leg = |resistor: bool, branches: Vec<Leg>, least: usize| {
            let detectors = (0..least + some(2)).map(|_| some(DETECTORS.len())).collect();
            Leg { metres: 3 + some(200), detectors, resistor, branches }
        };
        let legs = (0..=last).map(|at| {
            let branches = if (at + last) % 3 == 0 { vec![leg(false, Vec::new(), 1)] } else { Vec::new() };
            leg(at == last, branches, usize::from(at == 0))
        });
        let legs = legs.collect();
        Plan { board: some(BOARDS.len()), legs }
    };
    (0..count).map(|_| plan()).collect()
}

fn spec(plans: &[Plan]) -> String {
    let mut text =
        "site \"fed\"\nlevel \"ground\" { room \"hall\" kind=\"hall\"; }\ncable \"half\" conductors=2 size=(mm2)0.5\n"
            .to_owned();
    for (number, (idle, least, most)) in DETECTORS.iter().enumerate() {
        let idle = idle * 1e6;
        writeln!(text, "part \"two-{number}\" senses=\"smoke\" {{ basis \"sheet\" ref=\"made up\"; loop-fed min=(V)6 idle=(uA){idle} alarm-min=(V){least} alarm-max=(V){most}; }}").unwrap();
    }
    for (number, (supply, off, pull_up, tolerance)) in BOARDS.iter().enumerate() {
        let inputs: String = (1..=plans.len()).fold(String::new(), |all, input| {
            all + &format!("input {input} signal=\"S{input}\" return=\"R{input}\" two-wire=#true\n")
        });
        let (off, tolerance) = (off * 100.0, tolerance * 100.0);
        writeln!(text, "part \"board-{number}\" {{ basis \"sheet\" ref=\"made up\"\n{inputs}sensing wiring=\"two-wire\" supply=(V){supply} supply-tolerance=(percent){off} pull-up=(ohm){pull_up} tolerance=(percent){tolerance} {{ loop-feed }}\n}}\npanel \"board-{number}\" part=\"board-{number}\" room=\"hall\"").unwrap();
    }
    for (index, plan) in plans.iter().enumerate() {
        let number = index + 1;
        writeln!(
            text,
            "zone {number} \"Zone {number}\" type=\"smoke\" {{ loop \"two-wire\" board=\"board-{}\" input={number} {{",
            plan.board
        )
        .unwrap();
        plan.legs.iter().for_each(|leg| write_leg(&mut text, leg));
        text.push_str("} }\n");
    }
    text
}

fn write_leg(text: &mut String, leg: &Leg) {
    writeln!(text, "run \"half\" length=(m){} room=\"hall\" {{", leg.metres).unwrap();
    leg.detectors.iter().for_each(|part| writeln!(text, "detector \"two-{part}\"").unwrap());
    leg.branches.iter().for_each(|branch| write_leg(text, branch));
    if leg.resistor {
        text.push_str("resistor \"4k7J\"\n");
    }
    text.push_str("}\n");
}

fn of(corner: Corner, least: f64, nominal: f64, greatest: f64) -> f64 {
    match corner {
        Corner::Least => least,
        Corner::Nominal => nominal,
        Corner::Greatest => greatest,
    }
}

/// A netlist of one loop in one state at one corner, its nodes told from those of others by its index.
struct Netlist<'p> {
    text: String,
    index: usize,
    corner: Corner,
    event: &'p Event,
    nodes: usize,
    runs: usize,
    devices: usize,
}

impl Netlist<'_> {
    fn line(&mut self, line: &str) {
        let index = self.index;
        self.nodes += 1;
        let (name, rest) = line.split_at(1);
        writeln!(self.text, "{name}{index}x{} {rest}", self.nodes).unwrap();
    }

    fn node(&mut self) -> String {
        self.nodes += 1;
        format!("n{}x{}", self.index, self.nodes)
    }

    fn leg(&mut self, leg: &Leg, from: &str) -> String {
        let run = self.runs;
        self.runs += 1;
        // Copper of 58 m/Ωmm² at 20 °C, from 5 to 35 °C; IEC 60228 lets a conductor of 0.5 mm² have 36 Ω/km.
        let usual = 2.0 * leg.metres as f64 / (58.0 * 0.5);
        let most = 2.0 * leg.metres as f64 * 0.036;
        let ohms = of(self.corner, usual * (1.0 - 0.00393 * 15.0), usual, most * (1.0 + 0.00393 * 15.0));
        let end = self.node();
        let (cut, near, far) = (Event::Cut(run), Event::ShortNear(run), Event::ShortFar(run));
        if *self.event == near {
            self.line(&format!("V {from} 0 DC 0"));
        }
        // A conductor that is cut is a resistance beside which all others are nothing.
        let ohms = if *self.event == cut || *self.event == near { 1e15 } else { ohms };
        self.line(&format!("R {from} {end} {ohms:e}"));
        if *self.event == far {
            self.line(&format!("V {end} 0 DC 0"));
        }
        let hidden = [cut, near, far].contains(self.event);
        self.place(leg, &end, hidden);
        end
    }

    fn place(&mut self, leg: &Leg, at: &str, hidden: bool) {
        let mut held: Option<f64> = None;
        for part in &leg.detectors {
            let (idle, least, most) = DETECTORS[*part];
            let device = self.devices;
            self.devices += 1;
            let alarm = match self.event {
                Event::Tripped(devices) => devices.contains(&device),
                Event::AllTripped => true,
                _ => false,
            };
            if alarm {
                let volts = of(self.corner, least, f64::midpoint(least, most), most);
                held = Some(held.map_or(volts, |other: f64| other.min(volts)));
            } else if !hidden {
                self.line(&format!("I {at} 0 DC {:e}", of(self.corner, idle, idle, 0.0)));
            }
        }
        if let Some(volts) = held {
            self.line(&format!("B {at} 0 I={PULL:e}*uramp(v({at})-{volts:e})"));
        }
        for branch in &leg.branches {
            self.branch(branch, at, hidden);
        }
        if leg.resistor && !hidden {
            self.line(&format!("R {at} 0 {:e}", of(self.corner, RESISTOR * 0.95, RESISTOR, RESISTOR * 1.05)));
        }
    }

    /// What is behind a fault is left out: it has no way to the terminals.
    fn branch(&mut self, leg: &Leg, at: &str, hidden: bool) {
        if hidden {
            self.runs += 1;
            self.devices += leg.detectors.len();
        } else {
            self.leg(leg, at);
        }
    }
}

fn netlist(plan: &Plan, event: &Event, corner: Corner, index: usize) -> String {
    let (supply, off, pull_up, tolerance) = BOARDS[plan.board];
    let mut list = Netlist { text: String::new(), index, corner, event, nodes: 0, runs: 0, devices: 0 };
    let supply = of(corner, supply * (1.0 - off), supply, supply * (1.0 + off));
    let pull_up = of(corner, pull_up * (1.0 + tolerance), pull_up, pull_up * (1.0 - tolerance));
    list.line(&format!("V s{index} 0 DC {supply:e}"));
    list.line(&format!("R s{index} t{index} {pull_up:e}"));
    if corner == Corner::Least {
        list.line(&format!("R t{index} 0 {LEAKAGE:e}"));
    }
    let first = list.node();
    list.line(&format!("V t{index} {first} DC 0"));
    let mut at = first;
    let mut over = false;
    for leg in &plan.legs {
        if over {
            list.runs += 1 + leg.branches.len();
            list.devices +=
                leg.detectors.len() + leg.branches.iter().map(|branch| branch.detectors.len()).sum::<usize>();
            continue;
        }
        let run = list.runs;
        at = list.leg(leg, &at);
        over = [Event::Cut(run), Event::ShortNear(run), Event::ShortFar(run)].contains(event);
    }
    list.text
}

fn compare(plans: &[Plan], mut ngspice: Said) -> [usize; 3] {
    let text = spec(plans);
    let site = site(&text);
    let mut cases = Vec::new();
    for (plan, zone) in plans.iter().zip(zones(&site)) {
        let readings = loops::of_zone(&site, zone).unwrap();
        assert!(readings.across);
        for reading in &readings.states {
            let event = event(&site, zone, reading.state);
            let volts = reading.volts.unwrap();
            for corner in CORNERS {
                let ours = of(corner, volts.least, volts.nominal, volts.greatest);
                cases.push((
                    format!("{}: {event:?} {corner:?}", site.zones[zone].number.value),
                    plan,
                    event.clone(),
                    corner,
                    ours,
                ));
            }
        }
    }
    let (mut wrong, mut reach) = (Vec::new(), [0; 3]);
    for batch in cases.chunks(BATCH) {
        let lists = batch.iter().enumerate().map(|(at, (_, plan, event, corner, _))| netlist(plan, event, *corner, at));
        let asked: Vec<Pair> = (0..batch.len()).map(|at| (format!("t{at}"), "0".to_owned())).collect();
        let saved: String = (0..batch.len()).map(|at| format!(" v(t{at})")).collect();
        let text = format!(
            "fed loops\n.options rshunt=1e15 reltol=1e-9 vntol=1e-10\n{}.control\nset numdgt=15\nsave{saved}\nop\nprint all\nquit 0\n.endc\n.end\n",
            lists.collect::<String>()
        );
        for ((name, plan, .., ours), theirs) in batch.iter().zip(ngspice.volts(&text, &asked)) {
            if (ours - theirs).abs() > 1e-6 * theirs.abs() + 1e-8 {
                wrong.push(format!("{name}: {ours} V here, {theirs} V by ngspice"));
            }
            match theirs / BOARDS[plan.board].0 {
                ..0.1 => reach[0] += 1,
                ..=0.6 => reach[1] += 1,
                _ => reach[2] += 1,
            }
        }
    }
    ngspice.finish();
    none_differs(&wrong, cases.len());
    reach
}

#[test]
fn loops_that_feed_their_detectors_agree_with_ngspice() {
    let Some(ngspice) = outside::ngspice() else { return };
    let reach = compare(&plans(3, 60), ngspice);
    assert!(reach.iter().all(|count| *count > 200), "{reach:?}");
}

#[test]
fn loops_that_feed_their_detectors_agree_with_recorded_ngspice() {
    let reach = compare(&plans(4, 14), outside::ngspice_recorded("fed-loops"));
    assert!(reach.iter().all(|count| *count > 40), "{reach:?}");
}
