//! What a work order says of what was in the house before: resistors that move, jacks that come out, spare cables that are put to
//! use, rooms that become one.

use loopwright::register::Register;
use loopwright::views::work_order::{Remarks, Sides, WorkOrder};

use super::order_remodel::{HEADER, HOUSE, in_order, kept, said, zone};
use super::sites::{markdown, packet, site_after};

/// A contact at the end of a cable that was there before.
fn found(end: &str, rest: &str) -> String {
    zone(
        1,
        &format!(
            "run \"pair\" length=(ft)20 existing=#true {{ contact \"reed\" on=\"w1\" existing=#true; {end}}}; {rest}"
        ),
    )
}

const RESISTOR: &str = "resistor \"2k2\"; ";

#[test]
fn a_resistor_that_leaves_the_board_leaves_its_conductor_landed() {
    let (old, new) = (found("", RESISTOR), found(RESISTOR, ""));
    let there = said(&kept(&old, (&new, "control-a")));
    in_order(
        &there,
        &["buy: 1 Resistor", "if sound", "remove: Resistor", "at board-a, in series", "land: Z1 at board-a: BK on I1"],
    );
    // Another board gets the resistor of the first one.
    let other = said(&kept(&old, (&old, "control-z")));
    in_order(
        &other,
        &["buy: 1 Other board", "buy: 1 Resistor", "of those that are taken down, if sound", "fit: Resistor"],
    );
}

#[test]
fn what_was_fitted_before_is_neither_bought_nor_fitted() {
    let text = format!(
        "{}communicator \"line\" type=\"telephone\" service=\"copper\" jack=\"line-seizure\" {{ run \"quad\" length=(ft)20 room=\"attic\" existing=#true }}\n",
        found("", RESISTOR)
    );
    let header = HEADER.replace("room=\"lobby\" {", "room=\"lobby\" existing=#true {");
    let (site, _) = site_after(&format!("{header}{HOUSE}{text}"), &Register::default());
    let (materials, order) = (markdown(&site, "materials"), markdown(&site, "installation-order"));
    assert!(!materials.contains("Resistor 2k2") && !materials.contains("| Telephone jack"), "{materials}");
    assert!(!order.contains("*fit*") && !order.contains("*mount* Telephone jack"), "{order}");
    // What a change adds to it is brought.
    let more = said(&kept("", (&found(RESISTOR, ""), "control-a")));
    assert!(!more.contains("buy: 1 Resistor"), "{more}");
    let more = said(&kept(&found("", ""), (&found(RESISTOR, ""), "control-a")));
    assert!(more.contains("buy: 1 Resistor"), "{more}");
}

#[test]
fn a_jack_that_comes_out_leaves_the_house_phones_on_the_line() {
    let line = "communicator \"line\" type=\"telephone\" service=\"copper\" jack=\"line-seizure\" { run \"quad\" length=(ft)20 room=\"attic\" existing=#true }\n";
    let now = found(RESISTOR, "");
    let order = said(&kept(&format!("{now}{line}"), (&now, "control-a")));
    in_order(&order, &["remove: Telephone jack", "join the house wires that were on its positions 4 to 1 and 5 to 8"]);
}

#[test]
fn a_spare_cable_that_is_put_to_use_is_the_same_cable() {
    let spare = "spare-cable \"coil\" board=\"board-a\" { run \"pair\" length=(ft)20 room=\"hall\" existing=#true }\n";
    let order = said(&kept(spare, (&found(RESISTOR, ""), "control-a")));
    in_order(&order, &["buy: 1 Resistor", "land: COIL-1 BK: to board-a, terminal I1"]);
    assert!(!order.contains("DEAD") && !order.contains("find:"), "{order}");
}

#[test]
fn what_hung_in_a_room_that_is_joined_to_another_stays_where_it_is() {
    let house = |rooms: &str, room: &str| {
        format!(
            "level \"top\" title=\"Top\" storey=2 {{ {rooms} }}\n{}",
            zone(
                2,
                &format!(
                    "run \"quad\" length=(ft)20 room=\"{room}\" {{ detector \"motion\" title=\"M\" supply=\"aux\"; resistor \"2k2\" }}"
                )
            )
        )
    };
    let old = house("room \"a\" title=\"A\" { window \"wa\"; }; room \"b\" title=\"B\" { window \"wb\"; }", "a");
    let new = house("room \"b\" title=\"B\" { window \"wa\"; window \"wb\"; }", "b");
    let order = said(&kept(&old, (&new, "control-a")));
    assert!(!order.contains("take it down") && !order.contains("mount:") && !order.contains("remove:"), "{order}");
}

