//! A note is printed where a fact calls for it, and nowhere else.

use loopwright::views::safety_notes::{Concerns, NOTES, SafetyNotes};

use super::{packet, text, wired};

const BARE: &str =
    "level \"base\" { room \"lobby\" title=\"Lobby\"; room \"yard\" kind=\"outdoors\"; room \"loft\" kind=\"attic\" }
    panel \"board-a\" part=\"control-a\" room=\"lobby\"";

fn slugs(in_site: &str, beside: &str) -> Vec<&'static str> {
    let (site, wiring) = wired(in_site, beside);
    let concerning = |concerns| SafetyNotes::of(&site, &wiring, concerns).notes;
    let both = [Concerns::Work, Concerns::Alarm].into_iter().flat_map(concerning);
    both.map(|note| note.slug).collect()
}

/// The notes that every alarm with a zone or a cable has.
const COMMON: [&str; 2] = ["licence", "electronics"];

fn bare_and(more: &str) -> String {
    format!("{BARE}\n{more}")
}

/// One loop of one cable, with `more` among the run's properties.
fn run(more: &str) -> String {
    bare_and(&format!(
        "zone 1 \"Lobby\" type=\"perimeter\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"pair\" length=(ft)20 {more} {{ contact \"reed\"; resistor \"2k2\" }} }} }}"
    ))
}

#[test]
fn a_site_of_a_bare_panel_has_no_note() {
    assert_eq!(slugs("", BARE), [""; 0]);
}

/// Each fact alone, with every note that it calls for: a cable in the house brings two of its own.
#[test]
fn each_fact_calls_for_its_notes_and_no_other() {
    let lobby = |more: &str| run(&format!("room=\"lobby\" {more}"));
    let panel = |inside: &str| BARE.replace("room=\"lobby\"", &format!("room=\"lobby\" {{ {inside} }}"));
    let zone = |kind: &str, detector: &str| {
        bare_and(&format!(
            "zone 1 \"Lobby\" type=\"{kind}\" {{ loop \"end-of-line\" board=\"board-a\" {{ {detector}; resistor \"2k2\" }} }}"
        ))
    };
    let line = |more: &str| bare_and(&format!("communicator \"line\" type=\"telephone\" {more}"));
    let sounder = |more: &str| {
        bare_and(&format!(
            "circuit \"loud\" board=\"board-a\" output=\"siren\" {{ run \"pair\" length=(ft)9 room=\"lobby\" {{ sounder \"sounder\" {more} }} }}"
        ))
    };
    let load = |load: &str| {
        bare_and(&format!(
            "circuit \"load\" board=\"board-a\" output=\"aux\" {{ run \"pair\" length=(ft)9 room=\"lobby\" {{ load \"{load}\" }} }}"
        ))
    };
    let gate = "circuit \"gate\" board=\"board-a\" switch=\"relay-1\" { drive \"key\"; run \"pair\" length=(ft)9 room=\"lobby\" { load \"gate-input\" } }";
    let lock = "part \"magnet\" works=\"lock\" { basis \"sheet\"; supply min=(V)9 idle=(mA)300; }\n";
    let wireless = |kind: &str| {
        bare_and(&format!("zone 1 \"Shed\" type=\"{kind}\" {{ wireless \"reed-wireless\" room=\"lobby\" }}"))
    };
    let cases: &[(String, &[&str])] = &[
        (panel("transformer volts=(V)16.5 rating=(VA)40"), &["mains-transformer"]),
        (panel("battery capacity=(Ah)7"), &["standby-battery"]),
        (lobby(""), &["hidden-services", "separation"]),
        (lobby("passes=\"stud\""), &["hidden-services", "studs", "separation"]),
        (lobby("passes=\"joist\""), &["hidden-services", "joists", "separation"]),
        (lobby("passes=\"mains\""), &["hidden-services", "separation", "beside-mains"]),
        (lobby("passes=\"plenum\""), &["hidden-services", "separation", "plenums-and-risers"]),
        (lobby("passes=\"riser\""), &["hidden-services", "separation", "plenums-and-risers"]),
        (lobby("passes=\"fire-wall\""), &["hidden-services", "separation", "fire-walls"]),
        (lobby("passes=\"attic\""), &["hidden-services", "attics", "separation"]),
        (run("room=\"loft\""), &["hidden-services", "attics", "separation"]),
        (
            lobby("passes=\"underground\""),
            &["hidden-services", "pits-and-water", "separation", "underground", "outdoors"],
        ),
        (lobby("passes=\"outdoors\""), &["hidden-services", "separation", "outdoors"]),
        (run("room=\"yard\""), &["hidden-services", "separation", "outdoors"]),
        (line("service=\"copper\""), &["telephone-line", "line-seizure"]),
        (line("service=\"voip\""), &["telephone-line", "line-seizure", "telephone-over-internet"]),
        (bare_and("communicator \"net\" type=\"internet\""), &[]),
        (zone("smoke", "contact \"button\""), &["fire-detection"]),
        (zone("fire", "contact \"button\""), &["fire-detection"]),
        (zone("carbon-monoxide", "contact \"button\""), &["carbon-monoxide"]),
        (zone("gas", "contact \"button\""), &["fuel-gas"]),
        (zone("smoke", "detector \"smoke\" supply=\"fire\""), &["fire-detection", "fire-detector-supply"]),
        (zone("interior", "detector \"motion\" supply=\"aux\""), &[]),
        (zone("interior", "detector \"motion\" supply=\"aux\" mount=(ft)9"), &["ladders"]),
        (zone("interior", "detector \"motion\" supply=\"aux\" mount=(ft)8"), &[]),
        (zone("tamper", "contact \"button\" mount=(ft)17"), &["ladders"]),
        (sounder(""), &["hidden-services", "separation", "sounders"]),
        (sounder("mount=(m)4"), &["hidden-services", "ladders", "separation", "sounders"]),
        (load("lamp"), &["hidden-services", "separation"]),
        (load("coil"), &["load-relays", "hidden-services", "separation"]),
        (format!("{lock}{}", load("magnet")), &["hidden-services", "separation", "locks"]),
        (bare_and(gate), &["hidden-services", "separation", "moving-doors"]),
        (wireless("perimeter"), &["wireless"]),
        (wireless("smoke"), &["fire-detection", "wireless"]),
    ];
    for (beside, wanted) in cases {
        let found = slugs("", beside);
        let others: Vec<&str> = found.iter().copied().filter(|slug| !COMMON.contains(slug)).collect();
        assert_eq!(&others, wanted, "{beside}");
        assert_eq!(found.contains(&"licence"), beside.contains("zone "), "{beside}");
        assert_eq!(found.contains(&"electronics"), beside.contains("run "), "{beside}");
    }
    let inside = lobby("");
    for (in_site, wanted) in [
        ("building built=1979", &["hidden-services", "old-house", "separation"][..]),
        ("building built=1980", &["hidden-services", "separation"]),
        ("building framing=\"timber-stud\"", &["hidden-services", "studs", "joists", "separation"]),
        ("building framing=\"masonry\"", &["hidden-services", "masonry", "separation"]),
    ] {
        let others: Vec<&str> = slugs(in_site, &inside).into_iter().filter(|slug| !COMMON.contains(slug)).collect();
        assert_eq!(others, wanted, "{in_site}");
    }
    let mut called: Vec<&str> = cases
        .iter()
        .flat_map(|(_, wanted)| wanted.iter().copied())
        .chain(["old-house", "masonry"])
        .chain(COMMON)
        .collect();
    called.sort_unstable();
    called.dedup();
    let mut all: Vec<&str> = NOTES.iter().map(|note| note.slug).collect();
    all.sort_unstable();
    assert_eq!(called, all, "a note that no case calls for");
}

