//! The zone list: what is cut is shown, codes and handling follow the spec, blanks stay blank.

use loopwright::session;

use super::{packet, text};

const PLACE: &str = "level \"base\" { room \"lobby\" }\npanel \"board-a\" part=\"control-a\" room=\"lobby\"";

/// Zones with their own lines, on a board's own terminals.
fn zones(lines: &[&str], more: &str) -> String {
    let zones: Vec<String> = lines
        .iter()
        .map(|head| {
            format!("zone {head} {{ loop \"end-of-line\" board=\"board-a\" {{ contact \"reed\"; resistor \"2k2\" }} }}")
        })
        .collect();
    format!("{PLACE}\n{}\n{more}", zones.join("\n"))
}

#[test]
fn what_the_form_cuts_is_shown() {
    let site = zones(
        &[
            "1 \"Bedroom north window\" type=\"perimeter\"",
            "2 \"Bedroom south window\" type=\"perimeter\"",
            "3 \"Hall\" type=\"interior\"",
        ],
        "monitoring format=\"sia-dc-05\" description-width=15 test-every=(day)7",
    );
    let sheet = text(&packet("", &site), "zone-descriptions.html");
    for words in
        ["cut; the form loses “indow”", "keeps 15 characters and cuts the description of: 1, 2.", "every 7 days"]
    {
        assert!(sheet.contains(words), "{words:?} in\n{sheet}");
    }
    let csv = text(&packet("", &site), "zone-descriptions.csv");
    assert!(csv.contains("1,Bedroom north w,Bedroom north window,"), "{csv}");
    assert!(csv.contains("3,Hall,Hall,"), "{csv}");
}

#[test]
fn the_code_is_the_specs_or_the_usual_one_and_handling_says_whose_it_is() {
    let site = zones(
        &[
            "1 \"Gate\" type=\"perimeter\" event=136",
            "2 \"Hall\" type=\"interior\"",
            "4 \"Pump\" type=\"water\"",
            "5 \"Detector wiring\" type=\"trouble\" event=373",
        ],
        "monitoring { handling \"intrusion\" \"ring the mill\" }",
    );
    let csv = text(&packet("", &site), "zone-descriptions.csv");
    for row in [
        "1,Gate,Gate,,,136,outdoor,intrusion,ring the mill,given in the spec",
        "2,Hall,Hall,,,132,interior,intrusion,ring the mill,given in the spec",
        "4,Pump,Pump,,,154,water leak,technical,",
        "5,Detector wiring,Detector wiring,,,373,fire trouble,trouble,\"call the owner, then the installer; send nobody\"",
    ] {
        assert!(csv.contains(row), "{row} in\n{csv}");
    }
    assert!(csv.contains("proposal, common practice; to be agreed with the service"), "{csv}");
    let sheet = text(&packet("", &site), "zone-descriptions.html");
    assert!(sheet.contains("A proposal is ours"), "{sheet}");
}

#[test]
fn blanks_are_empty_cells_and_the_reason_stands_above_them() {
    let sheet = text(&packet("", &zones(&["1 \"Hall\" type=\"interior\""], "")), "zone-descriptions.md");
    assert!(sheet.contains("None of this belongs in the spec or in git."));
    let blanks = sheet.split("in ink, by hand").nth(1).unwrap();
    let rows: Vec<&str> = blanks.lines().filter(|line| line.starts_with("| ") && !line.starts_with("| ---")).collect();
    assert!(rows.len() > 10, "{blanks}");
    for row in rows {
        assert!(row.ends_with("| |"), "{row}");
    }
}

#[test]
fn every_handling_that_the_spec_gives_is_printed() {
    let site = zones(
        &["1 \"Hall\" type=\"interior\""],
        "monitoring { handling \"trouble\" \"ring the miller\"; handling \"medical\" \"send the nurse\" }",
    );
    let sheet = text(&packet("", &site), "zone-descriptions.md");
    for row in [
        "| medical | medical help | none | send the nurse | given in the spec |",
        "| trouble | faults, lost supplies and supervisory signals | equipment | ring the miller | given in the spec |",
    ] {
        assert!(sheet.contains(row), "{row} in\n{sheet}");
    }
    let without = text(&packet("", &zones(&["1 \"Hall\" type=\"interior\""], "")), "zone-descriptions.md");
    assert!(without.contains("| trouble |") && !without.contains("| medical |"), "{without}");
    assert!(without.contains("| equipment | call the owner, then the installer; send nobody | proposal"), "{without}");
}

