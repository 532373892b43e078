//! One cause is one finding: what follows from a slip that was told stays untold, and the help names what is at hand.

use super::{found, only, slugs};

/// A zone of three motion detectors in a row, each on its own cable of this type.
fn row(cable: &str) -> String {
    let detector = |number: u32, end: &str| {
        format!(
            "run \"{cable}\" length=(ft)20 room=\"lobby\" {{ detector \"motion\" title=\"Motion {number}\" supply=\"aux\"; {end} }}\n"
        )
    };
    let runs = detector(1, "") + &detector(2, "") + &detector(3, "resistor \"2k2\"");
    format!(
        "area \"house\"\nzone 1 \"Lobby motion\" type=\"interior\" area=\"house\" {{\n    loop \"end-of-line\" board=\"board-a\" {{\n{runs}    }}\n}}\n"
    )
}

#[test]
fn cables_of_a_loop_that_lack_the_same_conductors_are_one_finding() {
    let finding = only(&row("pair"), "cable-conductors-short");
    assert_eq!(finding.title, "cables `Z1`, `Z1-2` and `Z1-3` have 2 conductors, and 4 are needed");
    assert_eq!((finding.labels.len(), finding.help.as_str()), (3, "Take `quad`, which has 4."));
    assert_eq!(slugs(&row("quad")), [""; 0]);
}

/// Four zones of three motion detectors, all on a strip with so many ways.
#[test]
fn a_strip_without_its_ways_has_no_terminal_that_is_overfull() {
    let zone = |number: u32| {
        row("quad")
            .replace("area \"house\"\n", "")
            .replace("zone 1 \"Lobby", &format!("zone {number} \"Lobby {number}"))
    };
    let zones: String = (1..5).map(zone).collect();
    let spec = |ways: &str| format!("area \"house\"\nstrip \"strip\" board=\"board-a\" output=\"aux\"{ways}\n{zones}");
    assert_eq!(slugs(&spec("")), ["property-missing"]);
    assert_eq!(slugs(&spec(" ways=4")), [""; 0]);
    assert_eq!(slugs(&spec(" ways=1")), ["terminal-overfull"]);
}

/// A way of two hops, one of them on an output of the panel.
fn way(hops: &str) -> String {
    format!(
        "communicator \"net\" type=\"internet\" board=\"board-a\" {{
    {hops}
    hop \"router\" backup=(h)24
}}
circuit \"switch-supply\" board=\"board-a\" output=\"aux\" {{
    run \"pair\" length=(ft)6 room=\"lobby\" {{ feed \"switch\"; }}
}}
"
    )
}

#[test]
fn a_current_in_the_wrong_unit_is_told_where_it_is_written_and_nowhere_else() {
    let spec = |draw: &str| way(&format!("hop \"network switch\" name=\"switch\" draw={draw} min=(V)9"));
    let finding = only(&spec("(A)15"), "output-overloaded");
    assert!(finding.help.starts_with("`network switch` alone takes 15 A, many times"), "{}", finding.help);
    assert!(finding.labels.iter().any(|label| label.text == "15 A for this alone"), "{:?}", finding.labels);
    assert_eq!(slugs(&spec("(mA)70")), [""; 0]);
    // What a house may have counts for its battery as well.
    assert!(slugs(&spec("(A)1.5")).contains(&"battery-short"));
}

#[test]
fn a_hop_is_among_the_names_that_may_have_been_meant() {
    let spec = |name: &str| way(&format!("hop \"network switch\" name=\"{name}\" draw=(mA)70 min=(V)9"));
    let finding = only(&spec("swich"), "unknown-name");
    assert_eq!(finding.help, "Did you mean `swich`?");
    let from = spec("switch").replace("backup=(h)24", "backup=(h)24 from=\"swich\"");
    assert_eq!(only(&from, "unknown-name").help, "Did you mean `switch`?");
}

#[test]
fn the_least_volts_of_a_hop_that_another_feeds_say_nothing() {
    let hops = "hop \"network switch\" name=\"switch\" draw=(mA)70 min=(V)9";
    let spec = |min: &str| {
        way(hops).replace("hop \"router\" backup=(h)24", &format!("hop \"bridge\" from=\"switch\" draw=(mA)20{min}"))
    };
    assert_eq!(slugs(&spec("")), [""; 0]);
    assert_eq!(only(&spec(" min=(V)9"), "property-without-effect").labels.len(), 2);
}

#[test]
fn what_sends_for_the_panel_is_a_module() {
    let bus = "bus \"data\" board=\"board-a\" rate=(baud)9600 {
    run \"bus-cable\" length=(ft)30 room=\"lobby\" { keypad \"keys\" part=\"keypad-a\" address=1; terminator (ohm)120; }
}
communicator \"net\" type=\"internet\" module=\"keys\" { hop \"router\" backup=(h)24; }
";
    let finding = only(bus, "unknown-name");
    assert_eq!(finding.title, "`keys` is a keypad and no module");
    assert_eq!(
        slugs(&bus.replace("keypad \"keys\" part=\"keypad-a\"", "module \"keys\" part=\"expander-a\"")),
        [""; 0]
    );
}

