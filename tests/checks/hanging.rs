//! What hangs on a circuit in whatever way: mounted on it, fed by name, a hop; and what may switch it.

use super::{button, found, only, slugs};

/// A circuit on the examples' board with one run; `more` stands in its line, `drives` in its braces, `inside` on its run.
fn circuit(name: &str, more: &str, drives: &str, inside: &str) -> String {
    format!(
        "circuit \"{name}\" board=\"board-a\" {more} {{ {drives}; run \"quad\" length=(ft)20 room=\"lobby\" {{ {inside}; }} }}\n"
    )
}

/// A zone with a detector that has a name; `more` stands in the detector's line.
fn detector(kind: &str, part: &str, more: &str) -> String {
    format!(
        "zone 1 \"Lobby\" type=\"{kind}\" {{ loop \"end-of-line\" board=\"board-a\" {{
    run \"quad\" length=(ft)30 room=\"lobby\" {{ detector \"{part}\" name=\"d1\" {more}; detector \"watch\" supply=\"fire\"; resistor \"2k2\"; }}
}} }}\n"
    )
    .replace("detector \"watch\" supply=\"fire\"; ", if kind == "smoke" { "detector \"watch\" supply=\"fire\"; " } else { "" })
}

fn router(draw: u32) -> String {
    format!(
        "communicator \"net\" type=\"internet\" service=\"broadband\" {{ hop \"router\" name=\"router\" draw=(mA){draw} min=(V)9; }}\n"
    )
}

const SIREN: &str = "part \"bellbox\" { basis \"sheet\"; supply min=(V)9 max=(V)15 idle=(mA)20 alarm=(mA)300; }\n";

#[test]
fn a_dry_contact_feeds_nothing() {
    let dry = |inside: &str| circuit("c", "switch=\"relay-1\" contact=\"break\"", "drive \"key\"", inside);
    for (before, inside, output) in [
        (String::new(), "load \"lamp\"", "aux"),
        (detector("smoke", "smoke", ""), "feed \"d1\"", "fire"),
        (router(500), "feed \"router\"", "aux"),
    ] {
        let finding = only(&(before + &dry(inside)), "dry-contact-feeds-none");
        assert!(finding.help.starts_with(&format!("Write output=\"{output}\"")), "{}", finding.help);
    }
    let sounder = circuit("c", "switch=\"relay-1\"", "drive \"alarm\"", "sounder \"sounder\"; sounder \"sounder\"");
    let finding = only(&sounder, "dry-contact-feeds-none");
    assert!(finding.help.contains("output=\"siren\""), "{}", finding.help);
    // A siren that a contact sets off has a supply of its own.
    let own = "part \"own\" { basis \"sheet\"; own-supply volts=(V)12 current=(mA)10; }\n".to_owned();
    let spec = own + &circuit("c", "switch=\"relay-1\"", "drive \"alarm\"", "sounder \"own\"");
    assert_eq!(slugs(&spec), [""; 0]);
}

#[test]
fn a_feed_of_what_has_a_circuit_is_told_whichever_is_read_first() {
    for (own, other) in [("a", "b"), ("b", "a")] {
        for (inside, output) in [("load \"lamp\" name=\"s\"", "aux"), ("sounder \"sounder\" name=\"s\"", "siren")] {
            let spec = circuit(own, &format!("output=\"{output}\""), "", inside)
                + &circuit(other, "output=\"fire\"", "", "feed \"s\"");
            only(&spec.replace("{ ; ", "{ "), "feed-of-mounted");
        }
    }
}

#[test]
fn a_run_that_feeds_a_detector_ends_where_that_is() {
    let loft = "level \"top\" { room \"loft\" kind=\"attic\"; }\n".to_owned() + &detector("interior", "motion", "");
    let spec = |place: &str| {
        loft.clone()
            + &circuit("c", "output=\"aux\"", "", "feed \"d1\"").replace("{ ; ", "{ ").replace(" room=\"lobby\"", place)
    };
    only(&spec(" room=\"loft\""), "feed-elsewhere");
    assert_eq!(slugs(&spec("")), [""; 0]);
}

#[test]
fn a_contact_carries_a_hop_and_those_behind_it() {
    let on = |switch: &str, draw: u32| {
        router(draw).replace("; }\n", "; hop \"box\" from=\"router\" draw=(mA)60; }\n")
            + &circuit(
                "c",
                &format!("output=\"aux\" switch=\"{switch}\" contact=\"break\""),
                "drive \"key\"",
                "feed \"router\"",
            )
    };
    assert!(!slugs(&on("relay-1", 500)).contains(&"switch-overloaded"));
    let weak = "part \"weak\" { basis \"sheet\"; output \"aux\" positive=\"A+\" negative=\"A-\" volts=(V)13.8 limit=(A)1; relay \"relay-1\" common=\"C\" make=\"M\" break=\"B\" volts=(V)30 current=(mA)100; draw idle=(mA)10; charger current=(A)1 cut-off=(V)10.5; }
panel \"weak\" part=\"weak\" room=\"lobby\" { battery capacity=(Ah)12 installed=\"2027-01-01\"; transformer volts=(V)16.5 rating=(VA)75; }\n";
    let spec = |draw| {
        weak.to_owned()
            + &on("relay-1", draw)
                .replace("\"board-a\"", "\"weak\"")
                .replace("\"broadband\"", "\"broadband\" board=\"weak\"")
    };
    let finding = only(&spec(50), "switch-overloaded");
    assert!(finding.title.contains("110 mA"), "{}", finding.title);
    assert_eq!(slugs(&spec(30)), [""; 0]);
}

