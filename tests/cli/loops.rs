//! `why` and `diagnose` on the demo house.

use super::{complaint, loopwright, text};
use crate::golden::root;

const DEMO: &str = "specs/alder-mill";

fn said(arguments: &[&str]) -> String {
    let run = loopwright(root(), arguments);
    assert_eq!(run.status.code(), Some(0), "{}", text(&run.stderr));
    text(&run.stdout)
}

#[test]
fn why_shows_formula_source_and_place() {
    let answer = said(&["why", DEMO, "zone=7"]);
    for wanted in [
        "Zone 7, Garden door, kitchen (Panel, input 7)",
        "2 × 11.58 m ÷ (58 m/Ωmm² × 0.3255 mm²) × (1 + 0.00393 × (T − 20 °C))",
        "ASTM B258 for the diameter of 22 AWG, IEC 60028",
        "specs/alder-mill/zones-ground.kdl:",
        "R = e1 + e2 + e3 = 2201.4 Ω (2086.8 to 2311.6 Ω)",
        "V = 5.00 V × R ÷ (R + 2.2 kΩ) = 2.501 V",
    ] {
        assert!(answer.contains(wanted), "{wanted}\n\n{answer}");
    }
    let json: serde_json::Value = serde_json::from_str(&said(&["why", DEMO, "zone=7", "--format", "json"])).unwrap();
    assert_eq!(json["elements"].as_array().unwrap().len(), 3);
    assert_eq!(json["states"][0]["ohms"]["nominal"], 2201.38);
    let short = said(&["why", DEMO, "zone=7", "--format", "short"]);
    assert_eq!(short.lines().count(), 3 + 5, "{short}");
}

/// Screen and paper say the same; a step of the way is its own formula.
#[test]
fn why_tells_of_supplies_batteries_and_buses() {
    let sheet = |name: &str| std::fs::read_to_string(root().join(format!("out/alder-mill/{name}"))).unwrap();
    let json = |of: &str| -> Vec<serde_json::Value> {
        let json: serde_json::Value = serde_json::from_str(&said(&["why", DEMO, of, "--format", "json"])).unwrap();
        json["figures"].as_array().unwrap().clone()
    };
    let power = sheet("power-sheet.md");
    let battery = json("battery=main");
    for figure in &battery[2..] {
        let result = figure["result"].as_str().unwrap().split(", ").next().unwrap();
        assert!(power.contains(&format!("**{result}")), "{figure}");
        assert!(!figure["formula"].as_str().unwrap().is_empty() && figure["place"].as_str().unwrap().contains(".kdl:"));
    }
    let bus = json("bus=main/data");
    let of_bus = sheet("bus-sheet.md");
    let figure = |what: &str| bus.iter().find(|figure| figure["what"] == what).unwrap()["result"].as_str().unwrap();
    for what in ["length between the ends", "terminators", "unit loads", "between A and B when nobody sends"] {
        assert!(of_bus.contains(&format!("| {what} | **{}**", figure(what))), "{what}");
    }
    let mut steps = 0;
    for of in ["supply=aux", "supply=main/fire", "supply=main/siren", "bus=data"] {
        for figure in json(of) {
            let number = |text: &str| text.split(' ').next().unwrap().parse::<f64>().unwrap();
            let Some((volts, rest)) = figure["formula"].as_str().unwrap().split_once(" V − ") else { continue };
            let result = number(figure["result"].as_str().unwrap());
            let Some((amperes, ohms)) = rest.split_once(" A × ") else {
                // The device: what it has, less what it needs.
                assert!((number(volts) - number(rest) - result).abs() < 0.0015, "{figure}");
                continue;
            };
            assert!((number(volts) - number(amperes) * number(ohms) - result).abs() < 0.0025, "{figure}");
            steps += 1;
        }
    }
    assert!(steps > 6, "{steps}");
    let short = said(&["why", DEMO, "supply=main/aux", "--format", "short"]);
    assert!(short.lines().all(|line| line.contains(".kdl:")), "{short}");
    assert!(said(&["why", DEMO, "battery=main"]).starts_with("Battery of Panel\n"));
}

