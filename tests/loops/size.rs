//! Loops far larger than any house has: nothing here may grow with every choice of contacts.

use std::fmt::Write;

use loopwright::calc::{State, loops};

use super::plan::spec;
use super::{site, zones};

/// A loop of so many shunted contacts with a resistor at the end.
fn of_contacts(count: usize, one_run_each: bool) -> String {
    let run = "        run \"cable-22\" length=(m)2 room=\"hall\" {\n";
    let contact = "            detector \"shut-a\" shunt=\"1k\"\n";
    let mut text =
        spec(&[]) + "zone 1 \"Long\" type=\"perimeter\" {\n    loop \"double-end-of-line\" board=\"board-1\" {\n";
    text.push_str(run);
    for index in 0..count {
        if one_run_each && index > 0 {
            write!(text, "        }}\n{run}").unwrap();
        }
        text.push_str(contact);
    }
    text + "            resistor \"2k2\"\n        }\n    }\n}\n"
}

#[test]
fn five_hundred_contacts_on_one_run() {
    let site = site(&of_contacts(500, false));
    let readings = loops::of_zone(&site, zones(&site)[0]).unwrap();
    // At rest, one to 500 in alarm (each alone, then by count, then all), and three faults of the one run.
    assert_eq!(readings.states.len(), 1 + 500 + 498 + 1 + 3);
    let all = readings.states.iter().find(|reading| reading.state == State::AllAlarms).unwrap();
    assert!((all.ohms.greatest - (500.0 * 1050.0 + 2310.0)).abs() < 1.0, "{:?}", all.ohms);
    let some = readings.states.iter().find(|reading| reading.state == State::Alarms(250)).unwrap();
    assert!((some.ohms.nominal - (250.0 * 1000.0 + 250.0 * 0.075 + 2200.0)).abs() < 1.0, "{:?}", some.ohms);
}

#[test]
fn five_hundred_runs_of_one_contact() {
    let site = site(&of_contacts(500, true));
    let readings = loops::of_zone(&site, zones(&site)[0]).unwrap();
    assert_eq!(readings.states.len(), 1 + 500 + 498 + 1 + 3 * 500);
    let cut = readings.states.iter().filter(|reading| matches!(reading.state, State::Cut(_)));
    assert!(cut.clone().all(|reading| reading.ohms.greatest.is_infinite()));
    assert_eq!(cut.count(), 500);
}
