//! One cause is one finding, and its help leads somewhere: what is unknown, what is out of range, what the site has already.

use std::collections::BTreeMap;

use loopwright::diag::Diagnostic;
use loopwright::resolve::load::MemoryFiles;
use loopwright::session;

use super::loops::{quoted, run, zone};
use super::{found, only, slugs};
use crate::pages::{HEADER, PARTS};

/// A perimeter zone of a number with a button and, in the same place, what else is mounted.
fn numbered(number: u32, inside: &str) -> String {
    zone("end-of-line", "board-a", &run(20, inside))
        .replace("zone 1 \"Lobby", &format!("zone {number} \"Lobby {number}"))
}

#[test]
fn of_two_resistors_one_is_left() {
    let spec = |first: &str| {
        let near = run(20, &format!("contact \"reed\"{first}"));
        zone("end-of-line", "board-a", &(near + &run(30, "contact \"reed\"; resistor \"2k2\"")))
    };
    let finding = only(&spec("; resistor \"2k2\""), "loop-resistor-wrong");
    assert_eq!(
        finding.help,
        "Leave the resistor at the far end of cable `Z1-2`, and take out the other: a loop has one."
    );
    assert_eq!(slugs(&spec("")), [""; 0]);
}

/// Two cables that are joined in a box, each with its resistor: without the other one a short of its cable reads normal, so both
/// stay, and halve. What the help says is right.
#[test]
fn of_two_resistors_in_two_branches_both_stay() {
    let spec = |ohms: &str| {
        let branch = run(3, &format!("contact \"reed\"; resistor \"{ohms}\""));
        let way = format!("run \"pair\" length=(ft)20 into=\"box\" {{\n{branch}{branch}}}\n");
        format!("joint-box \"box\" room=\"lobby\" joined-by=\"crimp\"\n{}", zone("end-of-line", "board-a", &way))
    };
    let help = only(&spec("2k2"), "loop-resistor-wrong").help;
    assert!(help.starts_with("Take 1.3 kΩ ±5 % (\"1k3\") for each of the 2 resistors"), "{help}");
    assert!(!slugs(&spec("1k3")).contains(&"loop-resistor-wrong"));
}

#[test]
fn the_value_that_the_site_has_comes_before_the_best_one() {
    let others: String = (2..4).map(|number| numbered(number, "contact \"button\"; resistor \"2k2\"")).collect();
    for (wrong, slug) in [("; resistor \"5k6\"", "loop-resistor-wrong"), ("", "loop-resistor-missing")] {
        let alone = numbered(1, &format!("contact \"button\"{wrong}"));
        let finding = only(&(alone.clone() + &others), slug);
        assert_eq!(quoted(&finding.help), "2k2", "{}", finding.help);
    }
    // A value with which the loop would be wrong is proposed nowhere, however many loops have it.
    let wrong: String = (2..4).map(|number| numbered(number, "contact \"button\"; resistor \"5k6\"")).collect();
    for finding in found(&(numbered(1, "contact \"button\"") + &wrong)) {
        assert_ne!(quoted(&finding.help), "5k6", "{}", finding.help);
    }
}

const GROUND: &str = "level \"out\" { room \"yard\" title=\"Yard\" kind=\"outdoors\"; }
cable \"indoor-6\" conductors=6 size=(AWG)22 jacket=\"CL2R\"
cable \"ground-4\" conductors=4 size=(AWG)18 jacket=\"PLTC\"
";

#[test]
fn no_indoor_cable_is_advised_for_the_ground() {
    let passage = "passes=\"underground\"";
    let crowded = |cable: &str, passes: &str| {
        let text = run(20, "detector \"motion\" supply=\"aux\"; resistor \"2k2\"; detector \"smoke\" supply=\"fire\"")
            .replace("\"pair\"", &format!("\"{cable}\" {passes}"));
        let spec = GROUND.to_owned() + &zone("end-of-line", "board-a", &text);
        let found = found(&spec);
        found.into_iter().find(|one| one.rule.slug == "cable-conductors-short").expect("too few conductors")
    };
    let finding = crowded("ground-4", passage);
    assert!(!finding.help.contains("indoor-6"), "{}", finding.help);
    assert!(
        finding.help.starts_with("Define a cable type for wet ground with at least 6 conductors of 18 AWG"),
        "{}",
        finding.help
    );
    // Inside, where a type of the same jacket is there, it is named.
    assert_eq!(crowded("quad", "").help, "Take `indoor-6`, which has 6.");
}