#[test]
fn diagnose_names_states_and_faults() {
    let ask = |zone: &str, how: &str, value: &str| said(&["diagnose", DEMO, zone, how, value, "--format", "short"]);
    assert!(ask("zone=7", "--ohms", "2210").starts_with("fits: at rest"));
    assert!(ask("zone=7", "--volts", "2.5").starts_with("fits: at rest"));
    let low = ask("zone=7", "--ohms", "1.96k");
    assert!(low.starts_with("nearest: at rest") && low.contains("leakage: a leak of about 18 kΩ"), "{low}");
    assert!(ask("zone=7", "--ohms", "0.6").contains("short: the conductors of Z7 touch about 19 ft from the board"));
    let edge = ask("zone=7", "--ohms", "2080");
    assert!(edge.starts_with("fits: at rest") && edge.contains("which a meter may be wrong"), "{edge}");
    assert!(!edge.contains("nearest") && !edge.contains("leakage"), "{edge}");
    for ohms in ["0", "0.3"] {
        let low = ask("zone=13", "--ohms", ohms);
        let alarm = low
            .find("fits: Smoke, hall in alarm (Front hall, end of cable Z13): 1 Ω (0.5 to 1.5 Ω)")
            .unwrap_or_else(|| panic!("{low}"));
        let short = low.find("fits: cable Z13").unwrap_or_else(|| panic!("{low}"));
        assert!(alarm < short && !low.contains("nearest"), "an alarm before a short: {low}");
    }
    for (way, shown) in [("--ohms", "open"), ("--ohms", "OL")] {
        let open = ask("zone=7", way, shown);
        assert!(open.contains("fits: cable Z7 cut (Panel to Kitchen)"), "{open}");
        assert!(open.contains("fits: Garden door open (Kitchen, end of cable Z7)"), "{open}");
        assert!(
            open.contains(
                "lift GN and WH of cable Z7, and measure across what they were on; 2.069 to 2.334 kΩ is right: it is cable Z7"
            ),
            "{open}"
        );
    }
    // A resistor that is bridged at the far end reads as the cable does: nobody opens a wall before it was looked at.
    let short = ask("zone=7", "--ohms", "1.2");
    assert!(short.contains("take both conductors of cable Z7 off what they end at"), "{short}");
    assert!(short.contains("the cable is sound") && short.contains("else: it is cable Z7"), "{short}");
    let second = ask("zone=7", "--ohms", "1k1");
    assert!(second.contains("second-resistor: a second resistor, of 2.2 kΩ, in parallel with the resistor of 2.2 kΩ at the end of cable Z7"), "{second}");
    assert!(
        ask("zone=7", "--ohms", "2.2")
            .contains("other-unit: 2.2 kΩ with the leads off, written otherwise: at rest\nsteps: Switch the board off before you lift a conductor. Before each step land again what the step before it lifted.\nstep 1: Measure again")
    );
    let volts = ask("zone=7", "--volts", "2310mV");
    assert!(volts.contains("step 2: Take both leads of the loop off (Panel, input 7)"), "{volts}");
    let arguments = ["diagnose", DEMO, "zone=7", "--ohms", "1960", "--format", "json"];
    let json: serde_json::Value = serde_json::from_str(&said(&arguments)).unwrap();
    assert_eq!(json["nearest"][0]["state"]["state"], "at-rest");
    assert_eq!(json["faults"][0]["fault"], "leakage");
}

