//! The JSON fits its schema, is the same on every run, and keeps text as text.

use loopwright::compiled::Compiled;
use serde_json::{Value, json};

use super::{packet, text};
use crate::json_schema::faults;
use crate::packet::sites::{FULL, full_site, site};

/// A site with some of everything.
fn everything(title: &str) -> String {
    format!(
        "level \"base\" title=\"Base\" ceiling=(ft)9 {{
            room \"lobby\" title={title:?} kind=\"hall\" {{ rect (ft)0 (ft)0 (ft)12 (ft)8; door \"front\" wall=\"south\" at=(ft)5 }}
            room \"yard\" kind=\"outdoors\"
        }}
        panel \"board-a\" part=\"control-a\" room=\"lobby\" {{
            battery capacity=(Ah)7 installed=\"2027-03-14\"
            transformer volts=(V)16.5 rating=(VA)40 outlet=\"by the door\"
        }}
        area \"house\" entry=(s)30 exit=(s)60
        zone 1 \"Front\" type=\"entry-exit\" area=\"house\" {{
            loop \"end-of-line\" board=\"board-a\" input=1 {{
                run \"pair\" length=(ft)38 passes=\"stud\" route=\"over the lintel\" {{ contact \"reed\" on=\"front\"; resistor \"2k2\" }}
            }}
        }}
        zone 2 \"Motion\" type=\"interior\" area=\"house\" {{
            loop \"end-of-line\" board=\"board-a\" {{
                run \"quad\" length=(ft)20 room=\"lobby\" {{ detector \"motion\" name=\"eye\" supply=\"aux\" mount=(ft)7.5; resistor \"2k2\" }}
            }}
        }}
        zone 3 \"Gate\" type=\"perimeter\" {{ wireless \"reed-wireless\" room=\"yard\" receiver=\"ears\" battery=\"2027-03-14\" }}
        bus \"data\" board=\"board-a\" rate=(baud)9600 {{
            run \"bus-cable\" length=(ft)10 room=\"lobby\" {{ receiver \"ears\" part=\"receiver-a\" address=3; terminator (ohm)120 }}
        }}
        circuit \"loud\" board=\"board-a\" output=\"siren\" {{ run \"pair\" length=(m)4 room=\"lobby\" {{ sounder \"sounder\" }} }}
        communicator \"line\" type=\"telephone\" service=\"copper\" jack=\"line-seizure\" board=\"board-a\" {{ run \"quad\" length=(ft)18 room=\"lobby\" }}
        communicator \"net\" type=\"internet\" {{ hop \"router\" backup=(h)4 }}"
    )
}

fn data(title: &str) -> (Value, Value) {
    let bundle =
        packet("revision \"B\" date=\"2027-03-14\"\nbuilding built=1900 framing=\"mixed\"", &everything(title));
    let json = serde_json::from_str(&text(&bundle, "site.json")).unwrap();
    (json, serde_json::from_str(&text(&bundle, "site.schema.json")).unwrap())
}

#[test]
fn it_fits_its_schema_and_a_spoilt_one_does_not() {
    let (mut json, schema) = data("Lobby");
    for json in [&json, &read(&full_site()), &read(&site(&without_terminators()))] {
        assert_eq!(faults(&schema, json), [""; 0]);
    }
    json["version"] = 1.into();
    assert!(!faults(&schema, &json).is_empty(), "another version");
    json["version"] = 2.into();
    json["zones"][0]["number"] = "one".into();
    assert!(!faults(&schema, &json).is_empty(), "a number that is text");
}

#[test]
fn it_says_what_is_in_the_wall() {
    let (json, _) = data("Lobby");
    assert_eq!(json["format"], "loopwright-site");
    let cable = &json["cables"][0];
    assert_eq!((&cable["label"], &cable["type"]), (&"Z1".into(), &"pair".into()));
    assert_eq!(cable["length"].to_string(), "11.5824");
    assert_eq!(cable["from"]["board"], "board-a");
    assert_eq!(cable["to"]["room"], "lobby");
    let zone = &json["zones"][0];
    assert_eq!((&zone["event"], &zone["loop"]["input"]), (&134.into(), &1.into()));
    assert_eq!(zone["loop"]["resistors"][0]["ohms"].to_string(), "2200");
    assert_eq!(zone["devices"][0]["opening"], "front");
    assert_eq!(json["zones"][1]["devices"][0]["id"], "eye");
    assert_eq!(json["zones"][1]["loop"]["input-proposed"], true);
    assert_eq!(json["zones"][2]["devices"][0]["receiver"], "ears");
    assert_eq!(json["buses"][0]["boards"][0], "ears");
    assert_eq!(json["buses"][0]["terminators"][0].to_string(), "120");
    assert_eq!(json["circuits"][0]["devices"][0]["kind"], "sounder");
    assert_eq!(json["communicators"][1]["hops"][0]["backup-seconds"].to_string(), "14400");
}

