//! Relays and transistors: where their conductors land, and findings that the pages do not show.

use std::collections::BTreeMap;

use loopwright::register::{OnTerminal, Register, keep};

use super::{found, only, slugs};

/// A circuit on the examples' board; `more` stands in its line, `inside` on its run.
fn circuit(name: &str, more: &str, inside: &str) -> String {
    format!(
        "circuit \"{name}\" board=\"board-a\" {more} {{ drive \"alarm\"; run \"pair\" length=(ft)20 room=\"lobby\" {{ {inside}; }} }}\n"
    )
}

/// What is on the terminals of the examples' board that have anything: conductors by their cable's label, and links.
fn landed(spec: &str, before: &Register) -> (BTreeMap<String, Vec<String>>, Register) {
    let made = crate::packet::sites::site(&format!("{}{spec}", crate::pages::HEADER));
    let kept = keep(&made.site, before);
    let said = |thing: &OnTerminal| match thing {
        OnTerminal::Conductor(cable, _) => kept.wiring.cables[*cable].label.clone(),
        OnTerminal::Link(_, mark) => format!("link to {mark}"),
        OnTerminal::Shield(_) | OnTerminal::Lead(_) => "other".to_owned(),
    };
    let terminals = kept.wiring.terminals.iter().filter(|((board, mark), _)| {
        made.site.boards.entries().any(|(id, item)| id == *board && item.name.value == "board-a")
            && !mark.contains("AC")
    });
    (terminals.map(|((_, mark), things)| (mark.clone(), things.iter().map(said).collect())).collect(), kept.register)
}

fn expect(found: &BTreeMap<String, Vec<String>>, wanted: &[(&str, &[&str])]) {
    let wanted: BTreeMap<String, Vec<String>> = wanted
        .iter()
        .map(|(mark, things)| ((*mark).to_owned(), things.iter().map(|&thing| thing.to_owned()).collect()))
        .collect();
    assert_eq!(*found, wanted);
}

#[test]
fn a_contact_stands_in_the_positive_and_gets_it_by_a_link() {
    let (found, _) =
        landed(&circuit("flash", "output=\"aux\" switch=\"relay-1\"", "load \"strobe\""), &Register::default());
    expect(&found, &[("A+", &["link to C1"]), ("A-", &["FLASH-1"]), ("C1", &["link to A+"]), ("M1", &["FLASH-1"])]);
}

#[test]
fn both_contacts_of_a_relay_share_one_link() {
    let spec = circuit("day", "output=\"aux\" switch=\"relay-1\" contact=\"break\"", "load \"lamp\"")
        + &circuit("night", "output=\"aux\" switch=\"relay-1\"", "load \"lamp\"");
    let (found, _) = landed(&spec, &Register::default());
    let wanted: &[(&str, &[&str])] = &[
        ("A+", &["link to C1"]),
        ("A-", &["DAY-1", "NIGHT-1"]),
        ("C1", &["link to A+"]),
        ("K1", &["DAY-1"]),
        ("M1", &["NIGHT-1"]),
    ];
    expect(&found, wanted);
    assert_eq!(slugs(&spec), [""; 0]);
}

#[test]
fn a_transistor_switches_its_side_and_a_dry_contact_both() {
    let spec = circuit("flag", "output=\"aux\" switch=\"light-1\"", "load \"lamp\"")
        + &circuit("gate", "switch=\"relay-2\"", "load \"gate-input\"");
    let (found, _) = landed(&spec, &Register::default());
    expect(&found, &[("A+", &["FLAG-1"]), ("C2", &["GATE-1"]), ("M2", &["GATE-1"]), ("T1", &["FLAG-1"])]);
}

