//! What stays, what is new, what is dead.

use super::{House, findings, zone};

fn two() -> String {
    zone(1, "", "", "By the door") + &zone(2, "", "", "By the bed")
}

#[test]
fn a_second_compile_has_nothing_to_write() {
    let mut house = House::new(&two());
    let first = house.packet();
    assert!(house.good().register.is_some());
    assert!(house.good().register.is_none());
    assert_eq!(house.packet(), first);
}

#[test]
fn a_new_description_another_file_and_another_order_change_no_label() {
    let mut house = House::new(&two());
    house.good();
    let kept = house.register().to_owned();
    let moved = zone(1, "", "", "By the door").replace("Zone 1", "Renamed");
    house.spec(&format!("{}include \"more.kdl\"\n", zone(2, "", "", "By the bed")));
    house.files.insert("more.kdl".into(), moved);
    assert!(house.good().register.is_none());
    assert_eq!(house.register(), kept);
}

#[test]
fn a_gone_zone_stays_in_the_wall_and_its_terminals_are_kept_free() {
    let mut house = House::new(&two());
    house.good();
    house.spec(&(zone(2, "", "", "By the bed") + &zone(3, "", "", "By the stove")));
    let first = house.packet();
    let outcome = house.good();
    assert!(
        findings(&outcome).contains(&"note cable-dead: cable `Z1` is in the wall without use: zone 1 is gone".into())
    );
    assert!(house.label("Z1").contains("dead=\"zone 1 is gone\"") && house.label("Z1").contains("near=\"board-a I1\""));
    assert!(house.label("Z2").contains("near=\"board-a I2\""));
    assert!(house.label("Z3").contains("near=\"board-a I3\""), "input 1 has the dead cable on it");
    assert!(house.good().register.is_none());
    assert_eq!(house.packet(), first, "as many inputs are in use as before");
}

/// Told that an input has the cable of a zone that is gone, people write off=#true before any compile has marked it.
#[test]
fn off_alone_is_understood_of_a_cable_whose_run_is_gone() {
    let mut house = House::new(&two());
    house.good();
    house.spec(&(zone(2, "", "", "By the bed") + &zone(1, "", "", "By the stove")));
    let line = house.label("Z1").lines().next().unwrap().to_owned();
    house.edit("register.kdl", &line, &line.replace(" {", " off=#true {"));
    house.good();
    assert!(house.label("Z1-2").contains("near=\"board-a I1\""), "{}", house.register());
    assert!(house.label("Z1").contains("off=#true"), "{}", house.register());
}

#[test]
fn off_frees_the_terminals_and_out_the_wall_but_nothing_frees_the_label() {
    let mut house = House::new(&two());
    house.good();
    house.spec(&zone(2, "", "", "By the bed"));
    house.good();
    house.edit("register.kdl", "dead=\"zone 1 is gone\"", "dead=\"zone 1 is gone\" off=#true");
    house.spec(&(zone(2, "", "", "By the bed") + &zone(1, "", "", "By the stove")));
    house.good();
    assert!(house.label("Z1-2").contains("near=\"board-a I1\""), "{}", house.register());
    assert!(house.label("Z1").contains("off=#true"));

    house.edit("register.kdl", " off=#true {", " out=#true {");
    let outcome = house.good();
    assert!(house.register().ends_with("\nspent \"Z1\"\n"), "{}", house.register());
    assert!(!findings(&outcome).iter().any(|finding| finding.contains("cable-dead")));
    house.spec(&(two() + &zone(3, "", " label=\"Z1\"", "By the stove")));
    assert!(
        findings(&house.compile())
            .iter()
            .any(|finding| finding.starts_with("error register-label-taken: the label `Z1` is that of"))
    );
}

#[test]
fn a_zone_that_comes_back_is_the_cable_that_is_still_in_the_wall() {
    let mut house = House::new(&two());
    house.good();
    let kept = house.register().to_owned();
    house.spec(&zone(2, "", "", "By the bed"));
    house.good();
    house.spec(&two());
    house.good();
    assert_eq!(house.register(), kept);
}