/// By hand: the board itself takes 150 mA at rest, the motion detector 12 mA, the receiver 60 mA: 0.222 A; in alarm
/// 220, 18, 60 and the sounder's 300 mA: 0.598 A. 0.222 A × 24 h + 0.598 A × 5 min, × 1.25 (common practice): 6.72 Ah.
#[test]
fn it_says_what_every_supply_gives() {
    let (json, _) = data("Lobby");
    let power = &json["power"][0];
    assert_eq!(power["board"], "board-a");
    assert_eq!(
        (power["idle-amperes"].to_string(), power["alarm-amperes"].to_string()),
        ("0.222".into(), "0.598".into())
    );
    assert_eq!(power["standby"]["asked-ampere-hours"].to_string(), "6.72229");
    assert_eq!(power["standby"]["recharge-seconds"].to_string(), "75600");
    let names: Vec<&str> =
        power["supplies"].as_array().unwrap().iter().map(|supply| supply["name"].as_str().unwrap()).collect();
    assert_eq!(names, ["aux", "fire", "siren", "data"]);
    let eye = &power["supplies"][0]["loads"][0];
    assert_eq!((&eye["kind"], &eye["id"], &eye["cables"][0]), (&"device".into(), &"eye".into(), &"Z2".into()));
    assert_eq!(eye["alarm"]["amperes"].to_string(), "0.018");
    assert_eq!(eye["volts"].as_array().unwrap().len(), 4, "mains and battery, at rest and in alarm");
    // 20 ft of 22 AWG out and back at 35 °C: 0.6837 Ω, at 18 mA 12.3 mV.
    let tired = &eye["volts"][3];
    assert_eq!(
        (&tired["supply"], &tired["demand"], tired["hot"].to_string()),
        (&"battery".into(), &"alarm".into(), "10.4877".into())
    );
    // A sounder has no volts at rest.
    assert_eq!(power["supplies"][2]["loads"][0]["volts"].as_array().unwrap().len(), 2);
    assert_eq!(power["supplies"][3]["loads"][0]["volts"].as_array().unwrap().len(), 4);
}

/// Who is called `zone-1.1` keeps that: what has no name is numbered past it.
#[test]
fn no_two_devices_have_one_id() {
    let named = FULL.replacen(
        "contact \"reed\" on=\"front\"",
        "contact \"reed\" on=\"front\"; contact \"reed\" name=\"zone-1.1\" title=\"Other\"",
        1,
    );
    assert_ne!(named, FULL);
    let json = read(&site(&named));
    let zones = json["zones"].as_array().unwrap().iter();
    let devices = zones.flat_map(|zone| zone["devices"].as_array().unwrap());
    let ids: Vec<&str> = devices.map(|device| device["id"].as_str().unwrap()).collect();
    assert!(ids.contains(&"zone-1.1") && ids.contains(&"zone-1.2"), "{ids:?}");
    let apart: std::collections::BTreeSet<&str> = ids.iter().copied().collect();
    assert_eq!(apart.len(), ids.len(), "{ids:?}");
}

/// What the spec says and no other list of the JSON repeats.
#[test]
fn it_says_all_that_the_spec_says() {
    let text = FULL
        .replace("lengths=\"ft\" {", "lengths=\"ft\" {\n profile \"us-household\" edition=2022")
        .replace("length=(ft)45 room", "length=(ft)45 pairs=2 room")
        .replace(
            "description-width=24 test-every=(day)7 duress=#true",
            "description-width=24 { handling \"fire\" \"send help\"; }",
        );
    let json = read(&site(&format!("{text}\naccept \"opening-unwatched\" name=\"side\" because=\"barred\"\n")));
    assert_eq!(json["edition"], 2022);
    let named = |list: &str, name: &str| -> Value {
        json[list]
            .as_array()
            .unwrap()
            .iter()
            .find(|item| item["name"] == name || item["label"] == name)
            .unwrap()
            .clone()
    };
    let board = named("parts", "control-a");
    assert_eq!(board["sensing"]["bands"][1], json!({ "reads": "normal", "volts": [1.6, 3.1] }));
    assert_eq!(
        (&board["bus-ports"][0]["bias-ohms"], &board["bus-ports"][0]["bias-supply-volts"]),
        (&470.into(), &5.into())
    );
    assert_eq!(
        named("parts", "smoke-generic")["contacts"][0],
        json!({ "form": "NO", "closed-ohms": 1, "mark": "alarm" })
    );
    assert_eq!(named("cables", "Z2")["pairs"], 2);
    assert_eq!(json["zones"][2]["loop"]["chain"][2], json!({ "kind": "resistor", "ohms": 2200, "tolerance": 0.05 }));
    assert_eq!(json["monitoring"]["handling"][0], json!({ "group": "fire", "action": "send help" }));
    assert_eq!(json["accepted"][0], json!({ "rule": "opening-unwatched", "about": "side", "because": "barred" }));
    assert_eq!(json["communicators"][1]["hops"][1]["draw"], json!({ "watts": 2 }));
    assert_eq!(json["measured"][0]["loops"][0], json!({ "zone": 1, "state": "rest", "ohms": 2203, "volts": 2.5 }));
}

