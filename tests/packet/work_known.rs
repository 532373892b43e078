//! What the comparison of two revisions knows: which cable is which, what the rooms and the registers say of it.

use loopwright::compiled::Compiled;
use loopwright::register::{Register, State};
use loopwright::views::work_order::{Remarks, Sides, Step, WorkOrder};

use super::sites::{FULL, full_site, site, site_after};

fn order(old: &Compiled, new: &Compiled) -> WorkOrder {
    WorkOrder::of(&Sides::of(old, new), &Remarks::default())
}

fn texts(steps: &[Step]) -> String {
    steps.iter().map(|step| format!("{}\n", step.text)).collect()
}

fn at_places(order: &WorkOrder, kind: &str) -> String {
    let steps = order.places.iter().flat_map(|place| &place.steps).filter(|step| step.kind == kind);
    steps.map(|step| format!("{}\n", step.text)).collect()
}

/// Lines of a text that start so.
fn count(text: &str, start: &str) -> usize {
    text.lines().filter(|line| line.starts_with(start)).count()
}

/// FULL without a zone.
fn without(number: u32, next: u32) -> String {
    let (head, tail) = FULL.split_once(&format!("zone {number} ")).unwrap();
    format!("{head}{}", &tail[tail.find(&format!("zone {next} ")).unwrap()..])
}

#[test]
fn a_board_in_another_room_has_all_its_cables_pulled_anew() {
    let new = FULL.replace("part=\"control-a\" room=\"plant\"", "part=\"control-a\" room=\"store\"");
    let order = order(&full_site(), &site(&new));
    let (pull, removed, landed) = (texts(&order.pull), at_places(&order, "remove"), at_places(&order, "land"));
    for label in ["Z1", "Z2", "Z3", "Z3-2", "DATA-1", "SOUNDERS-1"] {
        assert_eq!(count(&pull, &format!("{label}: ")), 1, "{label} in {pull}");
        assert_eq!(count(&removed, &format!("{label}, the old cable ")), 2, "{label} in {removed}");
        assert!(count(&landed, &format!("{label} at ")) == 1, "{label} in {landed}");
    }
    for stays in ["Z1-2", "DATA-2", "DATA-3", "Z4"] {
        assert_eq!(count(&pull, &format!("{stays}: ")), 0, "{stays} in {pull}");
    }
    let measured: Vec<&str> = order.measure.iter().map(|row| row.zone.as_str()).collect();
    assert_eq!(measured, ["1", "2", "3", "4"], "zone 4's supply comes from there");
    let walk = texts(&order.walk);
    for tried in ["Zone 1 ", "Zone 2 ", "Zone 3 ", "Zone 4 "] {
        assert_eq!(count(&walk, tried), 1, "{tried} in {walk}");
    }
    assert!(walk.contains(" sounds\n"), "{walk}");
}

/// The room decides, not the length.
#[test]
fn a_cable_to_another_room_is_pulled_anew() {
    let new = FULL.replace("run \"six\" length=(ft)45 room=\"hall\"", "run \"six\" length=(ft)45 room=\"store\"");
    let order = order(&full_site(), &site(&new));
    assert_eq!(count(&texts(&order.pull), "Z2: "), 1, "{:?}", order.pull);
    assert_eq!(count(&at_places(&order, "remove"), "Z2, the old cable"), 2);
    // Zone 1 has its return under the same screw.
    assert_eq!(order.measure.iter().map(|row| row.zone.as_str()).collect::<Vec<_>>(), ["1", "2"]);
    // One that was in the wall before cannot have gone there: it is looked for.
    let existing = |text: &str| text.replace("run \"six\" length=(ft)45", "run \"six\" existing=#true length=(ft)45");
    let found = super::work_known::order(&site(&existing(FULL)), &site(&existing(&new)));
    assert!(found.pull.is_empty() && at_places(&found, "find").contains("Z2, in the wall already"), "{found:?}");
}

