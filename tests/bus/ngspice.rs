//! Several hundred made-up buses, by the calculation and by ngspice: both conductors with their ground.

use std::fmt::Write as _;

use loopwright::calc::bus::{self, BusFigures, idle};
use loopwright::calc::power;

use super::plan::{Dice, NOMINAL, Network, Plan, STRONG, WEAK, Wire, spec};
use crate::loops::site;
use crate::ngspice::Pair;
use crate::outside::{self, Said};

const BATCH: usize = 200;

/// The figures of plans, in their order.
pub fn figures(plans: &[Plan]) -> Vec<BusFigures> {
    // A site holds no more boards than that.
    let figures = plans.chunks(20).flat_map(|plans| {
        let site = site(&spec(plans));
        let found = bus::of_site(&site, &power::of_site(&site));
        assert_eq!(found.len(), plans.len());
        found.into_values()
    });
    figures.collect()
}

fn netlist(networks: &[&Network]) -> String {
    let mut text = "buses\n".to_owned();
    for (index, network) in networks.iter().enumerate() {
        let name = |node: usize| if node == 0 { "0".to_owned() } else { format!("c{index}n{node}") };
        for (number, (one, other, ohms)) in network.resistors.iter().enumerate() {
            writeln!(text, "R{index}n{number} {} {} {ohms:e}", name(*one), name(*other)).unwrap();
        }
        for (number, (node, volts)) in network.sources.iter().enumerate() {
            writeln!(text, "V{index}n{number} {} 0 DC {volts:e}", name(*node)).unwrap();
        }
        for (number, (into, out_of, amperes)) in network.currents.iter().enumerate() {
            writeln!(text, "I{index}n{number} {} {} DC {amperes:e}", name(*out_of), name(*into)).unwrap();
        }
    }
    text + ".control\nset numdgt=15\nop\nprint all\nquit 0\n.endc\n.end\n"
}

struct Case {
    name: String,
    network: Network,
    /// Place, and what the calculation says stands between A and B there.
    ours: Vec<(usize, f64)>,
}

fn cases(plan: &Plan, figures: &BusFigures, number: usize, dice: &mut Dice) -> Vec<Case> {
    let idle = figures.idle.as_ref().unwrap();
    assert_eq!(idle.volts.len(), plan.spots.len());
    let place = dice.below(plan.spots.len());
    let all = |of: fn(&loopwright::calc::Spread) -> f64| idle.volts.iter().map(of).enumerate().collect();
    let mut cases = vec![Case {
        name: format!("bus {number}, usual"),
        network: plan.network(|_| Wire::Usual, NOMINAL, true),
        ours: all(|volts| volts.nominal),
    }];
    let mut unpowered = plan.network(|_| Wire::Usual, NOMINAL, false);
    unpowered.currents.push((2 * place + 1, 2 * place + 2, 1.0));
    cases.push(Case {
        name: format!("bus {number}, ohms at place {place}"),
        network: unpowered,
        ours: vec![(place, idle::resistance(&figures.layout, place).nominal)],
    });
    if plan.is_single() {
        let way = plan.way(place);
        let mixed = |on: Wire, off: Wire| move |at: usize, way: &[usize]| if way.contains(&at) { on } else { off };
        let volts = idle.volts[place];
        let (hot, cold) = (mixed(Wire::Hot, Wire::Cold), mixed(Wire::Cold, Wire::Hot));
        cases.push(Case {
            name: format!("bus {number}, least at place {place}"),
            network: plan.network(|at| hot(at, &way), WEAK, true),
            ours: vec![(place, volts.least)],
        });
        cases.push(Case {
            name: format!("bus {number}, most at place {place}"),
            network: plan.network(|at| cold(at, &way), STRONG, true),
            ours: vec![(place, volts.greatest)],
        });
    }
    cases
}

/// How many places were compared, and how many of them with little between A and B.
#[derive(Default)]
struct Reach {
    compared: usize,
    low: usize,
}

fn compare(buses: usize, seed: u64, mut ngspice: Said) -> Reach {
    let mut dice = Dice(seed);
    let plans: Vec<Plan> = (0..buses).map(|number| Plan::random(&mut dice, number % 3 == 0)).collect();
    let figures = figures(&plans);
    let cases: Vec<Case> = plans
        .iter()
        .zip(&figures)
        .enumerate()
        .flat_map(|(number, (plan, figures))| cases(plan, figures, number, &mut dice))
        .collect();
    let (mut reach, mut wrong) = (Reach::default(), Vec::new());
    for batch in cases.chunks(BATCH) {
        let networks: Vec<&Network> = batch.iter().map(|case| &case.network).collect();
        // A over B at each place.
        let pairs = |(index, case): (usize, &Case)| -> Vec<Pair> {
            let node = |number: usize| format!("c{index}n{number}");
            case.ours.iter().map(|(place, _)| (node(2 * place + 1), node(2 * place + 2))).collect()
        };
        let pairs: Vec<Pair> = batch.iter().enumerate().flat_map(pairs).collect();
        let ours = batch.iter().flat_map(|case| case.ours.iter().map(move |(place, volts)| (case, place, volts)));
        for ((case, place, ours), theirs) in ours.zip(ngspice.volts(&netlist(&networks), &pairs)) {
            // Where A and B differ little, the last digits of their volts to ground limit what is left.
            if (ours - theirs).abs() > 1e-6 * theirs.abs() {
                wrong.push(format!("{}, place {place}: {ours} here, {theirs} by ngspice", case.name));
            }
            reach.compared += 1;
            reach.low += usize::from(theirs < 0.2);
        }
    }
    ngspice.finish();
    crate::ngspice::none_differs(&wrong, reach.compared);
    reach
}

#[test]
fn buses_agree_with_ngspice() {
    let Some(ngspice) = outside::ngspice() else { return };
    let reach = compare(320, 485, ngspice);
    assert!(reach.compared > 3000 && reach.low > 300 && reach.compared - reach.low > 300);
}

#[test]
fn buses_agree_with_recorded_ngspice() {
    let reach = compare(90, 485, outside::ngspice_recorded("buses"));
    assert!(reach.compared > 800 && reach.low > 80 && reach.compared - reach.low > 80);
}
