//! Several hundred made-up loops in every state and at every corner, by the calculation and by ngspice.

use loopwright::calc::loops;

use super::circuit::{CORNERS, Circuit, Corner, Event, events};
use super::plan::{Plan, spec};
use super::random::{USUAL, plans};
use super::{event, site, spice, zones};

const LOOPS: usize = 280;
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

#[test]
fn loops_agree_with_ngspice() {
    let mut cases = cases(&plans(1, LOOPS, USUAL));
    let (mut checked, mut shorted, mut open) = (0, 0, 0);
    let mut wrong = Vec::new();
    while !cases.is_empty() {
        let batch: Vec<Case> = cases.drain(..BATCH.min(cases.len())).collect();
        let (names, circuits): (Vec<_>, Vec<_>) =
            batch.into_iter().map(|case| ((case.name, case.ours), case.circuit)).unzip();
        for (((name, ours), circuit), theirs) in names.iter().zip(&circuits).zip(spice::solve(&circuits)) {
            let close = (ours - theirs).abs() <= 1e-6 * theirs.abs() + 1e-9 * circuit.supply;
            if !close {
                wrong.push(format!("{name}: {ours} V here, {theirs} V by ngspice"));
            }
            checked += 1;
            shorted += usize::from(theirs < 0.2 * circuit.supply);
            open += usize::from(theirs > 0.99 * circuit.supply);
        }
    }
    assert!(wrong.is_empty(), "{} of {checked} differ:\n{}", wrong.len(), wrong[..wrong.len().min(20)].join("\n"));
    // The plans must reach all of a board's range, or they would prove little.
    let between = checked - shorted - open;
    assert!(shorted > 1000 && open > 1000 && between > 1000, "{shorted} low, {open} open, {between} between");
}
