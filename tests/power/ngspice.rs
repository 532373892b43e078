//! Some hundred made-up trees in every case, by the calculation and by ngspice.

use std::fmt::Write as _;

use loopwright::calc::power::{CASES, Case, Demand, Supply, Wire};

use super::plan::{Load, Place, Plan, Take, spec};
use super::{nodes, solved, trees};
use crate::ngspice::Pair;
use crate::outside::{self, Said};

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

/// A netlist of circuits, and all of their places over the ground.
fn netlist(circuits: &[(&Plan, Case)]) -> (String, Vec<Pair>) {
    let (mut text, mut saved) =
        ("supplies\n.options reltol=1e-10 vntol=1e-12 abstol=1e-15\n".to_owned(), String::new());
    for (index, (plan, case)) in circuits.iter().enumerate() {
        circuit(&mut text, &mut saved, index, plan, *case);
    }
    text += &format!(".control\nset numdgt=15\nsave{saved}\nop\nprint all\nquit 0\n.endc\n.end\n");
    let places = |(index, (plan, _)): (usize, &(&Plan, Case))| {
        (0..plan.places.len()).map(move |at| (format!("n{index}p{at}"), "0".to_owned()))
    };
    (text, circuits.iter().enumerate().flat_map(places).collect())
}

/// How many places were compared, how many of them with few volts, and how many circuits have a load of constant power.
#[derive(Default)]
struct Reach {
    compared: usize,
    low: usize,
    bent: usize,
}

fn compare(count: u64, mut ngspice: Said) -> Reach {
    let plans: Vec<Plan> = (0..count).map(Plan::new).collect();
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
    let mut reach = Reach::default();
    for batch in cases.chunks(BATCH) {
        let circuits: Vec<(&Plan, Case)> = batch.iter().map(|(plan, case, _)| (*plan, *case)).collect();
        let (netlist, pairs) = netlist(&circuits);
        let mut volts = ngspice.volts(&netlist, &pairs).into_iter();
        for (plan, case, ours) in batch {
            for (place, (ours, theirs)) in ours.iter().zip(volts.by_ref().take(plan.places.len())).enumerate() {
                assert!(
                    (ours - theirs).abs() <= 1e-6 * theirs.abs(),
                    "{case:?}, place {place}: {ours} V here, {theirs} V by ngspice\n{plan:#?}"
                );
                reach.compared += 1;
                reach.low += usize::from(theirs < 9.0);
            }
            let mut loads = plan.places.iter().flat_map(|place| &place.loads);
            reach.bent += usize::from(loads.any(|load| matches!(load.alarm, Take::Milliwatts(_))));
        }
    }
    ngspice.finish();
    reach
}

#[test]
fn trees_agree_with_ngspice() {
    let Some(ngspice) = outside::ngspice() else { return };
    let reach = compare(150, ngspice);
    assert!(reach.compared > 4000 && reach.low > 100 && reach.bent > 500);
}

#[test]
fn trees_agree_with_recorded_ngspice() {
    let reach = compare(40, outside::ngspice_recorded("supplies"));
    assert!(reach.compared > 1000 && reach.low > 20 && reach.bent > 100);
}

/// A supply cable that ends in a joint box and goes on from there to two hops, one of constant current and one of constant
/// power that feeds a third.
fn joined_hops(mut ngspice: Said) {
    let always = |take| Load { idle: take, alarm: take };
    let place = |before, cable, feet, loads| Place { before, cable, passage: 0, feet, pairs: 1, loads };
    let plan = Plan {
        modules: 0,
        places: vec![
            place(None, 1, 40.0, Vec::new()),
            place(Some(0), 0, 25.0, vec![always(Take::Milliamperes(450.0))]),
            place(Some(0), 0, 60.0, vec![always(Take::Milliwatts(3600.0)), always(Take::Milliamperes(80.0))]),
        ],
    };
    let text = spec(&[])
        + r#"panel "p0" part="board" room="r" { battery capacity=(Ah)7; }
joint-box "box" room="r" joined-by="crimp"
circuit "net" board="p0" output="out" {
    run "c18" length=(ft)40 into="box" {
        run "c22" length=(ft)25 room="r" { feed "switch"; }
        run "c22" length=(ft)60 room="r" { feed "router"; }
    }
}
communicator "ip" type="internet" board="p0" {
    hop "switch" name="switch" draw=(mA)450
    hop "router" name="router" draw=(W)3.6
    hop "radio link" from="router" draw=(mA)80
}
"#;
    let site = crate::loops::site(&text);
    let power = loopwright::calc::power::of_site(&site);
    let feeding = power.feedings.iter().find(|feeding| feeding.tree.nodes.len() > 1).unwrap();
    assert_eq!(feeding.tree.loads().count(), 3);
    let circuits: Vec<(&Plan, Case)> = CASES.iter().map(|case| (&plan, *case)).collect();
    let (netlist, pairs) = netlist(&circuits);
    let mut volts = ngspice.volts(&netlist, &pairs).into_iter();
    for case in CASES {
        let flow = feeding.flows[&case].as_ref().unwrap();
        for at in 0..plan.places.len() {
            let (ours, theirs) = (flow.volts[at + 1].unwrap().0, volts.next().unwrap());
            assert!(
                (ours - theirs).abs() <= 1e-6 * theirs,
                "{case:?}, place {at}: {ours} V here, {theirs} V by ngspice"
            );
        }
    }
    ngspice.finish();
}

#[test]
fn a_joined_supply_of_hops_agrees_with_ngspice() {
    let Some(ngspice) = outside::ngspice() else { return };
    joined_hops(ngspice);
}

#[test]
fn a_joined_supply_of_hops_agrees_with_recorded_ngspice() {
    joined_hops(outside::ngspice_recorded("hops"));
}