#[test]
fn a_cable_out_of_the_wall_is_replaced_by_one_of_another_label() {
    let mut house = House::new(&two());
    house.good();
    house.edit("register.kdl", "cable=\"pair\" room", "cable=\"pair\" out=#true room");
    house.good();
    assert!(house.label("Z1-2").contains("By the door") && house.register().contains("spent \"Z1\""));
    assert!(house.register().contains("input 1 board=\"board-a\" zone=1"), "the zone stays on its input");
}

#[test]
fn a_cable_of_another_type_is_another_cable() {
    let mut house = House::new(&two());
    house.good();
    let spec = two().replacen("run \"pair\"", "run \"quad\"", 1);
    house.spec(&spec);
    house.good();
    assert!(house.label("Z1").contains("dead=\"no run of zone 1 is this cable any more\""));
    assert!(house.label("Z1-2").contains("cable=\"quad\""));
}

#[test]
fn a_renumbered_zone_keeps_cable_and_input_where_what_it_watches_tells_it() {
    let openings = "level \"up\" { room \"bed\" { window \"east\"; window \"west\" } }\n";
    let watch = |number: u32, window: &str| {
        format!(
            "zone {number} \"Zone {number}\" type=\"twenty-four-hour\" {{\n    loop \"end-of-line\" board=\"board-a\" {{\n        run \"pair\" length=(ft)20 {{ contact \"reed\" on=\"{window}\"; resistor \"2k2\" }}\n    }}\n}}\n"
        )
    };
    let mut house = House::new(&format!("{openings}{}{}", watch(1, "east"), watch(2, "west")));
    house.good();
    house.spec(&format!("{openings}{}{}", watch(2, "east"), watch(1, "west")));
    house.good();
    assert!(house.label("Z1").starts_with("label \"Z1\" of=\"zone 2\"") && house.label("Z1").contains("board-a I1"));
    assert!(house.label("Z2").starts_with("label \"Z2\" of=\"zone 1\"") && house.label("Z2").contains("board-a I2"));
}

const CHAIN: &str = "zone 1 \"Buttons\" type=\"panic-audible\" {
    loop \"end-of-line\" board=\"board-a\" {
        run \"pair\" length=(ft)20 room=\"lobby\" { contact \"button\" title=\"First\" }
        run \"pair\" length=(ft)20 room=\"lobby\" { contact \"button\" title=\"Second\"; resistor \"2k2\" }
    }
}
";

#[test]
fn a_run_put_in_front_of_another_takes_the_new_label() {
    let mut house = House::new(CHAIN);
    house.good();
    let front =
        "        run \"pair\" length=(ft)9 room=\"lobby\" { contact \"button\" title=\"New\" }\n        run \"pair\"";
    house.edit("site.kdl", "        run \"pair\"", front);
    house.good();
    assert!(house.label("Z1").contains("First") && house.label("Z1-2").contains("Second"));
    assert!(house.label("Z1-3").contains("New") && house.label("Z1-3").contains("near=\"board-a I1\""));
    assert!(!house.label("Z1").contains("near="), "it starts at the new cable's end now");
}

#[test]
fn cables_that_only_order_tells_apart_are_asked_about() {
    let mut house = House::new(&CHAIN.replace("First", "Same").replace("Second", "Same"));
    house.good();
    house.spec(&zone(1, "", "", "Same"));
    let packet = house.packet();
    let cover = String::from_utf8(packet["overview.md"].clone()).unwrap();
    assert!(!cover.contains("might be") && cover.contains("cable Z1-2 is in the wall without use"), "{cover}");
    let told = "warning cable-guessed: one run might be cables `Z1` or `Z1-2`".to_owned();
    assert!(findings(&house.good()).contains(&told));
    assert!(!findings(&house.good()).contains(&told), "the guess is told once");
    assert_eq!(house.packet(), packet, "the dead cable is printed each time");
}

#[test]
fn an_input_that_the_spec_gives_is_followed_and_said() {
    let mut house = House::new(&two());
    house.good();
    house.spec(&(zone(1, " input=4", "", "By the door") + &zone(2, "", "", "By the bed")));
    let outcome = house.good();
    assert!(
        findings(&outcome).contains(&"note landing-moved: zone 1 moves from input 1 of `board-a` to input 4".into())
    );
    assert!(house.label("Z1").contains("near=\"board-a I4\"") && house.label("Z2").contains("near=\"board-a I2\""));
    assert_eq!(findings(&house.good()), [""; 0]);
}

