//! `list`: the tables of the packet on the screen.

use serde_json::Value;

use super::{complaint, loopwright, text};
use crate::golden::root;

fn listed(arguments: &[&str]) -> String {
    let run = loopwright(root(), &[&["list"], arguments].concat());
    assert_eq!(run.status.code(), Some(0), "{arguments:?}: {}", text(&run.stderr));
    text(&run.stdout)
}

#[test]
fn the_rows_are_those_of_the_packet() {
    for (table, sheet) in [("cables", "wire-labels"), ("things", "rough-in"), ("loads", "power-sheet")] {
        let file = std::fs::read(root().join(format!("out/alder-mill/{sheet}.csv"))).unwrap();
        assert_eq!(listed(&[table, "specs/alder-mill", "--csv"]), text(&file), "{table}");
    }
}

#[test]
fn a_filter_leaves_the_rows_that_are_asked_for() {
    let zone = listed(&["loops", "specs/alder-mill", "zone=7", "state=at rest"]);
    assert_eq!(zone.lines().count(), 2, "{zone}");
    assert!(zone.lines().nth(1).unwrap().starts_with("7     Garden door, kitchen  Panel"), "{zone}");
    let json = listed(&["loops", "specs/alder-mill", "zone=7", "--format", "json"]);
    let json: Value = serde_json::from_str(&json).unwrap();
    assert!(json.as_array().unwrap().iter().all(|row| row["zone"] == "7") && json.as_array().unwrap().len() > 3);
    assert_eq!(listed(&["zones", "specs/alder-mill", "no such text"]), "no rows\n");
    // A length is found by its number as well.
    let cables = |wanted: &str| listed(&["cables", "specs/alder-mill", wanted, "--csv"]);
    let all = cables("length= ft");
    let length = all.lines().nth(1).unwrap().split(',').find(|cell| cell.ends_with(" ft")).unwrap().to_owned();
    let number = length.trim_end_matches(" ft");
    assert_eq!(cables(&format!("length={number}")), cables(&format!("length={length}")));
    assert_eq!(cables(&format!("length={number}.0 ft")), cables(&format!("length={length}")));
    // A part of a number is another number.
    let (tens, last) = number.split_at(number.len() - 1);
    assert!(!tens.is_empty());
    let rest = cables(&format!("length={last} ft"));
    assert!(rest.lines().skip(1).all(|line| line.contains(&format!(",{last} ft,"))), "{rest}");
}

#[test]
fn an_unknown_column_is_told_with_those_there_are() {
    let complained = complaint(root(), &["list", "cables", "specs/alder-mill", "colour=red"]);
    assert!(complained.contains("there is no column \"colour\"") && complained.contains("\"label\""), "{complained}");
}
