//! Several hundred made-up loops in every state and at every corner, by the calculation and by ngspice.

use loopwright::calc::loops;

use super::circuit::{CORNERS, Circuit, Corner, Event, events};
use super::plan::{Plan, spec};
use super::random::{USUAL, plans};
use super::{event, site, spice, zones};
use crate::ngspice::none_differs;
use crate::outside::{self, Said};

const BATCH: usize = 100;

struct Case {
    name: String,
    circuit: Circuit,
    ours: f64,
}

/// What the calculation says of each loop, beside the circuit that the plan says it is.
fn cases(plans: &[Plan]) -> Vec<Case> {
    let text = spec(plans);
    let site = site(&text);
    let mut cases = Vec::new();
    for (plan, zone) in plans.iter().zip(zones(&site)) {
        let number = site.zones[zone].number.value;
        let readings = loops::of_zone(&site, zone).unwrap();
        assert_eq!(readings.across, plan.across, "zone {number}");
        let mut seen = Vec::new();
        for reading in readings.states {
            let event = event(&site, zone, reading.state);
            if matches!(event, Event::SomeTripped(_)) {
                // A hull of several circuits: `laws` tries them all.
                continue;
            }
            let volts = reading.volts.unwrap();
            cases.extend(CORNERS.map(|corner| Case {
                name: format!("zone {number}, {event:?}, {corner:?}"),
                circuit: Circuit::sensed(plan, &event, corner),
                ours: match corner {
                    Corner::Least => volts.least,
                    Corner::Nominal => volts.nominal,
                    Corner::Greatest => volts.greatest,
                },
            }));
            seen.push(event);
        }
        let mut expected = events(plan);
        expected.sort();
        seen.sort();
        assert_eq!(seen, expected, "zone {number}: the states of the table");
    }
    cases
}

/// How many circuits were compared: with little, nearly all and something between at the terminal.
#[derive(Default)]
struct Reach {
    shorted: usize,
    open: usize,
    between: usize,
}

fn compare(plans: &[Plan], mut ngspice: Said) -> Reach {
    let cases = cases(plans);
    let (mut reach, mut wrong) = (Reach::default(), Vec::new());
    for batch in cases.chunks(BATCH) {
        let circuits: Vec<&Circuit> = batch.iter().map(|case| &case.circuit).collect();
        let volts = ngspice.volts(&spice::netlist(&circuits), &spice::terminals(batch.len()));
        for (Case { name, circuit, ours }, theirs) in batch.iter().zip(volts) {
            let close = (ours - theirs).abs() <= 1e-6 * theirs.abs() + 1e-9 * circuit.supply;
            if !close {
                wrong.push(format!("{name}: {ours} V here, {theirs} V by ngspice"));
            }
            match theirs / circuit.supply {
                ..0.2 => reach.shorted += 1,
                ..=0.99 => reach.between += 1,
                _ => reach.open += 1,
            }
        }
    }
    ngspice.finish();
    none_differs(&wrong, cases.len());
    reach
}

// The plans must reach all of a board's range, or they would prove little.

#[test]
fn loops_agree_with_ngspice() {
    let Some(ngspice) = outside::ngspice() else { return };
    let reach = compare(&plans(1, 280, USUAL), ngspice);
    assert!(reach.shorted > 1000 && reach.open > 1000 && reach.between > 1000);
}

#[test]
fn loops_agree_with_recorded_ngspice() {
    let reach = compare(&plans(2, 49, USUAL), outside::ngspice_recorded("loops"));
    assert!(reach.shorted > 200 && reach.open > 200 && reach.between > 200);
}
