//! The rough-in sheet: cables at each thing, and the holes that are closed again.

use super::sites::{markdown, site};

const HOUSE: &str = r#"site "s" title="S" lengths="m"
include "../parts/example.kdl"
level "base" title="Base" storey=0 { room "lobby" title="Lobby"; room "yard" title="Yard" kind="outdoors"; }
level "shed" title="Shed level" storey=0 { room "shed" title="Shed"; }
level "middle" title="Middle" storey=1 { room "landing" title="Landing"; }
level "top" title="Top" storey=2 { room "loft" title="Loft" { window "east" title="East window"; window "west" title="West window"; } }
panel "board-a" title="Panel" part="control-a" room="lobby" { battery capacity=(Ah)12; transformer volts=(V)16.5 rating=(VA)75; }
zone 1 "Loft windows" type="perimeter" {
    loop "end-of-line" board="board-a" input=1 {
        run "pair" length=(m)12 { contact "reed" on="east" mount=(cm)2 }
        run "pair" length=(m)4 { contact "reed" on="west"; resistor "2k2" }
    }
}
circuit "horns" board="board-a" output="siren" {
    run "pair" length=(m)9 room="yard" { sounder "sounder" title="Yard siren" }
    run "pair" length=(m)30 room="shed" from="board" passes="underground" { sounder "sounder" title="Shed siren" }
}
"#;

#[test]
fn every_floor_on_the_way_and_every_hole_to_the_outside_is_listed() {
    let sheet = markdown(&site(HOUSE), "rough-in");
    let listed: Vec<&str> = sheet.lines().filter(|line| line.starts_with("- [ ]")).take(4).collect();
    let want = [
        "- [ ] between Base and Middle: Z1",
        "- [ ] between Middle and Top: Z1",
        "- [ ] from Lobby, into Shed, through the ground: HORNS-2",
        "- [ ] from Lobby, to Yard: HORNS-1",
    ];
    assert_eq!(listed, want, "{sheet}");
}

#[test]
fn a_thing_has_the_cables_that_end_and_that_start_there_with_the_places_of_the_label_list() {
    let made = site(HOUSE);
    let sheet = markdown(&made, "rough-in");
    assert!(sheet.contains("| 2 cm | **Z1** from Panel; **Z1-2** to West window | ☐ |"), "{sheet}");
    assert!(sheet.contains("| **Z1-2** from East window | ☐ |"), "{sheet}");
    assert!(markdown(&made, "wire-labels").contains("from East window"));
}

/// The many that start at a panel stand on the label list.
#[test]
fn many_cables_that_start_at_a_board_are_counted() {
    let zone = |at: u32| {
        format!(
            "zone {at} \"Z {at}\" type=\"perimeter\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"pair\" length=(m)5 room=\"lobby\" {{ contact \"reed\" title=\"C {at}\"; resistor \"2k2\"; }}; }}; }}\n"
        )
    };
    let more = |last: u32| markdown(&site(&format!("{HOUSE}{}", (2..=last).map(zone).collect::<String>())), "rough-in");
    assert!(more(4).contains("| **Z1** to East window; **Z2** to C 2; **Z3** to C 3;"), "{}", more(4));
    let five = format!(
        "{HOUSE}circuit \"more\" board=\"board-a\" output=\"siren\" {{ run \"pair\" length=(m)9 room=\"lobby\" {{ sounder \"sounder\" title=\"Low\"; }}; }}\n{}",
        (2..=4).map(zone).collect::<String>()
    );
    let seven = markdown(&site(&five), "rough-in");
    assert!(seven.contains("| **7 cables** start here |"), "{seven}");
}

/// A joint in no box has no name: what it is, is said once.
#[test]
fn a_joint_without_a_box_is_called_one_once() {
    let joined = "run \"pair\" length=(m)9 room=\"yard\" { sounder \"sounder\" title=\"Yard siren\" }";
    assert!(HOUSE.contains(joined));
    let two = "run \"pair\" length=(m)5 room=\"landing\" { run \"pair\" length=(m)3 room=\"yard\" { sounder \"sounder\" title=\"Yard siren\"; }; run \"pair\" length=(m)3 room=\"yard\" { sounder \"sounder\" title=\"Second siren\"; }; }";
    let sheet = markdown(&site(&HOUSE.replace(joined, two)), "rough-in");
    assert!(sheet.contains("joint") && !sheet.contains("joint of cables"), "{sheet}");
}
