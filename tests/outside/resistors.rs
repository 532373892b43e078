//! Preferred values, markings and bands against the Python library `eseries` and a second reading of IEC 60062.

use std::io::Write;
use std::process::{Command, Stdio};

use loopwright::quantity::preferred::{E24, E96, Series, neighbours};
use loopwright::quantity::{Ohms, Ratio, Resistance, bands};
use serde_json::{Value, json};

/// `digits` × 10^`power`, exactly as a reader of that text would have it.
fn ohms(digits: u16, power: i32) -> f64 {
    format!("{digits}e{power}").parse().unwrap()
}

fn neighbour_rows() -> Vec<Value> {
    let mut rows = Vec::new();
    for (name, series) in [("e24", Series::E24), ("e96", Series::E96)] {
        for digits in 100..1000 {
            for power in [-2, 0, 1, 4] {
                let value = ohms(digits, power);
                let (below, above) = neighbours(Ohms(value), series).unwrap();
                rows.push(json!({ "series": name, "value": value, "below": below.0, "above": above.0 }));
            }
        }
    }
    rows
}

fn resistor_rows() -> Vec<Value> {
    let mut rows = Vec::new();
    for (table, tolerances) in [(&E24[..], [0.05, 0.1]), (&E96[..], [0.01, 0.02])] {
        for digits in table {
            for power in -2..=5 {
                for tolerance in tolerances {
                    let value = ohms(*digits, power);
                    let resistance = Resistance::new(Ohms(value)).with_tolerance(Ratio(tolerance));
                    let bands = resistance.bands().map(|hues| bands::codes(&hues));
                    assert!(bands.is_some(), "{resistance} has no bands");
                    let marking = resistance.marking().unwrap();
                    rows.push(json!({ "ohms": value, "tolerance": tolerance, "marking": marking, "bands": bands }));
                }
            }
        }
    }
    rows
}

#[test]
fn resistors_agree_with_eseries() {
    let ours =
        json!({ "e24": &E24[..], "e96": &E96[..], "neighbours": neighbour_rows(), "resistors": resistor_rows() });
    let mut python = Command::new("python3")
        .arg(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/external/resistors.py"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("this check needs python3 with the library eseries: pip install eseries");
    // A script that stopped early has closed its end; its own message says why.
    let _ = python.stdin.take().unwrap().write_all(ours.to_string().as_bytes());
    let output = python.wait_with_output().unwrap();
    let said = [output.stdout, output.stderr].map(|bytes| String::from_utf8_lossy(&bytes).into_owned()).concat();
    assert!(output.status.success(), "{said}");
    assert!(said.contains("checked 7200 neighbours and 1920 resistors"), "{said}");
}
