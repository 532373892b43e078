//! Every event that a site can report: from what is built in, with the codes of ANSI/SIA DC-05, and no number invented.

use std::collections::BTreeSet;

use loopwright::session;
use serde_json::{Value, json};

use super::{packet, text};
use crate::packet::sites::unlinked;

const HOUSE: &str = "level \"base\" { room \"lobby\" }
panel \"board-a\" part=\"control-a\" room=\"lobby\" {
    battery capacity=(Ah)12 installed=\"2027-01-01\"
    transformer volts=(V)16.5 rating=(VA)75 outlet=\"lobby, no switch\"
}
area \"house\" number=3
zone 7 \"Lobby\" type=\"perimeter\" area=\"house\" {
    loop \"end-of-line\" board=\"board-a\" { run \"pair\" length=(ft)20 room=\"lobby\" { contact \"reed\"; resistor \"2k2\" } }
}";

/// A module with a supply of its own.
const HUB: &str = "part \"hub\" title=\"Hub\" {
    basis \"sheet\" ref=\"invented for the test\"
    ac-port a=\"AC1\" b=\"AC2\"
    battery-port positive=\"BT+\" negative=\"BT-\"
    bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"
    draw idle=(mA)30 min=(V)9
    charger current=(mA)400 cut-off=(V)10.5
}
bus \"data\" board=\"board-a\" rate=(baud)9600 {
    run \"bus-cable\" length=(ft)10 room=\"lobby\" {
        module \"hub\" title=\"Hub\" part=\"hub\" address=4 {
            battery capacity=(Ah)7 installed=\"2027-01-01\"
            transformer volts=(V)16.5 rating=(VA)40 outlet=\"lobby\"
        }
        terminator (ohm)120
    }
}";

fn events(beside: &str) -> Vec<Value> {
    let json: Value = serde_json::from_str(&text(&packet("", beside), "site.json")).unwrap();
    json["events"].as_array().unwrap().clone()
}

fn codes(events: &[Value], about: &str, name: &str) -> Vec<u64> {
    let of = |event: &&Value| event["about"] == about && (name.is_empty() || event["name"] == name);
    events.iter().filter(of).map(|event| event["code"].as_u64().unwrap()).collect()
}

#[test]
fn a_zone_reports_with_its_number_and_area_in_as_many_digits_as_are_sent() {
    let found = events(HOUSE);
    assert_eq!(codes(&found, "zone", ""), [131, 370, 573]);
    assert_eq!(
        found[0],
        json!({ "about": "zone", "zone": 7, "code": 131, "meaning": "perimeter", "qualifiers": ["1", "3"], "area": "03",
            "number": "007", "letters": ["BA", "BH"], "group": "intrusion" })
    );
    // An opening and a closing are the user's, whose number the board knows.
    let arming = found.iter().find(|event| event["code"] == 401).unwrap();
    assert_eq!((arming.get("number"), &arming["area"], &arming["letters"]), (None, &"03".into(), &json!(["OP", "CL"])));
    assert_eq!(codes(&found, "board", ""), [301, 302, 311]);
    assert_eq!(codes(&found, "site", ""), [601]);
}

/// A cover that its zone is reported with is not reported twice.
#[test]
fn a_code_that_the_spec_gives_a_zone_is_reported_once() {
    let found = events(&HOUSE.replace("type=\"perimeter\"", "type=\"perimeter\" event=370"));
    assert_eq!(codes(&found, "zone", ""), [370, 573]);
    assert_eq!(found[0]["group"], "trouble");
}

/// By the names in the list of ANSI/SIA DC-05: module failure, tamper, mains lost, low battery.
#[test]
fn a_module_with_a_supply_of_its_own_reports_it_and_its_number_is_left_to_the_board() {
    let found = events(&format!("{HOUSE}\n{HUB}"));
    assert_eq!(codes(&found, "board", "hub"), [333, 341, 342, 338]);
    assert_eq!(codes(&found, "bus", "data"), [331, 332]);
    let of_board = |event: &&Value| event["name"] == "hub" || event["name"] == "data";
    assert!(found.iter().filter(of_board).all(|event| event.get("number").is_none()), "{found:?}");
}

