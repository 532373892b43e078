//! An older house on paper: a star of cables that were there before.

use loopwright::compiled::Compiled;
use loopwright::views::work_order::{Remarks, Sides, WorkOrder};

use super::sites::{self, loop_sheet, markdown, packet, schedule, site};

const HEAD: &str = r#"site "s" title="S" lengths="ft"
include "../parts/example.kdl"
level "base" title="Base" {
    room "lobby" title="Lobby"
    room "den" title="Den" { window "east" title="East window"; window "west" title="West window" }
}
panel "board-a" title="Panel" part="control-a" room="lobby" { battery capacity=(Ah)12 }
"#;

const STAR: &str = r#"zone 1 "Den windows" type="perimeter" {
    loop "end-of-line" board="board-a" {
        run "pair" length=(ft)20 existing=#true label="GREY 4" { contact "reed" on="east" fixed=#true }
        run "pair" length=(ft)30 existing=#true from="board" { contact "reed" on="west" }
        resistor "2k2"
    }
}
"#;

/// The same in a box: one cable to the den, and there a cable to each window.
const BOX: &str = r#"zone 1 "Den windows" type="perimeter" {
    loop "end-of-line" board="board-a" {
        run "pair" length=(ft)20 existing=#true room="den" {
            run "pair" length=(ft)8 existing=#true { contact "reed" on="east" }
            run "pair" length=(ft)9 existing=#true { contact "reed" on="west" }
            resistor "2k2"
        }
    }
}
"#;

/// Two cables joined at their board, with the resistor there.
pub fn star() -> Compiled {
    site(&format!("{HEAD}{STAR}"))
}

#[test]
fn the_schedule_shows_the_joints_of_a_star_and_the_two_conductors_on_its_screws() {
    let schedule = schedule(&star());
    for row in [
        "| **I1** | GREY 4 | BK black | zone 1 loop, out |",
        "| **R1** | Z1-2 | RD red | zone 1 loop, back |",
        "each under a connector of its own or under a spare screw",
        "| GREY 4: RD red | Z1-2: BK black | zone 1 loop |",
    ] {
        assert!(schedule.contains(row), "{row}\n{schedule}");
    }
}

#[test]
fn in_a_box_the_path_goes_out_and_back_by_each_cable() {
    let schedule = schedule(&site(&format!("{HEAD}{BOX}")));
    let path = "BK → on by Z1-2 (BK out, RD back) → on by Z1-3 (BK out, RD back) → resistor 2.2 kΩ ±5 % (red red red gold) → RD";
    assert!(schedule.contains(path), "{schedule}");
    for joint in [
        "BK joined to Z1: BK black, RD joined to Z1-3: BK black",
        "BK joined to Z1-2: RD red, RD joined to resistor 2.2 kΩ",
    ] {
        assert!(schedule.contains(joint), "{joint}\n{schedule}");
    }
}

#[test]
fn the_loop_sheet_says_which_short_hides_which_opening() {
    let sheet = loop_sheet(&site(&format!("{HEAD}{STAR}")));
    // At the terminal that the loop leaves from, as the terminal schedule has it.
    let path = "I1 ── 2.2 kΩ ── ⟨GREY 4 20 ft ── [East window] ──┐⟩ ── Z1-2 30 ft ── [West window] ──┐ R1";
    assert!(sheet.contains(path), "{sheet}");
    let unseen = "takes for a loop at rest:** GREY 4 shorted hides East window; Z1-2 shorted hides West window.";
    assert!(sheet.contains(unseen), "{sheet}");
    let sheet = markdown(&site(&format!("{HEAD}{BOX}")), "loop-sheet");
    let unseen = "takes for a loop at rest:** Z1-2 shorted hides East window; Z1-3 shorted hides West window.";
    assert!(sheet.contains(unseen), "{sheet}");
    let whole = STAR.replace("resistor \"2k2\"\n", "").replace("on=\"west\"", "on=\"west\"; resistor \"2k2\"");
    let sheet = markdown(&site(&format!("{HEAD}{whole}")), "loop-sheet");
    assert!(sheet.contains("for a loop at rest:** GREY 4 shorted hides East window."), "{sheet}");
}

#[test]
fn what_was_there_keeps_its_label_and_is_not_counted_with_what_is_pulled() {
    let made = site(&format!(
        "{HEAD}{STAR}zone 2 \"Lobby\" type=\"perimeter\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"pair\" length=(ft)9 room=\"lobby\" {{ contact \"reed\"; resistor \"2k2\" }} }} }}\n"
    ));
    let labels = markdown(&made, "wire-labels");
    assert!(labels.contains("| [**GREY 4**](") && labels.contains("| 22 AWG pair, CL2R, *existing* |"), "{labels}");
    let table = String::from_utf8(packet(&made).files["wire-labels.csv"].clone()).unwrap();
    assert_eq!(table.matches(",\"in use, existing\"").count(), 2, "{table}");
    let cover = markdown(&made, "overview");
    assert!(cover.contains("| 22 AWG pair, CL2R | 1 | 9 ft |"), "{cover}");
    assert!(cover.contains("| 22 AWG pair, CL2R, existing | 2 | 50 ft |"), "{cover}");
}