/// A label stays with its cable when a load is put on another relay; only the screw is another.
#[test]
fn a_load_that_moves_keeps_its_label() {
    let (_, register) =
        landed(&circuit("flash", "output=\"aux\" switch=\"relay-1\"", "load \"strobe\""), &Register::default());
    let (found, _) = landed(&circuit("flash", "output=\"aux\" switch=\"relay-2\"", "load \"strobe\""), &register);
    expect(&found, &[("A+", &["link to C2"]), ("A-", &["FLASH-1"]), ("C2", &["link to A+"]), ("M2", &["FLASH-1"])]);
}

/// The output's terminal carries one short wire, however many relays it feeds.
#[test]
fn relays_on_one_output_pass_its_positive_on() {
    let spec = circuit("one", "output=\"aux\" switch=\"relay-1\"", "load \"lamp\"")
        + &circuit("two", "output=\"aux\" switch=\"relay-2\"", "load \"lamp\"");
    let (found, _) = landed(&spec, &Register::default());
    let wanted: &[(&str, &[&str])] = &[
        ("A+", &["link to C1"]),
        ("A-", &["ONE-1", "TWO-1"]),
        ("C1", &["link to A+", "link to C2"]),
        ("C2", &["link to C1"]),
        ("M1", &["ONE-1"]),
        ("M2", &["TWO-1"]),
    ];
    expect(&found, wanted);
}

/// The loads of all circuits on one contact add up; each is shown.
#[test]
fn loads_on_one_contact_add_up() {
    let strobes = "load \"strobe\"; load \"strobe\"; load \"strobe\"; load \"strobe\"";
    let one = circuit("east", "output=\"aux\" switch=\"relay-1\"", strobes);
    let spec = one.clone() + &circuit("west", "output=\"aux\" switch=\"relay-1\"", "load \"strobe\"; load \"strobe\"");
    assert_eq!(slugs(&one), [""; 0]);
    // 6 × 150 mA are 900 mA and within the 1 A of the contact; one more is not.
    assert!(!slugs(&spec).contains(&"switch-overloaded"), "{:?}", slugs(&spec));
    let spec = one
        + &circuit(
            "west",
            "output=\"siren\" switch=\"relay-2\"",
            &format!("{strobes}; load \"strobe\"; load \"strobe\"; load \"strobe\""),
        );
    let finding = only(&spec, "switch-overloaded");
    assert_eq!(finding.title, "relay `relay-2` of panel `board-a` switches 1.05 A d.c.; its limit is 1 A");
    // The sheet's limit, and each of the seven loads.
    assert_eq!(finding.labels.len(), 9, "{finding:#?}");
}

/// A load's own supply against a relay of 30 V d.c. that says nothing of a.c.
#[test]
fn kind_and_volts_of_current_are_held_against_the_sheet() {
    let gate = |own: &str| {
        format!("part \"own\" {{ basis \"sheet\"; own-supply {own}; }}\n")
            + &circuit("gate", "switch=\"relay-1\"", "load \"own\"")
    };
    assert_eq!(slugs(&gate("volts=(V)24 current=(mA)900")), [""; 0]);
    for (own, title) in [
        (
            "volts=(V)48 current=(mA)10",
            "relay `relay-1` of panel `board-a` switches 48.00 V d.c.; its limit is 30.00 V",
        ),
        ("volts=(V)24 current=(A)2", "relay `relay-1` of panel `board-a` switches 2 A d.c.; its limit is 1 A"),
        (
            "volts=(V)16 current=(mA)10 kind=\"ac\"",
            "relay `relay-1` of panel `board-a` switches a.c., and its sheet gives no rating for that",
        ),
    ] {
        assert_eq!(only(&gate(own), "switch-overloaded").title, title);
    }
    // Mains are told once, whatever else is too much.
    only(&gate("volts=(V)230 current=(A)5 kind=\"ac\""), "mains-on-contact");
}