#[test]
fn a_trouble_a_bypass_and_a_test_are_never_handled_as_an_alarm() {
    let alarms = ["intrusion", "fire", "gas", "panic", "panic-silent", "medical", "technical"];
    let mut seen = BTreeSet::new();
    let mut files = vec![crate::alder_mill::AlderMill::new().files()];
    files.push(crate::demos::files("larch-bungalow"));
    for files in files {
        let bundle = session::compile(&[], &files).bundle.unwrap();
        let json: Value = serde_json::from_str(&text(&bundle, "site.json")).unwrap();
        for event in json["events"].as_array().unwrap() {
            let (code, group) = (event["code"].as_u64().unwrap(), event["group"].as_str().unwrap());
            assert!(event["meaning"].is_string(), "{event} is in the list");
            assert_eq!(alarms.contains(&group), code < 200, "{event}");
            assert!(json["event-handling"].as_array().unwrap().iter().any(|handled| handled["group"] == group));
            assert!(!event["letters"].as_array().unwrap().is_empty(), "{event} has letters");
            assert_ne!(
                event["of-board"], "garage-supply",
                "a supply that stands alone is told by the zone of its fault contact"
            );
            seen.insert(code);
        }
    }
    assert!(seen.len() > 35, "{seen:?}");
}

/// The letters are from memory of the appendix of SIA DC-03, and the sheet says so.
#[test]
fn a_form_in_letters_has_letters_and_says_where_they_are_from() {
    let form =
        "monitoring format=\"sia-dc-03\"\ncommunicator \"net\" type=\"internet\" { hop \"router\" backup=(h)24 }";
    let sheet = text(&packet("", &format!("{HOUSE}\n{form}")), "zone-descriptions.md");
    for row in [
        "| Letters | SIA DC-03, 1990.01 (R2000.11), from memory: check them against the service's list |",
        "| 7 | Lobby | 03 house | 131 | BA, BH | perimeter | intrusion |",
        "| 301 | mains lost | AT, AR | board-a | 000 | trouble |",
    ] {
        assert!(sheet.contains(row), "{row} in\n{sheet}");
    }
    let codes = text(&packet("", &format!("{HOUSE}\n{}", form.replace("dc-03", "dc-05"))), "zone-descriptions.md");
    assert!(codes.contains("| 301 | mains lost | 1301, 3301 | board-a | 000 | trouble |"), "{codes}");
    assert!(!codes.contains("letters"), "{codes}");
    // The example is a zone of the site, and only where codes are sent.
    let example = "**1131 03 007** is a new event 131 (perimeter) of zone 7, Lobby; area 3, house |";
    assert!(codes.contains(example), "{codes}");
    assert!(!sheet.contains("How an event is sent"), "{sheet}");
    assert!(codes.contains("None of these is handled as an alarm."), "{codes}");
    assert!(codes.contains("Never short an output, a bus or a battery to raise an event"), "{codes}");
    let duress = form.replace("sia-dc-03\"", "sia-dc-05\" duress=#true");
    let duress = text(&packet("", &format!("{HOUSE}\n{duress}")), "zone-descriptions.md");
    assert!(duress.contains("handled as an alarm, except duress (121)."), "{duress}");
}

#[test]
fn a_spoken_message_has_no_codes_that_are_sent() {
    let form = |format: &str| format!("{HOUSE}\nmonitoring format=\"{format}\"\ncommunicator \"air\" type=\"radio\"");
    let bundle = packet("", &form("voice"));
    let (sheet, csv) = (text(&bundle, "zone-descriptions.md"), text(&bundle, "zone-descriptions.csv"));
    for digits in ["1301", "1131", "3131", "How an event is sent", "Each is sent"] {
        assert!(!sheet.contains(digits) && !csv.contains(digits), "{digits} in\n{sheet}\n{csv}");
    }
    assert!(sheet.contains("| 301 | mains lost | when it happens, when it is over | board-a |"), "{sheet}");
    let letters = text(&packet("", &form("sia-dc-03")), "zone-descriptions.csv");
    assert!(letters.contains(",BA,BH") && !letters.contains("1131"), "{letters}");
    let packets = text(&packet("", &form("sia-dc-09")), "zone-descriptions.csv");
    assert!(packets.contains(",1131,3131,03,007,"), "{packets}");
}

