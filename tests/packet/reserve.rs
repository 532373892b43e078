//! What is kept for later, and what is left.

use loopwright::compiled::Compiled;
use serde_json::Value;

use super::sites::{full_site, markdown, packet, schedule, site};

const HEAD: &str = r#"site "s" title="S"
include "../parts/example.kdl"
level "base" title="Base" { room "lobby" title="Lobby"; room "attic" title="Attic" }
panel "board-a" part="control-a" room="lobby" { battery capacity=(Ah)12 }
area "house" number=1
"#;

fn json(made: &Compiled) -> Value {
    serde_json::from_slice(&packet(made).files["site.json"]).unwrap()
}

#[test]
fn a_spare_cable_has_a_label_and_an_end_in_every_place() {
    let made = full_site();
    let schedule = schedule(&made);
    assert!(schedule.contains("| **parked** | COIL-1 | RD red | reserved for lamp |"), "{schedule}");
    assert!(schedule.contains("| COIL-1 | GN green, WH white |"), "{schedule}");
    let store = schedule.split("## Store").nth(1).unwrap();
    assert!(store.contains("| **COIL-1** | RD red | *reserved for lamp* | park it here, marked |"), "{store}");
    let labels = markdown(&made, "wire-labels");
    let row = labels.lines().find(|line| line.contains("**COIL-1**")).unwrap();
    let heading = "## From Main panel (Plant room)\n\nSecond line at the far end: **from Main panel**";
    assert!(labels.contains(heading), "{labels}");
    assert!(row.contains("[to Store](") && !row.contains("far end"), "{row}");
    let cover = markdown(&made, "overview");
    assert!(
        cover.contains("| cable COIL-1, coiled at both ends | Main panel to Store, 37 ft | Lamp in the yard |"),
        "{cover}"
    );
    assert!(cover.contains("| 2 conductors of COIL-1 | Main panel to Store, 37 ft | lamp |"), "{cover}");
}

/// The service never hears of a zone that is kept for later; the owner does.
#[test]
fn a_reserved_zone_is_on_the_cover_and_on_no_form() {
    let made = full_site();
    assert!(markdown(&made, "overview").contains("| zone 70 |  | Later |"));
    for sheet in ["zone-descriptions", "commissioning-sheet", "loop-sheet", "safety-notes"] {
        assert!(!markdown(&made, sheet).contains("Later"), "{sheet}");
    }
}

/// What is kept stays where it is while the rest of the cable is given out: a conductor that is marked at both ends must
/// not become another.
#[test]
fn reserved_conductors_stay_when_another_reserve_goes() {
    use super::sites::site_after;
    use loopwright::register::Register;
    let spec = |reserves: &str| {
        format!(
            "{HEAD}spare-cable \"coil\" board=\"board-a\" {{ run \"quad\" length=(ft)30 room=\"attic\" {{ {reserves} }} }}\n"
        )
    };
    let kept = |made: &Compiled, name: &str| -> Vec<String> {
        let json = json(made);
        let conductors = json["cables"][0]["conductors"].as_array().unwrap().clone();
        let of = conductors.iter().filter(|one| one["kept_for"] == name || one["kept-for"] == name);
        of.map(|one| one["colour"].as_str().unwrap().to_owned()).collect()
    };
    let (both, register) = site_after(&spec("reserve \"bell\"; reserve \"lamp\" conductors=2"), &Register::default());
    let before = kept(&both, "lamp");
    assert_eq!(before.len(), 2);
    let (one, _) = site_after(&spec("reserve \"lamp\" conductors=2"), &register);
    assert_eq!(kept(&one, "lamp"), before);
}

/// The help of `spare-cable-in-use`, followed: the cable in the wall is the same one, and none is dead.
#[test]
fn a_spare_cable_that_is_used_stays_the_same_cable() {
    use super::sites::site_after;
    use loopwright::register::Register;
    let spare =
        format!("{HEAD}spare-cable \"coil\" board=\"board-a\" {{ run \"quad\" length=(ft)30 room=\"attic\" }}\n");
    let used = format!(
        "{HEAD}zone 1 \"Hatch\" type=\"perimeter\" area=\"house\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"quad\" label=\"COIL-1\" length=(ft)30 room=\"attic\" {{ contact \"reed\"; resistor \"2k2\" }} }} }}\n"
    );
    let (_, before) = site_after(&spare, &Register::default());
    let (made, after) = site_after(&used, &before);
    let labels: Vec<&str> = made.wiring.cables.iter().map(|cable| cable.label.as_str()).collect();
    assert_eq!(labels, ["COIL-1"]);
    assert!(made.wiring.dead.is_empty(), "{after:?}");
}

/// Counted here once more, by hand and from the part's figures: control-a has eight inputs, gives so many milliamperes, and
/// one zone takes one of them.
#[test]
fn what_is_left_is_what_there_is_without_what_is_used() {
    let zone = |number: u32| {
        format!(
            "zone {number} \"Z{number}\" type=\"interior\" area=\"house\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"quad\" length=(ft)20 room=\"lobby\" {{ detector \"motion\" supply=\"aux\"; resistor \"2k2\" }} }} }}\n"
        )
    };
    let line = |made: &Compiled, what: &str| -> Value {
        let json = json(made);
        let found = json["growth"].as_array().unwrap().iter().find(|line| line["what"] == what).cloned();
        found.unwrap_or_else(|| panic!("{what}: {json:#}"))
    };
    let (none, two) = (site(HEAD), site(&format!("{HEAD}{}{}", zone(1), zone(2))));
    let has = line(&none, "inputs")["has"].as_i64().unwrap();
    assert_eq!(line(&none, "inputs")["left"], has);
    assert_eq!(line(&two, "inputs")["left"], has - 2);
    let current = |made: &Compiled| line(made, "amperes-in-alarm")["used"].as_f64().unwrap();
    let motion = made_draw(&two);
    assert!((current(&two) - 2.0 * motion).abs() < 1e-9, "{} of {motion}", current(&two));
}

/// What a motion detector takes in alarm, by the parts of the JSON.
fn made_draw(made: &Compiled) -> f64 {
    let json = json(made);
    let part = json["parts"].as_array().unwrap().iter().find(|part| part["name"] == "motion").unwrap().clone();
    part["supply"]["alarm"]["amperes"].as_f64().unwrap_or_else(|| panic!("{part:#}"))
}
