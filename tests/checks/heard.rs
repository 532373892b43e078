//! Which sounders sound for which alarm, and who confirms, arms and disarms: by type, area, time, and zones in use.

use super::{button, only, slugs};

const KEYPAD: &str = "bus \"data\" board=\"board-a\" rate=(baud)19200 { run \"bus-cable\" length=(ft)20 room=\"lobby\" { keypad \"kp\" part=\"keypad-a\" address=1; terminator (ohm)120; }; }\n";

/// A sounder on a relay; `drive` stands behind `drive "alarm"`.
fn loud(drive: &str) -> String {
    format!(
        "circuit \"loud\" board=\"board-a\" output=\"aux\" switch=\"relay-1\" {{ drive \"alarm\" {drive}; run \"pair\" length=(ft)20 room=\"lobby\" {{ sounder \"sounder\" title=\"Sounder\"; }}; }}\n"
    )
}

#[test]
fn a_drive_sounds_for_its_type_its_area_and_long_enough() {
    let areas = "area \"house\" number=1\narea \"annex\" number=2\n";
    let zone = button(1, "board=\"board-a\"", "Bed").replace("type=", "area=\"annex\" type=");
    let spec = |drive: &str| {
        format!("{areas}{zone}{}", loud(drive)).replace(
            "area \"house\" number=1\n",
            if drive.contains("house") { "area \"house\" number=1\n" } else { "" },
        )
    };
    for drive in ["", "area=\"annex\"", "type=\"panic-audible\"", "for=(min)5"] {
        assert_eq!(slugs(&spec(drive)), [""; 0], "{drive}");
    }
    for drive in ["area=\"house\"", "type=\"smoke\"", "for=(s)1"] {
        only(&spec(drive), "alarm-without-sounder");
    }
}

#[test]
fn an_emergency_key_has_to_sound_and_one_accept_is_for_one_zone() {
    let key = |key: &str| KEYPAD.replace("address=1", &format!("address=1 {{ emergency-key \"{key}\"; }}"));
    for audible in ["fire", "panic-audible"] {
        only(&key(audible), "alarm-without-sounder");
        assert_eq!(slugs(&(key(audible) + &loud(""))), [""; 0]);
    }
    only(&key("panic-silent"), "silent-call-unsent");
    let zones = button(1, "board=\"board-a\"", "Bed") + &button(2, "board=\"board-a\"", "Hall");
    let accept = "accept \"alarm-without-sounder\" zone=2 because=\"a bell of its own\"\n";
    let all = super::found(&format!("{KEYPAD}{zones}{accept}"));
    let told: Vec<_> = all.iter().map(|found| (found.title.as_str(), found.accepted.is_some())).collect();
    assert_eq!(told, [("nothing sounds at an alarm of zone 1", false), ("nothing sounds at an alarm of zone 2", true)]);
}

#[test]
fn a_zone_kept_for_later_confirms_nothing_and_arms_nothing() {
    let motion = |number: u32, more: &str| {
        format!("zone {number} \"Motion {number}\" type=\"interior\" area=\"house\" {more}\n")
    };
    let wired = "{ loop \"end-of-line\" board=\"board-a\" { run \"quad\" length=(ft)20 room=\"lobby\" { detector \"motion\" supply=\"aux\"; resistor \"2k2\"; }; }; }";
    let area = "area \"house\" number=1 { cross-zones 1 2 window=(s)60; }\n";
    only(&format!("{area}{}{}", motion(1, wired), motion(2, "reserved=#true")), "cross-zones-unfit");
    assert_eq!(slugs(&format!("{area}{}{}", motion(1, wired), motion(2, wired))), [""; 0]);
    let key = "zone 3 \"Key\" type=\"keyswitch\" area=\"house\" action=\"momentary\" reserved=#true\n";
    only(&format!("area \"house\" number=1\n{}{key}{}", motion(1, wired), loud("")), "area-without-keypad");
}

/// An alarm that nothing sounds for is told by itself, and hides no bedroom in which another is too quiet.
#[test]
fn a_bedroom_is_judged_by_the_alarms_that_sound() {
    let page = include_str!("../../src/checks/timing/bedroom-not-heard.md");
    let bad = page.split("```kdl bad\n").nth(1).and_then(|rest| rest.split("```").next()).unwrap();
    let for_smoke = "output=\"aux\" switch=\"relay-1\" {\n    drive \"alarm\" type=\"smoke\"\n";
    let driven = bad.replace("output=\"siren\" {\n", for_smoke);
    assert_ne!(driven, bad);
    let gas = "zone 2 \"Gas\" type=\"carbon-monoxide\" area=\"house\" { loop \"end-of-line\" board=\"board-a\" { run \"pair\" length=(ft)9 room=\"bedroom\" { contact \"button\"; resistor \"2k2\" } } }\n";
    let told = slugs(&(driven + gas));
    for wanted in ["alarm-without-sounder", "bedroom-not-heard"] {
        assert!(told.contains(&wanted), "{wanted}: {told:?}");
    }
}