#[test]
fn a_siren_that_loses_its_supply_for_hours_sounds_for_hours() {
    let bell = |drive: &str| {
        let more = "output=\"aux\" switch=\"relay-1\" contact=\"break\"";
        SIREN.to_owned()
            + &circuit("bell", more, &format!("drive \"alarm\"; {drive}"), "sounder \"bellbox\" battery=\"2026-12-20\"")
    };
    for event in ["armed", "disarmed", "trouble", "mains-lost", "clock"] {
        let finding = only(&bell(&format!("drive \"{event}\"")), "supply-taken-away");
        assert!(!finding.title.contains("an alarm"), "{}", finding.title);
    }
    assert_eq!(slugs(&bell("drive \"armed\" for=(s)2")), [""; 0]);
}

#[test]
fn a_sounder_that_arming_turns_on_sounds_all_day() {
    let loud = |drive: &str| circuit("loud", "output=\"aux\" switch=\"relay-1\"", drive, "sounder \"sounder\"");
    for event in ["armed", "disarmed"] {
        let all = slugs(&loud(&format!("drive \"alarm\"; drive \"{event}\"")));
        assert!(all.contains(&"sounder-always-on"), "{all:?}");
    }
    assert_eq!(slugs(&loud("drive \"alarm\"; drive \"armed\" for=(s)1")), [""; 0]);
    // A sign of trouble may last: it is counted on the battery.
    assert_eq!(slugs(&loud("drive \"trouble\"")), ["battery-short"]);
}

#[test]
fn a_detector_that_counts_while_armed_may_be_without_supply_meanwhile() {
    let on = |contact: &str, drive: &str| {
        let more = format!("output=\"aux\" switch=\"relay-1\" contact=\"{contact}\"");
        detector("interior", "motion", "") + &circuit("c", &more, &format!("drive \"{drive}\""), "feed \"d1\"")
    };
    assert_eq!(slugs(&on("make", "armed")), [""; 0]);
    assert_eq!(slugs(&on("break", "disarmed")), [""; 0]);
    only(&on("make", "disarmed"), "supply-taken-away");
    only(&on("break", "armed"), "supply-taken-away");
    // An entry delay is as long as it is; and an alarm is not to reset what gave it, however soon it is over.
    only(&on("break", "delay"), "supply-taken-away");
    let short = |drive: &str| on("break", drive).replace(&format!("\"{drive}\""), &format!("\"{drive}\" for=(s)5"));
    only(&short("alarm"), "supply-taken-away");
    assert_eq!(slugs(&short("delay")), [""; 0]);
}

#[test]
fn a_lock_that_has_its_current_at_the_wrong_times_is_found() {
    let lock = |fails: &str, more: &str, drives: &str| {
        format!(
            "part \"lock\" title=\"Lock\" works=\"lock\" fails=\"{fails}\" {{ basis \"sheet\" ref=\"invented\"; supply min=(V)9 max=(V)15 idle=(mA)150 coil=#true }}\n"
        ) + &circuit("door", more, drives, "load \"lock\" diode=#true").replace("{ ; ", "{ ")
    };
    let (made, broken) = ("switch=\"relay-1\"", "switch=\"relay-1\" contact=\"break\"");
    let on = |output: &str, switch: &str| format!("output=\"{output}\" {switch}");
    for (fails, output, switch, drives, wrong) in [
        // Told by another rule.
        ("secure", "aux", "", "", false),
        ("secure", "aux", broken, "drive \"alarm\"", true),
        ("secure", "aux", broken, "drive \"disarmed\"", true),
        ("secure", "aux", broken, "drive \"clock\"", false),
        ("secure", "aux", made, "drive \"key\" for=(s)5", false),
        ("secure", "siren", "", "", false),
        ("safe", "siren", broken, "drive \"alarm\"", true),
        ("safe", "aux", broken, "drive \"armed\"", true),
        ("safe", "aux", broken, "drive \"alarm\" type=\"smoke\"", false),
        ("safe", "aux", "", "", false),
    ] {
        let all = slugs(&lock(fails, &on(output, switch), drives));
        assert_eq!(all.contains(&"lock-works-backwards"), wrong, "{fails} {output} {switch} {drives}: {all:?}");
    }
}