#[test]
fn what_cannot_be_asked_is_said() {
    for (arguments, wanted) in [
        (
            &["why", DEMO, "zone=99"][..],
            "error: there is no zone 99\n  help: the site has zones 1 to 38, 41 to 46, 48 and 50\n",
        ),
        (&["why", DEMO, "zone=41"], "error: zone 41 has no wired loop\n  help: "),
        (&["diagnose", DEMO, "zone=41", "--ohms", "1"], "error: zone 41 has no wired loop\n"),
        (&["why", "specs", "zone=1"], "error: specs holds more than one site\n"),
        (&["why", DEMO], "the following required arguments were not provided"),
        (&["why", "specs/garden-flat", "supply=main/none"], "there is no supply main/none\n  help: the site has main/"),
        (&["why", DEMO, "supply=main/none"], "there is no supply main/none\n  help: the site has main/aux, main/bus, "),
        (&["why", DEMO, "battery=hall"], "there is no battery hall\n  help: the site has main\n"),
        (&["why", DEMO, "bus=x"], "there is no bus x\n  help: the site has main/data\n"),
        (&["why", DEMO, "7"], "write zone= and the number of the zone"),
        (&["why", DEMO, "zone=seven"], "is not the number of a zone"),
        (&["diagnose", DEMO, "zone=7"], "--ohms <OHMS>|--volts <VOLTS>"),
        (&["diagnose", DEMO, "zone=7", "--ohms", "1", "--volts", "1"], "cannot be used with"),
        (&["diagnose", DEMO, "zone=7", "--ohms", "-4"], "a reading below zero"),
        (&["diagnose", DEMO, "zone=7", "--ohms", "2.5V"], "give them as volts"),
        (&["diagnose", DEMO, "zone=7", "--volts", "2k2"], "give them as ohms"),
        (&["diagnose", DEMO, "zone=7", "--ohms", "lots"], "write the ohms that the meter shows"),
        (&["diagnose", DEMO, "zone=7", "--volts", "NaN"], "write the volts that the meter shows"),
    ] {
        let complaint = complaint(root(), arguments);
        assert!(complaint.contains(wanted), "{arguments:?}: {complaint}");
    }
}

#[test]
fn a_spec_without_a_site_gives_its_findings() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("site.kdl"), "zone 1 {\n").unwrap();
    let run = loopwright(folder.path(), &["why", ".", "zone=1", "--format", "short"]);
    assert_eq!(run.status.code(), Some(1));
    assert!(text(&run.stdout).contains("error: "), "{}", text(&run.stdout));
}

/// What a spreadsheet fills in is read back as a record; bad rows are told by line and nothing is guessed.
#[test]
fn readings_come_back_from_a_table() {
    let table = said(&["readings", DEMO, "--csv"]);
    let head = "zone,state,of,what,expected,ohms,volts\r\n";
    assert!(table.starts_with(head) && table.lines().count() > 60, "{table}");
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("taken.csv");
    let file = file.to_str().unwrap();
    let filled = table.replacen(",,\r\n", ",2k2,2.5V\r\n", 1);
    std::fs::write(file, filled).unwrap();
    let arguments = ["readings", DEMO, "--date", "2029-03-17", "--from", file];
    assert_eq!(
        said(&arguments),
        "measured date=\"2029-03-17\" {\n    loop 1 \"rest\" ohms=(ohm)2200 volts=(V)2.5\n}\n"
    );
    std::fs::write(file, "Zone;Ohms\n7;OL\n99;2k2\n7;2.2k\n8;lots\n").unwrap();
    let told = complaint(root(), &arguments);
    for wanted in [
        ":3: nothing is measured of zone 99, rest",
        ":4: zone 7, rest is in line 2 already",
        ":5: ohms \"lots\": write the ohms",
        "nothing has been printed",
    ] {
        assert!(told.contains(wanted), "{wanted}: {told}");
    }
}

