//! Helps that are followed to the letter: what they lead to is no other error, and where nothing helps they say so.

use super::loops::{run, zone};
use super::{found, only, slugs};

/// A board that reads a loop by these bands.
fn board(bands: &str) -> String {
    format!(
        "part \"own\" title=\"Board\" {{
    basis \"sheet\" ref=\"invented\"
    input 1 signal=\"I\" return=\"R\"
    sensing supply=(V)5 pull-up=(ohm)2200 {{ {bands}; }}
}}
panel \"own\" part=\"own\" room=\"lobby\"
"
    )
}

/// No band for a short, and none for an alarm.
const PLAIN: &str = "panel \"side\" part=\"plain-a\" room=\"lobby\"\n";
const OHMS: &str =
    "band \"short\" max=(ohm)1400; band \"normal\" min=(ohm)1650 max=(ohm)3300; band \"open\" min=(ohm)6000";

fn heat(form: &str) -> String {
    format!(
        "part \"heat\" senses=\"heat\" {{ basis \"sheet\" ref=\"invented\"; contact form=\"{form}\" resistance=(ohm)0.2; }}\n"
    )
}

#[test]
fn a_fire_alarm_that_opens_the_loop_reads_as_a_fault() {
    let fire =
        |kind: &str, inside: &str| zone("end-of-line", "board-a", &run(20, inside)).replace("twenty-four-hour", kind);
    for kind in ["fire", "smoke", "heat", "carbon-monoxide"] {
        let spec = fire(kind, "contact \"heat\"; resistor \"2k2\"");
        let heat = |form: &str| {
            let senses = if kind == "carbon-monoxide" { "senses=\"carbon-monoxide\"" } else { "senses=\"heat\"" };
            heat(form).replace("senses=\"heat\"", senses)
        };
        let finding = only(&(heat("NC") + &spec), "fire-alarm-like-fault");
        assert!(finding.title.ends_with("in alarm, as with a cut cable"), "{}", finding.title);
        assert_eq!(slugs(&(heat("NO") + &spec)), [""; 0], "{}", finding.help);
    }
    // Anywhere else an open loop is the alarm.
    let elsewhere = heat("NC").replace("senses=\"heat\"", "senses=\"opening\"");
    assert_eq!(slugs(&(elsewhere + &fire("twenty-four-hour", "contact \"heat\"; resistor \"2k2\""))), [""; 0]);
    // Before one that closes, it opens the loop for both: all in alarm at once reads as a fault as well.
    let both = heat("NC")
        + "part \"other\" senses=\"heat\" { basis \"sheet\" ref=\"invented\"; contact form=\"NO\" resistance=(ohm)0.2; }\n"
        + &fire("heat", "contact \"heat\" title=\"First\"; contact \"other\" title=\"Second\"; resistor \"2k2\"");
    let finding = only(&both, "fire-alarm-like-fault");
    assert!(finding.figures.iter().any(|line| line.starts_with("all contacts in alarm")), "{:?}", finding.figures);
    assert!(!finding.figures.iter().any(|line| line.starts_with("Second in alarm")), "{:?}", finding.figures);
}

#[test]
fn a_fire_alarm_that_reads_as_its_supply_lost_is_told_so() {
    let smoke = "part \"closed\" senses=\"smoke\" { basis \"sheet\" ref=\"invented\"; supply min=(V)9 max=(V)16 idle=(mA)1; contact form=\"NC\" resistance=(ohm)1; }\n";
    let spec = zone(
        "end-of-line",
        "board-a",
        &run(20, "detector \"closed\" supply=\"fire\"; detector \"watch\" supply=\"fire\"; resistor \"2k2\"")
            .replace("pair", "quad"),
    );
    let finding = only(&(smoke.to_owned() + &spec.replace("twenty-four-hour", "smoke")), "fire-alarm-like-fault");
    assert!(finding.title.ends_with("as with a cut cable or its supply lost"), "{}", finding.title);
}