#[test]
fn a_part_of_the_site_takes_the_place_of_the_shared_one() {
    let own = "part \"reed\" title=\"Our reed\" { basis \"sheet\" ref=\"measured\"; contact form=\"NC\" resistance=(ohm)3000; }\n";
    let spec = zone("end-of-line", "board-a", &run(20, "contact \"reed\"; resistor \"2k2\""));
    assert_eq!(slugs(&spec), [""; 0]);
    // Its figures are the ones that count.
    let found = found(&(own.to_owned() + &spec));
    assert!(!found.is_empty() && found.iter().all(|one| one.rule.slug.starts_with("loop-")), "{found:#?}");
    // Two of the site's own are still one too many.
    assert_eq!(slugs(&(own.to_owned() + own + &spec)).first(), Some(&"duplicate-name"));
}

#[test]
fn a_misspelt_opening_is_the_only_finding() {
    let house = "level \"up\" { room \"hall\" { window \"north\"; }; }\n";
    let text = run(20, "contact \"reed\" on=\"nort\"; resistor \"2k2\"").replace(" room=\"lobby\"", "");
    let finding = only(&(house.to_owned() + &zone("end-of-line", "board-a", &text)), "unknown-name");
    assert_eq!(finding.help, "Did you mean `north`?");
}

#[test]
fn a_name_that_nothing_has_is_one_finding_with_the_names_there_are() {
    let misspelt = |number| numbered(number, "contact \"button\"; resistor \"2k2\"").replace("\"pair\"", "\"copper\"");
    let finding = only(&(misspelt(1) + &misspelt(2) + &misspelt(3)), "unknown-name");
    assert_eq!(finding.labels.len(), 3);
    assert_eq!(finding.help, "Define the cable, or name another: `bus-cable`, `pair` or `quad`.");
    let room = numbered(1, "contact \"button\"; resistor \"2k2\"").replace("\"lobby\"", "\"kitchen\"");
    assert_eq!(only(&room, "unknown-name").help, "Define the room, or name another: `lobby`.");
}

/// What is found where nothing of the shared parts is included; they stand beside the site or not.
fn without_include(spec: &str, beside: bool) -> Vec<Diagnostic> {
    let site = HEADER.replace("include \"../parts/example.kdl\"\n", "") + spec;
    let mut files: BTreeMap<String, Vec<u8>> = [("site.kdl".to_owned(), site.into_bytes())].into();
    if beside {
        files.insert("../parts/generic.kdl".to_owned(), b"include \"../parts/more.kdl\"\n".to_vec());
        files.insert("../parts/more.kdl".to_owned(), PARTS.as_bytes().to_vec());
    }
    session::check(&MemoryFiles(files)).diagnostics
}

#[test]
fn a_forgotten_include_is_one_finding() {
    let loops: String =
        (1..20).map(|number| numbered(number, "contact \"button\"; contact \"reed\"; resistor \"2k2\"")).collect();
    for (beside, help) in [
        (true, "Write include \"../parts/generic.kdl\" in site.kdl: all of them are defined there."),
        (false, "Include the file that defines them, or define them."),
    ] {
        let found = without_include(&loops, beside);
        let [finding] = found.as_slice() else { panic!("{found:#?}") };
        assert_eq!(finding.title, "4 names are defined in no file of the site");
        assert_eq!(finding.figures, ["part: `button`, `control-a`, `reed`", "cable: `pair`"]);
        assert_eq!((finding.labels.len(), finding.help.as_str()), (7, help));
    }
}

#[test]
fn a_colour_that_is_none_lists_the_codes() {
    let cable = "cable \"odd\" conductors=2 size=(AWG)22 { conductor \"QQ\"; conductor \"RD\"; }\n";
    let finding = found(cable).into_iter().find(|one| one.rule.slug == "word-unknown").expect("no colour");
    assert_eq!(finding.title, "`QQ` is no colour code of IEC 60757");
    assert!(finding.help.contains("`\"BK\"` black") && finding.help.contains("`\"SR\"` silver"), "{}", finding.help);
}

