//! What a work order says of a thing that was in the house before and is said no more to have been: it is exchanged.

use loopwright::register::Register;
use loopwright::views::work_order::{Remarks, Sides, WorkOrder};

use super::order_remodel::{HEADER, HOUSE, in_order, kept, said, zone};
use super::sites::site_after;

const BATTERY: &str = "battery capacity=(Ah)12 installed=\"2027-01-01\"";

/// A house in which all was there before, the second time with some of it exchanged.
fn exchanged(edits: &[(&str, &str)]) -> WorkOrder {
    let old = HEADER
        .replace(BATTERY, "battery capacity=(Ah)12 existing=#true")
        .replace("rating=(VA)75", "rating=(VA)75 existing=#true");
    let old = old.replace("part=\"control-a\" room=\"lobby\"", "part=\"control-a\" room=\"lobby\" existing=#true");
    let old = format!(
        "{old}{HOUSE}zone 1 \"One\" type=\"perimeter\" area=\"all\" {{ loop \"end-of-line\" board=\"board-a\" {{ \
         run \"pair\" length=(ft)20 existing=#true {{ contact \"reed\" on=\"w1\" existing=#true; resistor \"2k2\" }} }} }}\n\
         zone 2 \"Two\" type=\"interior\" area=\"all\" {{ loop \"end-of-line\" board=\"board-a\" {{ \
         run \"quad\" length=(ft)20 room=\"hall\" existing=#true {{ detector \"motion\" supply=\"aux\" existing=#true; resistor \"2k2\" }} }} }}\n"
    );
    let new = edits.iter().fold(old.clone(), |text, (from, to)| {
        assert!(text.contains(from), "{from} in {text}");
        text.replace(from, to)
    });
    let (old, register) = site_after(&old, &Register::default());
    WorkOrder::of(&Sides::of(&old, &site_after(&new, &register).0), &Remarks::default())
}

#[test]
fn a_battery_that_was_there_is_exchanged_for_one_that_was_not() {
    for day in ["", " installed=\"2027-02-01\""] {
        let order = exchanged(&[("(Ah)12 existing=#true", &format!("(Ah)12{day}"))]);
        in_order(
            &said(&order),
            &["buy: 1 Battery, 12 V 12 Ah", "mount: board-a: take the old battery out, put the new one in"],
        );
        assert!(order.back.iter().any(|item| item.what.contains("Battery")), "{:?}", order.back);
    }
}

/// It was there before a day on which it was put in: one of the two is wrong, and nobody is told to take out what is good.
#[test]
fn a_day_of_what_was_there_is_asked_for_where_it_comes_later() {
    let order = |day: &str| {
        said(&exchanged(&[("(Ah)12 existing=#true", &format!("(Ah)12 existing=#true installed=\"{day}\""))]))
    };
    assert!(order("2027-06-01").contains("check: board-a: its battery, there before 2027-06-01: was it exchanged?"));
    assert!(
        order("2020-06-01").contains("check: board-a: write on its battery the day that it was put in, 2020-06-01")
    );
    assert!(!order("2027-06-01").contains("buy: "));
}

#[test]
fn a_contact_a_detector_and_a_transformer_are_exchanged() {
    let order = exchanged(&[
        ("on=\"w1\" existing=#true", "on=\"w1\""),
        ("supply=\"aux\" existing=#true", "supply=\"aux\""),
        ("rating=(VA)75 existing=#true", "rating=(VA)75"),
    ]);
    let said = said(&order);
    for wanted in [
        "buy: 1 Reed contact",
        "buy: 1 Motion detector",
        "buy: 1 Transformer",
        "Window one (Hall): take down the old one, mount the new one",
        "take down the old one, mount the new one",
        "board-a: take the transformer 16.5 V, 75 VA (lobby, no switch) down, mount the transformer 16.5 V",
    ] {
        assert!(said.contains(wanted), "{wanted} in {said}");
    }
    assert_eq!(order.back.len(), 3, "{:?}", order.back);
    assert!(order.off.iter().any(|step| step.text.contains("unplug the transformer")), "{:?}", order.off);
}

#[test]
fn a_board_that_was_there_is_exchanged_for_another_of_the_same() {
    let order = exchanged(&[("room=\"lobby\" existing=#true", "room=\"lobby\"")]);
    let said = said(&order);
    in_order(
        &said,
        &["buy: 1 ", "board-a: photograph and take down the old Control", "mount the new Control", "back on board-a: "],
    );
    assert!(order.program.iter().any(|step| step.text.contains("it is blank")), "{:?}", order.program);
}

/// Who takes it down reads the name that is on it.
#[test]
fn an_old_board_goes_by_its_old_title_until_it_is_down() {
    let zone = zone(1, "run \"pair\" length=(ft)20 room=\"hall\" { contact \"reed\" on=\"w1\"; resistor \"2k2\"; }");
    let spec = |title: &str, part: &str| {
        let header = HEADER.replace("part=\"control-a\"", &format!("title=\"{title}\" part=\"{part}\""));
        format!("{header}{HOUSE}{zone}")
    };
    let (old, register) = site_after(&spec("Old panel", "control-a"), &Register::default());
    let (new, _) = site_after(&spec("New panel", "control-z"), &register);
    let order = WorkOrder::of(&Sides::of(&old, &new), &Remarks::default());
    let said = said(&order);
    assert!(said.contains("remove: Z1 at Old panel: "), "{said}");
    assert!(said.contains("mount: Old panel: photograph and take down the Control board"), "{said}");
    assert!(said.contains("mount the Other board in its place: New panel; "), "{said}");
    assert!(said.contains("land: Z1, back on New panel: "), "{said}");
    assert!(!said.contains("remove: Z1 at New panel"), "{said}");
}

/// A zone that was kept for later was nowhere.
#[test]
fn a_zone_that_was_kept_for_later_has_not_moved() {
    let later = "zone 1 \"Zone 1\" type=\"perimeter\" area=\"all\" reserved=#true\n";
    let wired = zone(1, "run \"pair\" length=(ft)20 room=\"hall\" { contact \"reed\" on=\"w1\"; resistor \"2k2\"; }");
    let order = kept(later, (&wired, "control-a"));
    assert!(order.changes.iter().all(|line| line.what != "moved"), "{:#?}", order.changes);
}
