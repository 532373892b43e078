//! What is one thing under two names, and what is not.

use loopwright::diff::{Consequence, Kind};

use super::{diff, said, whole};
use crate::packet::sites::FULL;

fn edited(edits: &[(&str, &str)]) -> String {
    let mut text = FULL.to_owned();
    for (old, new) in edits {
        assert!(text.contains(old), "{old}");
        text = text.replace(old, new);
    }
    text
}

fn changes(edits: &[(&str, &str)]) -> Vec<String> {
    said(&diff(FULL, &edited(edits)))
}

#[test]
fn a_name_that_changes_everywhere_is_a_new_name_and_nothing_else() {
    let everywhere = [("room \"hall\"", "room \"lobby\""), ("room=\"hall\"", "room=\"lobby\"")];
    assert_eq!(changes(&everywhere), ["Renamed room Hall"]);
    assert_eq!(changes(&[("\"landing\"", "\"stair\"")]), ["Renamed room Landing"]);
    assert_eq!(changes(&[("\"front\"", "\"main-door\"")]), ["Renamed door Front door"]);
    assert_eq!(changes(&[("\"smoke-generic\"", "\"smoke-b\"")]), ["Renamed part Smoke detector, generic"]);
    assert_eq!(changes(&[("\"six\"", "\"6-core\"")]), ["Renamed cable type 22 AWG, 6 conductors"]);
    assert_eq!(changes(&[("\"expander\"", "\"exp\"")]), ["Renamed module Expander"]);
    assert_eq!(changes(&[("\"house\"", "\"home\"")]), ["Renamed area House"]);
    assert_eq!(changes(&[("\"smoke-feed\"", "\"feed\"")])[..1], ["Renamed circuit Smoke supply"]);
    assert_eq!(
        changes(&[("name=\"smoke\"", "name=\"nose\""), ("feed \"smoke\"", "feed \"nose\"")]),
        ["Renamed detector Smoke, landing: name"]
    );
}

#[test]
fn a_zone_with_another_number_is_the_same_zone() {
    let found = changes(&[("zone 2 ", "zone 12 ")]);
    assert_eq!(
        found,
        ["Renamed zone 12 Motion beside the hall stairs", "Renamed cable Z12"],
        "its cable is labelled anew"
    );
}

#[test]
fn a_zone_on_another_input_or_board_has_moved() {
    let found = changes(&[("input=2", "input=6")]);
    assert_eq!(found[0], "Moved zone 2 Motion beside the hall stairs: input");
    assert!(found[1..].iter().all(|line| line.contains("conductor") && line.contains("near end")), "{found:?}");
    assert_eq!(found.len(), 3, "both conductors of the pair: {found:?}");
}

#[test]
fn a_detector_that_goes_to_another_room_or_zone_is_the_same_detector() {
    let found = changes(&[(
        "room=\"hall\" {\n            detector \"motion\"",
        "room=\"plant\" {\n            detector \"motion\"",
    )]);
    assert!(found.iter().any(|line| line.starts_with("Moved detector Motion, hall: room")), "{found:?}");
    assert!(!found.iter().any(|line| line.starts_with("Added") || line.starts_with("Removed")), "{found:?}");
}

#[test]
fn an_exchanged_part_is_a_change_of_the_device() {
    assert_eq!(
        changes(&[("detector \"smoke-generic\"", "detector \"smoke\"")]),
        ["Changed detector Smoke, landing: part"]
    );
}

#[test]
fn what_is_alike_beyond_doubt_is_one_and_what_is_not_is_two() {
    // Two rooms without anything go, two come: nobody can tell which is which.
    let base = |rooms: &str| format!("site \"x\"\nlevel \"l\" {{\n{rooms}}}\n");
    let found = said(&diff(&base("room \"a\"\nroom \"b\"\n"), &base("room \"c\"\nroom \"d\"\n")));
    assert_eq!(found, ["Removed room a", "Removed room b", "Added room c", "Added room d"]);
    // One bare name for another, with nothing that refers to either, is no renaming.
    assert_eq!(said(&diff(&base("room \"a\"\n"), &base("room \"b\"\n"))), ["Removed room a", "Added room b"]);
    // The same title is a sign.
    assert_eq!(
        said(&diff(&base("room \"a\" title=\"Den\"\n"), &base("room \"b\" title=\"Den\"\n"))),
        ["Renamed room Den"]
    );
}

#[test]
fn readings_landings_and_cable_follow_from_a_change() {
    let found = whole(
        FULL,
        &edited(&[
            ("length=(ft)45", "length=(ft)450"),
            ("input=1 {\n        run \"pair\" length=(ft)38", "input=7 {\n        run \"pair\" length=(ft)38"),
        ]),
    );
    let reads: Vec<u32> = found
        .consequences
        .iter()
        .filter_map(|consequence| if let Consequence::Reads { zone, .. } = consequence { Some(*zone) } else { None })
        .collect();
    assert_eq!(reads, [2], "only the longer loop's reading changed");
    let lands: Vec<&str> = found
        .consequences
        .iter()
        .filter_map(
            |consequence| if let Consequence::Lands { cable, .. } = consequence { Some(cable.as_str()) } else { None },
        )
        .collect();
    assert_eq!(lands, ["Z1", "Z1"]);
    assert_eq!(found.materials.cable.len(), 1);
    assert_eq!(found.materials.cable[0].1, 1);
    assert!((found.materials.cable[0].2.0 - 450.0 * 0.3048).abs() < 1e-9);
    assert!(found.pulled.iter().all(|subject| subject.kind == Kind::Cable && subject.key == "Z2"));
}

#[test]
fn a_shorter_cable_is_not_pulled_and_a_removed_one_gives_nothing_back() {
    let found = whole(FULL, &edited(&[("length=(ft)45", "length=(ft)40")]));
    assert!(found.pulled.is_empty() && found.materials.cable.is_empty());
    let without = edited(&[]);
    let (before, after) = without.split_once("zone 5").unwrap();
    let after = after.split_once("bus \"data\"").unwrap().1;
    let found = whole(&without, &format!("{before}bus \"data\"{after}"));
    assert_eq!(found.materials.back.len(), 1, "the wireless contact: {:?}", found.materials);
    assert!(found.materials.buy.is_empty());
}

#[test]
fn another_loop_under_an_old_number_has_no_reading_of_before() {
    // Zone 1 is gone with all that was in it, and zone 2 is called 1 now.
    let (before, rest) = FULL.split_once("zone 1 ").unwrap();
    let (_, after) = rest.split_once("zone 2 ").unwrap();
    let found = whole(FULL, &format!("{before}zone 1 {after}").replace("follows=#true note", "note"));
    let reads = found.consequences.iter().any(|one| matches!(one, Consequence::Reads { zone: 1, .. }));
    assert!(!reads, "{:?}", found.consequences);
}

/// What is on mains and what is at the end of a battery is no change of one another.
#[test]
fn a_battery_put_in_takes_no_volts() {
    let without = edited(&[("    battery capacity=(Ah)7 replace-after=(year)8\n", "")]);
    let volts = |found: &loopwright::diff::Comparison| {
        found.consequences.iter().filter(|one| matches!(one, Consequence::Volts { .. })).count()
    };
    assert_eq!(volts(&whole(&without, FULL)), 0);
    assert_eq!(volts(&whole(FULL, &without)), 0);
}
