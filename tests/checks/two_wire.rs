//! Two-wire detectors: one finding a cause, and help that is true.

use super::{found, only, slugs};

const PANEL: &str = "panel \"feeds\" part=\"feeds-a\" room=\"lobby\"\n";

fn zone(inside: &str) -> String {
    format!(
        "{PANEL}zone 1 \"Smoke\" type=\"smoke\" {{ loop \"two-wire\" board=\"feeds\" {{ run \"pair\" length=(ft)40 room=\"lobby\" {{ {inside} }} }} }}\n"
    )
}

fn detector(sheet: &str) -> String {
    format!(
        "part \"smoke-x\" senses=\"smoke\" {{ basis \"sheet\" ref=\"invented\"; loop-fed min=(V)8.5 alarm-min=(V)4 alarm-max=(V)6.5 positive=\"+\" negative=\"-\" {sheet}; }}\n"
    )
}

#[test]
fn a_loop_takes_an_input_that_feeds_before_the_others_choose() {
    let plain = super::button(1, "board=\"feeds\"", "Panic");
    let smoke = zone("detector \"smoke-2\"; resistor \"4k7\"").replace("zone 1", "zone 2");
    assert_eq!(slugs(&(plain + &smoke)), [""; 0], "the one input that feeds is left to zone 2");
}

#[test]
fn an_input_that_feeds_nothing_is_named_with_those_that_do() {
    let on_two =
        zone("detector \"smoke-2\"; resistor \"4k7\"").replace("board=\"feeds\" {", "board=\"feeds\" input=2 {");
    let finding = only(&on_two, "two-wire-unfed");
    assert_eq!(finding.help, "Take input 1; a loop that is on it gets another.");
    assert_eq!(slugs(&on_two.replace("input=2", "input=1")), [""; 0]);
}

#[test]
fn a_board_whose_sheet_says_nothing_feeds_nothing() {
    let spec = zone("detector \"smoke-2\"; resistor \"4k7\"").replace("board=\"feeds\"", "board=\"board-a\"");
    let finding = only(&spec, "two-wire-unfed");
    assert!(finding.title.contains("`control-a` does not say"), "{}", finding.title);
}

#[test]
fn contacts_that_are_open_at_rest_pass_where_the_sheet_lets_them() {
    let mixed = zone("detector \"smoke-2\"; contact \"button\"; resistor \"4k7\"");
    assert_eq!(only(&mixed, "two-wire-mixed").labels.len(), 3);
    let own = |contacts: &str| {
        let part = crate::pages::PARTS.split("part \"feeds-a\"").nth(1).unwrap().split("\npart ").next().unwrap();
        format!(
            "part \"feeds-b\"{}\n{}",
            part.replace("positive=\"signal\"", &format!("positive=\"signal\" {contacts}")),
            mixed.replace("feeds-a", "feeds-b")
        )
    };
    assert_eq!(slugs(&own("")), ["two-wire-mixed"]);
    assert_eq!(slugs(&own("contacts=#true")), [""; 0]);
    let closed = own("contacts=#true").replace("contact \"button\"", "contact \"reed\"");
    let told = ["zone-reports-otherwise", "two-wire-mixed"];
    assert_eq!(slugs(&closed), told, "a contact that is closed at rest cuts the supply when it opens");
}

#[test]
fn the_boards_list_limits_them_as_well_as_their_current() {
    let sheet = detector("idle=(uA)10 identifier=\"TW-1\"");
    let many = |count: usize| {
        let detectors: String = (0..count).map(|n| format!("detector \"smoke-x\" title=\"Smoke {n}\"; ")).collect();
        sheet.clone() + &zone(&format!("{detectors}resistor \"4k7\""))
    };
    assert_eq!(slugs(&many(3)), [""; 0]);
    let finding = only(&many(4), "two-wire-too-many");
    assert!(finding.help.starts_with("Leave 3 detectors on it"), "{}", finding.help);
    assert_eq!(finding.labels.iter().filter(|label| label.text == "too many").count(), 1);
    let greedy = detector("idle=(uA)150 identifier=\"TW-1\"")
        + &zone("detector \"smoke-x\"; detector \"smoke-x\" title=\"Other\"; resistor \"4k7\"");
    let finding = only(&greedy, "two-wire-too-many");
    assert_eq!(finding.title, "the detectors of zone 1 take 0.3 mA at rest, and its input feeds 0.2 mA");
}

#[test]
fn a_detector_without_an_identifier_is_told_where_it_stands() {
    let finding =
        only(&(detector("idle=(uA)90") + &zone("detector \"smoke-x\"; resistor \"4k7\"")), "two-wire-unlisted");
    assert!(finding.help.starts_with("Copy the compatibility identifier"), "{}", finding.help);
    let either =
        detector("idle=(uA)90 identifier=\"TW-1\"").replace("positive=\"+\" negative=\"-\"", "either-way=#true");
    assert_eq!(slugs(&(either + &zone("detector \"smoke-x\"; resistor \"4k7\""))), [""; 0]);
}

