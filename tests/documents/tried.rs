//! What the commissioning and programming sheets have tried and set, where the wiring is less plain than the demos'.

use super::demo;
use crate::demos;

/// A flat whose text is changed at one place.
fn flat(old: &str, new: &str) -> std::collections::BTreeMap<String, String> {
    let sheets = demo("garden-flat", |text| text.replace(old, new));
    assert_ne!(sheets["site.json"], demos::sheets("garden-flat")["site.json"], "{old}");
    sheets
}

/// Two buttons that close, each with 4.3 kΩ at the end of a cable of its own: the board sees half of that.
#[test]
fn resistors_that_lie_in_parallel_are_set_as_one() {
    let zone = "zone 6 \"Panic button\" type=\"panic-audible\" area=\"flat\" {
    loop \"end-of-line\" board=\"main\" {
        run \"station-2\" length=(m)9.5 room=\"bedroom\" {
            contact \"panic-button\"
            resistor \"2k2\"
        }
    }
}
";
    let end = |room: &str| {
        format!(
            "run \"station-2\" length=(m)9.5 room=\"{room}\" from=\"board\" {{ contact \"panic-button\" title=\"Button, {room}\"; resistor \"4k3F\"; }}\n"
        )
    };
    let two = format!(
        "zone 6 \"Panic button\" type=\"panic-audible\" area=\"flat\" {{\n loop \"end-of-line\" board=\"main\" input=16 {{\n{}{} }}\n}}\n",
        end("bedroom"),
        end("living")
    );
    let sheet = &flat(zone, &two)["programming-sheet.md"];
    assert!(sheet.contains("| end of line, 2.15 kΩ |"), "{sheet}");
}

/// The only sounder is driven by fire: nobody is told to wait for a burglar's sound.
#[test]
fn a_burglar_is_promised_no_sound_where_none_is_made() {
    let circuit = "circuit \"sounder\" board=\"main\" output=\"siren\" {\n";
    let driven =
        "circuit \"sounder\" board=\"main\" output=\"aux\" switch=\"relay-1\" {\n    drive \"alarm\" type=\"smoke\"\n";
    let sheets = flat(circuit, driven);
    let (guide, tried) = (&sheets["owners-guide.md"], &sheets["commissioning-sheet.md"]);
    assert!(guide.contains("**FIRE**") && !guide.contains("BURGLARY"), "{guide}");
    assert!(tried.contains("for fire: three tones") && !tried.contains("for a burglary: steady"), "{tried}");
    // What switches a sounder is tried once its conductors are landed.
    assert!(tried.find("## Relays and transistors") > tried.find("## Sounders"), "{tried}");
}