#[test]
fn a_plain_fire_loop_is_to_be_wired_with_contacts_that_close() {
    let spec = |wiring: &str, board: &str, inside: &str| {
        heat("NC") + PLAIN + &zone(wiring, board, &run(20, inside)).replace("twenty-four-hour", "heat")
    };
    let finding = found(&spec("normally-closed", "side", "contact \"heat\"")).remove(0);
    assert_eq!(finding.rule.slug, "fire-loop-unsupervised");
    assert!(finding.help.starts_with("By its bands this input takes a short"), "{}", finding.help);
    let bands = "band \"normal\" min=(ohm)0 max=(ohm)500; band \"open\" min=(ohm)6000";
    let setting =
        format!("sensing wiring=\"normally-closed\" supply=(V)5 pull-up=(ohm)2200 {{ {bands}; }}\n    sensing supply");
    let both = board(OHMS).replace("sensing supply", &setting);
    let plain = heat("NC")
        + &both
        + &zone("normally-closed", "own", &run(20, "contact \"heat\"")).replace("twenty-four-hour", "heat");
    let finding = only(&plain, "fire-loop-unsupervised");
    assert!(finding.help.contains("open at rest"), "{}", finding.help);
    let followed =
        plain.replace("form=\"NC\"", "form=\"NO\"").replace("\"normally-closed\" board", "\"end-of-line\" board");
    assert_eq!(slugs(&followed.replace("contact \"heat\";", "contact \"heat\"; resistor \"2k2\";")), [""; 0]);
}

/// Two ends, each with its resistor: either cut leaves the other's.
#[test]
fn a_branched_loop_is_not_told_to_move_its_resistor() {
    let end = |resistor: &str| run(15, &format!("contact \"button\"{resistor}"));
    let branched =
        run(20, &format!("contact \"button\"; {}{}", end("; resistor \"4k7\""), end("; resistor \"4k7\"").trim_end()));
    let spec = zone("end-of-line", "board-a", &branched);
    let finding = found(&spec).into_iter().find(|one| one.rule.slug == "loop-fault-unclear").unwrap();
    assert_eq!(
        finding.help,
        "Let one cable pass from place to place, without branches, and put the whole resistor at its last place; or give each branch a zone of its own."
    );
    let passing = run(20, "contact \"button\"") + &end("") + &end("; resistor \"2k2\"");
    assert_eq!(slugs(&zone("end-of-line", "board-a", &passing)), [""; 0]);
}

#[test]
fn an_input_that_takes_a_short_for_rest_is_not_told_of_resistors() {
    let loop_of = |wiring: &str, resistor: &str| {
        PLAIN.to_owned() + &zone(wiring, "side", &run(20, &format!("contact \"reed\"{resistor}")))
    };
    for (wiring, resistor, slug) in [
        ("end-of-line", "", "loop-resistor-missing"),
        ("end-of-line", "; resistor \"91R\"", "loop-fault-reads-normal"),
        ("normally-closed", "; resistor \"91R\"", "loop-wiring-unfit"),
        ("normally-closed", "", "loop-unsupervised"),
    ] {
        let finding = only(&loop_of(wiring, resistor), slug);
        assert!(finding.help.contains("takes a short for a loop at rest"), "{slug}: {}", finding.help);
        assert!(!finding.help.contains("91R") && !finding.help.contains("the last place"), "{slug}: {}", finding.help);
    }
    // Where the input has no band for a short, the resistor at the last place is not told to go there.
    let bands = "band \"normal\" min=(V)1.6 max=(V)3.1; band \"open\" min=(V)4";
    let last = board(bands) + &zone("end-of-line", "own", &run(20, "contact \"reed\"; resistor \"2k2\""));
    let finding = only(&last, "loop-fault-unclear");
    assert!(finding.help.starts_with("This input has no band that a short lies in"), "{}", finding.help);
}