/// What a cut, the mains and a lost supply do to each way.
#[test]
fn the_ways_are_told_with_what_stops_them() {
    let ways = "monitoring format=\"sia-dc-05\" test-every=(day)7
communicator \"line\" title=\"Line\" type=\"telephone\" service=\"copper\" jack=\"bridged\" board=\"board-a\"
communicator \"net\" title=\"Net\" type=\"internet\" service=\"broadband\" supervised-every=(h)6 { hop \"router\" backup=(h)4 }
communicator \"air\" title=\"Air\" type=\"radio\" board=\"board-a\"";
    let sheet = text(&packet("", &format!("{HOUSE}\n{ways}")), "zone-descriptions.md");
    for row in [
        "| what happens | Air | Line | Net |",
        "| line cut at the street or the house wall | goes on | stopped | stopped |",
        "| mains lost in the house | goes on | goes on | stopped after 4 h |",
        "| mains lost at the carrier's box or mast | ask the carrier | goes on, from the exchange's battery | ask the carrier |",
        "| router off or unplugged | goes on | goes on | stopped |",
        "| a house phone off the hook | goes on | stopped | goes on |",
        "| antenna or its cable cut off | stopped | goes on | goes on |",
        "| Net | the house's internet connection | 4 h, then router is out | 6 h | a trouble by Air or Line; its receiver misses it |",
        "| Line | telephone, copper pair | as long as the panel | not supervised; 7 days, by the test report | a trouble by Air or Net; nothing until a test report does not come |",
    ] {
        assert!(sheet.contains(row), "{row} in\n{sheet}");
    }
    let two = ways.replace("backup=(h)4 }", "backup=(h)4; hop \"fibre unit\" backup=(h)4 }");
    let two = packet("", &format!("{HOUSE}\n{two}"));
    let net = "| 4 h, then router and fibre unit are out |";
    assert!(text(&two, "zone-descriptions.md").contains(net), "{}", text(&two, "zone-descriptions.md"));
    // The power sheet says the same of every way.
    let power = unlinked(&text(&two, "power-sheet.md")).replace("**", "");
    for row in [
        "| Line | as long as the panel: 56.1 h |",
        "| Air | as long as the panel: 56.1 h |",
        "| Net | 4 h | router and fibre unit |",
    ] {
        assert!(power.contains(row), "{row} in\n{power}");
    }
    let unknown = ways
        .replace(" { hop \"router\" backup=(h)4 }", "")
        .replace("service=\"copper\" jack=\"bridged\"", "service=\"voip\"");
    let unknown = text(&packet("", &format!("{HOUSE}\n{unknown}")), "zone-descriptions.md");
    assert!(
        unknown.contains("| mains lost in the house | goes on | stopped with the router | stopped with the router |"),
        "{unknown}"
    );
    // What a telephone of unknown kind hangs on is not known, whatever happens.
    let kind =
        text(&packet("", &format!("{HOUSE}\n{}", ways.replace("service=\"copper\" ", ""))), "zone-descriptions.md");
    for row in [
        "| line cut at the street or the house wall | goes on | not known: try it | stopped |",
        "| router off or unplugged | goes on | not known: try it | stopped |",
    ] {
        assert!(kind.contains(row), "{row} in\n{kind}");
    }
    // A telephone over the connection that is cut cannot tell of it.
    assert!(unknown.contains("| 6 h | a trouble by Air; its receiver misses it |"), "{unknown}");
    let none = text(&packet("", HOUSE), "zone-descriptions.md");
    assert!(none.contains("**Local alarm only.**") && !none.contains("Ways of the report"), "{none}");
}

/// A zone of a fault contact, and a keypad with two keys, one of them by the number of a zone.
const LODGE: &str = "level \"base\" { room \"lobby\" }
panel \"board-a\" part=\"control-a\" room=\"lobby\" {
    battery capacity=(Ah)12 installed=\"2027-01-01\"
    transformer volts=(V)16.5 rating=(VA)75 outlet=\"lobby, no switch\"
}
area \"house\"
zone 1 \"Front door\" type=\"entry-exit\" area=\"house\" {
    loop \"end-of-line\" board=\"board-a\" { run \"pair\" length=(ft)20 room=\"lobby\" { contact \"reed\"; resistor \"2k2\" } }
}
zone 5 \"Supply fault\" type=\"trouble\" area=\"house\" {
    loop \"end-of-line\" board=\"board-a\" { run \"pair\" length=(ft)20 room=\"lobby\" { contact \"reed\"; resistor \"2k2\" } }
}
zone 9 \"Later\" type=\"perimeter\" area=\"house\" reserved=#true
bus \"data\" board=\"board-a\" rate=(baud)9600 {
    run \"bus-cable\" length=(ft)10 room=\"lobby\" {
        keypad \"keys\" title=\"Keypad\" part=\"keypad-a\" address=1 { emergency-key \"fire\" number=1; emergency-key \"medical\" number=97; }
        terminator (ohm)120
    }
}";

/// Whose number a line has, and the remarks about it.
fn told(line: &str) -> (String, Vec<String>) {
    let asked = session::event_of(&super::files("", LODGE), line).unwrap();
    let told = asked.answer.unwrap();
    (told.number.replace('\u{a0}', " "), told.remarks)
}