/// An input that the board does not have, or that another loop is given as well, is the finding; that the loop would move is none.
#[test]
fn a_loop_on_an_impossible_input_is_not_said_to_move() {
    for (input, slug) in [(" input=99", "input-not-on-board"), (" input=2", "input-used-twice")] {
        let mut house = House::new(&(zone(1, " input=1", "", "By the door") + &zone(2, " input=2", "", "By the bed")));
        house.good();
        house.spec(&(zone(1, input, "", "By the door") + &zone(2, " input=2", "", "By the bed")));
        let found = findings(&house.compile());
        assert!(found.len() == 1 && found[0].contains(slug), "{found:?}");
    }
}

/// A detector that is fed by another output has its positive on another screw: whoever moves it is told which.
#[test]
fn a_conductor_that_goes_to_another_output_is_said() {
    let fed = |output: &str| {
        format!(
            "zone 1 \"Lobby\" type=\"interior\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"quad\" length=(ft)20 room=\"lobby\" {{ detector \"motion\" supply=\"{output}\"; resistor \"2k2\"; }} }} }}\n"
        )
    };
    let mut house = House::new(&fed("aux"));
    house.good();
    house.spec(&fed("fire"));
    let outcome = house.good();
    let moved = outcome.diagnostics.iter().find(|finding| finding.rule.slug == "landing-moved").unwrap();
    assert_eq!(moved.title, "conductors of cable `Z1` go to other terminals");
    assert_eq!(
        moved.figures,
        ["conductor 1: from board-a A+ to board-a F+", "conductor 2: from board-a A- to board-a F-"]
    );
    let left = findings(&house.good());
    assert!(left.len() == 1 && left[0].contains("detector-supply-reset"), "{left:?}");
}

#[test]
fn two_zones_may_change_places() {
    let mut house = House::new(&two());
    house.good();
    house.spec(&(zone(1, " input=2", "", "By the door") + &zone(2, " input=1", "", "By the bed")));
    assert_eq!(findings(&house.good()).len(), 2);
    assert!(house.register().contains("input 1 board=\"board-a\" zone=2\ninput 2 board=\"board-a\" zone=1\n"));
}

#[test]
fn a_landed_zone_is_not_pushed_from_its_input() {
    let mut house = House::new(&two());
    house.good();
    house.spec(&(two() + &zone(3, " input=2", "", "By the stove")));
    let kept = house.register().to_owned();
    let outcome = house.compile();
    assert_eq!(
        findings(&outcome),
        ["error register-input-taken: input 2 of `board-a` is given to zone 3, but zone 2 is landed there"]
    );
    assert!(house.is_refused());
    assert_eq!(house.register(), kept);
}

#[test]
fn a_label_in_the_spec_wins_and_the_old_one_is_spent() {
    let mut house = House::new(&two());
    house.good();
    house.spec(&(zone(1, "", " label=\"DOOR\"", "By the door") + &zone(2, "", "", "By the bed")));
    let outcome = house.good();
    assert_eq!(findings(&outcome), ["note landing-moved: cable `Z1` is labelled `DOOR` now"]);
    assert!(house.label("DOOR").contains("near=\"board-a I1\"") && house.register().contains("spent \"Z1\""));
    assert_eq!(findings(&house.good()), [""; 0]);
}