#[test]
fn a_relay_on_another_supply_is_the_one_to_be_fed() {
    let spec = |supply: &str| {
        format!(
            "zone 1 \"Lobby smoke\" type=\"smoke\" {{
    loop \"end-of-line\" board=\"board-a\" {{
        run \"six\" length=(ft)30 room=\"lobby\" {{ detector \"smoke\" supply=\"fire\"; detector \"watch\" title=\"Relay\" supply=\"{supply}\"; resistor \"2k2\" }}
    }}
}}
cable \"six\" conductors=6 size=(AWG)22 jacket=\"CL2R\"
"
        )
    };
    assert_eq!(slugs(&spec("fire")), [""; 0]);
    // A gas detector without supply is as dead and as silent.
    let gas = "part \"gas\" title=\"Gas\" senses=\"gas\" { basis \"sheet\" ref=\"invented\"; supply min=(V)9 max=(V)16 idle=(mA)1; contact form=\"NO\" resistance=(ohm)1; }\n";
    let watched = gas.to_owned()
        + &spec("fire").replace("type=\"smoke\"", "type=\"gas\"").replace("detector \"smoke\"", "detector \"gas\"");
    only(&watched.replace("detector \"watch\" title=\"Relay\" supply=\"fire\"; ", ""), "fire-supply-unwatched");
    let finding = only(&spec("aux"), "fire-supply-unwatched");
    assert!(finding.help.starts_with("Feed Relay from output `fire` of panel `board-a`"), "{}", finding.help);
}

/// A zone each, one supply through all of them: one relay behind the last is enough.
#[test]
fn one_relay_watches_a_supply_chain_through_several_zones() {
    let spec = |relay: &str, feed: &str| {
        let zone = |number: u32, more: &str| {
            format!(
                "zone {number} \"Lobby smoke {number}\" type=\"smoke\" {{
    loop \"end-of-line\" board=\"board-a\" {{
        run \"quad\" length=(ft)30 room=\"lobby\" {{ detector \"smoke\" title=\"Smoke {number}\" name=\"s-{number}\"; {more}resistor \"2k2\" }}
    }}
}}
"
            )
        };
        format!(
            "{}{}circuit \"smokes\" board=\"board-a\" output=\"fire\" {{
    run \"pair\" length=(ft)30 room=\"lobby\" {{ feed \"s-1\" }}
    run \"pair\" length=(ft)30 room=\"lobby\" {{ feed \"s-2\"{feed} }}
}}
",
            zone(1, ""),
            zone(2, relay)
        )
    };
    let finding = only(&spec("", ""), "fire-supply-unwatched");
    assert!(finding.help.contains("after `s-2` at the far end"), "{}", finding.help);
    assert_eq!(slugs(&spec("detector \"watch\" title=\"Relay\" name=\"relay\"; ", "; feed \"relay\"")), [""; 0]);
}

#[test]
fn a_run_name_given_twice_is_joined_to_neither() {
    let zone = |number: u32, run: &str| {
        format!(
            "zone {number} \"Lobby {number}\" type=\"panic-audible\" {{
    loop \"end-of-line\" board=\"board-a\" {{
        run {run} length=(ft)20 room=\"lobby\" {{ contact \"button\" title=\"Button {number}\"; resistor \"2k2\" }}
    }}
}}
"
        )
    };
    let spec = zone(1, "\"pair\" name=\"shared\"")
        + &zone(2, "\"quad\" name=\"shared\"")
        + &zone(3, "\"quad\" along=\"shared\"");
    assert_eq!(slugs(&spec), ["duplicate-name"]);
}

#[test]
fn a_contact_named_for_an_opening_elsewhere_is_told_with_the_one_that_it_leaves_out() {
    let spec = |on: &str| {
        format!(
            "area \"house\"
level \"ground\" {{
    room \"hall\" title=\"Hall\" {{ door \"front\" title=\"Front door\" }}
    room \"study\" title=\"Study\" {{ window \"bay\" title=\"Bay window\" }}
}}
zone 1 \"Front door\" type=\"perimeter\" area=\"house\" {{
    loop \"end-of-line\" board=\"board-a\" {{
        run \"pair\" length=(ft)20 room=\"hall\" {{ contact \"reed\" on=\"front\"; resistor \"2k2\" }}
    }}
}}
zone 2 \"Study window\" type=\"perimeter\" area=\"house\" {{
    loop \"end-of-line\" board=\"board-a\" {{
        run \"pair\" length=(ft)20 room=\"study\" {{ contact \"reed\" on=\"{on}\"{}; resistor \"2k2\" }}
    }}
}}
",
            if on == "bay" { "" } else { " shares=#true" }
        )
    };
    assert_eq!(slugs(&spec("bay")), [""; 0]);
    let finding = only(&spec("front"), "contact-in-other-room");
    assert!(finding.help.starts_with("Write on=\"bay\": it is in Study"), "{}", finding.help);
    assert_eq!((finding.labels.len(), finding.fix.as_ref().map_or(0, |fix| fix.edits.len())), (3, 1));
}

