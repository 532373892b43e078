//! The second demo, an older house: it compiles, its findings are the accepted ones, and its terminal schedule, which is
//! kept here, has every screw of every board, with nothing in use that is told to be free.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use loopwright::session::{self, Outcome};

use crate::demos;
use crate::golden::{self, root};
use crate::packet::sites::unlinked;

static COMPILED: LazyLock<Outcome> = LazyLock::new(|| session::compile(&[], &demos::files("larch-bungalow")));

fn file(outcome: &Outcome, name: &str) -> String {
    String::from_utf8(outcome.bundle.as_ref().unwrap().files[name].clone()).unwrap()
}

#[test]
fn only_accepted_findings_are_left() {
    let open: Vec<String> =
        COMPILED.diagnostics.iter().filter(|found| found.accepted.is_none()).map(|found| found.title.clone()).collect();
    assert_eq!(open, [""; 0]);
}

#[test]
fn the_schedule_is_as_it_was_read() {
    let schedule = file(&COMPILED, "terminal-schedule.md");
    if let Err(different) = golden::compare("tests/larch_bungalow/terminal-schedule.md", schedule.as_bytes()) {
        panic!("{different}");
    }
}

/// Every mark of every board stands on the schedule, and one on which the register has a conductor is not free.
#[test]
fn every_screw_is_there_and_none_in_use_is_free() {
    let schedule = file(&COMPILED, "terminal-schedule.csv");
    let mut rows = schedule.lines();
    let head: Vec<&str> = rows.next().unwrap().split(',').collect();
    let column = |name: &str| head.iter().position(|cell| *cell == name).unwrap_or_else(|| panic!("{name}: {head:?}"));
    let (board, terminal, state) = (column("board"), column("terminal"), column("state"));
    let mut on: BTreeMap<(String, String), BTreeSet<String>> = BTreeMap::new();
    for row in rows {
        let cells: Vec<&str> = row.split(',').map(|cell| cell.trim_matches('"')).collect();
        on.entry((cells[board].to_owned(), cells[terminal].to_owned())).or_default().insert(cells[state].to_owned());
    }
    let json: serde_json::Value = serde_json::from_str(&file(&COMPILED, "site.json")).unwrap();
    let text = |value: &serde_json::Value| value.as_str().unwrap().to_owned();
    let titles: BTreeMap<String, String> =
        json["boards"].as_array().unwrap().iter().map(|row| (text(&row["name"]), text(&row["title"]))).collect();
    let register = std::fs::read_to_string(root().join("specs/larch-bungalow/register.kdl")).unwrap();
    let mut used = 0;
    for landing in register.split("near=\"").skip(1).chain(register.split("far=\"").skip(1)) {
        let (name, mark) = landing.split_once('"').unwrap().0.split_once(' ').unwrap();
        let here = &on[&(titles[name].clone(), mark.split('#').next().unwrap().trim().to_owned())];
        assert_eq!(here.iter().collect::<Vec<_>>(), ["in use"], "{name} {mark}");
        used += 1;
    }
    assert!(used > 60, "{used} landings");
}

/// A strip's way has one cable: its plus and its minus are not on two.
#[test]
fn a_way_of_the_strip_has_one_cable() {
    let schedule = unlinked(&file(&COMPILED, "terminal-schedule.md"));
    let strip = schedule.split("\n## ").find(|part| part.starts_with("Detector supply strip")).unwrap();
    let cable = |mark: &str| {
        strip.lines().find(|row| row.starts_with(&format!("| **{mark}** |"))).unwrap().split('|').nth(2).unwrap().trim()
    };
    for way in 1..=4 {
        let (plus, minus) = (cable(&format!("{way}+")), cable(&format!("{way}-")));
        assert!(plus == minus || plus == "*free*" || minus == "*free*", "way {way}: {plus} and {minus}");
    }
}

/// Whoever goes from place to place measures an old cable before a conductor of it is landed, at whichever of its ends that is.
#[test]
fn an_old_cable_is_identified_before_it_is_landed() {
    let order = file(&COMPILED, "installation-order.md");
    let of = |kind: &str| {
        let start = format!("- [ ] *{kind}* ");
        let steps = order.lines().enumerate().filter_map(move |(at, line)| Some((at, line.strip_prefix(&start)?)));
        steps.map(|(at, text)| (text.split([',', ':', ' ']).next().unwrap(), at, text)).collect::<Vec<_>>()
    };
    let finds = of("find");
    let identified: BTreeMap<&str, usize> =
        finds.iter().filter(|(.., text)| text.contains("identify both")).map(|(label, at, _)| (*label, *at)).collect();
    assert!(identified.len() > 5 && finds.len() == 2 * identified.len(), "{finds:#?}");
    for (label, at, text) in of("land").into_iter().chain(finds) {
        assert!(identified.get(label).is_none_or(|found| *found <= at), "{text}");
    }
}