#[test]
fn a_strip_keeps_its_ways_and_a_gap_is_filled_by_what_is_new() {
    let strip = "strip \"strip-a\" board=\"board-a\" output=\"aux\" ways=4 room=\"lobby\"\n";
    let motion = |number: u32, title: &str| {
        format!(
            "zone {number} \"Zone {number}\" type=\"twenty-four-hour\" {{\n    loop \"end-of-line\" board=\"board-a\" {{\n        run \"quad\" length=(ft)20 room=\"lobby\" {{ detector \"motion\" supply=\"aux\" title=\"{title}\"; resistor \"2k2\" }}\n    }}\n}}\n"
        )
    };
    let mut house = House::new(&format!("{strip}{}{}", motion(1, "a"), motion(2, "b")));
    house.good();
    assert!(house.label("Z2").contains("near=\"strip-a 2+\""));
    house.spec(&format!("{strip}{}{}", motion(2, "b"), motion(3, "c")));
    house.good();
    assert!(house.label("Z2").contains("near=\"strip-a 2+\"") && house.label("Z3").contains("near=\"strip-a 3+\""));
    house.edit("register.kdl", "dead=\"zone 1 is gone\"", "dead=\"zone 1 is gone\" off=#true");
    house.spec(&format!("{strip}{}{}{}", motion(2, "b"), motion(3, "c"), motion(4, "d")));
    house.good();
    assert!(house.label("Z4").contains("near=\"strip-a 1+\""), "{}", house.register());
}

#[test]
fn a_conductor_keeps_its_function_when_another_is_added() {
    let plain = zone(1, "", "", "By the door").replace("\"pair\"", "\"quad\"");
    let mut house = House::new(&plain);
    house.good();
    house.edit("register.kdl", "wire 3 \"loop-out\" colour=\"GN\"", "wire 1 \"loop-out\" colour=\"RD\"");
    house.good();
    assert!(house.label("Z1").contains("wire 1 \"loop-out\" colour=\"RD\""), "landed so, whatever the colours are for");
    house.spec(
        &plain.replace("contact \"button\"", "detector \"motion\" supply=\"aux\" title=\"m\"; contact \"button\""),
    );
    house.compile();
    assert!(house.label("Z1").contains("wire 1 \"loop-out\" colour=\"RD\""));
}

#[test]
fn a_board_full_of_dead_cables_says_so() {
    let all: String = (1..=4).map(|number| zone(number, "", "", &format!("Button {number}"))).collect();
    let mut house = House::new(&all);
    house.good();
    let others: String = (2..=5).map(|number| zone(number, "", "", &format!("Button {number}"))).collect();
    house.spec(&others);
    let outcome = house.compile();
    let found = outcome.diagnostics.iter().find(|found| found.rule.slug == "input-none-free").unwrap();
    assert!(found.figures[0].starts_with("input 1 has the dead cable `Z1` on it"), "{:?}", found.figures);
}

#[test]
fn the_label_of_a_dead_cable_is_not_for_another_cable() {
    let mut house = House::new(&two());
    house.good();
    house.spec(&zone(2, "", "", "By the bed"));
    house.good();
    let other = zone(3, "", " label=\"Z1\"", "By the stove").replace("\"pair\"", "\"quad\"");
    house.spec(&(zone(2, "", "", "By the bed") + &other));
    let outcome = house.compile();
    assert!(findings(&outcome).iter().any(|found| found.starts_with("error register-label-taken")));
    assert!(outcome.register.is_none());
}

#[test]
fn a_cable_that_is_replaced_needs_another_label_also_where_the_spec_gives_it() {
    let mut house = House::new(&zone(1, "", " label=\"DOOR\"", "By the door"));
    house.good();
    house.edit("register.kdl", "cable=\"pair\" room", "cable=\"pair\" out=#true room");
    let outcome = house.compile();
    assert!(findings(&outcome).iter().any(|found| found.starts_with("error register-label-taken")));
    house.spec(&zone(1, "", " label=\"DOOR-2\"", "By the door"));
    house.good();
    assert!(house.label("DOOR-2").contains("near=\"board-a I1\"") && house.register().contains("spent \"DOOR\""));
}

