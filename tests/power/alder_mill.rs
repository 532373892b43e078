//! The demo made to fail, one way at a time: one clear finding, and the remedy that it names clears it.

use loopwright::diag::Diagnostic;

use crate::alder_mill::AlderMill;

/// The demo with some texts exchanged; each must be there.
fn mill(changes: &[(&str, &str, &str)]) -> AlderMill {
    changes.iter().fold(AlderMill::new(), |mill, (file, from, to)| mill.edited_first(file, from, to))
}

/// What is found beyond what the demo's own findings are.
fn new(changes: &[(&str, &str, &str)]) -> Vec<Diagnostic> {
    mill(changes).new_findings()
}

fn only(changes: &[(&str, &str, &str)], rule: &str) -> Diagnostic {
    mill(changes).only(rule)
}

fn nothing(changes: &[(&str, &str, &str)]) {
    let found: Vec<String> = new(changes).into_iter().map(|found| found.title).collect();
    assert_eq!(found, [""; 0]);
}

const YARD: &str = "run \"burial-4\" length=(ft)44 room=\"yard\"";
const INDOORS: &str = "run \"fire-2\" length=(ft)36 room=\"landing\"";

/// By hand, the siren in the yard at the end of the battery, everything in alarm. 18 AWG is 6.385 Ω/kft at 20 °C.
/// Indoors at 35 °C × (1 + 0.00393 × 15) = 1.05895: 6.761 Ω/kft; 36 ft out and back 0.4868 Ω, 600 mA: 0.292 V.
/// Outdoors at 50 °C × 1.1179: 7.138 Ω/kft; 350 mA. At 300 ft out and back 4.283 Ω: 1.499 V, which leaves
/// 10.5 − 0.292 − 1.499 = 8.709 V of the 9 V that it needs. Two pairs lose half of 1.499 V: 9.458 V.
#[test]
fn a_longer_run() {
    let longer = YARD.replace("44", "300");
    let finding = only(&[("power.kdl", YARD, &longer)], "supply-below-minimum");
    assert!(finding.title.ends_with("gets 8.71 V in alarm on battery; it needs 9.00 V"), "{}", finding.title);
    for figure in [
        "output `siren` of panel `main`: 10.50 V on battery",
        "cable `SOUNDERS-1`, 36 ft of 18 AWG: 600 mA drop 0.29 V, leaving 10.21 V",
        "cable `SOUNDERS-2`, 300 ft of 18 AWG: 350 mA drop 1.50 V, leaving 8.71 V",
    ] {
        assert!(finding.figures.iter().any(|said| said == figure), "{figure:?} in {:#?}", finding.figures);
    }
    // The burial cable has two conductors to spare.
    assert_eq!(finding.help, "Join a free pair of cable `SOUNDERS-2` to its supply: write pairs=2.");
    nothing(&[("power.kdl", YARD, &format!("{longer} pairs=2"))]);
    // And 1.208 V ÷ 0.35 A ÷ (2 × 7.138 Ω/kft) = 241.8 ft.
    assert!(
        finding.figures.iter().any(|said| said == "or make cable `SOUNDERS-2` no longer than 241 ft"),
        "{:#?}",
        finding.figures
    );
    let works = new(&[("power.kdl", YARD, &YARD.replace("44", "241"))]);
    assert!(works.iter().all(|finding| finding.rule.slug == "supply-drop-large"), "{works:#?}");
    only(&[("power.kdl", YARD, &YARD.replace("44", "242"))], "supply-below-minimum");
}

/// The trunk to the sounders as 24 AWG line cable: 25.67 Ω/kft × 1.05895 × 72 ft = 1.957 Ω; 600 mA lose 1.174 V, and the
/// yard's cable 0.220 V more: 9.106 V of 9 V, 10.1 % of 13.8 V lost.
#[test]
fn a_thinner_wire_is_a_note_while_it_works_and_an_error_when_it_does_not() {
    let thinner = INDOORS.replace("fire-2", "line-4");
    let note = only(&[("power.kdl", INDOORS, &thinner)], "supply-drop-large");
    assert_eq!(note.severity(), loopwright::diag::Severity::Note);
    assert!(note.title.starts_with("1.39 V of 13.80 V are lost on the way to"), "{}", note.title);
    let both = thinner.replace("36", "48");
    let finding = only(&[("power.kdl", INDOORS, &both)], "supply-below-minimum");
    assert_eq!(finding.help, "Join a free pair of cable `SOUNDERS-1` to its supply: write pairs=2.");
    nothing(&[("power.kdl", INDOORS, &format!("{both} pairs=2"))]);
}

