//! Detectors and their supply, openings, receivers, and what parts have.

use super::{button, found, only, slugs};

fn smoke(zone: u32, name: &str) -> String {
    format!(
        "zone {zone} \"Smoke {zone}\" type=\"smoke\" {{
    loop \"end-of-line\" board=\"board-a\" {{
        run \"pair\" length=(ft)30 room=\"lobby\" {{ detector \"smoke\" name=\"{name}\"; resistor \"2k2\" }}
    }}
}}
"
    )
}

fn circuit(name: &str, fed: &str) -> String {
    format!(
        "circuit \"{name}\" board=\"board-a\" output=\"fire\" {{
    run \"pair\" length=(ft)30 room=\"lobby\" {{ feed \"{fed}\" }}
}}
"
    )
}

/// A contact may lie at the floor, a millimetre above it is a slip of the unit.
#[test]
fn what_lies_on_the_floor_is_mounted_at_nought() {
    let contact = |mount: &str| {
        format!(
            "zone 1 \"Hatch\" type=\"twenty-four-hour\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"pair\" length=(ft)20 room=\"lobby\" {{ contact \"reed\" title=\"Hatch\" mount={mount}; resistor \"2k2\"; }}; }}; }}\n"
        )
    };
    assert_eq!(slugs(&contact("(m)0")), [""; 0]);
    only(&contact("(mm)1"), "mount-unlikely");
}

#[test]
fn a_detector_fed_from_two_circuits_is_found() {
    let spec = smoke(1, "lobby-smoke") + &circuit("one", "lobby-smoke") + &circuit("two", "lobby-smoke");
    let finding = only(&spec, "detector-supplied-twice");
    assert_eq!(finding.title, "`lobby-smoke` is fed twice");
    assert_eq!(finding.labels.len(), 3, "the detector and both circuits");
}

#[test]
fn a_misspelt_feed_is_one_finding() {
    only(&(smoke(1, "lobby-smoke") + &circuit("one", "loby-smoke")), "unknown-name");
    let broken = smoke(1, "lobby-smoke") + &circuit("one", "lobby-smoke").replace("(ft)30", "30ft");
    only(&broken, "number-with-glued-unit");
}

#[test]
fn a_detector_without_name_and_supply_is_found_beside_other_errors() {
    let unnamed = smoke(1, "x").replace(" name=\"x\"", "");
    assert_eq!(slugs(&(unnamed + &circuit("one", "nobody"))), ["detector-without-supply", "unknown-name"]);
}

#[test]
fn a_contact_whose_part_needs_a_supply_is_to_be_written_as_a_detector() {
    let spec = smoke(1, "x").replace("detector \"smoke\" name=\"x\"", "contact \"smoke\"");
    assert!(only(&spec, "detector-without-supply").help.starts_with("Write it as a `detector`"));
}

#[test]
fn a_supply_without_need_takes_no_conductors() {
    let call = smoke(1, "x").replace("type=\"smoke\"", "type=\"fire\"");
    let spec = call.replace("\"smoke\" name=\"x\"", "\"button\" supply=\"aux\"");
    only(&spec, "supply-not-needed");
    let fed = call.replace("\"smoke\" name=\"x\"", "\"button\" name=\"x\"") + &circuit("one", "x");
    assert_eq!(only(&fed, "supply-not-needed").labels[0].text, "from circuit `one`");
}

/// A house with these openings and one zone.
fn house(level: &str, room: &str, openings: &str) -> String {
    format!(
        "level \"house\" {level} {{\n    room \"hall\" {room} {{\n{openings}\n    }}\n}}\n{}",
        button(1, "board=\"board-a\"", "Lobby button")
    )
}