#[test]
fn conductors_of_one_colour_are_told_by_number_and_an_end_that_was_lost_is_nowhere() {
    let text = format!(
        "cable \"white\" title=\"All white\" conductors=4 size=(AWG)22 {{ conductor \"WH\"; conductor \"WH\"; conductor \"WH\"; conductor \"BK\"; }}\n{}spare-cable \"lost\" board=\"board-a\" {{ run \"pair\" length=(ft)20 existing=#true }}\n",
        zone(
            1,
            "run \"white\" length=(ft)20 room=\"hall\" existing=#true { detector \"motion\" title=\"M\" supply=\"aux\"; resistor \"2k2\" }"
        )
    );
    let (site, register) = site_after(&format!("{HEADER}{HOUSE}{text}"), &Register::default());
    let order = markdown(&site, "installation-order");
    assert!(order.contains("WH no. 1 on A+, WH no. 2 on A-, WH no. 3 on I1, BK on R1"), "{order}");
    assert!(order.contains("LOST-1, in the wall already (22 AWG pair, CL2R): its far end was not found"), "{order}");
    let schedule = markdown(&site, "terminal-schedule");
    assert_eq!(schedule.matches("LOST-1").count(), 1, "only its end at the board: {schedule}");
    // Nobody can put a label on an end that was not found, and one that is dead keeps its number.
    let labels = String::from_utf8(packet(&site).files["label-sheets.csv"].clone()).unwrap();
    let lost: Vec<&str> = labels.lines().filter(|line| line.starts_with("LOST-1")).collect();
    assert_eq!(lost, ["LOST-1,far end not found,near"]);
    let printed = labels.lines().count() - 1;
    assert_eq!(printed, 2 * site.wiring.cables.len() - 1);
    let list = markdown(&site, "wire-labels");
    assert!(list.contains(&format!("{printed} labels. ")), "{list}");
    let goods = String::from_utf8(packet(&site).files["materials.csv"].clone()).unwrap();
    let line = goods.lines().find(|line| line.contains("Wrap label")).unwrap();
    assert!(line.contains(&format!(",{printed},")), "{line}");
    let without = text.split_once("zone 1").map(|(before, _)| before).unwrap();
    let (site, _) = site_after(&format!("{HEADER}{HOUSE}{without}"), &register);
    let schedule = markdown(&site, "terminal-schedule");
    assert!(schedule.contains("WH no. 3 white") && schedule.contains("BK black"), "{schedule}");
}

/// Whoever comes first finds another board on the old cables: it is made dark and taken down before the new one is mounted.
#[test]
fn what_hangs_in_the_place_of_a_new_board_is_taken_down_first() {
    let order = |text: &str| {
        markdown(&site_after(&format!("{HEADER}{HOUSE}{text}"), &Register::default()).0, "installation-order")
    };
    let old = order(&found(RESISTOR, ""));
    in_order(
        &old,
        &[
            "*isolate* What hangs there before board-a, if anything does: take away whatever else feeds it",
            "and take it down",
            "*mount* board-a",
        ],
    );
    let new = order(&found(RESISTOR, "").replace("existing=#true ", ""));
    assert!(!new.contains("*isolate*") && new.contains("*mount* board-a"), "{new}");
}

/// Another label on a cable, and the old one again: the same cable, whichever register is the later.
#[test]
fn a_label_that_is_taken_back_pulls_no_cable() {
    let spare = |label: &str| {
        format!(
            "{HEADER}{HOUSE}spare-cable \"coil\" board=\"board-a\" {{ run \"pair\" name=\"coil\" length=(ft)20 room=\"hall\" {label}}}\n"
        )
    };
    let (old, register) = site_after(&spare(""), &Register::default());
    let (new, _) = site_after(&spare("label=\"LOFT\" "), &register);
    for (from, to) in [(&old, &new), (&new, &old)] {
        let order = WorkOrder::of(&Sides::of(from, to), &Remarks::default());
        assert!(order.pull.is_empty() && order.out.is_empty(), "{:?} {:?}", order.pull, order.out);
        assert!(said(&order).contains("label: "), "{}", said(&order));
    }
}

