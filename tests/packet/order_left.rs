//! What a work order says of what the house had and keeps, of two things that are alike, and of words that nobody keys in.

use loopwright::register::Register;
use loopwright::views::work_order::{Remarks, Sides, Step, WorkOrder};

use super::order_remodel::{HEADER, HOUSE, in_order, said, zone};
use super::sites::{FULL, site_after};

/// The work order from one text to the next, the second after the first one's register.
fn order(old: &str, new: &str) -> WorkOrder {
    let (old, register) = site_after(old, &Register::default());
    WorkOrder::of(&Sides::of(&old, &site_after(new, &register).0), &Remarks::default())
}

/// A house whose header has something else in it.
fn house(edits: &[(&str, &str)], text: &str) -> String {
    let header = edits.iter().fold(HEADER.to_owned(), |header, (from, to)| {
        assert!(header.contains(from), "{from}");
        header.replace(from, to)
    });
    format!("{header}{HOUSE}{text}")
}

fn texts(steps: &[Step]) -> String {
    steps.iter().map(|step| format!("{}\n", step.text)).collect()
}

const CONTACT: &str = "run \"pair\" length=(ft)20 room=\"hall\" { contact \"reed\" on=\"w1\"; resistor \"2k2\"; }";
const BATTERY: &str = "battery capacity=(Ah)12 installed=\"2027-01-01\"";

#[test]
fn a_battery_of_the_house_is_found_once_and_left_where_it_is() {
    let there = format!("{BATTERY} existing=#true");
    let with = house(&[(BATTERY, &there)], &zone(1, CONTACT));
    let without = house(&[(BATTERY, "")], &zone(1, CONTACT));
    let found = order(&without, &with);
    assert!(said(&found).contains("inspect: board-a: its battery is there, 12 Ah"), "{}", said(&found));
    assert!(!said(&found).contains("mount: "), "{}", said(&found));
    in_order(&texts(&found.off), &["take one lead off the battery", "then unplug the transformer"]);
    assert_eq!(texts(&found.off).matches("must be dark").count(), 1, "{}", texts(&found.off));
    // Other work: what stays is off meanwhile, and on again.
    let more = house(&[(BATTERY, "")], &zone(1, CONTACT).replace("20 room", "30 room"));
    let lost = order(&with, &more);
    assert!(said(&lost).contains("inspect: board-a: battery 12 Ah was there before"), "{}", said(&lost));
    assert!(!said(&lost).contains("remove: board-a"), "{}", said(&lost));
    assert!(texts(&lost.after).contains("then put the battery lead back on"), "{}", texts(&lost.after));
    // One more that was there is not put in.
    let two = house(&[(BATTERY, &there.replace("(Ah)12", "(Ah)12 count=2 wired=\"parallel\""))], &zone(1, CONTACT));
    let beside = said(&order(&with, &two));
    assert!(beside.contains("inspect: board-a: 1 battery more than the spec had: 2 × 12 Ah"), "{beside}");
}

#[test]
fn what_is_taken_down_comes_back_though_the_house_had_it() {
    let old = zone(
        1,
        "run \"pair\" length=(ft)20 existing=#true { contact \"reed\" on=\"w1\" existing=#true; resistor \"2k2\"; }",
    );
    let gone = order(&house(&[], &old), &house(&[], ""));
    let back: Vec<String> = gone.back.iter().map(|item| format!("{} {}", item.count, item.what)).collect();
    assert_eq!(back.len(), 2, "{back:?}");
    assert!(back[0].contains("1 Reed contact") && back[1].contains("1 Resistor 2k2"), "{back:?}");
    // One of its kind that goes up is not bought.
    let other = said(&order(&house(&[], &old), &house(&[], &zone(1, &CONTACT.replace("w1", "w2")))));
    assert!(!other.contains("buy: 1 Resistor 2k2: 2.2 kΩ ±5 % (red red red gold)\n"), "{other}");
}

#[test]
fn two_things_alike_in_one_room_are_two_steps() {
    let circuit = |items: &str| {
        format!(
            "circuit \"loud\" board=\"board-a\" output=\"siren\" {{ run \"pair\" length=(ft)9 room=\"hall\" {{ {items} }}; }}\n"
        )
    };
    let one = house(&[], &circuit("sounder \"sounder\""));
    let three = house(&[], &circuit("sounder \"sounder\"; sounder \"sounder\"; sounder \"sounder\""));
    let steps = |said: &str, kind: &str| said.lines().filter(|line| *line == format!("{kind}: Sounder (Hall)")).count();
    assert_eq!(steps(&said(&order(&one, &three)), "mount"), 2, "{}", said(&order(&one, &three)));
    assert_eq!(steps(&said(&order(&three, &one)), "remove"), 2, "{}", said(&order(&three, &one)));
}