#[test]
fn only_outside_openings_within_reach_must_be_watched() {
    let window = "window \"side\"";
    let count = |spec: &str| slugs(spec).iter().filter(|slug| **slug == "opening-unwatched").count();
    assert_eq!(count(&house("", "", window)), 1);
    assert_eq!(count(&house("storey=-1", "", window)), 1);
    assert_eq!(count(&house("storey=1", "", window)), 0);
    assert_eq!(count(&house("storey=1", "", "window \"side\" reachable=#true")), 1);
    assert_eq!(count(&house("", "", "window \"side\" reachable=#false")), 0);
    assert_eq!(count(&house("", "", "door \"inner\" to=\"lobby\"")), 0);
    assert_eq!(count(&house("", "kind=\"outdoors\"", "hatch \"gate\"")), 0);
    assert_eq!(count(&house("", "kind=\"outdoors\"", "hatch \"gate\" reachable=#true")), 1);
}

#[test]
fn a_spec_without_zones_is_not_blamed_for_its_openings() {
    assert_eq!(slugs("level \"house\" { room \"hall\" { window \"side\"; }; }\n"), [""; 0]);
}

#[test]
fn a_misspelt_opening_is_one_finding() {
    let spec = "zone 2 \"Side\" type=\"perimeter\" {
    loop \"end-of-line\" board=\"board-a\" {
        run \"pair\" length=(ft)30 room=\"hall\" { contact \"reed\" on=\"sied\"; resistor \"2k2\" }
    }
}
";
    only(&(house("", "", "window \"side\"") + spec), "unknown-name");
}

#[test]
fn a_detector_in_the_room_is_named_beside_an_unwatched_opening() {
    let motion = "zone 2 \"Hall motion\" type=\"interior\" {
    loop \"end-of-line\" board=\"board-a\" {
        run \"quad\" length=(ft)30 room=\"hall\" { detector \"motion\" supply=\"aux\"; resistor \"2k2\" }
    }
}
";
    let finding = only(&(house("", "", "window \"side\"") + motion), "opening-unwatched");
    assert!(finding.paragraph.contains("the motion detector of zone 2"), "{}", finding.paragraph);
}

#[test]
fn an_accepted_opening_carries_its_reason() {
    let spec = house("", "", "window \"side\"") + "accept \"opening-unwatched\" name=\"side\" because=\"barred\"\n";
    assert_eq!(only(&spec, "opening-unwatched").accepted.as_deref(), Some("barred"));
}

#[test]
fn an_opening_may_have_two_contacts_in_one_zone_but_not_three_zones() {
    let zone = |number: u32, contacts: &str| {
        format!(
            "zone {number} \"Side {number}\" type=\"perimeter\" {{
    loop \"end-of-line\" board=\"board-a\" {{
        run \"pair\" length=(ft)30 {{ {contacts}; resistor \"2k2\" }}
    }}
}}
"
        )
    };
    let contact = "contact \"reed\" on=\"side\"";
    let window = "level \"house\" { room \"hall\" { window \"side\"; }; }\n".to_owned();
    assert_eq!(slugs(&(window.clone() + &zone(1, &format!("{contact}; {contact} title=\"Right leaf\"")))), [""; 0]);
    only(&(window.clone() + &zone(1, &format!("{contact}; {contact}"))), "device-repeated");
    let three: String = [1, 2, 3].map(|number| zone(number, contact)).concat();
    let finding = only(&(window + &three), "opening-claimed-twice");
    assert_eq!(finding.title, "window `side` is watched by zones 1 to 3");
}