/// The spec gives a cable of another type the label of the one in the wall: that one is dead, and has another.
#[test]
fn a_cable_of_another_type_under_the_same_label_retires_the_old_one() {
    let mut house = House::new(&zone(7, "", " label=\"HALL\"", "Button"));
    house.good();
    house.edit("site.kdl", "run \"pair\"", "run \"quad\"");
    let outcome = house.good();
    assert!(house.label("HALL").contains("cable=\"quad\""), "{}", house.register());
    let old = house.label("HALL-OLD");
    let dead =
        "cable=\"pair\" room=\"lobby\" from=\"lobby\" dead=\"replaced by another cable, which has its label HALL\"";
    assert!(old.contains(dead), "{old}");
    assert!(!findings(&outcome).iter().any(|finding| finding.starts_with("error")));
    // And stays so.
    let kept = house.register().to_owned();
    house.good();
    assert_eq!(house.register(), kept);
    // A second time, while the spec gives what would be the next label to another cable.
    house.edit("site.kdl", "run \"quad\"", "run \"bus-cable\"");
    let other = zone(8, "", " label=\"HALL-OLD-2\"", "Other button");
    house.edit("site.kdl", "zone 7 ", &format!("{other}zone 7 "));
    house.good();
    assert!(house.label("HALL-OLD-3").contains("cable=\"quad\""), "{}", house.register());
}

/// What was landed on a board that goes lands anew on one that stays: it has not become that one.
#[test]
fn a_zone_of_a_board_that_goes_gets_a_free_input_of_one_that_stays() {
    let bus = "bus \"data\" board=\"board-a\" rate=(baud)9600 { run \"bus-cable\" length=(ft)20 room=\"lobby\" { module \"far\" part=\"expander-a\" address=1 inputs-from=5; terminator (ohm)120 } }\n";
    let two = zone(2, "", "", "Two");
    let mut house = House::new(&format!("{bus}{}{}", zone(1, "", "", "One"), two.replace("board-a", "far")));
    house.good();
    house.spec(&format!("{}{two}", zone(1, "", "", "One")));
    house.good();
    let inputs: Vec<&str> = house.register().lines().filter(|line| line.starts_with("input")).collect();
    assert_eq!(inputs, ["input 1 board=\"board-a\" zone=1", "input 2 board=\"board-a\" zone=2"]);
}

/// A cable to another room is another one, which takes the label over: the old one is dead, and has another.
#[test]
fn a_cable_to_another_room_retires_the_old_one() {
    let room = "level \"up\" { room \"bed\" }\n";
    let mut house = House::new(&format!("{room}{}", zone(7, "", "", "Button")));
    house.good();
    house.edit("site.kdl", "length=(ft)20 room=\"lobby\"", "length=(ft)20 room=\"bed\"");
    house.good();
    assert!(house.label("Z7").contains("room=\"bed\"") && house.label("Z7").contains("near=\"board-a I1\""));
    let dead = "room=\"lobby\" from=\"lobby\" dead=\"replaced by another cable, which has its label Z7\"";
    assert!(house.label("Z7-OLD").contains(dead), "{}", house.register());
    let kept = house.register().to_owned();
    house.good();
    assert_eq!(house.register(), kept, "and stays so");
    // A room under another name is no other room.
    house.spec(&format!("{room}{}", zone(7, "", "", "Button").replace("lobby", "bed")).replace("\"bed\"", "\"nook\""));
    house.good();
    assert!(
        house.label("Z7").contains("room=\"nook\"") && !house.register().contains("Z7-OLD-2"),
        "{}",
        house.register()
    );
}

/// A room typed wrong, compiled and put right: nobody has said that anything was done, so no cable is left behind.
#[test]
fn a_cable_that_comes_back_before_its_work_is_done_leaves_none_behind() {
    let room = "level \"up\" { room \"bed\" }\n";
    let right = format!("{room}{}", zone(7, "", "", "Button"));
    let wrong = right.replace("length=(ft)20 room=\"lobby\"", "length=(ft)20 room=\"bed\"");
    let mut house = House::new(&right);
    house.good();
    let kept = house.register().to_owned();
    house.spec(&wrong);
    house.good();
    assert!(
        !house.label("Z7-OLD").contains("off=") && !house.label("Z7-OLD").contains("near="),
        "{}",
        house.register()
    );
    house.spec(&right);
    house.good();
    assert_eq!(house.register(), kept);
    // Once somebody has written that it is off, both were there.
    house.spec(&wrong);
    house.good();
    house.edit("register.kdl", "its label Z7\"", "its label Z7\" off=#true");
    house.spec(&right);
    house.good();
    assert!(house.label("Z7-OLD-2").contains("room=\"bed\""), "{}", house.register());
}

