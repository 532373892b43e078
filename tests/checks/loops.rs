//! What loops read: one finding a cause, and help that is true.

use std::fmt::Write;

use super::{only, slugs};

/// A zone on the board of the examples (or another), with what stands in its loop.
pub(super) fn zone(wiring: &str, board: &str, inside: &str) -> String {
    // A button calls for help.
    let kind = if inside.contains("\"button\"") { "panic-audible" } else { "twenty-four-hour" };
    format!(
        "zone 1 \"Lobby window\" type=\"{kind}\" {{\n    loop \"{wiring}\" board=\"{board}\" {{\n{inside}\n    }}\n}}\n"
    )
}

pub(super) fn run(length: u32, inside: &str) -> String {
    format!("run \"pair\" length=(ft){length} room=\"lobby\" {{ {inside}; }}\n")
}

/// The text between the first two quotes of a help.
pub(super) fn quoted(help: &str) -> &str {
    help.split('"').nth(1).unwrap()
}

#[test]
fn a_loop_that_is_too_long_works_at_the_length_of_the_help() {
    let spec = |length: u32| zone("end-of-line", "board-a", &run(length, "contact \"reed\"; resistor \"3k\""));
    let finding = only(&spec(20_000), "loop-too-long");
    let most: u32 = finding.help.split("up to ").nth(1).unwrap().split(' ').next().unwrap().parse().unwrap();
    // 3.1 V at a pull-up of 2178 Ω is 3553.7 Ω; less 3150 Ω and 0.15 Ω it leaves 403.5 Ω, twice 17.09 Ω/kft at 35 °C.
    assert!((11_700..11_900).contains(&most), "{most}");
    assert!(!slugs(&spec(most)).contains(&"loop-too-long"));
    assert!(slugs(&spec(most + 1)).contains(&"loop-too-long"));
}

#[test]
fn a_plain_loop_at_an_input_for_a_resistor_is_told_which() {
    for (wiring, contact) in [("normally-closed", "reed"), ("normally-open", "button")] {
        let finding = only(&zone(wiring, "board-a", &run(20, &format!("contact \"{contact}\""))), "loop-not-normal");
        let marking = finding.help.split('"').nth(3).unwrap();
        let better = run(20, &format!("contact \"{contact}\"; resistor \"{marking}\""));
        assert_eq!(slugs(&zone("end-of-line", "board-a", &better)), [""; 0], "{}", finding.help);
    }
}

#[test]
fn a_resistor_before_the_last_place_leaves_what_is_behind_it_unseen() {
    let early = run(20, "contact \"reed\"; resistor \"2k2\"") + &run(30, "contact \"reed\"");
    let finding = only(&zone("end-of-line", "board-a", &early), "loop-fault-reads-normal");
    assert_eq!(finding.title, "zone 1 reads normal with cable `Z1-2` shorted at its near end");
    assert!(finding.help.contains("the far end of cable `Z1-2`"), "{}", finding.help);
    let last = run(20, "contact \"reed\"") + &run(30, "contact \"reed\"; resistor \"2k2\"");
    assert_eq!(slugs(&zone("end-of-line", "board-a", &last)), [""; 0]);
    let board = run(20, "contact \"reed\"") + "resistor \"2k2\"";
    let finding = only(&zone("end-of-line", "board-a", &board), "loop-fault-reads-normal");
    assert!(finding.title.starts_with("the resistor of zone 1 stands at the board"), "{}", finding.title);
}

#[test]
fn a_branch_across_the_pair_is_named() {
    let branch = run(20, &format!("contact \"button\"; {}", run(15, "contact \"button\"").trim_end()));
    let spec = zone("end-of-line", "board-a", &(branch + &run(30, "contact \"button\"; resistor \"2k2\"")));
    let finding = only(&spec, "loop-fault-reads-normal");
    assert!(finding.title.ends_with("is on a branch"), "{}", finding.title);
    assert!(finding.help.contains("without branches"), "{}", finding.help);
}

#[test]
fn a_fire_loop_is_said_to_be_open_once() {
    let plain = "panel \"side\" part=\"plain-a\" room=\"lobby\"\n";
    let loops = zone("normally-closed", "side", &run(20, "contact \"reed\""));
    only(&(plain.to_owned() + &loops), "loop-unsupervised");
    let heat = "part \"hot\" senses=\"heat\" { basis \"sheet\" ref=\"invented\"; contact form=\"NC\" resistance=(ohm)0.15; }\n";
    let warm = loops.replace("twenty-four-hour", "heat").replace("\"reed\"", "\"hot\"");
    only(&(plain.to_owned() + heat + &warm), "fire-loop-unsupervised");
    let accept = "accept \"loop-unsupervised\" zone=1 because=\"no place for a resistor\"\n";
    let finding = only(&(plain.to_owned() + &loops + accept), "loop-unsupervised");
    assert_eq!(finding.accepted.as_deref(), Some("no place for a resistor"));
}

#[test]
fn where_something_was_reported_the_loop_is_not_judged() {
    let good = run(20, "contact \"reed\"");
    for (slip, slug) in [
        (good.replace("\"pair\"", "\"pare\""), "unknown-name"),
        (good.replace("(ft)20", "(V)20"), "value-wrong"),
        (good.replace("\"reed\"", "\"rede\""), "unknown-name"),
        (good.replace("contact", "contakt"), "unknown-node"),
    ] {
        let slugs = slugs(&zone("end-of-line", "board-a", &slip));
        assert!(slugs.iter().all(|slug| !slug.starts_with("loop-")) && slugs.len() == 1, "{slug}: {slugs:?}");
    }
}