#[test]
fn a_wireless_detector_must_name_a_board_that_hears() {
    let zone = |part: &str, receiver: &str| {
        format!(
            "zone 1 \"Lobby\" type=\"interior\" {{ wireless \"{part}\" room=\"lobby\" receiver=\"{receiver}\"; }}\n"
        )
    };
    let bus = "bus \"data\" board=\"board-a\" rate=(baud)19200 {
    run \"bus-cable\" length=(ft)30 room=\"lobby\" { receiver \"ears\" part=\"receiver-a\" address=1; terminator (ohm)120 }
}
";
    let deaf = only(&(bus.to_owned() + &zone("reed-wireless", "board-a")), "wireless-without-receiver");
    assert_eq!(deaf.help, "Write receiver=\"ears\".");
    only(&(bus.to_owned() + &zone("reed", "ears")), "wireless-without-receiver");
    only(&(bus.to_owned() + &zone("reed-wireless", "eers")), "unknown-name");
    let keypad = bus.replace("receiver-a", "keypad-a");
    only(&(keypad + &zone("reed-wireless", "ears")), "part-lacks-connection");
}

#[test]
fn a_part_that_lacks_something_is_one_finding_for_all_its_uses() {
    let zone = |number: u32| {
        format!(
            "zone {number} \"Lobby {number}\" type=\"interior\" {{
    loop \"end-of-line\" board=\"board-a\" {{
        run \"quad\" length=(ft)30 room=\"lobby\" {{ detector \"sounder\" supply=\"aux\"; resistor \"2k2\" }}
    }}
}}
"
        )
    };
    let finding = only(&(zone(1) + &zone(2)), "part-lacks-connection");
    assert_eq!(finding.title, "part `sounder` is used in a loop and has no alarm contact");
    assert_eq!(finding.labels.len(), 3, "both uses and the part");
}

#[test]
fn each_use_asks_for_its_own_connection() {
    let bus = |node: &str| {
        format!(
            "bus \"data\" board=\"board-a\" rate=(baud)19200 {{\n    run \"bus-cable\" length=(ft)30 room=\"lobby\" {{ {node} address=1; terminator (ohm)120 }}\n}}\n"
        )
    };
    let covered = "zone 1 \"Lobby\" type=\"interior\" {
    loop \"end-of-line\" board=\"board-a\" {
        run \"pair\" length=(ft)30 room=\"lobby\" { detector \"reed\" tamper=#true; resistor \"2k2\" }
    }
}
";
    let cases = [
        (bus("keypad \"pad\" part=\"reed\""), "part `reed` is used on a bus and has no bus port"),
        (bus("receiver \"ears\" part=\"keypad-a\""), "part `keypad-a` is used as a receiver and has no receiver"),
        (covered.to_owned(), "part `reed` is used with its cover in the loop and has no cover contact"),
    ];
    let odd = "panel \"odd\" part=\"reed\" room=\"lobby\"\n";
    assert_eq!(only(odd, "unknown-name").title, "part `reed` is no panel");
    for (spec, title) in cases {
        assert_eq!(only(&spec, "part-lacks-connection").title, title);
    }
}

#[test]
fn an_unconfirmed_part_says_what_it_is_used_for() {
    let part = "part \"plain\" senses=\"button\" {\n    basis \"generic\"\n    contact form=\"NO\"\n}\n".to_owned();
    let spec: String = [1, 2].map(|zone| smoke(zone, "x").replace("\"smoke\" name=\"x\"", "\"plain\"")).concat();
    let spec = spec.replace("type=\"smoke\"", "type=\"fire\"");
    let notes = found(&(part + &spec));
    assert_eq!(notes.len(), 1);
    assert_eq!(notes[0].labels[0].text, "used for 2 detectors");
}

/// The day on a detector's label may be a slip of the year as well as that of a battery.
#[test]
fn a_detector_is_not_made_after_the_revision() {
    let zone = |made: &str| {
        format!(
            "zone 1 \"Lobby smoke\" type=\"smoke\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"quad\" length=(ft)20 room=\"lobby\" {{ detector \"smoke\" supply=\"fire\" made=\"{made}\"; resistor \"2k2\"; }} }} }}\n"
        )
    };
    let found = |made: &str| slugs(&zone(made)).into_iter().filter(|slug| slug.contains("day-after")).count();
    assert_eq!((found("2027-01-01"), found("2027-01-02")), (0, 1));
}