/// Every wired zone of the demo tells a shorted cable from an open one, and its six wireless detectors tell their batteries.
#[test]
fn zones_that_send_a_trouble_have_its_handling() {
    let outcome = session::compile(&[], &crate::alder_mill::AlderMill::new().files());
    let sheet = text(&outcome.bundle.unwrap(), "zone-descriptions.md");
    let row = |start: &str| sheet.lines().find(|line| line.starts_with(start)).unwrap_or_else(|| panic!("{sheet}"));
    let handled = row("| trouble |");
    assert!(handled.contains("41–46; equipment; the site"), "{handled}");
    assert!(handled.ends_with("| call the house, then the installer; send nobody | given in the spec |"), "{handled}");
    // Only the double end-of-line board tells a cover from a detector in alarm; it tells a cable that is cut or shorted the same way.
    assert!(row("| 383 |").contains("| zones 29–36, 38 |"), "{}", row("| 383 |"));
    assert!(row("| 384 |").contains("| 1384, 3384 | zones 41–46 | the zone's | trouble |"), "{}", row("| 384 |"));
    assert!(row("| 373 |").contains("| zones 13, 14, 24, 26, 37 |"), "{}", row("| 373 |"));
}

/// An emergency key is called by the names and codes of ANSI/SIA DC-05, and its group gets its handling.
#[test]
fn emergency_keys_stand_on_the_form_with_their_codes_and_handling() {
    let keypad = "bus \"data\" board=\"board-a\" port=\"data\" rate=(baud)19200 { run \"bus-cable\" length=(ft)20 room=\"lobby\" { keypad \"keys\" title=\"Lobby keypad\" part=\"keypad-a\" address=1 { emergency-key \"fire\" number=95; emergency-key \"panic-silent\"; }; terminator (ohm)120; }; }";
    let site = zones(&["1 \"Hall\" type=\"interior\""], keypad);
    let sheet = text(&packet("", &site), "zone-descriptions.md");
    for row in [
        "| fire | Lobby keypad | 95 | 110 | fire | fire |",
        "| panic, silent | Lobby keypad |  | 122 | silent panic | panic-silent |",
        "| fire | fire, smoke and heat | keys of keypads | send the fire service first",
        "| 333 | module failure | 1333, 3333 | Lobby keypad | by the board | trouble |",
        "| Lobby keypad | 333, 341 | |",
    ] {
        assert!(sheet.contains(row), "{row} in\n{sheet}");
    }
    let csv = text(&packet("", &site), "zone-descriptions.csv");
    assert!(csv.contains("95,\"fire, key of Lobby keypad\",\"fire, key of Lobby keypad\",,,110,fire,fire,"), "{csv}");
    let tried = text(&packet("", &site), "commissioning-sheet.md");
    assert!(tried.contains("| Lobby keypad | panic, silent | ☐ |"), "{tried}");
    let without = text(&packet("", &zones(&["1 \"Hall\" type=\"interior\""], "")), "zone-descriptions.md");
    assert!(!without.contains("Emergency keys"), "{without}");
}

/// A loud button at home and a silent one in the shop below are not answered alike.
#[test]
fn silent_panic_is_handled_by_its_own_line() {
    let sheet = |handling: &str| {
        let site = zones(&["1 \"Till\" type=\"panic-silent\"", "2 \"Bed\" type=\"panic-audible\""], handling);
        text(&packet("", &site), "zone-descriptions.md")
    };
    let both =
        sheet("monitoring { handling \"panic\" \"ring the flat\"; handling \"panic-silent\" \"police, do not ring\" }");
    assert!(both.contains("| zone 2 | ring the flat |") && both.contains("| zone 1 | police, do not ring |"), "{both}");
    // Nobody is rung up for a silent call because a loud one is answered so.
    let one = sheet("monitoring { handling \"panic\" \"ring the flat\" }");
    assert!(one.contains("| zone 2 | ring the flat |"), "{one}");
    assert!(one.contains("| zone 1 | send the police and do not call the premises |"), "{one}");
}