/// A diode across a coil on a.c. would short it every second half wave.
#[test]
fn a_coil_on_alternating_current_wants_no_diode() {
    let coil = |kind: &str| {
        let board = "part \"switcher\" { basis \"sheet\"; relay \"r\" common=\"C\" make=\"M\" volts=(V)30 current=(A)1 ac-volts=(V)30 ac-current=(A)1; draw idle=(mA)1; }
panel \"switcher\" part=\"switcher\" room=\"lobby\" { battery capacity=(Ah)7 installed=\"2027-01-01\"; transformer volts=(V)16.5 rating=(VA)75 outlet=\"no switch\"; }\n";
        let load = format!(
            "part \"valve\" {{ basis \"sheet\"; own-supply volts=(V)24 current=(mA)300 kind=\"{kind}\" coil=#true; }}\n"
        );
        format!(
            "{board}{load}circuit \"valve\" board=\"switcher\" switch=\"r\" {{ drive \"alarm\"; run \"pair\" length=(ft)20 room=\"lobby\" {{ load \"valve\"; }} }}\n"
        )
    };
    assert!(slugs(&coil("dc")).contains(&"coil-without-diode"));
    assert!(!slugs(&coil("ac")).contains(&"coil-without-diode"), "{:?}", slugs(&coil("ac")));
    // A relay has a coil, whether its part says so or not.
    let relay = coil("dc").replace("part \"valve\"", "part \"valve\" works=\"relay\"").replace(" coil=#true", "");
    assert!(slugs(&relay).contains(&"coil-without-diode"), "{:?}", slugs(&relay));
}

/// A sounder behind a relay on an output that is always on sounds only when the relay is driven.
#[test]
fn a_sounder_behind_a_contact_does_not_sound_always() {
    assert_eq!(slugs(&circuit("loud", "output=\"aux\" switch=\"relay-1\"", "sounder \"sounder\"")), [""; 0]);
    only(
        "circuit \"loud\" board=\"board-a\" output=\"aux\" { run \"pair\" length=(ft)20 room=\"lobby\" { sounder \"sounder\"; } }\n",
        "sounder-always-on",
    );
}

#[test]
fn what_a_load_lacks_for_its_place_is_told() {
    let bare = "part \"bare\" works=\"operator\" { basis \"sheet\"; }\n".to_owned();
    let dry = only(&(bare + &circuit("gate", "switch=\"relay-1\"", "load \"bare\"")), "part-lacks-connection");
    assert!(dry.title.ends_with("as a load on a dry contact and has no supply of its own"), "{}", dry.title);
    let fed =
        only(&circuit("gate", "output=\"aux\" switch=\"relay-1\"", "load \"gate-input\""), "part-lacks-connection");
    assert!(fed.title.ends_with("as a load that an output feeds and has no supply"), "{}", fed.title);
}

#[test]
fn a_relay_that_the_board_does_not_have_is_named_with_those_it_has() {
    let finding = only(&circuit("gate", "switch=\"relay-3\"", "load \"gate-input\""), "unknown-name");
    assert_eq!(finding.title, "`board-a` has no relay or transistor `relay-3`");
    assert_eq!(finding.help, "It has `light-1`, `relay-1` and `relay-2`.");
}

/// One fault, one finding: what a transistor lacks is told, and nothing of what follows from it.
#[test]
fn a_transistor_is_never_dry() {
    let finding = found(&circuit("flag", "switch=\"light-1\"", "load \"lamp\""));
    let found: Vec<&str> = finding.iter().map(|finding| finding.rule.slug).collect();
    assert_eq!(found, ["circuit-without-supply"]);
}

/// A circuit that nothing feeds is told once, and nothing of what its loads would need.
#[test]
fn a_load_on_a_circuit_without_a_supply_is_told_once() {
    let spec =
        "circuit \"gate\" board=\"board-a\" { run \"pair\" length=(ft)20 room=\"lobby\" { load \"gate-input\"; } }\n";
    only(spec, "circuit-without-supply");
}