#[test]
fn a_resistor_before_the_last_detector_leaves_it_unsupervised() {
    let early = format!(
        "{PANEL}zone 1 \"Smoke\" type=\"smoke\" {{ loop \"two-wire\" board=\"feeds\" {{
            run \"pair\" length=(ft)40 room=\"lobby\" {{ detector \"smoke-2\"; resistor \"4k7\" }}
            run \"pair\" length=(ft)40 room=\"lobby\" {{ detector \"smoke-2\" }}
        }} }}\n"
    );
    let finding = only(&early, "loop-fault-reads-normal");
    assert_eq!(finding.title, "zone 1 reads normal with cable `Z1-2` cut");
    let missing = zone("detector \"smoke-2\"");
    assert_eq!(slugs(&missing), ["loop-resistor-missing"]);
}

/// A long thin cable to a detector that works from little less than the board gives.
#[test]
fn the_last_detector_must_have_its_volts() {
    let spec = |length: u32| {
        let far = "cable \"thin\" conductors=2 size=(AWG)26\n".to_owned()
            + &detector("idle=(uA)90 identifier=\"TW-1\"").replace("min=(V)8.5", "min=(V)11.5");
        far + &zone("detector \"smoke-x\"; resistor \"4k7\"")
            .replace("run \"pair\" length=(ft)40", &format!("run \"thin\" length=(ft){length}"))
    };
    assert_eq!(slugs(&spec(40)), [""; 0]);
    let finding = only(&spec(1500), "two-wire-volts-outside");
    assert!(finding.title.ends_with("at rest, and works from 11.50 V"), "{}", finding.title);
}

#[test]
fn without_the_input_a_plain_board_would_say_nothing_else() {
    let spec = "zone 1 \"Smoke\" type=\"smoke\" { loop \"end-of-line\" board=\"board-a\" { run \"pair\" length=(ft)40 room=\"lobby\" { detector \"smoke-2\"; resistor \"2k2\" }; } }\n";
    let all = found(spec);
    assert_eq!(all.len(), 1, "{all:#?}");
    assert!(all[0].help.contains("take a detector with a contact and a supply of its own"), "{}", all[0].help);
}

/// Milliamperes for microamperes: not one detector is left on the loop, so that is no help.
#[test]
fn a_detector_that_takes_more_than_the_input_feeds_is_held_against_its_sheet() {
    let spec = |idle: &str| {
        detector(&format!("idle={idle} identifier=\"TW-1\""))
            + &zone("detector \"smoke-x\"; detector \"smoke-x\" title=\"Other\"; resistor \"4k7\"")
    };
    let finding = only(&spec("(mA)90"), "two-wire-too-many");
    assert!(finding.help.starts_with("One alone takes 90 mA at rest, and the input feeds 0.2 mA"), "{}", finding.help);
    let finding = only(&spec("(uA)150"), "two-wire-too-many");
    assert!(finding.help.starts_with("Leave 1 detector on it"), "{}", finding.help);
}

#[test]
fn volts_the_wrong_way_round_are_told_of_the_part_alone() {
    let spec = |sheet: &str| {
        detector("idle=(uA)90").replace("min=(V)8.5 alarm-min=(V)4 alarm-max=(V)6.5", sheet)
            + &zone("detector \"smoke-x\"; resistor \"4k7\"")
    };
    for sheet in
        ["min=(V)28 max=(V)8.5 alarm-min=(V)4 alarm-max=(V)6.5", "min=(V)8.5 max=(V)28 alarm-min=(V)6.5 alarm-max=(V)4"]
    {
        let finding = only(&spec(sheet), "part-range-reversed");
        let swapped = finding.help.rsplit("write ").next().unwrap().trim_end_matches('.').to_owned();
        let wrong = sheet.split(' ').filter(|word| swapped.contains(word.split('=').next().unwrap())).count();
        assert!(wrong >= 2, "{swapped}");
    }
}

/// The board has a band for an alarm, and the detector holds fewer volts than those: a fire reads as a shorted cable.
#[test]
fn an_alarm_that_reads_short_is_told_where_the_board_has_a_band_for_it() {
    let low = crate::pages::PARTS.split("part \"smoke-2\"").nth(1).unwrap().split("\npart ").next().unwrap();
    let low =
        format!("part \"low\"{}", low.replace("alarm-min=(V)4 alarm-max=(V)6.5", "alarm-min=(V)1 alarm-max=(V)1.5"));
    let alone =
        only(&format!("{low}{}", zone("detector \"low\" title=\"Low\"; resistor \"4k7\"")), "fire-alarm-like-fault");
    assert!(alone.title.contains("reads short"), "{}", alone.title);
    // Of two, the one that holds fewer volts decides, wherever it is.
    let both = format!("{low}{}", zone("detector \"smoke-2\"; detector \"low\" title=\"Low\"; resistor \"4k7\""));
    let told = only(&both, "fire-alarm-like-fault");
    assert!(
        told.figures.iter().any(|figure| figure.contains("all contacts") && figure.contains("reads short")),
        "{told:#?}"
    );
}
