//! Inputs, terminals and cables.

use super::{button, found, found_under, only, slugs};

/// A board whose two inputs share a return, with room for so many conductors under a screw.
fn board(wires: u32) -> String {
    format!(
        "part \"twin\" title=\"Board with a shared return\" {{
    basis \"sheet\" ref=\"invented\"
    input 1 signal=\"I1\" return=\"R\"
    input 2 signal=\"I2\" return=\"R\"
    sensing supply=(V)5 pull-up=(ohm)2200 {{
        band \"short\" max=(V)0.8
        band \"normal\" min=(V)1.6 max=(V)3.1
        band \"open\" min=(V)4
    }}
    screw wires={wires}
}}
panel \"twin\" part=\"twin\" room=\"lobby\"
"
    )
}

#[test]
fn a_shared_return_is_counted_with_all_its_loops() {
    let loops = button(1, "board=\"twin\"", "Left") + &button(2, "board=\"twin\"", "Right");
    assert_eq!(slugs(&(board(2) + &loops)), [""; 0]);
    let finding = only(&(board(1) + &loops), "terminal-overfull");
    assert_eq!(finding.title, "terminal `R` of panel `twin` takes 1 conductor and gets 2");
    assert_eq!(finding.figures, ["`R`: `Z1` RD, `Z2` RD"]);
}

#[test]
fn a_resistor_at_the_board_counts_with_its_leads() {
    let spec = "zone 1 \"Lobby\" type=\"panic-audible\" {
    loop \"end-of-line\" board=\"twin\" {
        run \"pair\" length=(ft)20 room=\"lobby\" { contact \"button\" }
        resistor \"2k2\"
    }
}
";
    let found = found(&(board(1) + spec));
    assert_eq!(found.iter().map(|f| f.rule.slug).collect::<Vec<_>>(), ["terminal-overfull", "loop-fault-reads-normal"]);
    let finding = &found[0];
    assert_eq!(finding.title, "terminals `I1` and `R` of panel `twin` take 1 conductor and get 2");
    assert_eq!(finding.figures[0], "`I1`: `Z1` BK, a lead of zone 1's resistor");
}

#[test]
fn two_loops_on_one_input_are_one_finding() {
    let spec = button(1, "board=\"twin\" input=1", "Left") + &button(2, "board=\"twin\" input=1", "Right");
    only(&(board(1) + &spec), "input-used-twice");
}

#[test]
fn where_nobody_says_what_a_terminal_takes_nothing_is_found() {
    let silent = board(1).replace("    screw wires=1\n", "");
    let loops = button(1, "board=\"twin\"", "Left") + &button(2, "board=\"twin\"", "Right");
    assert_eq!(slugs(&(silent + &loops)), [""; 0]);
}

#[test]
fn loops_past_the_last_input_are_one_finding_a_board() {
    let names = ["One", "Two", "Three", "Four"];
    let loops: String = (1..).zip(names).map(|(n, name)| button(n, "board=\"twin\"", name)).collect();
    let finding = only(&(board(2) + &loops), "input-none-free");
    assert_eq!(finding.title, "panel `twin` has no input left for zones 3 and 4");
    assert_eq!(finding.subjects, ["3", "twin", "4"]);
}

const EXPANDER: &str = "bus \"data\" board=\"board-a\" rate=(baud)19200 {
    run \"bus-cable\" length=(ft)30 room=\"lobby\" { module \"expander-1\" part=\"expander-a\" address=1 inputs-from=17; terminator (ohm)120 }
}
";

#[test]
fn the_panels_number_of_a_modules_input_is_turned_into_its_own() {
    let spec = EXPANDER.to_owned() + &button(1, "board=\"expander-1\" input=18", "Lobby");
    let finding = only(&spec, "input-not-on-board");
    assert_eq!(finding.help, "If you mean the input that the panel knows as 18, write input=2.");
    let far = EXPANDER.to_owned() + &button(1, "board=\"expander-1\" input=40", "Lobby");
    assert_eq!(
        only(&far, "input-not-on-board").help,
        "It has 1 to 4: take one of them, input=1 for example, or leave input= out."
    );
}

#[test]
fn a_strip_and_a_board_without_inputs_read_no_loop() {
    let strip = "strip \"row\" board=\"board-a\" output=\"aux\" ways=4\n".to_owned();
    let finding = only(&(strip.clone() + &button(1, "board=\"row\"", "Lobby")), "input-not-on-board");
    assert_eq!(
        (finding.title.as_str(), finding.help.as_str()),
        ("strip `row` has no inputs for loops", "Name `board-a`.")
    );
    only(&(strip + &button(1, "board=\"row\" input=2", "Lobby")), "input-not-on-board");
}