#[test]
fn a_detector_on_the_output_for_sounders() {
    let motion = "detector \"motion\" title=\"Motion, hall\" supply=\"aux\"";
    let finding = only(&[("zones-ground.kdl", motion, &motion.replace("aux", "siren"))], "supply-only-in-alarm");
    assert!(finding.help.contains("\"aux\""), "{}", finding.help);
}

#[test]
fn smoke_detectors_on_the_output_that_is_not_taken_away() {
    let circuit = "circuit \"smoke-up\" title=\"Smoke detector supply, upper floor\" board=\"main\" output=\"fire\"";
    let finding = only(&[("power.kdl", circuit, &circuit.replace("\"fire\"", "\"aux\""))], "smoke-supply-unswitched");
    assert_eq!(finding.labels.len(), 5, "four detectors and the output");
    assert!(finding.help.starts_with("Feed it from \"fire\""), "{}", finding.help);
}

#[test]
fn a_relay_that_is_left_out() {
    let relay = "            detector \"supply-watch\" title=\"Supply relay, parlour\" supply=\"fire\"\n";
    let finding = only(&[("fire.kdl", relay, "")], "fire-supply-unwatched");
    assert!(finding.help.contains("after Smoke, parlour at the far end of cable `Z13-3`"), "{}", finding.help);
    assert_eq!(finding.labels.len(), 3, "all three detectors before it");
    // One cable too early leaves the last detector's supply unseen.
    let early = "            detector \"smoke-4w\" title=\"Smoke, gear room\" made=\"2026-11-01\" supply=\"fire\" mount=(ft)9 { spot (ft)23 (ft)30; }\n";
    let moved = format!("{early}{relay}");
    let finding = only(&[("fire.kdl", relay, ""), ("fire.kdl", early, &moved)], "fire-supply-unwatched");
    assert_eq!(finding.title, "nothing watches the supply of Smoke, parlour");
}

#[test]
fn a_sounder_on_the_detectors_supply() {
    let circuit = "circuit \"sounders\" title=\"Sounders\" board=\"main\" output=\"siren\"";
    let finding = only(&[("power.kdl", circuit, &circuit.replace("siren", "aux"))], "sounder-always-on");
    assert_eq!(finding.labels.len(), 3, "each sounder, and the output");
}

#[test]
fn a_board_with_less_on_its_bus() {
    let limit = "limit=(mA)600 volts=(V)13.8";
    let finding = only(&[("../parts/boards.kdl", limit, "limit=(mA)250 volts=(V)13.8")], "output-overloaded");
    assert_eq!(finding.title, "bus port `bus` of panel `main` gives 258 mA in alarm; its limit is 250 mA");
    let module = finding.help.split('`').nth(1).unwrap();
    let line = match module {
        "adapter" => "part=\"network-adapter\" address=2",
        "expander-a" => "part=\"expander-12\" address=3 inputs-from=17",
        _ => "part=\"expander-12-double\" address=6 inputs-from=29",
    };
    let own = format!("{line} {{ transformer volts=(V)16.5 rating=(VA)40; battery capacity=(Ah)7; }}");
    let left = new(&[("../parts/boards.kdl", limit, "limit=(mA)250 volts=(V)13.8"), ("bus.kdl", line, &own)]);
    assert!(left.iter().all(|finding| finding.rule.slug != "output-overloaded"), "{left:#?}");
    // A tenth is not left yet, which is a note of its own.
    let note = only(&[("../parts/boards.kdl", limit, "limit=(mA)280 volts=(V)13.8")], "output-nearly-full");
    assert!(note.figures.iter().any(|figure| figure == "left: 7.8 %"), "{:#?}", note.figures);
}