/// A keypad on a module's own output is counted at the panel, and what that output gives is told there.
#[test]
fn it_says_what_the_outputs_of_modules_give() {
    let text = FULL
        .replace("part=\"expander-a\"", "part=\"giver\"")
        .replace("area \"house\" title", &format!("{GIVER}area \"house\" title"))
        .replace("board=\"main\" output=\"siren\"", "board=\"expander\" output=\"bell\"");
    let json = read(&site(&text));
    let supplies = json["power"][0]["supplies"].as_array().unwrap();
    let bus = supplies.iter().find(|supply| supply["kind"] == "bus-port").unwrap();
    let bell = &bus["of-modules"][0];
    assert_eq!((&bell["board"], &bell["kind"], &bell["name"]), (&"expander".into(), &"output".into(), &"bell".into()));
    assert_eq!((&bell["limit-amperes"], &bell["idle-amperes"]), (&0.5.into(), &0.into()));
    assert!(bell["alarm-amperes"].as_f64().unwrap() > 0.2, "{bell}");
    assert!(
        supplies.iter().filter(|supply| supply["kind"] == "output").all(|supply| supply["of-modules"] == json!([]))
    );
}

/// Without a terminator at either end the ohms between A and B have no bound; all else is still known.
#[test]
fn a_bus_without_terminators_keeps_its_other_figures() {
    let json = read(&site(&without_terminators()));
    let figures = &json["buses"][0]["figures"];
    assert!((figures["length"].as_f64().unwrap() - 18.288).abs() < 1e-3);
    assert_eq!(figures["ohms-at-first-end"]["most"], Value::Null);
    assert!(figures["ohms-at-first-end"]["least"].is_number() && figures["ohms-at-first-end"]["usual"].is_number());
    assert_eq!(figures["places"].as_array().unwrap().len(), 4);
}

const GIVER: &str = r#"part "giver" {
    basis "sheet" ref="invented for the test"
    input 1 signal="I1" return="R1"
    bus-port "data" plus="+" minus="-" a="A" b="B"
    output "bell" positive="B+" negative="B-" volts=(V)12 limit=(mA)500 when="alarm"
    draw idle=(mA)30
}
"#;

fn without_terminators() -> String {
    FULL.replace("rate=(baud)19200", "rate=(baud)19200 built-in-terminator=#false").replace("terminator (ohm)120", "")
}

fn read(site: &Compiled) -> Value {
    serde_json::from_slice(&crate::packet::sites::packet(site).files["site.json"]).unwrap()
}

/// What a terminal holds and what a conductor meets are the same facts, told from both ends.
#[test]
fn terminals_and_conductors_agree() {
    let (json, _) = data("Lobby");
    let mut told: Vec<String> = Vec::new();
    for cable in json["cables"].as_array().unwrap() {
        for conductor in cable["conductors"].as_array().unwrap() {
            for end in conductor["near"].as_array().unwrap().iter().chain(conductor["far"].as_array().unwrap()) {
                if end["kind"] == "terminal" {
                    told.push(format!(
                        "{} {} {} {}",
                        end["board"], end["terminal"], cable["label"], conductor["position"]
                    ));
                }
            }
        }
    }
    let mut held: Vec<String> = Vec::new();
    for board in json["boards"].as_array().unwrap() {
        for terminal in board["terminals"].as_array().unwrap() {
            for item in terminal["holds"].as_array().unwrap().iter().filter(|item| item["kind"] == "conductor") {
                held.push(format!("{} {} {} {}", board["name"], terminal["mark"], item["cable"], item["position"]));
            }
        }
    }
    told.sort();
    held.sort();
    assert!(told.len() > 10);
    assert_eq!(told, held);
}

#[test]
fn hostile_text_stays_text_and_two_compiles_are_equal() {
    let title = "<script>alert(1)</script> | [x](javascript:y) {{title}} `q` \\ =1+1 Ω";
    let (json, _) = data(title);
    assert_eq!(json["levels"][0]["rooms"][0]["title"], title);
    let (once, again) = (packet("", &everything(title)), packet("", &everything(title)));
    assert_eq!(once, again);
    for name in ["safety-notes.html", "zone-descriptions.html"] {
        let page = text(&once, name);
        assert!(!page.contains("<script>"), "{name}");
        assert!(!page.contains("href=\"javascript:"), "{name}");
    }
    assert!(text(&once, "safety-notes.html").contains("&lt;script&gt;"), "the title is printed");
}
