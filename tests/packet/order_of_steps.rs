//! The order of the steps of a work order: what is lifted comes before what lands, a board after its conductors, a thing that
//! moves after it is down; and what becomes of a conductor that is free.

use loopwright::compiled::Compiled;
use loopwright::register::Register;
use loopwright::views::work_order::{Remarks, Sides, Step, WorkOrder};

use super::sites::{FULL, full_site, site, site_after};

fn order(old: &Compiled, new: &Compiled) -> WorkOrder {
    WorkOrder::of(&Sides::of(old, new), &Remarks::default())
}

/// The full house, and what it becomes with the labels that it has.
fn kept(new: &str) -> WorkOrder {
    let (old, register) = site_after(FULL, &Register::default());
    order(&old, &site_after(new, &register).0)
}

/// The steps of the place that has one with these words.
fn place<'o>(order: &'o WorkOrder, words: &str) -> &'o [Step] {
    let has = |steps: &&[Step]| steps.iter().any(|step| step.text.contains(words));
    order.places.iter().map(|place| place.steps.as_slice()).find(has).unwrap_or_else(|| panic!("{:#?}", order.places))
}

fn at(steps: &[Step], kind: &str, words: &str) -> usize {
    let found = steps.iter().position(|step| step.kind == kind && step.text.starts_with(words));
    found.unwrap_or_else(|| panic!("{kind} {words} in {steps:#?}"))
}

#[test]
fn what_is_lifted_in_a_place_comes_before_what_lands_there() {
    let swapped =
        FULL.replace("input=1 {", "input=9 {").replace("input=2 {", "input=1 {").replace("input=9 {", "input=2 {");
    let swapped = swapped.replace("board=\"expander\" input=2", "board=\"expander\" input=1");
    let order = order(&full_site(), &site(&swapped));
    let steps = place(&order, "terminal I1");
    let lifted = [
        "Z1 BK: off Main panel, terminal I1; it is landed again",
        "Z2 GN: off Main panel, terminal I2; it is landed again",
    ];
    let landed = ["Z1 BK: to Main panel, terminal I2", "Z2 GN: to Main panel, terminal I1"];
    for (lift, land) in lifted.iter().flat_map(|lift| landed.iter().map(move |land| (lift, land))) {
        assert!(at(steps, "remove", lift) < at(steps, "land", land), "{steps:#?}");
    }
}

#[test]
fn a_conductor_that_is_free_is_capped() {
    let bare = "detector \"motion\" supply=\"aux\" title=\"Motion, hall\" mount=(ft)7.5 tamper=#true";
    assert!(FULL.contains(bare));
    let order = kept(&FULL.replace(bare, "contact \"reed\" title=\"Motion, hall\" mount=(ft)7.5"));
    for conductor in
        ["Z2 RD: off Supply strip, terminal 1+", "Z2 BK: off Supply strip, terminal 1-", "Z2 RD: off Motion, hall"]
    {
        let steps = place(&order, conductor);
        let step = &steps[at(steps, "remove", conductor)];
        assert!(step.text.ends_with("; free now: cap it, park it and mark it"), "{}", step.text);
    }
}

/// A module in the place of another one, on whose terminals its loops stay till they are lifted.
#[test]
fn a_board_is_taken_down_after_its_conductors_are_off() {
    let module = "module \"expander\" title=\"Expander\" part=\"expander-a\" address=2 inputs-from=5";
    assert!(FULL.contains(module));
    let new = FULL
        .replace(module, "module \"successor\" title=\"Second one\" part=\"expander-a\" address=7 inputs-from=5")
        .replace("board=\"expander\"", "board=\"successor\"");
    let order = kept(&new);
    let steps = place(&order, "off Expander, terminal 1");
    let down = steps.iter().position(|step| step.kind == "remove" && step.text == "Expander").unwrap();
    assert!(at(steps, "remove", "Z4 GN: off Expander, terminal 1") < down, "{steps:#?}");
    assert!(down < at(steps, "mount", "Second one"), "{steps:#?}");
}