#[test]
fn a_cable_that_is_shared_must_have_conductors_for_all() {
    let spec = "zone 1 \"Lobby motion\" type=\"interior\" {
    loop \"end-of-line\" board=\"board-a\" {
        run \"quad\" name=\"shared\" length=(ft)20 room=\"lobby\" { detector \"motion\" supply=\"aux\"; resistor \"2k2\" }
    }
}
zone 2 \"Lobby button\" type=\"panic-audible\" {
    loop \"end-of-line\" board=\"board-a\" {
        run \"quad\" along=\"shared\" length=(ft)20 room=\"lobby\" { contact \"button\"; resistor \"2k2\" }
    }
}
";
    let finding = only(spec, "cable-conductors-short");
    assert_eq!(finding.title, "cable `Z1` has 4 conductors, and 6 are needed");
    assert_eq!(
        finding.figures,
        ["supply from aux: 2 conductors", "zone 1 loop: 2 conductors", "zone 2 loop: 2 conductors"]
    );
    assert_eq!(finding.help, "Define a cable type with at least 6 conductors of 22 AWG, or pull a second `quad`.");
    let wider = format!("cable \"eight\" conductors=8 size=(AWG)22\n{spec}");
    let help = found(&wider).into_iter().find(|f| f.rule.slug == "cable-conductors-short").unwrap().help;
    assert_eq!(help, "Take `eight`, which has 8.");
    // The smallest that is meant for such a cable.
    let network = format!("cable \"net\" conductors=6 size=(AWG)22 {{ conductor \"BU\" for=\"network\"; }}\n{wider}");
    let help = found(&network).into_iter().find(|f| f.rule.slug == "cable-conductors-short").unwrap().help;
    assert_eq!(help, "Take `eight`, which has 8.");
    // What is in the wall stays what it is.
    let old = wider.replace("name=\"shared\"", "name=\"shared\" existing=#true");
    let finding = found(&old).into_iter().find(|f| f.rule.slug == "cable-conductors-short").unwrap();
    assert!(finding.help.contains("pull a second one beside it with the 2 conductors missing"), "{}", finding.help);
    assert!(finding.fix.is_none_or(|fix| fix.edits.is_empty()));
}

#[test]
fn the_letter_before_a_zones_number_can_be_set() {
    let marked = board(2).replace("I1", "Z1").replace("I2", "Z2");
    let spec = marked + &button(1, "board=\"twin\"", "Left");
    let header = |prefix: &str| {
        crate::pages::HEADER.replace("title=\"Example house\"", &format!("title=\"Example house\"{prefix}"))
    };
    let slugs = |prefix: &str| -> Vec<&str> {
        found_under(&header(prefix), &spec).iter().map(|finding| finding.rule.slug).collect()
    };
    const W: &str = " label-prefix=\"W\"";
    assert_eq!(slugs(""), ["label-like-terminal"]);
    assert_eq!(slugs(W), [""; 0]);
    assert_eq!(crate::packet::sites::site(&(header(W) + &spec)).wiring.cables[0].label, "W1");
}

/// A bus that comes in and goes on is two conductors under each of a board's four screws.
#[test]
fn a_bus_that_passes_a_board_needs_room_for_two() {
    let bus = "bus \"data\" board=\"board-a\" rate=(baud)9600 {
    run \"bus-cable\" length=(ft)30 room=\"lobby\" { keypad \"first\" part=\"narrow\" address=1; }
    run \"bus-cable\" length=(ft)30 room=\"lobby\" { keypad \"second\" part=\"narrow\" address=2; terminator (ohm)120; }
}
";
    let keypad = |wires: u32| {
        format!(
            "part \"narrow\" {{ basis \"sheet\"; bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"; draw idle=(mA)40 min=(V)9; screw wires={wires}; }}\n"
        )
    };
    let overfull = |wires: u32| -> Vec<String> {
        let found = found(&(keypad(wires) + bus)).into_iter();
        found.filter(|f| f.rule.slug == "terminal-overfull").map(|f| f.title).collect()
    };
    assert_eq!(overfull(2), [""; 0]);
    assert_eq!(
        overfull(1),
        [
            "terminals `+`, `-`, `A` and `B` of keypad `first` take 1 conductor and get 2",
            "terminals `A` and `B` of keypad `second` take 1 conductor and get 2"
        ]
    );
}

/// The supply that passes a detector under its own screws is two conductors there as well.
#[test]
fn a_supply_that_passes_a_detector_needs_room_for_two() {
    let zone = "zone 1 \"Smoke\" type=\"smoke\" {
    loop \"end-of-line\" board=\"board-a\" {
        run \"quad\" length=(ft)20 room=\"lobby\" { detector \"narrow\" supply=\"fire\" title=\"First\"; }
        run \"quad\" length=(ft)20 room=\"lobby\" { detector \"narrow\" supply=\"fire\" title=\"Second\"; detector \"watch\" supply=\"fire\"; resistor \"2k2\"; }
    }
}
";
    let part = |screw: &str| {
        format!(
            "part \"narrow\" senses=\"smoke\" {{ basis \"sheet\"; supply min=(V)9 max=(V)16 idle=(mA)0.1 alarm=(mA)30; contact form=\"NO\" resistance=(ohm)1; {screw} }}\n"
        )
    };
    let overfull = |screw: &str| -> Vec<String> {
        let found = found(&(part(screw) + zone)).into_iter();
        found.filter(|f| f.rule.slug == "terminal-overfull").map(|f| f.title).collect()
    };
    assert_eq!(overfull(""), [""; 0]);
    assert_eq!(overfull("screw wires=2;"), [""; 0]);
    assert_eq!(
        overfull("screw wires=1;"),
        [
            "terminals `+` and `-` of First take 1 conductor and get 2",
            "terminals `+` and `-` of Second take 1 conductor and get 2"
        ]
    );
}