#[test]
fn the_sheet_names_the_fact_the_figures_and_who_prevails() {
    let site = run("room=\"lobby\" passes=\"plenum\" label=\"C1\"");
    let sheet = text(&packet("profile \"eu-grade-2\"", &site), "safety-notes.html");
    for words in [
        "C1 (22 AWG pair) passes a plenum: jacket CL2R, not a type for a plenum",
        "CL3P, CMP",
        "at least 2 in (51 mm)",
        "The figures are from documents of the United States",
        "authority having jurisdiction",
        "When the house was built",
    ] {
        assert!(sheet.contains(words), "{words:?} in\n{sheet}");
    }
    let home = text(&packet("profile \"us-household\"", &site), "safety-notes.html");
    assert!(!home.contains("The figures are from documents of the United States"));
}

/// The test of a supply relay is asked only where there is one, and the sheet says which detectors no relay watches.
#[test]
fn the_note_on_supplies_says_which_of_them_a_relay_watches() {
    let zone = |number: u32, device: &str| {
        format!(
            "zone {number} \"Lobby {number}\" type=\"smoke\" {{ loop \"end-of-line\" board=\"board-a\" {{
                run \"quad\" length=(ft)20 room=\"lobby\" {{ {device}; resistor \"2k2\" }}
            }} }}\n"
        )
    };
    let house = "level \"base\" { room \"lobby\" title=\"Lobby\" }
         panel \"board-a\" part=\"control-a\" room=\"lobby\" { battery capacity=(Ah)12 installed=\"2027-01-01\"; \
         transformer volts=(V)16.5 rating=(VA)75 outlet=\"lobby, no switch\"; }\n";
    let bare = packet("", &format!("{house}{}", zone(1, "detector \"smoke\" supply=\"fire\"")));
    let notes = text(&bare, "cautions-of-the-alarm.md");
    assert!(notes.contains("nothing shows a lost supply of: Smoke detector"), "{notes}");
    assert!(!notes.contains("a relay watches the supply of"), "{notes}");
    let both = zone(1, "detector \"smoke\" supply=\"fire\"; detector \"watch\" supply=\"fire\"");
    let notes = text(&packet("", &format!("{house}{both}")), "cautions-of-the-alarm.md");
    assert!(notes.contains("a relay watches the supply of: Smoke detector"), "{notes}");
    assert!(!notes.contains("nothing shows a lost supply of"), "{notes}");
}
