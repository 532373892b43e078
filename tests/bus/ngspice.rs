//! Several hundred made-up buses, by the calculation and by ngspice: both conductors with their ground.

use std::fmt::Write as _;

use loopwright::calc::bus::{self, BusFigures, idle};
use loopwright::calc::power;

use super::plan::{Dice, NOMINAL, Network, Plan, STRONG, WEAK, Wire, spec};
use crate::loops::site;
use crate::ngspice;

const BUSES: usize = 320;
const BATCH: usize = 200;

/// The figures of plans, in their order.
pub fn figures(plans: &[Plan]) -> Vec<BusFigures> {
    let site = site(&spec(plans));
    let found = bus::of_site(&site, &power::of_site(&site));
    assert_eq!(found.len(), plans.len());
    found.into_values().collect()
}

fn netlist(networks: &[Network]) -> String {
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

/// Volts of every node of every network.
fn solve(networks: &[Network]) -> Vec<Vec<f64>> {
    let volts = ngspice::run(&netlist(networks));
    let of = |index: usize, node: usize| {
        if node == 0 { 0.0 } else { *volts.get(format!("c{index}n{node}").as_str()).expect("a node of the netlist") }
    };
    networks.iter().enumerate().map(|(index, one)| (0..one.nodes).map(|node| of(index, node)).collect()).collect()
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

#[test]
fn buses_agree_with_ngspice() {
    let mut dice = Dice(485);
    let plans: Vec<Plan> = (0..BUSES).map(|number| Plan::random(&mut dice, number % 3 == 0)).collect();
    let figures = figures(&plans);
    let cases: Vec<Case> = plans
        .iter()
        .zip(&figures)
        .enumerate()
        .flat_map(|(number, (plan, figures))| cases(plan, figures, number, &mut dice))
        .collect();
    let (mut checked, mut low, mut wrong) = (0, 0, Vec::new());
    for batch in cases.chunks(BATCH) {
        let networks: Vec<Network> = batch.iter().map(|case| case.network.clone()).collect();
        for (case, volts) in batch.iter().zip(solve(&networks)) {
            for (place, ours) in &case.ours {
                let theirs = volts[2 * place + 1] - volts[2 * place + 2];
                // Where A and B differ little, the last digits of their volts to ground limit what is left.
                if (ours - theirs).abs() > 1e-6 * theirs.abs() {
                    wrong.push(format!("{}, place {place}: {ours} here, {theirs} by ngspice", case.name));
                }
                checked += 1;
                low += usize::from(theirs < 0.2);
            }
        }
    }
    assert!(wrong.is_empty(), "{} of {checked} differ:\n{}", wrong.len(), wrong[..wrong.len().min(20)].join("\n"));
    assert!(checked > 3000 && low > 300 && checked - low > 300, "{checked} compared, {low} under 0.2");
}