/// A keypad whose terminals take one conductor: the bus cannot go on from it, and what the help says is followed.
#[test]
fn a_bus_passes_a_board_of_single_terminals_through_a_joint_box() {
    let part = "part \"pad\" title=\"Keypad\" { basis \"sheet\" ref=\"made up\"; bus-port \"data\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"; draw idle=(mA)20 min=(V)9; screw wires=1; }\n";
    let run = |feet: u32, where_to: &str, inside: &str| {
        format!("run \"bus-cable\" length=(ft){feet} {where_to} {{ {inside}; }}\n")
    };
    let pad = |number: u32| format!("keypad \"pad-{number}\" part=\"pad\" address={number}");
    let bus = |runs: &str| format!("{part}bus \"data\" board=\"board-a\" rate=(baud)9600 {{\n{runs}}}\n");
    let (one, two) = (run(30, "room=\"lobby\"", &pad(1)), run(20, "room=\"lobby\"", &pad(2)));
    let passing = found(&bus(&(one.clone() + &two)));
    let overfull = passing.iter().find(|finding| finding.rule.slug == "terminal-overfull").unwrap();
    assert!(overfull.help.contains("`joint-box` beside it"), "{}", overfull.help);
    let boxed = bus(&run(29, "into=\"box\" joined-by=\"crimp\"", &(run(1, "room=\"lobby\"", &pad(1)) + &two)))
        + "joint-box \"box\" title=\"Box\" room=\"lobby\" joined-by=\"crimp\"\n";
    let boxed: Vec<&str> = slugs(&boxed);
    assert!(!boxed.contains(&"bus-branched") && !boxed.contains(&"terminal-overfull"), "{boxed:?}");
}

/// A terminator too many is one finding, not one more about the screws that it is under.
#[test]
fn a_terminator_too_many_is_told_once() {
    let part = "part \"pad\" title=\"Keypad\" { basis \"sheet\" ref=\"made up\"; bus-port \"data\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"; draw idle=(mA)20 min=(V)9; screw wires=2; }\n";
    let bus = |middle: &str, end: &str| {
        format!(
            "{part}bus \"data\" board=\"board-a\" rate=(baud)9600 {{\nrun \"bus-cable\" length=(ft)30 room=\"lobby\" {{ keypad \"one\" part=\"pad\" address=1; {middle} }}\nrun \"bus-cable\" length=(ft)30 room=\"lobby\" {{ keypad \"two\" part=\"pad\" address=2; {end} }}\n}}\n"
        )
    };
    let terminator = "terminator (ohm)120;";
    assert_eq!(slugs(&bus("", terminator)), [""; 0]);
    assert_eq!(slugs(&bus(terminator, terminator)), ["bus-terminator-surplus"]);
    assert_eq!(slugs(&bus("", &terminator.repeat(2))), ["bus-terminator-surplus"]);
}

/// Two pairs joined that come in, one that goes on: three conductors under a screw; and the other way round.
#[test]
fn pairs_side_by_side_are_counted_by_conductor_at_a_device() {
    let spec = |wires: u32, first: u32, second: u32| {
        format!(
            "cable \"six\" conductors=6 size=(AWG)22 jacket=\"CL2R\"
part \"marker\" title=\"Marker\" works=\"indicator\" {{ basis \"sheet\" ref=\"invented\"; supply min=(V)9 max=(V)15 idle=(mA)20; screw wires={wires}; }}
circuit \"c\" board=\"board-a\" output=\"aux\" {{
    run \"six\" length=(ft)20 room=\"lobby\" pairs={first} {{ load \"marker\" title=\"One\"; }}
    run \"six\" length=(ft)20 room=\"lobby\" pairs={second} {{ load \"marker\" title=\"Other\"; }}
}}
"
        )
    };
    for (first, second) in [(2, 1), (1, 2)] {
        let finding = only(&spec(2, first, second), "terminal-overfull");
        assert_eq!(finding.title, "terminals `+` and `-` of One take 2 conductors and get 3");
        assert_eq!(slugs(&spec(3, first, second)), [""; 0]);
    }
    assert_eq!(
        only(&spec(3, 2, 2), "terminal-overfull").title,
        "terminals `+` and `-` of One take 3 conductors and get 4"
    );
    assert_eq!(slugs(&spec(2, 1, 1)), [""; 0]);
}