#[test]
fn bands_may_be_in_ohms_and_impossible_ones_judge_nothing() {
    let board = |bands: &str| {
        format!(
            "part \"own\" title=\"Board\" {{\n    basis \"sheet\" ref=\"invented\"\n    input 1 signal=\"I\" return=\"R\"\n    sensing supply=(V)5 pull-up=(ohm)2200 {{ {bands}; }}\n}}\npanel \"own\" part=\"own\" room=\"lobby\"\n"
        )
    };
    let spec = |bands: &str, resistor: &str| {
        board(bands) + &zone("end-of-line", "own", &run(20, &format!("contact \"reed\"; resistor \"{resistor}\"")))
    };
    let ohms = "band \"short\" max=(ohm)1400; band \"normal\" min=(ohm)1650 max=(ohm)3300; band \"open\" min=(ohm)6000";
    assert_eq!(slugs(&spec(ohms, "2k2")), [""; 0]);
    assert_eq!(slugs(&spec(ohms, "3k9")), ["loop-resistor-wrong"]);
    // A supply that is 2 % high leaves no band whose upper edge is the supply.
    let volts = "band \"short\" max=(V)0.8; band \"normal\" min=(V)1.6 max=(V)3.1; band \"open\" min=(V)4 max=(V)5";
    assert_eq!(slugs(&spec(volts, "2k2").replace("pull-up=", "supply-tolerance=(percent)2 pull-up=")), [""; 0]);
    for bad in [
        "band \"normal\" min=(V)3 max=(V)1",
        "band \"normal\" min=(V)1 max=(V)3; band \"open\" min=(V)6",
        "band \"normal\" min=(V)1 max=(V)3; band \"open\" min=(ohm)6000",
        "band \"normal\" min=(V)1 max=(V)3; band \"open\" min=(V)2.5",
    ] {
        assert_eq!(slugs(&spec(bad, "3k9")), ["sensing-impossible"], "{bad}");
    }
}

#[test]
fn a_loop_of_five_hundred_places_is_judged_whole() {
    let spec = |resistor_at: u32| {
        let mut inside = String::new();
        for place in 0..500 {
            let resistor = if place == resistor_at { "; resistor \"2k2\"" } else { "" };
            writeln!(inside, "{}", run(2, &format!("contact \"reed\"{resistor}"))).unwrap();
        }
        zone("end-of-line", "board-a", &inside)
    };
    assert_eq!(slugs(&spec(499)), [""; 0]);
    let finding = only(&spec(0), "loop-fault-reads-normal");
    let listed = finding.figures.iter().filter(|line| line.starts_with("cable ")).count();
    assert_eq!(listed, 8, "the others are counted: {:?}", finding.figures);
}

/// A mixed loop: the order at its last place makes the button an alarm or nothing.
#[test]
fn a_contact_behind_the_resistor_is_told_to_go_first() {
    let spec = |items: &str| {
        format!(
            "zone 1 \"Lobby\" type=\"trouble\" {{
    loop \"end-of-line\" board=\"board-a\" {{
        run \"pair\" length=(ft)20 room=\"lobby\" {{ contact \"reed\" title=\"Reed\"; {items}; }}
    }}
}}
"
        )
    };
    let (button, resistor) = ("contact \"button\" title=\"Button\"", "resistor \"2k2\"");
    assert_eq!(slugs(&spec(&format!("{button}; {resistor}"))), [""; 0]);
    let finding = only(&spec(&format!("{resistor}; {button}")), "loop-alarm-reads-normal");
    assert_eq!(
        finding.help,
        "Write Button first at the end of cable `Z1`, before the resistor: the order at one place counts, and a contact that is open at rest bridges only what comes behind it."
    );
}

/// The supply relay stands between the alarm contacts and the resistor; what the help says is written.
#[test]
fn a_supply_relay_behind_the_resistor_is_told_where_it_belongs() {
    let smoke = |end: &str| {
        format!(
            "zone 1 \"Lobby smoke\" type=\"smoke\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"quad\" length=(ft)20 room=\"lobby\" {{ detector \"smoke\" supply=\"fire\"; {end} }}; }}; }}\n"
        )
    };
    let (relay, resistor) = ("detector \"watch\" name=\"relay\" supply=\"fire\";", "resistor \"2k2\";");
    let finding = only(&smoke(&format!("{resistor} {relay}")), "loop-alarm-reads-normal");
    assert!(finding.help.starts_with("Let the resistor stand behind `relay`"), "{}", finding.help);
    assert_eq!(slugs(&smoke(&format!("{relay} {resistor}"))), [""; 0]);
}

/// Volts of three loops that none is as calculated, while the ohms of each line are: the board's figures, once.
#[test]
fn a_board_whose_volts_are_all_wrong_is_one_finding() {
    let zone = |number: u32| {
        format!(
            "zone {number} \"Door {number}\" type=\"twenty-four-hour\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"pair\" length=(ft)20 room=\"lobby\" {{ contact \"reed\"; resistor \"2k2\" }} }} }}\n"
        )
    };
    let zones: String = (1..=3).map(zone).collect();
    let record = |volts: [&str; 3]| {
        let line = |(at, volts): (usize, &str)| format!("loop {} \"rest\" ohms=(ohm)2200 volts=(V){volts}; ", at + 1);
        let lines: String = volts.into_iter().enumerate().map(line).collect();
        format!("{zones}measured date=\"2027-02-01\" {{ {lines} }}\n")
    };
    let finding = only(&record(["1.0", "1.02", "1.0"]), "reading-outside");
    assert!(finding.title.starts_with("all 3 readings with the leads on of part `control-a`"), "{}", finding.title);
    // One that is right says that the board is.
    assert_eq!(slugs(&record(["1.0", "2.5", "1.0"])), ["reading-outside"; 2]);
}