#[test]
fn a_detector_that_is_heard_by_radio_makes_no_board_dark() {
    let wireless = "zone 5 \"Shed door\" type=\"perimeter\" area=\"house\" {\n    wireless \"reed-wireless\" room=\"hall\" receiver=\"radio\" battery=\"2027-01-31\"\n}\n";
    assert!(FULL.contains(wireless));
    let gone = order(FULL, &FULL.replace(wireless, ""));
    assert!(said(&gone).contains("remove: Wireless reed contact (Hall)"), "{}", said(&gone));
    assert!(gone.off.is_empty() && gone.after.is_empty(), "{}", texts(&gone.off));
    let battery = order(FULL, &FULL.replace("battery=\"2027-01-31\"", "battery=\"2029-01-31\""));
    assert!(said(&battery).contains("buy: 1 Battery for: Wireless reed contact"), "{}", said(&battery));
}

#[test]
fn what_is_only_called_otherwise_is_keyed_in_nowhere() {
    let text = zone(1, CONTACT) + &zone(2, &CONTACT.replace("w1", "w2"));
    let board = "panel \"board-a\" part";
    let old = house(&[(board, "panel \"board-a\" title=\"Zone\" part")], &text);
    let new =
        house(&[(board, "panel \"board-a\" title=\"Box\" part"), ("title=\"Lobby\"", "title=\"Entrance\"")], &text);
    let new = new.replace("title=\"Window one\"", "title=\"Bay window\"");
    let renamed = order(&old, &new);
    assert_eq!(texts(&renamed.program), "", "titles of boards, rooms and openings");
    let circuit = |name: &str| {
        format!(
            "circuit \"{name}\" title=\"Bell\" board=\"board-a\" output=\"siren\" {{ run \"pair\" label=\"BELL\" length=(ft)9 room=\"hall\" {{ sounder \"sounder\"; }}; }}\n"
        )
    };
    let renamed = order(&house(&[], &circuit("loud")), &house(&[], &circuit("bell")));
    assert!(renamed.walk.is_empty() && renamed.program.is_empty(), "{}", texts(&renamed.walk));
}

#[test]
fn two_zones_that_change_numbers_move_no_resistor() {
    let second = CONTACT.replace("w1", "w2");
    let numbers = |one: u32, two: u32| {
        let at = |number: u32, input: u32, run: &str| {
            zone(number, run).replace("board=\"board-a\"", &format!("board=\"board-a\" input={input}"))
        };
        house(
            &[],
            &(at(one, 1, &CONTACT.replace("\"pair\"", "\"pair\" label=\"A\""))
                + &at(two, 2, &second.replace("\"pair\"", "\"pair\" label=\"B\""))),
        )
    };
    let swapped = order(&numbers(1, 2), &numbers(2, 1));
    assert!(swapped.buy.is_empty(), "{:?}", swapped.buy);
}

#[test]
fn a_cable_whose_far_end_goes_elsewhere_stays_on_its_terminals() {
    let run = "run \"pair\" length=(ft)20 existing=#true room=\"hall\" { contact \"reed\" title=\"Reed\"; resistor \"2k2\"; }";
    let moved = said(&order(
        &house(&[], &zone(1, run)),
        &house(&[], &zone(1, &run.replace("room=\"hall\"", "room=\"attic\""))),
    ));
    assert!(moved.contains("remove: Z1 (from board-a): take it off here"), "{moved}");
    assert!(moved.contains("land: Z1: ") && !moved.contains("land: Z1 at board-a"), "{moved}");
}

#[test]
fn other_colours_on_paper_are_looked_at_in_the_wall() {
    let old = house(&[], &zone(1, &CONTACT.replace("pair", "six")));
    let new = old.replace(
        "conductor \"RD\"; conductor \"BK\"; conductor \"GN\"",
        "conductor \"BK\"; conductor \"RD\"; conductor \"GN\"",
    );
    assert_ne!(old, new);
    let seen = said(&order(&old, &new));
    assert!(seen.contains("check: Z1: its conductors are written down in other colours: BK where RD was"), "{seen}");
}

#[test]
fn an_old_fuse_is_brought_back() {
    let fuse = |amperes: u32| house(&[(BATTERY, &format!("{BATTERY} fuse=(A){amperes}"))], &zone(1, CONTACT));
    let order = order(&fuse(3), &fuse(5));
    assert!(
        said(&order).contains("fit: board-a: fuse 5 A at its battery, in the place of the one of 3 A"),
        "{}",
        said(&order)
    );
    assert!(order.back.iter().any(|item| item.what == "Fuse, 3 A"), "{:?}", order.back);
}