#[test]
fn a_need_that_no_battery_meets_names_the_figure_that_is_out_of_range() {
    let board = "part \"big\" { basis \"sheet\"; output \"aux\" positive=\"A+\" negative=\"A-\" volts=(V)13.8 limit=(A)1; draw idle=(A)110 alarm=(A)110; charger current=(A)1; }
panel \"big\" part=\"big\" room=\"lobby\" { battery capacity=(Ah)7; transformer volts=(V)16.5 rating=(VA)40 outlet=\"no switch\"; }
";
    let finding = found(board).into_iter().find(|one| one.rule.slug == "battery-short").expect("too small");
    assert!(
        finding.help.contains("out of range") && finding.help.contains("the board itself, 110 A at rest"),
        "{}",
        finding.help
    );
    assert!(!finding.help.contains("batteries of 3"), "{}", finding.help);
    let finding = found(board).into_iter().find(|one| one.rule.slug == "transformer-too-small").expect("too small");
    assert!(finding.help.contains("out of range") && !finding.help.contains("Take one"), "{}", finding.help);
}

const WAYS: &str = r#"level "ground" title="Ground floor" {
    room "porch" title="Porch" { door "front" title="Front door"; }
    room "kitchen" title="Kitchen" { door "back" title="Back door"; }
}
area "house" number=1 entry=(s)30 exit=(s)60 abort=(s)20 {
    walk "front" to="keys" time=(s)9
    walk "back" to="keys" time=(s)9
}
zone 1 "Front door" type="entry-exit" area="house" {
    loop "end-of-line" board="board-a" {
        run "pair" length=(ft)20 room="porch" { contact "reed" on="front"; resistor "2k2" }
    }
}
bus "data" board="board-a" rate=(baud)19200 {
    run "bus-cable" length=(ft)30 room="lobby" { keypad "keys" title="Keypad" part="keypad-a" address=1; terminator (ohm)120 }
}
circuit "loud" board="board-a" output="siren" {
    run "pair" length=(ft)20 room="lobby" { sounder "sounder" title="Sounder" }
}
"#;

/// A way from a door whose zone is not finished waits for that.
#[test]
fn a_way_from_the_door_of_an_unfinished_zone_is_no_second_finding() {
    let back = |area: &str, inside: &str| {
        let loop_ = "loop \"end-of-line\" board=\"board-a\"";
        format!("{WAYS}zone 2 \"Back door\" type=\"entry-exit\"{area} {{ {loop_} {{ {inside} }} }}\n")
    };
    let run = "run \"pair\" length=(ft)20 room=\"kitchen\" { contact \"reed\" on=\"back\"; resistor \"2k2\" }";
    assert_eq!(slugs(&back(" area=\"house\"", run)), [""; 0]);
    for unfinished in [back("", run), back(" area=\"house\"", "")] {
        assert!(!slugs(&unfinished).contains(&"walk-without-effect"), "{:?}", slugs(&unfinished));
    }
    let watched_by_another = WAYS.to_owned()
        + "zone 2 \"Back door\" type=\"perimeter\" area=\"house\" { loop \"end-of-line\" board=\"board-a\" { "
        + run
        + " } }\n";
    assert!(slugs(&watched_by_another).contains(&"walk-without-effect"));
}

/// Where the part of a board is misspelt nothing is known of its terminals, that of a shield among them.
#[test]
fn the_shield_at_a_board_of_an_unknown_part_is_no_second_finding() {
    let spec = "cable \"shielded-4\" conductors=4 size=(AWG)20 shield=\"drain\" {
    conductor \"RD\" for=\"supply+\"
    conductor \"BK\" for=\"supply-\"
    conductor \"BU\" for=\"bus-a\"
    conductor \"WH\" for=\"bus-b\"
}
bus \"data\" board=\"board-a\" rate=(baud)9600 {
    run \"bus-cable\" length=(ft)30 room=\"lobby\" { keypad \"keys\" part=\"keypad-a\" address=1; }
    run \"shielded-4\" length=(ft)30 room=\"lobby\" { keypad \"more-keys\" part=\"PART\" address=2; terminator (ohm)120; }
}
";
    assert_eq!(slugs(&spec.replace("PART", "keypad-a")), ["shield-landed-nowhere"]);
    assert_eq!(slugs(&spec.replace("PART", "keypad-misspelt")), ["unknown-name"]);
}
