//! Some hundred made-up trees in every case, by the calculation and by ngspice.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use loopwright::calc::power::{CASES, Case, Demand, Supply, Wire};

use super::plan::{Plan, Take};
use super::{nodes, solved, trees};
use crate::ngspice;

const TREES: u64 = 150;
const BATCH: usize = 60;

/// The circuit of a plan in a case, with its nodes named by number and place. A load of constant power is a source
/// whose current is its power over its own voltage.
fn circuit(text: &mut String, saved: &mut String, index: usize, plan: &Plan, case: Case) {
    let volts = if case.supply == Supply::Mains { 13.8 } else { 10.5 };
    writeln!(text, "V{index} s{index} 0 DC {volts}").unwrap();
    for (at, place) in plan.places.iter().enumerate() {
        let node = format!("n{index}p{at}");
        let before = place.before.map_or_else(|| format!("s{index}"), |before| format!("n{index}p{before}"));
        writeln!(text, "R{index}p{at} {before} {node} {:e}", plan.ohms(at, case.wire == Wire::Hot)).unwrap();
        writeln!(text, ".nodeset v({node})={volts}").unwrap();
        for (number, load) in place.loads.iter().enumerate() {
            match if case.demand == Demand::Idle { load.idle } else { load.alarm } {
                Take::Milliamperes(current) => {
                    writeln!(text, "I{index}p{at}l{number} {node} 0 DC {:e}", current / 1000.0)
                }
                Take::Milliwatts(power) => {
                    writeln!(text, "B{index}p{at}l{number} {node} 0 I={:e}/V({node})", power / 1000.0)
                }
            }
            .unwrap();
        }
        write!(saved, " v({node})").unwrap();
    }
}

/// Volts by circuit and place.
fn solve(circuits: &[(&Plan, Case)]) -> BTreeMap<(usize, usize), f64> {
    let (mut text, mut saved) =
        ("supplies\n.options reltol=1e-10 vntol=1e-12 abstol=1e-15\n".to_owned(), String::new());
    for (index, (plan, case)) in circuits.iter().enumerate() {
        circuit(&mut text, &mut saved, index, plan, *case);
    }
    text += &format!(".control\nset numdgt=15\nsave{saved}\nop\nprint all\nquit 0\n.endc\n.end\n");
    let volts: BTreeMap<(usize, usize), f64> = ngspice::run(&text)
        .into_iter()
        .filter_map(|(name, volts)| {
            let (index, place) = name.strip_prefix('n')?.split_once('p')?;
            Some(((index.parse().ok()?, place.parse().ok()?), volts))
        })
        .collect();
    let wanted: usize = circuits.iter().map(|(plan, _)| plan.places.len()).sum();
    assert_eq!(volts.len(), wanted);
    volts
}

#[test]
fn trees_agree_with_ngspice() {
    let plans: Vec<Plan> = (0..TREES).map(Plan::new).collect();
    let (site, power) = solved(&plans);
    let mut cases = Vec::new();
    let mut collapsed = 0;
    for (number, (plan, feeding)) in plans.iter().zip(trees(&site, &power, &plans)).enumerate() {
        let nodes = nodes(&site, feeding, plan, number);
        for case in CASES {
            match &feeding.flows[&case] {
                Ok(flow) => {
                    let ours: Vec<f64> = nodes.iter().map(|node| flow.volts[*node].unwrap().0).collect();
                    cases.push((plan, case, ours));
                }
                Err(_) => collapsed += 1,
            }
        }
    }
    // Most must have a solution, or little is compared.
    assert!(collapsed < cases.len() / 10, "{collapsed} without solution");
    let (mut compared, mut low, mut bent) = (0, 0, 0);
    for batch in cases.chunks(BATCH) {
        let circuits: Vec<(&Plan, Case)> = batch.iter().map(|(plan, case, _)| (*plan, *case)).collect();
        let theirs = solve(&circuits);
        for (index, (plan, case, ours)) in batch.iter().enumerate() {
            for (place, ours) in ours.iter().enumerate() {
                let theirs = theirs[&(index, place)];
                assert!(
                    (ours - theirs).abs() <= 1e-6 * theirs.abs(),
                    "{case:?}, place {place}: {ours} V here, {theirs} V by ngspice\n{plan:#?}"
                );
                compared += 1;
                low += usize::from(theirs < 9.0);
            }
            bent +=
                usize::from(plan.places.iter().flat_map(|p| &p.loads).any(|l| matches!(l.alarm, Take::Milliwatts(_))));
        }
    }
    assert!(compared > 4000 && low > 100 && bent > 500, "{compared} compared, {low} low, {bent} with constant power");
}