#[test]
fn a_number_is_told_as_what_the_code_says_that_it_counts() {
    // A zone's own code names the zone, though equipment has the code as well.
    assert_eq!(told("1330 01 005"), ("zone 5, Supply fault".into(), vec![]));
    assert_eq!(told("1330 00 001").0, "number 1 of the board's own count");
    // Users first: behind these stands whoever did it.
    for code in [607, 604, 625, 313] {
        assert_eq!(told(&format!("1{code} 00 003")), ("user 3".into(), vec![]));
    }
    // Zone and key have one number: the code tells which.
    assert_eq!(told("1110 00 001"), ("zone 1: fire, key of Keypad".into(), vec![]));
    assert_eq!(told("1134 01 001"), ("zone 1, Front door".into(), vec![]));
    assert_eq!(told("1131 01 001").0, "zone 1, Front door");
    let other = "by the spec, the key with number 97 reports 100 (medical): the board may be set otherwise";
    assert_eq!(told("1110 00 097"), ("zone 97: medical, key of Keypad".into(), vec![other.into()]));
    let later = "zone 9 is kept for later: nothing is wired to it by the spec";
    assert_eq!(told("1131 01 009"), ("zone 9, Later".into(), vec![later.into()]));
    assert_eq!(told("1131 01 200").1, ["the spec has no zone 200"]);
}

/// What stands alone tells nothing, whether an output or the sounder on it; a strip is its output's board's.
#[test]
fn the_sounder_of_a_supply_that_stands_alone_is_told_by_nobody() {
    let at = |board: &str, output: &str, beside: &str| {
        let sounder = format!(
            "circuit \"outside\" board=\"{board}\" output=\"{output}\" {{ run \"pair\" length=(ft)20 room=\"lobby\" {{ sounder \"sounder\"; }} }}"
        );
        codes(&events(&format!("{HOUSE}\n{beside}\n{sounder}")), "circuit", "")
    };
    assert_eq!(at("board-a", "siren", ""), [320]);
    let alone = "part \"supply-b\" { basis \"sheet\" ref=\"invented\"; output \"out\" positive=\"O+\" negative=\"O-\" volts=(V)13.8 limit=(mA)1000 when=\"alarm\"; draw idle=(mA)25; charger current=(mA)400 cut-off=(V)10.5; }
power-supply \"alone\" part=\"supply-b\" room=\"lobby\" { battery capacity=(Ah)7 installed=\"2026-01-01\"; transformer volts=(V)16.5 rating=(VA)40; }";
    assert_eq!(at("alone", "out", alone), [] as [u64; 0]);
}

/// Radio interference is a trouble of whatever hears.
#[test]
fn a_panel_with_a_receiver_in_it_tells_of_interference() {
    let panel = "part \"radio-panel\" title=\"Panel with radio\" {
    basis \"sheet\" ref=\"invented\"
    input 1 signal=\"I1\" return=\"R1\"
    radio \"receiver\" capacity=16
    draw idle=(mA)150
    charger current=(mA)400 cut-off=(V)10.5
}";
    let hearing = format!("{panel}\n{}", HOUSE.replace("control-a", "radio-panel"));
    assert_eq!(codes(&events(&hearing), "board", "board-a"), [301, 302, 311, 344]);
}

/// A panel's second telephone line has a code of its own, by whatever it comes.
#[test]
fn two_telephone_lines_of_a_panel_have_two_codes() {
    let ways = "bus \"data\" board=\"board-a\" port=\"data\" rate=(baud)19200 {
    run \"bus-cable\" length=(ft)30 room=\"lobby\" { module \"adapter\" title=\"Adapter\" part=\"keypad-a\" address=1; terminator (ohm)120; }
}
monitoring format=\"sia-dc-05\"
communicator \"line\" title=\"Line\" type=\"telephone\" service=\"copper\" jack=\"line-seizure\" board=\"board-a\"
communicator \"cell\" title=\"Cell\" type=\"telephone\" service=\"mobile\" module=\"adapter\"";
    let sheet = text(&packet("", &format!("{HOUSE}\n{ways}")), "zone-descriptions.csv");
    let codes: Vec<&str> = sheet.lines().filter(|row| row.contains("telephone line")).collect();
    assert_eq!(codes.len(), 2, "{sheet}");
    assert!(codes.iter().any(|row| row.starts_with(",Cell,") && row.contains(",352,")), "{codes:?}");
    assert!(codes.iter().any(|row| row.starts_with(",Line,") && row.contains(",351,")), "{codes:?}");
}
