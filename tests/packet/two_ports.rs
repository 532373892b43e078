//! One port, the same screws on every sheet: a module with two bus ports hangs by the second, and the terminator is
//! fitted beside it.

use super::sites::{FULL, packet, site, unlinked};
use loopwright::compiled::Compiled;

/// The module's ports in the order of its part: "down", for a bus of its own, then "up", which it hangs by. Nothing else
/// in the site has their marks.
const HUB: &str = "part \"hub\" title=\"Hub\" {
    basis \"sheet\"
    bus-port \"down\" plus=\"D+\" minus=\"D-\" a=\"DA\" b=\"DB\" volts=(V)12 limit=(mA)200
    bus-port \"up\" plus=\"U+\" minus=\"U-\" a=\"UA\" b=\"UB\"
    draw idle=(mA)20 min=(V)9
    screw wires=2
}
";

fn house() -> Compiled {
    let end =
        "receiver \"radio\" title=\"Receiver\" part=\"receiver-a\" address=3\n        terminator (ohm)120\n    }\n";
    let hub = "receiver \"radio\" title=\"Receiver\" part=\"receiver-a\" address=3\n    }
    run \"bus-cable\" length=(ft)20 room=\"store\" {
        module \"hub\" title=\"Hub\" part=\"hub\" address=5
        terminator (ohm)120
    }\n";
    assert!(FULL.contains(end));
    site(&(HUB.to_owned() + &FULL.replace(end, hub)))
}

#[test]
fn the_terminator_is_on_the_screws_that_the_module_hangs_by() {
    let files = packet(&house()).files;
    let text = |name: &str| String::from_utf8(files[name].clone()).unwrap().replace('\\', "").replace('\u{a0}', " ");
    let json: serde_json::Value = serde_json::from_slice(&files["site.json"]).unwrap();
    let hub = json["boards"].as_array().unwrap().iter().find(|board| board["name"] == "hub").unwrap();
    assert_eq!(hub["fitted"][0]["across"], serde_json::json!(["UA", "UB"]));
    assert_eq!(hub["fitted"][0]["kind"], "terminator");

    let bus_sheet = text("bus-sheet.md");
    let measured = bus_sheet.lines().find(|line| line.contains("UA, UB")).unwrap_or_else(|| panic!("{bus_sheet}"));
    assert!(measured.contains("Hub") && measured.contains("U+, U-"), "{measured}");

    for name in ["terminal-schedule.md", "terminal-schedule.csv"] {
        let schedule = unlinked(&text(name));
        let fitted = |line: &&str| line.contains("terminator") && line.contains("across to terminal");
        let fitted: Vec<&str> = schedule.lines().filter(fitted).collect();
        assert_eq!(fitted.len(), 2, "{name}: {fitted:#?}");
        for (line, (here, there)) in fitted.into_iter().zip([("UA", "UB"), ("UB", "UA")]) {
            assert!(has_word(line, here) && line.contains(&format!("across to terminal {there}")), "{name}: {line}");
        }
    }
    // Nothing is on the first port: wherever its marks stand, the terminal is free.
    let texts: Vec<&String> = files.keys().filter(|name| name.ends_with(".md") || name.ends_with(".csv")).collect();
    assert!(texts.len() > 10);
    for name in texts {
        let sheet = text(name);
        for line in sheet.lines().filter(|line| ["D+", "D-", "DA", "DB"].iter().any(|mark| has_word(line, mark))) {
            assert!(line.contains("free"), "{name}: {line}");
        }
    }
}

fn has_word(line: &str, word: &str) -> bool {
    line.split(['|', ',', ' ', '*', ':', '"']).any(|found| found == word)
}