/// The same slip twice: the cable of the first one never was.
#[test]
fn a_slip_that_is_made_twice_leaves_no_cable_that_never_was() {
    let rooms = "level \"up\" { room \"bed\"; room \"den\" }\n";
    let spec = |room: &str| {
        format!(
            "{rooms}{}",
            zone(7, "", "", "Button")
                .replace("length=(ft)20 room=\"lobby\"", &format!("length=(ft)20 room=\"{room}\""))
        )
    };
    let mut house = House::new(&spec("lobby"));
    house.good();
    for room in ["bed", "den"] {
        house.spec(&spec(room));
        house.good();
    }
    assert!(house.label("Z7").contains("room=\"den\"") && house.label("Z7-OLD").contains("room=\"lobby\""));
    assert!(!house.register().contains("Z7-OLD-2"), "{}", house.register());
}

/// A window moves to no other room: its room has been divided, or was typed wrong.
#[test]
fn a_window_whose_room_is_another_now_keeps_its_cable() {
    let house_of = |one: &str, other: &str| {
        format!(
            "level \"up\" {{ room \"bed\" {{ {one} }}; room \"snug\" {{ {other} }} }}
zone 1 \"Window\" type=\"perimeter\" {{
    loop \"end-of-line\" board=\"board-a\" {{
        run \"pair\" length=(ft)20 {{ contact \"reed\" on=\"east\"; resistor \"2k2\" }}
    }}
}}
"
        )
    };
    let mut house = House::new(&house_of("window \"east\"", ""));
    house.compile();
    assert!(house.label("Z1").contains("room=\"bed\""), "{}", house.register());
    house.spec(&house_of("", "window \"east\""));
    house.compile();
    assert!(house.label("Z1").contains("room=\"snug\"") && !house.register().contains("-OLD"), "{}", house.register());
}

/// The board that it was on goes to another room, and a dead cable does not.
#[test]
fn a_dead_cable_keeps_the_room_in_which_it_starts() {
    let room = "level \"up\" { room \"bed\" }\n";
    let mut house = House::new(&format!("{room}{}", two()));
    house.good();
    house.spec(&format!("{room}{}", zone(2, "", "", "By the bed")));
    house.good();
    assert!(house.label("Z1").contains("room=\"lobby\" from=\"lobby\" dead="), "{}", house.register());
}

#[test]
fn an_input_whose_cable_was_lost_is_told() {
    let mut house = House::new(&two());
    house.good();
    let entry = house.label("Z1");
    house.edit("register.kdl", &format!("{entry}\n"), "");
    let kept = house.register().to_owned();
    let outcome = house.compile();
    assert!(outcome.failed() && house.register() == kept, "{}", house.register());
    let told = "error register-cable-missing: input 1 of `board-a` is held for zone 1, and no cable of zone 1 is in the register";
    assert!(findings(&outcome).contains(&told.into()), "{:?}", findings(&outcome));
}

/// Which cable of the register one of two is that are given one label is not known before they have two.
#[test]
fn of_a_label_given_twice_that_is_the_only_finding() {
    let mut house = House::new(&two());
    house.good();
    let labelled = |number: u32, title: &str| zone(number, "", " label=\"Z2\"", title);
    house.spec(&(labelled(1, "By the door") + &labelled(2, "By the bed")));
    let outcome = house.compile();
    assert_eq!(findings(&outcome), ["error duplicate-label: two cables are labelled `Z2`"]);
}

/// The zone is written twice, and that is all: it is not told to leave its own input.
#[test]
fn a_zone_that_is_written_twice_is_told_once() {
    let mut house = House::new(&two());
    house.good();
    house.spec(&(two() + &zone(2, "", "", "By the bed, again")));
    let told = findings(&house.compile());
    let errors: Vec<&String> = told.iter().filter(|found| found.starts_with("error")).collect();
    assert!(matches!(errors.as_slice(), [only] if only.contains("duplicate-zone-number")), "{errors:#?}");
}