#[test]
fn a_reading_under_another_word_is_told_by_its_word_and_once() {
    let spec = |state: &str| {
        format!(
            "zone 1 \"Lobby\" type=\"twenty-four-hour\" {{
    loop \"end-of-line\" board=\"board-a\" {{
        run \"pair\" length=(ft)20 room=\"lobby\" {{ contact \"reed\"; resistor \"2k2\" }}
    }}
}}
measured date=\"2027-01-02\" {{ loop 1 \"{state}\" ohms=(ohm)2201 volts=(V)2.5; }}
"
        )
    };
    assert!(!slugs(&spec("rest")).contains(&"reading-outside"));
    let found: Vec<_> = found(&spec("alarm")).into_iter().filter(|it| it.rule.slug == "reading-outside").collect();
    assert_eq!(found.len(), 1);
    let unseen = "This is what the loop reads at rest: the board does not see";
    assert!(found[0].help.starts_with(unseen), "{}", found[0].help);
    assert_eq!(found[0].labels.len(), 3);
}

#[test]
fn an_alarm_that_is_not_seen_is_no_slip_of_a_unit() {
    let help = |ohms: &str| {
        only(
            &format!(
                "zone 1 \"Lobby\" type=\"twenty-four-hour\" {{
    loop \"end-of-line\" board=\"board-a\" {{
        run \"pair\" length=(ft)20 room=\"lobby\" {{ contact \"reed\"; resistor \"2k2\" }}
    }}
}}
measured date=\"2027-01-02\" {{ loop 1 \"alarm\" {ohms}; }}
"
            ),
            "reading-outside",
        )
        .help
    };
    assert!(help("ohms=(ohm)2200").contains("the board does not see what was worked"), "{}", help("ohms=(ohm)2200"));
    // As megohms 4000 would do for an open loop; as ohms it says that something is wrong.
    assert!(!help("ohms=(ohm)4000").contains("slip"), "{}", help("ohms=(ohm)4000"));
    let volts = help("volts=(V)3.5");
    assert!(volts.contains("with both leads on") && !volts.contains("probes"), "{volts}");
}

#[test]
fn an_include_of_the_register_is_one_finding() {
    let finding = only("include \"register.kdl\"\n", "include-of-register");
    assert!(finding.help.contains("Take this line out"), "{}", finding.help);
}

#[test]
fn a_path_that_is_written_otherwise_is_told_what_it_means() {
    for (written, meant) in [("wiring\\\\parts.kdl", "wiring/parts.kdl"), ("x/../parts.kdl", "parts.kdl")] {
        let finding = only(&format!("include \"{written}\"\n"), "include-outside");
        assert_eq!(finding.help, format!("Write include \"{meant}\"."));
    }
}

/// A sounder or a strip is not fed by name, and a board is named that has such an output.
#[test]
fn a_board_without_outputs_is_told_who_has_one() {
    let keypad = "bus \"data\" board=\"board-a\" { run \"bus-cable\" length=(ft)30 room=\"lobby\" { keypad \"keys\" part=\"keypad-a\" address=1; terminator (ohm)120; }; }\n";
    let circuit = "circuit \"sounders\" board=\"keys\" output=\"siren\" { run \"pair\" length=(ft)20 room=\"lobby\" { sounder \"sounder\"; }; }\n";
    let finding = only(&(keypad.to_owned() + circuit), "unknown-name");
    assert!(finding.help.ends_with("take another board, as `board-a`."), "{}", finding.help);
}

/// A loop on a keypad is one fault.
#[test]
fn how_a_board_without_inputs_reads_a_loop_is_not_asked() {
    let keypad = "bus \"data\" board=\"board-a\" rate=(baud)9600 { run \"bus-cable\" length=(ft)30 room=\"lobby\" { keypad \"keys\" part=\"keypad-a\" address=1; terminator (ohm)120; }; }\n";
    let zone = "zone 1 \"Lobby\" type=\"trouble\" { loop \"end-of-line\" board=\"keys\" { run \"pair\" length=(ft)20 room=\"lobby\" { contact \"reed\"; resistor \"2k2\"; }; }; }\n";
    only(&(keypad.to_owned() + zone), "input-not-on-board");
}

#[test]
fn a_run_inside_a_run_that_starts_at_the_board_is_one_finding() {
    for (node, inside) in [
        ("bus \"data\" board=\"board-a\"", "keypad \"keys\" part=\"keypad-a\" address=1"),
        ("circuit \"sounders\" board=\"board-a\" output=\"siren\"", "sounder \"sounder\""),
    ] {
        let other = inside.replace("\"keys\"", "\"other\"").replace("address=1", "address=2");
        let cable = if node.starts_with("bus") { "bus-cable" } else { "pair" };
        let run = format!("run \"{cable}\" length=(ft)20 room=\"lobby\"");
        let spec =
            format!("{node} {{ {run} {{ {inside}; {run} from=\"board\" {{ {other} title=\"Other\"; }}; }}; }}\n");
        only(&spec, "branch-from-board");
    }
}