#[test]
fn a_relay_that_resets_smoke_detectors_is_enough() {
    let spec = |contact: &str| {
        let more = format!("output=\"aux\" {contact}");
        detector("smoke", "smoke", "")
            + &circuit("c", &more, "drive \"key\"", "feed \"d1\"; sounder \"x\"").replace("; sounder \"x\"", "")
    };
    // The relay that watches the supply hangs on another one.
    assert_eq!(slugs(&spec("switch=\"relay-1\" contact=\"break\"")), ["fire-supply-unwatched"]);
    let bare = spec("").replace("drive \"key\"; ", "");
    let finding = found(&bare).into_iter().find(|finding| finding.rule.slug == "smoke-supply-unswitched").unwrap();
    assert!(finding.help.contains("\"fire\""), "{}", finding.help);
}

#[test]
fn a_help_names_an_output_that_is_made_for_it() {
    // A tone is no supply of a sounder, and what is always on no supply of a smoke detector.
    let tone = "part \"tones\" { basis \"sheet\"; output \"a-tone\" positive=\"P+\" negative=\"P-\" volts=(V)12 limit=(A)1 when=\"alarm\" form=\"tone\"; output \"bell\" positive=\"S+\" negative=\"S-\" volts=(V)13.8 limit=(A)1 when=\"alarm\"; output \"aux\" positive=\"A+\" negative=\"A-\" volts=(V)13.8 limit=(A)1; draw idle=(mA)10; charger current=(A)1 cut-off=(V)10.5; }
panel \"tones\" part=\"tones\" room=\"lobby\" { battery capacity=(Ah)12 installed=\"2027-01-01\"; transformer volts=(V)16.5 rating=(VA)75; }\n";
    let loud =
        circuit("c", "output=\"aux\"", "", "sounder \"sounder\"").replace("{ ; ", "{ ").replace("board-a", "tones");
    let finding = only(&(tone.to_owned() + &loud), "sounder-always-on");
    assert!(finding.help.contains("output=\"bell\""), "{}", finding.help);
    let smoke = |more: &str, slug: &str| {
        found(&detector("smoke", "smoke", more)).into_iter().find(|finding| finding.rule.slug == slug).unwrap()
    };
    for (more, slug) in [("supply=\"siren\"", "supply-only-in-alarm"), ("", "detector-without-supply")] {
        let finding = smoke(more, slug);
        assert!(finding.help.contains("\"fire\"") && !finding.help.contains("\"aux\""), "{}", finding.help);
    }
    // One with two supplies has one finding.
    let twice = detector("interior", "motion", "supply=\"aux\"")
        + &circuit("c", "output=\"siren\"", "", "feed \"d1\"").replace("{ ; ", "{ ");
    only(&twice, "detector-supplied-twice");
}

#[test]
fn a_supply_on_no_bus_knows_nothing_of_an_alarm() {
    let part = "part \"ps\" { basis \"sheet\"; output \"out\" positive=\"A+\" negative=\"A-\" volts=(V)13.8 limit=(A)1; relay \"relay-1\" common=\"C\" make=\"M\" volts=(V)30 current=(A)1; input 1 signal=\"I\" return=\"R\"; bus-port \"data\" plus=\"B+\" minus=\"B-\" a=\"BA\" b=\"BB\" terminator=(ohm)120 bias=(ohm)470 bias-supply=(V)5 limit=(mA)600 volts=(V)13.8; sensing supply=(V)5 pull-up=(ohm)2200 tolerance=(percent)1 { band \"short\" max=(V)0.8; band \"normal\" min=(V)1.6 max=(V)3.1; band \"open\" min=(V)4.0; }; draw idle=(mA)10; charger current=(mA)900 cut-off=(V)10.5; }
power-supply \"ps\" part=\"ps\" room=\"lobby\" { battery capacity=(Ah)18 installed=\"2026-12-20\"; transformer volts=(V)16.5 rating=(VA)75; }\n".to_owned();
    let lamp = |drive: &str| {
        circuit("c", "output=\"out\" switch=\"relay-1\"", drive, "load \"lamp\"").replace("board-a", "ps")
    };
    let told = |spec: &str| only(&(part.clone() + spec), "supply-out-of-reach");
    told(
        &button(1, "board=\"ps\"", "Door")
            .replace("panic-audible", "twenty-four-hour")
            .replace("\"button\"", "\"reed\""),
    );
    told(
        "bus \"data\" board=\"ps\" rate=(baud)19200 { run \"bus-cable\" length=(ft)20 room=\"lobby\" { keypad \"kp\" part=\"keypad-a\" address=1; terminator (ohm)120; }; }\n",
    );
    told(&lamp("drive \"alarm\""));
    assert_eq!(slugs(&(part.clone() + &lamp("drive \"mains-lost\""))), [""; 0]);
    // A way of the report is sent by a panel or a module.
    let way = |by: &str| {
        format!(
            "communicator \"net\" type=\"internet\" service=\"broadband\" {by} {{ hop \"router\" backup=(h)30; }}\n"
        )
    };
    only(&(part.clone() + &way("board=\"ps\"")), "communicator-without-board");
    let keypad = "bus \"data\" board=\"board-a\" rate=(baud)19200 { run \"bus-cable\" length=(ft)20 room=\"lobby\" { keypad \"kp\" part=\"keypad-a\" address=1; terminator (ohm)120; }; }\n";
    only(&(keypad.to_owned() + &way("board=\"kp\"")), "communicator-without-board");
}
