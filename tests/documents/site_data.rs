//! The JSON fits its schema, is the same on every run, and keeps text as text.

use serde_json::Value;

use super::{packet, text};
use crate::json_schema::faults;

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
    assert_eq!(faults(&schema, &json), [""; 0]);
    json["version"] = 2.into();
    assert!(!faults(&schema, &json).is_empty(), "another version");
    json["version"] = 1.into();
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