#[test]
fn a_dead_cable_that_comes_back_is_found_and_neither_bought_nor_pulled() {
    let (_, register) = site_after(FULL, &Register::default());
    let spec = without(2, 3);
    for off in [false, true] {
        let (_, mut dead) = site_after(&spec, &register);
        let entry = dead.cables.iter_mut().find(|entry| entry.label == "Z2").unwrap();
        entry.state = State::Dead { because: "zone 2 is gone".into(), off };
        let (before, dead) = site_after(&spec, &dead);
        let (after, _) = site_after(FULL, &dead);
        let order = order(&before, &after);
        assert!(order.pull.is_empty(), "{:?}", order.pull);
        assert!(!order.buy.iter().any(|item| item.what.contains("for 1 cable")), "{:?}", order.buy);
        let found = at_places(&order, "find");
        assert!(found.contains("Z2 is in the wall, dead until now (22 AWG, 6 conductors)"), "{found}");
        assert_eq!(found.contains("perhaps still on its terminals"), !off, "{found}");
        assert_eq!(count(&at_places(&order, "land"), "Z2 at "), 1);
    }
}

/// A room that was a slip, compiled and put right: what is in the wall is neither pulled nor bought again, whether the register of
/// the slip goes before or after.
#[test]
fn a_cable_is_not_pulled_again_where_its_successor_never_was() {
    let (_, register) = site_after(FULL, &Register::default());
    let slip = FULL.replace("run \"six\" length=(ft)45 room=\"hall\"", "run \"six\" length=(ft)45 room=\"store\"");
    let (slip, register) = site_after(&slip, &register);
    for back in [full_site(), site_after(FULL, &register).0] {
        let order = order(&slip, &back);
        assert!(order.pull.is_empty() && order.out.is_empty(), "{:?} {:?}", order.pull, order.out);
        assert!(!order.buy.iter().any(|item| item.what.contains("for 1 cable")), "{:?}", order.buy);
        let found = at_places(&order, "find");
        assert!(
            found.contains("Z2 is in the wall, dead until now (22 AWG, 6 conductors), labelled Z2 or Z2-OLD"),
            "{found}"
        );
        assert_eq!(at_places(&order, "remove").matches("as never pulled").count(), 2);
        assert!(!order.paper.iter().any(|step| step.text.contains("add this line")), "{:?}", order.paper);
    }
}

/// Two labels in the new register are two cables, however alike they are.
#[test]
fn a_cable_that_the_register_has_as_dead_was_not_labelled_anew() {
    let (before, register) = site_after(FULL, &Register::default());
    let (_, mut dead) = site_after(&without(2, 3), &register);
    let entry = dead.cables.iter_mut().find(|entry| entry.label == "Z2").unwrap();
    entry.state = State::Dead { because: "zone 2 is gone".into(), off: true };
    let porch = "level \"out\" title=\"Outside\" storey=-1 { room \"porch\" title=\"Porch\"; }\n";
    let new =
        FULL.replace("run \"six\" length=(ft)45 room=\"hall\"", "run \"six\" length=(ft)44 room=\"porch\"") + porch;
    let (after, _) = site_after(&new, &dead);
    let found = order(&before, &after);
    assert_eq!(count(&texts(&found.pull), "Z2-2: "), 1, "{:?}", found.pull);
    assert_eq!(count(&at_places(&found, "remove"), "Z2 ("), 2, "{}", at_places(&found, "remove"));
    assert!(!at_places(&found, "label").contains("becomes"), "{}", at_places(&found, "label"));
    // Given in so many words, another label is another label.
    let labelled = FULL.replace("run \"six\" length=(ft)45", "run \"six\" label=\"HALL\" length=(ft)45");
    let found = order(&before, &site_after(&labelled, &register).0);
    assert!(at_places(&found, "label").contains("Z2 becomes HALL") && found.pull.is_empty(), "{found:?}");
}