/// A reading that was altered is one more and one less: nobody alters a record unseen.
#[test]
fn readings_are_counted() {
    let text = |ohms: &str| {
        format!(
            "{HEADER}{HOUSE}{}measured date=\"2027-02-01\" {{ loop 1 \"rest\" ohms=(ohm){ohms}; loop 1 \"alarm\" open=#true; }}\n",
            found(RESISTOR, "")
        )
    };
    let (old, register) = site_after(&text("2200"), &Register::default());
    let (new, _) = site_after(&text("2210"), &register);
    let summary = |from, to| WorkOrder::of(&Sides::of(from, to), &Remarks::default()).summary;
    assert_eq!(summary(&old, &new), "1 reading added, 1 reading taken out");
    assert_eq!(summary(&old, &old), "nothing differs");
}

/// What is fitted at a keypad that is new is new, whatever its cable was; a resistor at a contact that was there is looked at.
#[test]
fn a_terminator_at_a_new_board_is_new_though_its_cable_was_there() {
    let text = "bus \"data\" board=\"board-a\" rate=(baud)9600 { run \"bus-cable\" length=(ft)20 room=\"lobby\" existing=#true { keypad \"kp\" part=\"keypad-a\" address=1; terminator (ohm)120 } }\n";
    let (site, _) = site_after(&format!("{HEADER}{HOUSE}{text}{}", found(RESISTOR, "")), &Register::default());
    let (materials, order) = (markdown(&site, "materials"), markdown(&site, "installation-order"));
    assert!(materials.contains("Resistor 120R: 120 Ω"), "{materials}");
    assert!(!order.contains("*inspect* Terminator"), "{order}");
    assert!(
        order.contains("*inspect* Resistor 2.2 kΩ ±5 % (red red red gold) at the far end of Z1, Window one"),
        "{order}"
    );
    assert!(!materials.contains("Resistor 2k2"), "{materials}");
}

/// A run in the cable of another ends where that does and is as long; of a cable whose far end nobody found no length is printed.
#[test]
fn what_follows_from_a_shared_cable_or_is_not_known_need_not_be_written() {
    let shared = zone(
        1,
        "run \"six\" name=\"trunk\" length=(ft)20 room=\"hall\" existing=#true { contact \"reed\" existing=#true; resistor \"2k2\" }",
    ) + &zone(
        2,
        "run \"six\" along=\"trunk\" existing=#true { contact \"reed\" title=\"Float\" existing=#true; resistor \"2k2\" }",
    );
    let lost = "spare-cable \"old\" title=\"Old wire\" board=\"board-a\" { run \"pair\" existing=#true }\n";
    let (site, _) = site_after(&format!("{HEADER}{HOUSE}{shared}{lost}"), &Register::default());
    let run = site.site.runs.iter().find(|run| run.along.is_some()).unwrap();
    assert!(run.length.as_ref().is_some_and(|length| (length.value.0 - 6.096).abs() < 1e-9));
    assert!(run.room.is_some() && site.site.devices.iter().all(|device| device.room.is_some()));
    let labels = markdown(&site, "wire-labels");
    let row = labels.lines().find(|line| line.contains("far end not found")).unwrap_or_else(|| panic!("{labels}"));
    assert!(row.contains("| — |"), "{row}");
    assert!(markdown(&site, "overview").contains("not known"), "{}", markdown(&site, "overview"));
}

/// A cable that is said no more to have been there is another one, which is pulled: the materials buy it.
#[test]
fn a_cable_that_was_there_and_is_said_no_more_to_have_been_is_pulled() {
    let new = found(RESISTOR, "").replacen("length=(ft)20 existing=#true", "length=(ft)20", 1);
    let order = kept(&found(RESISTOR, ""), (&new, "control-a"));
    assert_eq!(order.pull.len(), 1, "{:?}", order.pull);
}