/// A bus whose board is not at its end, a module with an output of its own, and a supply whose draw nobody knows.
#[test]
fn why_and_portfolio_name_the_right_place_and_the_right_output() {
    let folder = tempfile::tempdir().unwrap();
    let (site, parts) = (folder.path().join("flat"), folder.path().join("parts"));
    std::fs::create_dir_all(&site).unwrap();
    std::fs::create_dir_all(&parts).unwrap();
    for part in std::fs::read_dir(root().join("specs/parts")).unwrap() {
        let part = part.unwrap();
        std::fs::copy(part.path(), parts.join(part.file_name())).unwrap();
    }
    let text = std::fs::read_to_string(root().join("specs/garden-flat/site.kdl")).unwrap();
    let with_modules = text
        .replace("bus \"data\" board=\"main\" {", "bus \"data\" board=\"main\" built-in-terminator=#false {")
        .replace(
            "        terminator (ohm)120\n",
            "        terminator (ohm)120
    }
    run \"bus-4\" length=(m)9 room=\"bedroom\" from=\"board\" { module \"outmod\" title=\"Output module\" part=\"with-output\" address=2; }
    run \"bus-4\" length=(m)3 room=\"living\" {
        keypad \"two\" title=\"Two\" part=\"keypad\" address=3
        terminator (ohm)120
",
        );
    assert!(
        ["built-in-terminator", "outmod"].iter().all(|new| with_modules.contains(new)),
        "the flat's bus reads otherwise"
    );
    let boards = "
part \"with-output\" title=\"Output module\" { basis \"sheet\" ref=\"invented, 1\"; bus-port \"bus\" plus=\"B+\" minus=\"B-\" a=\"BA\" b=\"BB\" unit-load=(percent)25; output \"x1\" positive=\"X+\" negative=\"X-\" volts=(V)12 limit=(mA)30; draw idle=(mA)10 alarm=(mA)10 min=(V)9; screw wires=2; }
part \"sup\" title=\"Supply\" { basis \"sheet\" ref=\"invented, 1\"; ac-port a=\"AC1\" b=\"AC2\" min=(V)15; battery-port positive=\"BT+\" negative=\"BT-\"; output \"out-1\" positive=\"1+\" negative=\"1-\" volts=(V)13.8 limit=(mA)1000; charger current=(mA)400 cut-off=(V)10.5; screw wires=2; }
power-supply \"ps\" title=\"Side supply\" part=\"sup\" room=\"hall\" { battery capacity=(Ah)7; transformer volts=(V)16.5 rating=(VA)40; }
circuit \"psl\" title=\"Side lamp\" board=\"ps\" output=\"out-1\" { run \"station-2\" length=(m)3 room=\"hall\" { load \"indicator\" title=\"Side lamp\"; }; }
circuit \"lamp\" title=\"Lamp\" board=\"outmod\" output=\"x1\" { run \"station-2\" length=(m)3 room=\"bedroom\" { load \"indicator\" title=\"Lamp by the bed\"; }; }
";
    let text = with_modules + boards;
    std::fs::write(site.join("site.kdl"), &text).unwrap();
    let path = site.to_str().unwrap();
    let json: serde_json::Value =
        serde_json::from_str(&said(&["why", path, "bus=main/data", "--format", "json"])).unwrap();
    let mut rooms = 0;
    for figure in json["figures"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|figure| figure["what"].as_str().unwrap().starts_with("place "))
    {
        let line: usize = figure["place"].as_str().unwrap().rsplit(':').next().unwrap().parse().unwrap();
        let (what, line) = (figure["what"].as_str().unwrap(), text.lines().nth(line - 1).unwrap());
        for (board, written) in
            [("front door", "room=\"hall\""), ("Output module", "room=\"bedroom\""), ("Two", "room=\"living\"")]
        {
            if what.ends_with(board) {
                assert!(line.contains(written), "{what}: {line}");
                rooms += 1;
            }
        }
    }
    assert_eq!(rooms, 3, "{json}");
    let battery = said(&["why", path, "battery=ps"]);
    assert!(battery.contains(" h, whether that is enough is not known"), "{battery}");
    let table = said(&["portfolio", path]);
    assert!(table.contains("output x1 of Output module: 50 %"), "{table}");
}