/// A room that all but its name tells from another is that other only where the cables say nothing else.
#[test]
fn a_room_is_not_renamed_where_its_cable_is_dead() {
    let (before, register) = site_after(FULL, &Register::default());
    let (_, mut dead) = site_after(&without(3, 4), &register);
    for entry in dead.cables.iter_mut().filter(|entry| entry.label.starts_with("Z3")) {
        entry.state = State::Dead { because: "zone 3 is gone".into(), off: true };
    }
    let new = FULL
        .replace("room \"store\" title=\"Store\"", "room \"porch\" title=\"Porch\"")
        .replace("\"store-window\"", "\"porch-window\"")
        .replace("Store window", "Porch window")
        .replace("room=\"store\"", "room=\"porch\"");
    let (after, _) = site_after(&new, &dead);
    let sides = Sides::of(&before, &after);
    let summary = WorkOrder::of(&sides, &Remarks::default()).summary;
    assert!(!sides.found.diff.renamed.keys().any(|subject| subject.key == "store-window"), "{summary}");
}

#[test]
fn a_detector_exchanged_for_its_like_is_bought_mounted_and_tried() {
    let new = FULL.replace("made=\"2026-02-28\"", "made=\"2036-01-10\"");
    let order = order(&full_site(), &site(&new));
    let mount = at_places(&order, "mount");
    assert!(mount.contains("Smoke, landing: take down the old one, mount the new one; write the day on it"), "{mount}");
    let land = at_places(&order, "land");
    assert!(land.contains("Z4: off the old one, resistors too; on the new one: "), "{land}");
    let listed = |items: &[loopwright::views::work_order::Item]| -> Vec<String> {
        items.iter().map(|item| format!("{} {}", item.count, item.what)).collect()
    };
    assert_eq!(listed(&order.buy), ["1 Smoke detector, generic"]);
    assert_eq!(listed(&order.back), ["1 Smoke detector, generic"]);
    assert!(texts(&order.off).contains("Tell everybody in the house") && texts(&order.walk).contains("Zone 4 "));
    // A day that is put right, or written down for the first time, exchanges nothing.
    for earlier in
        [FULL.replace("made=\"2026-02-28\"", "made=\"2026-02-27\""), FULL.replace(" made=\"2026-02-28\"", "")]
    {
        let order = super::work_known::order(&full_site(), &site(&earlier));
        assert!(order.buy.is_empty() && order.places.is_empty(), "{order:?}");
    }
}

/// A resistor across a contact changes nothing at rest: its alarm is what proves it.
#[test]
fn a_reading_in_alarm_that_changed_is_measured() {
    let new = FULL.replace("contact \"reed\" on=\"front\"", "contact \"reed\" on=\"front\" shunt=\"4k7\"");
    let order = order(&full_site(), &site(&new));
    let rows: Vec<_> = order.measure.iter().filter(|row| row.zone == "1").collect();
    let [rest, alarm] = rows.as_slice() else { panic!("{rows:?}") };
    assert_eq!(rest.was, "", "it reads as before at rest: {rest:?}");
    assert!(alarm.ohms.starts_with("6.9") && alarm.was.starts_with("open"), "{alarm:?}");
    assert!(order.summary.contains("1 loop reading changed"), "{}", order.summary);
}

/// A reading is of a zone's number, and says nothing of the loop that has this number now.
#[test]
fn readings_of_before_the_work_are_outdated() {
    let new = FULL.replace("length=(ft)38", "length=(ft)60");
    let told = texts(&order(&full_site(), &site(&new)).paper);
    assert!(
        told.contains("Readings of zone 1 that were taken before this work are of the loops as they were"),
        "{told}"
    );
    let new = FULL.replace("length=(ft)22", "length=(ft)52");
    assert!(!texts(&order(&full_site(), &site(&new)).paper).contains("Readings of"), "none of zone 3");
}