/// With a file gone whose rooms the runs name, no cable is told to give up the label that it has.
#[test]
fn a_missing_file_takes_no_label_away() {
    let mut house = House::new(&(two() + "include \"more.kdl\"\n"));
    let runs = "zone 3 \"Zone 3\" type=\"panic-audible\" { loop \"end-of-line\" board=\"board-a\" {
    run \"pair\" length=(ft)20 room=\"snug\" { contact \"button\" title=\"One\" }
    run \"pair\" length=(ft)20 room=\"snug\" { contact \"button\" title=\"Two\"; resistor \"2k2\" }
} }
";
    house.files.insert("more.kdl".into(), "level \"top\" { room \"snug\" }\n".to_owned());
    house.spec(&(two() + "include \"more.kdl\"\n" + runs));
    house.good();
    house.spec(&(two() + runs));
    let told = findings(&house.compile());
    assert!(told.iter().any(|found| found.contains("unknown-name")), "{told:#?}");
    assert!(!told.iter().any(|found| found.contains("register-label-taken")), "{told:#?}");
}

/// A zone that shared the cable of another keeps its conductors when the other goes and the cable becomes its own.
#[test]
fn a_guest_that_becomes_the_host_keeps_its_conductors() {
    let cable = "cable \"six\" title=\"Six\" conductors=6 size=(AWG)22 jacket=\"CL2R\"\n";
    let six = |number: u32, run: &str, title: &str| zone(number, "", run, title).replace("\"pair\"", "\"six\"");
    let (guest, host) = (six(1, " along=\"shared\"", "By the door"), six(2, " name=\"shared\"", "By the bed"));
    let mut house = House::new(&(cable.to_owned() + &guest + &host));
    house.good();
    let positions = |house: &House, of: &str| -> Vec<String> {
        let entry = house.label("Z2");
        let wires = entry.lines().filter(|line| line.contains(of)).filter_map(|line| line.trim().strip_prefix("wire "));
        wires.map(|rest| rest.split(' ').next().unwrap().to_owned()).collect()
    };
    let before = positions(&house, "of=\"zone 1\"");
    assert_eq!(before.len(), 2, "{}", house.register());
    house.spec(&(cable.to_owned() + &six(1, " name=\"shared\"", "By the door")));
    house.good();
    assert_eq!(positions(&house, ""), before, "{}", house.register());
}

/// What is in the wall stays there, whatever somebody took it for.
#[test]
fn a_found_cable_whose_type_is_put_right_keeps_its_label() {
    let cable = |kind: &str| {
        zone(1, "", " existing=#true", "By the door").replace("run \"pair\"", &format!("run \"{kind}\""))
            + &zone(2, "", "", "By the bed")
            + &zone(3, "", "", "By the stove").replace("run \"pair\"", "run \"quad\"")
    };
    let mut house = House::new(&cable("pair"));
    house.good();
    house.spec(&cable("quad"));
    let told = findings(&house.good());
    assert!(
        told.contains(&"warning cable-guessed: cable `Z1` of type `pair` is taken as of type `quad`".into()),
        "{told:#?}"
    );
    assert!(
        house.label("Z1").contains("cable=\"quad\"") && !house.register().contains("dead="),
        "{}",
        house.register()
    );
    // A new cable of another type is another cable.
    let mut new = House::new(&cable("pair").replace(" existing=#true", ""));
    new.good();
    new.spec(&cable("quad").replace(" existing=#true", ""));
    new.good();
    assert!(new.register().contains("dead="), "{}", new.register());
}

/// The new entry stands in no file before a compile.
#[test]
fn a_label_that_is_taken_is_told_at_the_run_that_takes_it() {
    let mut house = House::new(&two());
    house.good();
    // Another type of cable under the old label.
    let other = zone(1, "", " label=\"Z1\"", "By the door").replace("\"pair\"", "\"quad\"");
    house.spec(&(other + &zone(2, "", "", "By the bed")));
    let outcome = house.compile();
    let dead: Vec<_> = outcome.diagnostics.iter().filter(|found| found.rule.slug == "cable-dead").collect();
    assert!(!dead.is_empty(), "{:?}", findings(&outcome));
    for found in dead {
        assert!(
            found.labels[0].text.starts_with("has the label") && found.help.starts_with("Compile first"),
            "{found:?}"
        );
    }
}