#[test]
fn a_thing_goes_up_in_another_room_after_it_is_down() {
    let there = FULL.replace("run \"six\" length=(ft)45 room=\"hall\"", "run \"six\" length=(ft)50 room=\"landing\"");
    let moved = kept(&there);
    let steps = place(&moved, "after it is down");
    assert!(steps[at(steps, "mount", "Motion, hall")].text.ends_with("; after it is down in Hall"), "{steps:#?}");
    let run = "run \"bus-cable\" length=(ft)30 room=\"hall\"";
    let board = kept(&FULL.replace(run, "run \"bus-cable\" length=(ft)30 room=\"landing\""));
    let steps = place(&board, "Hall keypad (Keypad)");
    assert!(
        steps[at(steps, "mount", "Hall keypad (Keypad)")].text.ends_with("; after it is down in Hall"),
        "{steps:#?}"
    );
}

/// A cable of another zone joins two loops in series: whoever joins by name alone gets them side by side.
#[test]
fn a_pair_that_is_used_for_another_loop_is_told_as_a_whole() {
    let (head, tail) = FULL.split_once("zone 1 ").unwrap();
    let tail = &tail[tail.find("zone 2 ").unwrap()..];
    let zone = "zone 9 \"Both openings\" type=\"perimeter\" area=\"house\" {
    loop \"end-of-line\" board=\"main\" input=1 {
        run \"pair\" length=(ft)38 room=\"hall\" label=\"Z1\" {
            run \"pair\" length=(ft)5 room=\"hall\" { contact \"reed\" on=\"front\"; }
            run \"pair\" length=(ft)6 room=\"hall\" { contact \"reed\" on=\"side\"; resistor \"2k2\"; }
        }
    }
}
";
    let order = kept(&format!("{head}{zone}{tail}"));
    let steps = place(&order, "Z1: ");
    let text = &steps[at(steps, "land", "Z1: ")].text;
    assert!(text.starts_with("Z1: BK → on by Z9-2 (") && text.matches(" → on by ").count() == 2, "{text}");
    assert!(text.ends_with(" → RD"), "{text}");
    assert!(steps.iter().all(|step| step.kind != "land" || !step.text.starts_with("Z1 ")), "{steps:#?}");
    assert!(steps[at(steps, "remove", "Z1 BK: ")].text.ends_with("; it is landed again"), "{steps:#?}");
}

/// The contact of the cover comes into the loop: at the far end alone a conductor goes to another terminal.
#[test]
fn another_terminal_at_the_far_end_is_a_step() {
    let bare = "title=\"Motion, hall\" mount=(ft)7.5 tamper=#true";
    assert!(FULL.contains(bare));
    let without = FULL.replace(bare, "title=\"Motion, hall\" mount=(ft)7.5");
    let order = order(&site(&without), &full_site());
    let steps = place(&order, "Z2: ");
    let text = &steps[at(steps, "land", "Z2: ")].text;
    assert!(text.contains("Motion, hall: tamper, then alarm") && text.contains("Until now: "), "{text}");
    assert!(order.pull.is_empty() && order.measure.iter().any(|row| row.zone == "2"), "{order:?}");
}

/// Two zones change their numbers: a pair that meets what it met is not landed for it.
#[test]
fn a_pair_of_a_zone_with_another_number_is_not_landed_again() {
    let swapped =
        FULL.replace("zone 1 \"", "zone 8 \"").replace("zone 3 \"", "zone 1 \"").replace("zone 8 \"", "zone 3 \"");
    let order = kept(&swapped);
    let mut steps = order.places.iter().flat_map(|place| &place.steps);
    assert!(!steps.any(|step| step.kind == "land" && step.text.starts_with("Z1: ")), "{:#?}", order.places);
}

/// The resistor at the end of a cable that is pulled anew is not bought, so it is kept.
#[test]
fn what_is_used_again_at_the_end_of_a_cable_is_kept() {
    let run = "run \"six\" length=(ft)45 room=\"hall\"";
    let order = kept(&FULL.replace(run, "run \"six\" length=(ft)50 room=\"hall\""));
    let steps = place(&order, "used again");
    assert!(
        steps[at(steps, "remove", "Z2, the old cable")].text.contains("keep what is at its end, 2.2 kΩ"),
        "{steps:#?}"
    );
}
