//! What things are called: in a site no two of a kind have one word, on the screen or on paper.

use std::collections::BTreeSet;

use loopwright::calc::State;
use loopwright::calc::diagnose::Measured;
use loopwright::compiled::Compiled;
use loopwright::model::{Owner, Source};
use loopwright::views::diagnosis;
use loopwright::words::{self, Medium, Paper, Screen};

use crate::alder_mill::AlderMill;
use crate::packet::sites::{full_site, of_files, site};

/// Two detectors of one part without names or titles, in two rooms; two rooms and two boards of one title.
const TWINS: &str = r#"site "twins" title="Twins"
include "../parts/example.kdl"
level "l" title="Level" { room "hall" title="Hall"; room "east" title="Bedroom"; }
level "m" title="Upper" { room "west" title="Bedroom"; }
panel "p" title="Board" part="control-a" room="hall"
panel "q" title="Board" part="control-a" room="hall"
area "a" title="Area"
zone 1 "Smoke" type="smoke" area="a" {
    loop "end-of-line" board="p" input=1 {
        run "quad" length=(ft)10 room="east" { detector "smoke" supply="fire"; }
        run "quad" length=(ft)10 room="west" { detector "smoke" supply="fire"; resistor "2k2"; }
    }
}
"#;

fn told_apart(what: &str, words: impl Iterator<Item = String>) {
    let mut seen = BTreeSet::new();
    for word in words {
        assert!(!word.is_empty(), "{what} without a word");
        assert!(seen.insert(word.clone()), "two {what} are called {word:?}");
    }
}

fn no_two_have_one_word(made: &Compiled, medium: Medium) {
    let Compiled { site, wiring, loops, power, .. } = made;
    told_apart("rooms", site.rooms.entries().map(|(id, _)| words::room(site, Some(id))));
    told_apart("boards", site.boards.entries().map(|(id, _)| medium.board(site, id)));
    let sources = power.feedings.iter().map(|feeding| feeding.tree.source);
    told_apart("sources", sources.map(|source: Source| medium.source(site, source)));
    let owners: BTreeSet<Owner> = site.runs.iter().map(|run| run.owner).collect();
    told_apart("owners", owners.into_iter().map(|owner| medium.owner(site, owner)));
    for readings in loops.values() {
        let states = readings.states.iter().map(|reading| medium.state(site, wiring, reading.state));
        told_apart("states", states);
    }
}

#[test]
fn no_two_things_of_a_site_have_one_word() {
    for made in [site(TWINS), full_site(), of_files(&AlderMill::new().files())] {
        no_two_have_one_word(&made, Screen);
        no_two_have_one_word(&made, Paper);
    }
}

#[test]
fn detectors_of_one_title_are_told_apart_by_their_rooms() {
    let made = site(TWINS);
    let (zone, readings) = made.loops.first_key_value().unwrap();
    let alarms = readings.states.iter().filter(|reading| matches!(reading.state, State::Alarm(_)));
    let said: Vec<String> = alarms
        .filter_map(|reading| diagnosis::of(&made, *zone, Measured::Ohms(reading.ohms.nominal)))
        .flat_map(|found| found.fits)
        .map(|fit| fit.text)
        .collect();
    for wanted in [
        "Smoke detector (Bedroom (Level)) in alarm (end of cable ",
        "Smoke detector (Bedroom (Upper)) in alarm (end of cable ",
    ] {
        assert!(said.iter().any(|text| text.starts_with(wanted)), "{said:#?}");
    }
}