/// What the help says is written, and the finding is gone.
#[test]
fn a_relay_without_the_contact_is_remedied_by_what_the_help_says() {
    let gate = |contact: &str| {
        let held = circuit("gate", &format!("switch=\"relay-2\"{contact}"), "load \"gate-input\"");
        held.replace("drive \"alarm\"", "drive \"alarm\" for=(s)1")
    };
    let finding = only(&gate(" contact=\"break\""), "switch-lacks-contact");
    assert!(finding.help.starts_with("Write contact=\"make\""), "{}", finding.help);
    assert_eq!(slugs(&gate(" contact=\"make\"")), [""; 0]);
    let flag = |contact: &str| circuit("flag", &format!("output=\"aux\" switch=\"light-1\"{contact}"), "load \"lamp\"");
    let finding = only(&flag(" contact=\"break\""), "switch-lacks-contact");
    assert!(finding.help.starts_with("Leave contact= out"), "{}", finding.help);
    assert_eq!(slugs(&flag("")), [""; 0]);
}

/// A sounder that charges a battery of its own has no use for an output that is on in alarm only; what the help says is written.
#[test]
fn a_sounder_with_a_battery_of_its_own_is_fed_at_rest() {
    let part = |idle: u32| {
        format!(
            "part \"bell\" title=\"Bell\" {{ basis \"sheet\" ref=\"made up\"; supply min=(V)9 max=(V)15 idle=(mA){idle} alarm=(mA)300; sound level=(dBA)105 at=(ft)10; }}\n"
        )
    };
    let bell = |idle: u32, battery: &str, by: &str, drive: &str| {
        part(idle)
            + &format!(
                "circuit \"bell\" board=\"board-a\" {by} {{ {drive} run \"pair\" length=(ft)20 room=\"lobby\" {{ sounder \"bell\"{battery}; }}; }}\n"
            )
    };
    let (own, siren) = (" battery=\"2027-01-01\"", "output=\"siren\"");
    let finding = only(&bell(12, own, siren, ""), "supply-only-in-alarm");
    assert!(finding.help.contains("switch=\"relay-1\" contact=\"break\""), "{}", finding.help);
    let relay = "output=\"aux\" switch=\"relay-1\" contact=\"break\"";
    assert_eq!(slugs(&bell(12, own, relay, "drive \"alarm\";")), [""; 0]);
    // One that takes nothing at rest may have a battery that is not charged.
    only(&bell(0, own, siren, ""), "sounder-battery-uncharged");
    assert_eq!(slugs(&bell(12, "", siren, "")), [""; 0]);
}

#[test]
fn a_sounder_that_arming_drives_sounds_all_that_time() {
    let siren = |drive: &str| {
        circuit("loud", "output=\"aux\" switch=\"relay-1\"", "sounder \"sounder\" title=\"Siren\"")
            .replace("drive \"alarm\"", drive)
    };
    let told = |drive: &str| slugs(&("area \"house\"\n".to_owned() + &siren(drive))).contains(&"sounder-always-on");
    for drive in ["drive \"armed\"", "drive \"alarm\"; drive \"disarmed\""] {
        assert!(told(drive), "{drive}");
    }
    for drive in ["drive \"alarm\"", "drive \"alarm\"; drive \"armed\" for=(s)1"] {
        assert!(!told(drive), "{drive}");
    }
}

#[test]
fn a_drive_that_ends_at_once_is_no_alarm() {
    let siren = |drive: &str| {
        circuit("loud", "output=\"aux\" switch=\"relay-1\"", "sounder \"sounder\" title=\"Siren\"")
            .replace("drive \"alarm\"", drive)
    };
    let finding = only(&siren("drive \"alarm\" for=(s)5"), "sounder-cut-off-short");
    assert_eq!(finding.title, "sounders of circuit `loud` sound for 5 s only");
    for drive in
        ["drive \"alarm\" for=(s)30", "drive \"alarm\" for=(s)5; drive \"alarm\" for=(min)5", "drive \"alarm\""]
    {
        assert_eq!(slugs(&siren(drive)), [""; 0], "{drive}");
    }
}