#[test]
fn a_board_with_one_band_is_asked_for_the_others() {
    let only_normal = board("band \"normal\" min=(V)1.6 max=(V)3.1")
        + &zone("end-of-line", "own", &run(20, "contact \"reed\"; resistor \"2k2\""));
    let finding = found(&only_normal).into_iter().find(|one| one.rule.slug == "loop-alarm-unclear").unwrap();
    assert!(finding.help.contains("band \"open\" with its min="), "{}", finding.help);
    assert!(finding.fix.is_none_or(|fix| fix.edits.is_empty()));
}

#[test]
fn a_board_without_a_band_for_an_alarm_is_not_told_of_shunts() {
    let spec = |wiring: &str, shunt: &str| {
        board(OHMS) + &zone(wiring, "own", &run(20, &format!("contact \"reed\"{shunt}; resistor \"2k2\"")))
    };
    for (shunt, slug) in [
        ("", "shunt-misplaced"),
        (" shunt=\"330R\"", "loop-alarm-reads-normal"),
        (" shunt=\"2k2\"", "loop-alarm-unclear"),
        (" shunt=\"4k7\"", "loop-alarms-indistinct"),
    ] {
        let finding = only(&spec("double-end-of-line", shunt), slug);
        assert!(
            finding.help.contains("wire the loop \"end-of-line\" and leave shunt= out"),
            "{slug}: {}",
            finding.help
        );
    }
    assert_eq!(slugs(&spec("end-of-line", "")), [""; 0]);
}

/// The value is the sheet's, so only what moves the reading away from its edge is left.
#[test]
fn a_two_wire_loop_near_an_edge_keeps_its_resistor() {
    let part = crate::pages::PARTS.split("part \"feeds-a\"").nth(1).unwrap().split("\npart ").next().unwrap();
    let spec = |bands: (&str, &str), detectors: usize| {
        let part = part.replace("min=(V)9 max=(V)12.7", &format!("min=(V){} max=(V){}", bands.0, bands.1));
        let detectors =
            (0..detectors).map(|n| format!("detector \"smoke-2\" title=\"Smoke {n}\"; ")).collect::<String>();
        format!(
            "part \"feeds-b\"{part}\npanel \"feeds\" part=\"feeds-b\" room=\"lobby\"\nzone 1 \"Smoke\" type=\"smoke\" {{ loop \"two-wire\" board=\"feeds\" {{ run \"pair\" length=(ft)40 room=\"lobby\" {{ {detectors}resistor \"4k7\" }} }} }}\n"
        )
    };
    for (bands, help) in [(("9", "12.05"), "shorter or heavier cable"), (("11.6", "12.7"), "Fewer detectors")] {
        let finding = only(&spec(bands, 2), "loop-margin-small");
        assert!(
            finding.help.contains(help) && finding.help.contains("so leave it"),
            "{}: {:?}",
            finding.help,
            finding.figures
        );
    }
}

/// Five circuits on an output with a strip of two ways.
#[test]
fn a_strip_that_is_there_gets_more_ways() {
    let spec = |strip: &str| {
        let circuit = |at: usize| {
            format!(
                "circuit \"c{at}\" board=\"board-a\" output=\"aux\" {{ run \"pair\" length=(ft)20 room=\"lobby\" {{ load \"lamp\" title=\"L{at}\"; }}; }}\n"
            )
        };
        strip.to_owned() + &(1..=5).map(circuit).collect::<String>()
    };
    let strip =
        |ways: u32, wires: u32| format!("strip \"few\" board=\"board-a\" output=\"aux\" ways={ways} wires={wires}\n");
    let finding = only(&spec(""), "terminal-overfull");
    assert!(finding.help.starts_with("Add a `strip`"), "{}", finding.help);
    for (wires, few, ways) in [(1, 2, 5), (2, 1, 3)] {
        let finding = only(&spec(&strip(few, wires)), "terminal-overfull");
        assert!(
            finding.help.starts_with(&format!("Give strip `few` a way for every cable: write ways={ways} on it")),
            "{}",
            finding.help
        );
        assert_eq!(slugs(&spec(&strip(ways, wires))), [""; 0]);
    }
    // A second strip has room beside the first; a third has none, and more ways are no help then.
    let more = |names: &[&str]| names.iter().map(|name| strip(1, 1).replace("few", name)).collect::<String>();
    assert_eq!(slugs(&spec(&(strip(2, 1) + &strip(3, 1).replace("few", "more")))), [""; 0]);
    let finding = only(&spec(&more(&["a", "b", "c"])), "terminal-overfull");
    assert!(finding.help.starts_with("Make one strip of those"), "{}", finding.help);
}