/// Nothing is pulled or bought for it, and what cannot be moved is not mounted either.
#[test]
fn a_star_that_is_written_down_later_is_taken_over() {
    let order = |zone: &str| {
        let (old, new) = (site(HEAD), site(&format!("{HEAD}{zone}")));
        WorkOrder::of(&Sides::of(&old, &new), &Remarks::default())
    };
    let taken = order(STAR);
    assert!(taken.pull.is_empty(), "{:?}", taken.pull);
    let bought: Vec<&str> = taken.buy.iter().map(|item| item.what.as_str()).collect();
    // The star's joint takes a connector, and each of the two cables that are found two labels.
    let wanted = [
        "Reed contact",
        "Resistor 2k2: 2.2 kΩ ±5 % (red red red gold)",
        "Connector, for 2 conductors",
        "Wrap label for a cable",
    ];
    assert_eq!(bought, wanted);
    let steps: Vec<String> =
        taken.places.iter().flat_map(|place| &place.steps).map(|s| format!("{}: {}", s.kind, s.text)).collect();
    let steps = steps.join("\n");
    for step in [
        "find: GREY 4, in the wall already (22 AWG pair, CL2R): identify both its ends with a meter before you cut or land it",
        "inspect: Reed contact, East window (Den): it is there and cannot be moved; try it with a meter",
        "mount: Reed contact, West window (Den)",
        "land: Z1-2 at Panel: BK joint in the enclosure of Panel with GREY 4: RD red, RD on R1",
    ] {
        assert!(steps.contains(step), "{step}\n{steps}");
    }
    let new = order(&STAR.replace("existing=#true", "").replace("fixed=#true", ""));
    assert_eq!((new.pull.len(), new.buy.len()), (2, 5), "{:?}", new.buy);
}

/// A loop that feeds two smoke detectors, its positive terminal at `positive`.
pub fn fed(positive: &str) -> String {
    let parts = include_str!("../pages/example.kdl");
    let board = parts.split("part \"feeds-a\"").nth(1).unwrap().split("\npart ").next().unwrap();
    let board = board.replace("positive=\"signal\"", &format!("positive=\"{positive}\""));
    format!(
        "{HEAD}part \"feeds-b\"{board}\npanel \"fire\" part=\"feeds-b\" room=\"lobby\" {{ battery capacity=(Ah)7 }}
zone 9 \"Smoke\" type=\"smoke\" {{
    loop \"two-wire\" board=\"fire\" {{
        run \"pair\" length=(ft)20 room=\"lobby\" {{ detector \"smoke-2\" title=\"Smoke, lobby\" }}
        run \"pair\" length=(ft)30 room=\"den\" {{ detector \"smoke-2\" title=\"Smoke, den\"; resistor \"4k7\" }}
    }}
}}
"
    )
}

#[test]
fn the_schedule_shows_the_polarity_of_two_wire_detectors() {
    let schedule = sites::schedule(&site(&fed("signal")));
    for row in [
        "BK with Z9-2: BK black under Smoke, lobby, + terminal; RD with Z9-2: RD red under its - terminal",
        "across BK and RD: Smoke, den: BK on +, RD on -; resistor 4.7 kΩ ±5 % (yellow violet red gold)",
    ] {
        assert!(schedule.contains(row), "{row}\n{schedule}");
    }
    // The first conductor of the cable goes to the positive terminal, wherever that is.
    let schedule = sites::schedule(&site(&fed("return")));
    for row in
        ["| **I1** | Z9 | RD red |", "| **R1** | Z9 | BK black |", "across RD and BK: Smoke, den: RD on -, BK on +"]
    {
        assert!(schedule.contains(row), "{row}\n{schedule}");
    }
}

#[test]
fn the_loop_sheet_gives_the_volts_of_two_wire_detectors_at_rest_and_in_alarm() {
    let made = site(&fed("signal"));
    let sheet = loop_sheet(&made);
    for line in [
        "fire, input 1, set for two-wire: terminals **I1 (+) and R1 (−)**",
        "I1 ── Z9 20 ft ── ⊥ Smoke, lobby ── Z9-2 30 ft ── ⊥ Smoke, den ── 4.7 kΩ ──┐ R1",
        "| any contact in alarm, or all | **[–]",
        "| alarm |",
        "Its detectors take up to 0.18 mA of 0.2 mA at rest",
        "Smoke, den 11.",
        "(works from 8.50 V)",
    ] {
        assert!(sheet.contains(line), "{line}\n{sheet}");
    }
    // Kirchhoff's current law: a pull-up of 680 Ω less 1 %, a resistor of 4.7 kΩ less 5 % beside 1 MΩ of cable, two
    // detectors of 90 µA. The ohms of 50 ft of cable are a thousandth of the rest.
    let across = 1.0 / (4700.0 * 0.95) + 1e-6;
    let most = (13.6 * across + 2.0 * 90e-6) / (1.0 + 680.0 * 0.99 * across) * 1e3;
    let (_, said) = sheet.split_once("with the resistor ").unwrap();
    let said: f64 = said.split_once(" mA flow").unwrap().0.parse().unwrap();
    assert!((said / most - 1.0).abs() < 2e-3, "{said} {most}");
    let commissioning = markdown(&made, "commissioning-sheet");
    let reset = commissioning.lines().find(|line| line.starts_with("| loop of zone 9 |"));
    assert!(reset.is_some_and(|row| row.contains("Smoke, lobby") && row.contains("Smoke, den")), "{commissioning}");
    let power = markdown(&made, "power-sheet");
    assert!(power.contains("two-wire detectors and their resistors, × 1.30: from 10.5 V of battery to 13.6 V of loop, as if nothing were lost in the conversion, which is the best case"), "{power}");
}
