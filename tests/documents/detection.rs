//! What the detection sheet and its neighbours say of detectors that watch one place: floor mats and vibration detectors.

use super::{packet, text};

const HOUSE: &str = r#"part "mat" title="Mat" senses="step" {
    basis "sheet" ref="invented"
    contact form="NO"
}
part "shaken" title="Vibration detector" senses="vibration" {
    basis "sheet" ref="invented"
    contact form="NC"
}
level "ground" {
    room "hall" title="Hall" { door "front" title="Front door"; window "pane" title="Pane"; }
}
panel "board-a" part="control-a" room="hall"
area "house" title="House" entry=(s)30 exit=(s)60
zone 1 "Front door" type="entry-exit" area="house" {
    loop "end-of-line" board="board-a" { run "pair" length=(ft)20 { contact "reed" on="front"; resistor "2k2"; }; }
}
zone 2 "Hall mat" type="interior" area="house" follows=#true {
    loop "end-of-line" board="board-a" {
        run "pair" length=(ft)20 room="hall" { contact "mat" title="Mat at the stair"; resistor "2k2"; }
    }
}
zone 3 "Hall pane" type="perimeter" area="house" {
    loop "end-of-line" board="board-a" { run "pair" length=(ft)20 { contact "shaken" on="pane"; resistor "2k2"; }; }
}
"#;

fn row<'t>(text: &'t str, words: &str) -> &'t str {
    text.lines().find(|line| line.contains(words)).unwrap_or_else(|| panic!("{words}: {text}"))
}

#[test]
fn a_mat_watches_its_place_and_the_room_is_crossed_beside_it() {
    let bundle = packet("", HOUSE);
    let sheet = text(&bundle, "detection-sheet.md");
    assert!(row(&sheet, "Front door").contains("| zone 2 (floor mat), beside it *crossed unseen* |"), "{sheet}");
    assert!(row(&sheet, "Pane").contains("| zone 3 (vibration) |"), "{sheet}");
    let upkeep = text(&bundle, "upkeep.md");
    assert!(row(&upkeep, "2 Hall mat").contains("Step on it"), "{upkeep}");
    assert!(row(&upkeep, "3 Hall pane").contains("Knock on the frame"), "{upkeep}");
    let review = text(&bundle, "false-alarm-review.md");
    assert!(row(&review, "zone 2 Hall mat").contains("pets") && row(&review, "zone 3 Hall pane").contains("slam"));
}

#[test]
fn what_no_profile_asks_for_is_said_not_to_have_been_looked_at() {
    let smoke = "part \"puff\" senses=\"smoke\" { basis \"generic\"; contact form=\"NO\" resistance=(ohm)1; }
zone 9 \"Hall smoke\" type=\"fire\" {
    loop \"end-of-line\" board=\"board-a\" {
        run \"pair\" length=(ft)20 room=\"hall\" { detector \"puff\" title=\"Smoke, hall\"; resistor \"2k2\"; }
    }
}
";
    let said = |spec: &str| text(&packet("", spec), "detection-sheet.md").contains("was not looked at");
    assert!(said(&format!("{HOUSE}{smoke}")) && !said(HOUSE));
}

/// A normally open contact lies across its loop: stepped on, it takes the resistor out.
#[test]
fn a_mat_shorts_its_loop() {
    let sheet = text(&packet("", HOUSE), "loop-sheet.md");
    assert!(row(&sheet, "Mat at the stair in alarm").contains("| short |"), "{sheet}");
}

/// Two windows of one title, in zones that confirm each other.
#[test]
fn openings_are_told_apart_and_a_zone_that_needs_another_says_so_at_its_opening_too() {
    let house = HOUSE
        .replace("window \"pane\" title=\"Pane\";", "window \"pane\" title=\"Pane\"; window \"bay\" title=\"Pane\";")
        .replace("exit=(s)60", "exit=(s)60 { cross-zones 1 3 window=(s)60; }");
    let sheet = text(&packet("", &house), "detection-sheet.md");
    assert!(row(&sheet, "Pane (Hall, pane)").contains("| zone 3, only with zone 1 (vibration) |"), "{sheet}");
    assert!(row(&sheet, "Pane (Hall, bay)").contains("**nothing**"), "{sheet}");
    assert!(row(&sheet, "Front door").contains("| zone 1, only with zone 3 (contact) |"), "{sheet}");
}

/// Distances are asked of smoke detectors alone, and `placement-without-effect` says so of others.
#[test]
fn a_motion_detector_is_held_to_no_distance() {
    let near = |part: &str, kind: &str| {
        let zone = format!(
            "zone 9 \"Hall\" type=\"{kind}\" {{
    loop \"end-of-line\" board=\"board-a\" {{
        run \"quad\" length=(ft)20 room=\"hall\" {{ detector \"{part}\" title=\"Seen\" supply=\"aux\" {{ near \"fan\" (ft)5; }}; resistor \"2k2\"; }}
    }}
}}
"
        );
        text(&packet("", &format!("{HOUSE}{zone}")), "detection-sheet.md").contains("Distances that were measured")
    };
    assert!(near("smoke", "smoke") && !near("motion", "interior"));
}