/// A board with a band for an alarm, and a loop that never reaches it.
#[test]
fn an_alarm_band_that_no_contact_reaches_is_told() {
    let side = "panel \"side\" part=\"double-a\" room=\"lobby\"\n".to_owned();
    let one =
        |contact: &str| side.clone() + &zone("end-of-line", "side", &run(20, &format!("{contact}; resistor \"2k2\"")));
    let finding = only(&one("contact \"reed\""), "loop-alarm-band-missed");
    assert!(finding.title.ends_with("as with a cut cable"), "{}", finding.title);
    let followed = one("contact \"reed\" shunt=\"2k2\"").replace("\"end-of-line\"", "\"double-end-of-line\"");
    assert_eq!(slugs(&followed), [""; 0], "{}", finding.help);
    // A cover is told as one, and a board without that band takes an open loop for the alarm.
    assert_eq!(slugs(&one("contact \"reed\"").replace("twenty-four-hour", "tamper")), [""; 0]);
    assert_eq!(slugs(&zone("end-of-line", "board-a", &run(20, "contact \"reed\"; resistor \"2k2\""))), [""; 0]);
    // Bands of its own for such loops.
    let own = "band \"normal\" min=(V)2 max=(V)2.85; band \"alarm\" min=(V)4.4";
    let own = board(&(own.to_owned() + "; band \"short\" max=(V)1.6"))
        + &zone("end-of-line", "own", &run(20, "contact \"reed\"; resistor \"2k2\""));
    assert_eq!(slugs(&own), [""; 0]);
}

/// A fix that breaks what could be read is taken back.
#[test]
fn a_file_that_breaks_the_spec_is_not_included() {
    let site = |more: &str| format!("{}{more}", crate::pages::HEADER);
    let fixed = |files: &[(&str, &str)]| {
        let parts = ("../parts/example.kdl", crate::pages::PARTS);
        let files = files.iter().chain([&parts]).map(|(path, text)| ((*path).to_owned(), text.as_bytes().to_vec()));
        let fixed = loopwright::session::fix(
            &loopwright::resolve::load::MemoryFiles(files.collect()),
            loopwright::diag::Certainty::Likely,
        );
        (fixed.fixes, fixed.files.len(), fixed.outcome.failed())
    };
    // A copy of what is there already: each name twice.
    let copy = "level \"base\" { room \"lobby\"; }\n";
    assert_eq!(fixed(&[("site.kdl", &site("")), ("old.kdl", copy)]), (0, 0, false));
    let other = "cable \"own\" conductors=2 size=(AWG)22\n";
    assert_eq!(fixed(&[("site.kdl", &site("")), ("own.kdl", other)]), (1, 1, false));
    // One that cannot be made keeps no other from being made.
    assert_eq!(fixed(&[("site.kdl", &site("")), ("old.kdl", copy), ("own.kdl", other)]), (1, 1, false));
    // A quotation mark in a name is written as one; a colon cannot be.
    assert_eq!(fixed(&[("site.kdl", &site("")), ("p\"q.kdl", other)]), (1, 1, false));
    assert_eq!(fixed(&[("site.kdl", &site("")), ("a:b.kdl", other)]), (0, 0, false));
}
