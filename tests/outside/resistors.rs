//! Preferred values, markings and bands against the Python library `eseries` and a second reading of IEC 60062.

use std::io::Write;
use std::process::{Command, Stdio};

use loopwright::quantity::preferred::{E24, E96, Series, neighbours};
use loopwright::quantity::{Ohms, Ratio, Resistance};

use super::{Recording, Said, numbers};

const SCRIPT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/outside/resistors.py");

/// A question with the numbers that the answer must begin with.
type Case = (String, Vec<f64>);

/// `digits` × 10^`power`, exactly as a reader of that text would have it.
fn ohms(digits: u16, power: i32) -> f64 {
    format!("{digits}e{power}").parse().unwrap()
}

/// The tables, and the neighbours of every `step`-th value of three digits.
fn preferred(step: usize) -> Vec<Case> {
    let mut cases = Vec::new();
    for (name, series, table) in [("e24", Series::E24, &E24[..]), ("e96", Series::E96, &E96[..])] {
        cases.push((format!("series {name}"), table.iter().map(|digits| f64::from(*digits)).collect()));
        for digits in (100..1000).step_by(step) {
            for power in [-2, 0, 1, 4] {
                let value = ohms(digits, power);
                let (below, above) = neighbours(Ohms(value), series).unwrap();
                cases.push((format!("neighbours {name} {value}"), vec![below.0, above.0]));
            }
        }
    }
    cases
}

/// What is printed on every `step`-th resistor.
fn printed(step: usize) -> Vec<Case> {
    let mut cases = Vec::new();
    for (table, tolerances) in [(&E24[..], [0.05, 0.1]), (&E96[..], [0.01, 0.02])] {
        for digits in table.iter().step_by(step) {
            for power in -2..=5 {
                for tolerance in tolerances {
                    let value = ohms(*digits, power);
                    let resistance = Resistance::new(Ohms(value)).with_tolerance(Ratio(tolerance));
                    let hues = resistance.bands().unwrap_or_else(|| panic!("{resistance} has no bands"));
                    let codes: Vec<&str> = hues.iter().map(|hue| hue.code()).collect();
                    cases.push((format!("bands {}", codes.join(" ")), vec![value, tolerance]));
                    // A marking may do without the letter.
                    cases.push((format!("marking {}", resistance.marking().unwrap()), vec![value, tolerance]));
                }
            }
        }
    }
    cases
}

fn python(arguments: &[&str], input: &str) -> Option<String> {
    let piped =
        Command::new("python3").arg(SCRIPT).args(arguments).stdin(Stdio::piped()).stdout(Stdio::piped()).spawn();
    let mut python = piped.ok()?;
    // The script answers while it reads, so both ends move at once. One that stopped early has closed its end; its own
    // message says why.
    let (mut stdin, input) = (python.stdin.take()?, input.to_owned());
    let writer = std::thread::spawn(move || stdin.write_all(input.as_bytes()));
    let output = python.wait_with_output().ok()?;
    let _ = writer.join();
    output.status.success().then(|| String::from_utf8_lossy(&output.stdout).into_owned())
}

fn version() -> Option<String> {
    python(&["--version"], "").map(|said| said.trim().to_owned())
}

fn compare(cases: &[Case], mut eseries: Said) {
    let questions: Vec<String> = cases.iter().map(|(question, _)| question.clone()).collect();
    let ask = || {
        let said = python(&[], &questions.join("\n")).expect("the script answers");
        said.lines().map(str::to_owned).collect()
    };
    let answers = eseries.answers(&questions, ask);
    assert_eq!(answers.len(), cases.len());
    for ((question, ours), answer) in cases.iter().zip(&answers) {
        let theirs: Vec<f64> = numbers(answer).collect();
        let count = if question.starts_with("marking") { theirs.len().clamp(1, 2) } else { ours.len() };
        assert_eq!(theirs.len(), count, "{question}: {answer}");
        for (ours, theirs) in ours.iter().zip(&theirs) {
            assert!((ours - theirs).abs() <= 1e-9 * theirs.abs(), "{question}: {ours} here, {answer} by eseries");
        }
    }
    eseries.finish();
}

#[test]
fn resistors_agree_with_eseries() {
    let Some(eseries) = Said::live(version(), "python3 with its library eseries") else { return };
    let cases = [preferred(1), printed(1)].concat();
    assert_eq!(cases.len(), 2 + 7200 + 2 * 1920);
    compare(&cases, eseries);
}

#[test]
fn resistors_agree_with_recorded_eseries() {
    let eseries = Said::Recorded(Recording::open("eseries", version));
    compare(&[preferred(13), printed(5)].concat(), eseries);
}
