//! What older houses have: stars, a resistor at the panel, contacts that nobody gets out of their frame.

use super::{found, only, slugs};

const ROOMS: &str = "level \"ground\" { room \"den\" { window \"east\"; window \"west\"; window \"south\"; } }\n";

/// A star of three windows at the panel; `more` stands behind the contact in the last one's braces.
fn star(existing: &str, fixed: &str, more: &str) -> String {
    let cable = |opening: &str, from: &str, more: &str| {
        format!(
            "run \"pair\" length=(ft)20 {existing} {from} {{ contact \"reed\" on=\"{opening}\" {fixed}; {more} }}\n"
        )
    };
    let cables = [cable("east", "", ""), cable("west", "from=\"board\"", ""), cable("south", "from=\"board\"", more)];
    let at_board = if more.is_empty() { "resistor \"2k2\"" } else { "" };
    format!(
        "{ROOMS}zone 1 \"Den\" type=\"perimeter\" {{ loop \"end-of-line\" board=\"board-a\" {{ {}{at_board} }} }}\n",
        cables.concat()
    )
}

#[test]
fn a_star_is_an_error_where_it_is_new_and_accepted_where_it_was_there() {
    let new = only(&star("", "", ""), "loop-fault-reads-normal");
    assert!(
        new.help.ends_with("If these cables are in the wall already, write existing=#true on the run."),
        "{}",
        new.help
    );
    let old = only(&star("existing=#true", "", ""), "existing-cable-unsupervised");
    assert_eq!(old.title, "zone 1 reads normal with any of 3 cables shorted");
    assert!(
        old.help.starts_with("panel `board-a` has 3 inputs free: give each of the 3 cables a zone"),
        "{}",
        old.help
    );
    let accepted = format!(
        "{}accept \"existing-cable-unsupervised\" zone=1 because=\"walk test each quarter\"\n",
        star("existing=#true", "", "")
    );
    assert!(found(&accepted).iter().all(|finding| finding.accepted.is_some()));
}

#[test]
fn a_resistor_at_the_end_of_one_cable_of_a_star_supervises_that_one() {
    let old = only(&star("existing=#true", "", "resistor \"2k2\""), "existing-cable-unsupervised");
    assert_eq!(old.title, "zone 1 reads normal with any of 2 cables shorted");
    let labels: Vec<&str> = old.labels.iter().map(|label| label.text.as_str()).collect();
    assert_eq!(labels, ["cable `Z1`: hides east", "cable `Z1-2`: hides west"]);
}

#[test]
fn nobody_is_told_to_get_behind_a_contact_that_cannot_be_moved() {
    let old = only(&star("existing=#true", "fixed=#true", ""), "existing-cable-unsupervised");
    assert!(old.help.contains("cannot be moved, and no resistor gets behind it: accept this"), "{}", old.help);
}

#[test]
fn with_too_few_inputs_free_a_star_can_only_be_accepted() {
    let other = |text: String, number| text + &super::button(number, "board=\"board-a\"", &format!("Panic {number}"));
    let others = (2..=4).fold(String::new(), other);
    let old = only(&(star("existing=#true", "", "") + &others), "existing-cable-unsupervised");
    assert!(old.help.starts_with("Accept this with the reason"), "{}", old.help);
}

#[test]
fn a_chain_that_was_there_gets_its_resistor_at_the_last_place() {
    let chain = "zone 1 \"Den\" type=\"perimeter\" { loop \"end-of-line\" board=\"board-a\" {
        run \"pair\" length=(ft)20 existing=#true room=\"lobby\" { contact \"reed\" }
        run \"pair\" length=(ft)20 existing=#true room=\"lobby\" { contact \"reed\"; LAST }
        BOARD
    } }";
    let weak = chain.replace("LAST", "").replace("BOARD", "resistor \"2k2\"");
    let old = only(&weak, "existing-cable-unsupervised");
    assert!(old.help.starts_with("Put the whole resistor at the far end of cable `Z1-2`"), "{}", old.help);
    assert_eq!(slugs(&chain.replace("LAST", "resistor \"2k2\"").replace("BOARD", "")), [""; 0]);
}

#[test]
fn a_fire_loop_that_was_there_is_a_warning() {
    let branch = "zone 1 \"Call points\" type=\"fire\" { loop \"end-of-line\" board=\"board-a\" {
        run \"pair\" length=(ft)20 existing=#true room=\"lobby\" {
            run \"pair\" length=(ft)20 existing=#true room=\"lobby\" { contact \"button\" }
            contact \"button\"; resistor \"2k2\"
        }
    } }";
    let old = only(branch, "fire-loop-unsupervised");
    assert_eq!(old.title, "zone 1 reads normal with cable `Z1-2` cut");
}

#[test]
fn a_cable_that_was_there_came_from_no_box() {
    let long = "cable \"boxed\" conductors=2 size=(AWG)22 box=(ft)100\nspare-cable \"coil\" board=\"board-a\" { run \"boxed\" length=(ft)120 room=\"lobby\" EXISTING }\n";
    only(&long.replace("EXISTING", ""), "run-longer-than-box");
    assert_eq!(slugs(&long.replace("EXISTING", "existing=#true")), [""; 0]);
}

#[test]
fn a_loop_without_a_resistor_is_judged_by_the_setting_of_its_input() {
    let part = crate::pages::PARTS.split("part \"control-a\"").nth(1).unwrap().split("\npart ").next().unwrap();
    let setting = "sensing wiring=\"normally-closed\" supply=(V)5 pull-up=(ohm)2200 { band \"normal\" max=(V)1.2; band \"open\" min=(V)3.6; }\n    draw";
    let own = |part: &str, fixed: &str| {
        format!("part \"own\"{part}\npanel \"own\" part=\"own\" room=\"lobby\" {{ battery capacity=(Ah)12 installed=\"2027-01-01\"; transformer volts=(V)16.5 rating=(VA)75 outlet=\"lobby\"; }}
zone 1 \"Den\" type=\"perimeter\" {{ loop \"normally-closed\" board=\"own\" {{ run \"pair\" length=(ft)20 existing=#true room=\"lobby\" {{ contact \"reed\" {fixed} }} }} }}\n")
    };
    let without = only(&own(part, ""), "loop-not-normal");
    assert!(without.help.contains("`sensing wiring=\"normally-closed\"`"), "{}", without.help);
    let with = part.replace("draw", setting);
    assert!(only(&own(&with, ""), "loop-unsupervised").help.starts_with("Wire it"));
    assert!(only(&own(&with, "fixed=#true"), "loop-unsupervised").help.contains("no resistor gets behind it"));
}

/// Nobody knows what old bell wire measures: it is taken between 18 and 26 AWG, and the loop is judged all the same.
#[test]
fn a_cable_of_unknown_size_is_judged_between_the_usual_ones() {
    let spec = |length: u32| {
        format!(
            "cable \"found\" title=\"Bell wire\" conductors=2\nzone 1 \"Den\" type=\"perimeter\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"found\" length=(ft){length} existing=#true room=\"lobby\" {{ contact \"reed\"; resistor \"2k2\" }} }} }}\n"
        )
    };
    assert_eq!(slugs(&spec(60)), [""; 0]);
    // 26 AWG at its hottest is what decides: 3.1 V leave 1200 Ω over the resistor, which is 13,900 ft of it.
    assert_eq!(slugs(&spec(20_000)), ["loop-too-long"]);
    let size = spec(60).replace("conductors=2", "conductors=2 size=(V)3");
    assert_eq!(slugs(&size), ["quantity-wrong-unit"]);
}
