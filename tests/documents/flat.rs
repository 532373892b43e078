//! Small changes of the flat, each with what one sheet must then say and what it must not.

use super::demo;

const BATTERY: (&str, &str) = ("    battery capacity=(Ah)7 installed=\"2027-03-14\"\n", "");
const ZONES: &str = "// ---- zones";

/// The flat with other texts in place of some, nothing from a text on, and more at its end.
fn flat(
    changes: &[(&str, &str)],
    without: Option<(&str, &str)>,
    more: &str,
) -> std::collections::BTreeMap<String, String> {
    demo("garden-flat", |text| {
        if !text.contains("site \"garden-flat\"") {
            return text;
        }
        let mut text = text;
        for (from, to) in changes {
            assert!(text.contains(from), "{from}");
            text = text.replace(from, to);
        }
        if let Some((from, to)) = without {
            let (start, end) = (text.find(from).unwrap(), text.find(to).unwrap());
            text.replace_range(start..end, "");
        }
        text + more
    })
}

/// All zones.
const ALL: Option<(&str, &str)> = Some((ZONES, "// ---- sounder"));

const AREA: (&str, &str) = ("area \"flat\" title=\"Flat\" entry=(s)30 exit=(s)60 abort=(s)30", "");

fn lone(kind: &str) -> String {
    format!(
        "zone 1 \"Lone\" type=\"{kind}\" {{ loop \"end-of-line\" board=\"main\" {{ run \"station-2\" length=(m)3 room=\"hall\" {{ contact \"panic-button\" title=\"Float\"; resistor \"2k2\" }} }} }}\n"
    )
}

#[test]
fn each_change_is_told_as_it_is() {
    let (gas, water) = (lone("gas"), lone("water"));
    let way = |line: &str| format!("{line}\nmonitoring format=\"sia-dc-05\" description-width=24 test-every=(day)7\n");
    let bridged = way(
        "communicator \"line\" title=\"Telephone line\" type=\"telephone\" service=\"copper\" jack=\"bridged\" board=\"main\" { run \"line-4\" length=(m)8 room=\"hall\" }",
    );
    let old = way(
        "communicator \"net\" title=\"Internet\" type=\"internet\" service=\"broadband\" board=\"main\" { run \"network-8\" length=(m)8 room=\"hall\" existing=#true; hop \"router\" backup=(h)4 }",
    );
    let no_backup = way(
        "communicator \"net\" title=\"Internet\" type=\"internet\" service=\"broadband\" board=\"main\" { hop \"router\"; }",
    );
    let outside = "circuit \"outside\" title=\"Outside\" board=\"main\" output=\"aux\" switch=\"relay-1\" { drive \"alarm\" type=\"perimeter\"; run \"burial-4\" length=(m)6 room=\"hall\" passes=\"outdoors\" { sounder \"sounder-outside\" title=\"Siren at the wall\" } }\n";
    let supply = "power-supply \"ps\" title=\"Side supply\" part=\"supply-12\" room=\"hall\"\ncircuit \"psl\" title=\"Side lamp\" board=\"ps\" output=\"out-1\" { run \"station-2\" length=(m)3 room=\"hall\" { load \"indicator\" title=\"Side lamp\" } }\n";
    let mat = "part \"mat\" title=\"Mat\" senses=\"step\" { basis \"sheet\" ref=\"invented, 1\"; contact form=\"NO\" resistance=(ohm)1 }\n";
    let stub = "part \"keypad-c\" title=\"Keypad\" { basis \"sheet\" ref=\"invented, 1\"; bus-port \"bus\" plus=\"B+\" minus=\"B-\" a=\"BA\" b=\"BB\" unit-load=(percent)100; draw idle=(mA)20 alarm=(mA)60 min=(V)9; screw wires=3 }\n";
    let keypad = "        keypad \"keypad\" title=\"Keypad by the front door\" part=\"keypad\" address=1 mount=(m)1.4\n        terminator (ohm)120\n";
    let with_stub = "        keypad \"keypad\" title=\"One\" part=\"keypad-c\" address=1 mount=(m)1.4
        run \"bus-4\" length=(m)1 room=\"living\" {
            keypad \"two\" title=\"Two\" part=\"keypad-c\" address=2 mount=(m)1.4
            run \"bus-4\" length=(m)1 room=\"living\" { keypad \"four\" title=\"Four\" part=\"keypad-c\" address=4; }
        }
    }
    run \"bus-4\" length=(m)9 room=\"bedroom\" {
        keypad \"three\" title=\"Three\" part=\"keypad-c\" address=3 mount=(m)1.4
        terminator (ohm)120
";
    let detector = "        run \"station-4\" length=(m)7.5 room=\"living\" {\n            detector \"motion\" supply=\"aux\" mount=(m)2.3\n";
    let with_mat =
        "        run \"station-2\" length=(m)7.5 room=\"living\" {\n            contact \"mat\" title=\"Mat\"\n";
    type Row<'r> =
        (&'r [(&'r str, &'r str)], Option<(&'r str, &'r str)>, &'r str, &'r str, &'r [&'r str], &'r [&'r str]);
    let rows: &[Row<'_>] = &[
        (
            &[BATTERY],
            None,
            "",
            "safety-notes.md",
            &[
                "conductor: unplug the transformer or, where a screw holds its plug, switch off the breaker of its outlet.",
            ],
            &["one lead off", "battery alone"],
        ),
        (
            &[BATTERY],
            None,
            "",
            "commissioning-sheet.md",
            &[
                "connected, then plug the transformer in or switch its outlet's breaker on. Off in the reverse: unplug the transformer or",
            ],
            &["connect the battery"],
        ),
        (
            &[("(Ah)7", "(Ah)0.2")],
            None,
            "",
            "owners-guide.md",
            &["**Power cut:** the alarm goes on by its battery, but do not count on an hour."],
            &[],
        ),
        (
            &[("title=\"Store cupboard\" kind=\"utility\"", "title=\"Store cupboard\" kind=\"outdoors\"")],
            None,
            &no_backup,
            "owners-guide.md",
            &["**Power cut:** the alarm may be off at once", "**Without mains no alarm leaves the house"],
            &["for at least"],
        ),
        // The only area is that of every zone.
        (
            &[("type=\"entry-exit\" area=\"flat\"", "type=\"entry-exit\"")],
            None,
            "",
            "owners-guide.md",
            &["- Front door; Garden door. Come in"],
            &[],
        ),
        // A board of the same name is somewhere else.
        (
            &[
                ("keypad \"keypad\"", "keypad \"hall\""),
                ("part=\"control-16\" room=\"store\"", "part=\"control-16\" room=\"hall\""),
            ],
            None,
            "",
            "overview.md",
            &["| main is in hall, which"],
            &["is in Keypad"],
        ),
        (
            &[("title=\"Garden door\"", "title=\"Front door\"")],
            None,
            "",
            "owners-guide.md",
            &["Front door (Hall); Front door (Living room)."],
            &[],
        ),
        (
            &[("title=\"Living room window\"", "title=\"Window\""), ("title=\"Bedroom window\"", "title=\"Window\"")],
            None,
            "",
            "commissioning-sheet.md",
            &["☐ Window (Living room); ☐ Window (Bedroom)"],
            &[],
        ),
        (&[], None, &bridged, "cautions-of-the-alarm.md", &["bridged with them it cannot"], &[]),
        (&[], None, &old, "materials.csv", &[], &["Network plug"]),
        (
            &[],
            None,
            outside,
            "commissioning-sheet.md",
            &["| Siren at the wall (Hall) | Outside | – | ☐ |", "| sounder | ☐ | ☐ |"],
            &[],
        ),
        (
            &[],
            None,
            supply,
            "commissioning-sheet.md",
            &["| Side supply: step |", "| Give it its supply, as its sheet says | – | |"],
            &[],
        ),
        (
            &[(detector, with_mat)],
            None,
            mat,
            "detection-sheet.md",
            &["No motion detector is in the house", "only by a step on a mat"],
            &["*Crossed unseen*"],
        ),
        (
            &[(keypad, with_stub)],
            None,
            stub,
            "bus-1.svg",
            &["⟨ ─ DATA-2 1.0 m ─ [Two] ─ DATA-3 1.0 m ─ [Four] ⟩ ─ DATA-4"],
            &[],
        ),
        (&[AREA], ALL, &gas, "owners-guide.md", &["**GAS**, steady or wailing:"], &["too"]),
        (
            &[AREA],
            ALL,
            &water,
            "programming-sheet.md",
            &["| no alarm that is in the plan sounds. Not for troubles |"],
            &["see the area"],
        ),
    ];
    for (changes, without, more, sheet, said, unsaid) in rows {
        let files = flat(changes, *without, more);
        let text = &files[*sheet];
        assert!(said.iter().all(|words| text.contains(words)), "{said:?} in {text}");
        assert!(unsaid.iter().all(|words| !text.contains(words)), "{unsaid:?} in {text}");
    }
}

/// Parts whose figures are their own: a supply of which nobody knows what it takes, a module with an output of its own,
/// and one with a supply of its own.
const BOARDS: &str = "
part \"sup\" title=\"Supply\" { basis \"sheet\" ref=\"invented, 1\"; ac-port a=\"AC1\" b=\"AC2\" min=(V)15; battery-port positive=\"BT+\" negative=\"BT-\"; output \"out-1\" positive=\"1+\" negative=\"1-\" volts=(V)13.8 limit=(mA)1000; charger current=(mA)400 cut-off=(V)10.5; screw wires=2; }
part \"with-output\" title=\"Output module\" { basis \"sheet\" ref=\"invented, 1\"; bus-port \"bus\" plus=\"B+\" minus=\"B-\" a=\"BA\" b=\"BB\" unit-load=(percent)25; output \"x1\" positive=\"X+\" negative=\"X-\" volts=(V)12 limit=(mA)30; draw idle=(mA)10 alarm=(mA)10 min=(V)9; screw wires=2; }
part \"with-supply\" title=\"Module\" { basis \"sheet\" ref=\"invented, 2\"; ac-port a=\"AC1\" b=\"AC2\" min=(V)15; battery-port positive=\"BT+\" negative=\"BT-\"; bus-port \"bus\" plus=\"B+\" minus=\"B-\" a=\"BA\" b=\"BB\" unit-load=(percent)25; output \"y1\" positive=\"Y+\" negative=\"Y-\" volts=(V)13.8 limit=(mA)500; draw idle=(mA)30 alarm=(mA)30; charger current=(mA)400 cut-off=(V)10.5; screw wires=2; }
power-supply \"ps\" title=\"Side supply\" part=\"sup\" room=\"hall\" { battery capacity=(Ah)7; transformer volts=(V)16.5 rating=(VA)40; }
circuit \"psl\" title=\"Side lamp\" board=\"ps\" output=\"out-1\" { run \"station-2\" length=(m)3 room=\"hall\" { load \"indicator\" title=\"Side lamp\"; }; }
circuit \"lamp\" title=\"Lamp\" board=\"outmod\" output=\"x1\" { run \"station-2\" length=(m)3 room=\"bedroom\" { load \"indicator\" title=\"Lamp by the bed\"; }; }
";

#[test]
fn each_board_is_told_of_where_it_is() {
    let keypad = "mount=(m)1.4\n        terminator (ohm)120\n";
    let modules = "mount=(m)1.4
    }
    run \"bus-4\" length=(m)7 room=\"bedroom\" { module \"outmod\" title=\"Output module\" part=\"with-output\" address=2; }
    run \"bus-4\" length=(m)7 room=\"living\" {
        module \"ownmod\" title=\"Own module\" part=\"with-supply\" address=3 { transformer volts=(V)16.5 rating=(VA)40; battery capacity=(Ah)7; }
        terminator (ohm)120
";
    let files = flat(&[(keypad, modules)], None, BOARDS);
    let power = &files["power-sheet.md"];
    let unknown: Vec<&str> =
        power.split("\n## ").filter(|part| part.contains("no sheet says what they take: Side supply")).collect();
    assert!(matches!(unknown[..], [part] if part.starts_with("Side supply")), "{power}");
    assert!(files["owners-guide.md"].contains("for how long is not known"), "{}", files["owners-guide.md"]);
    let own = files["bus-sheet.csv"].lines().find(|line| line.contains(",Own module,")).unwrap();
    assert!(own.contains(",,,,,0."), "volts where nothing is landed: {own}");
    let json: serde_json::Value = serde_json::from_str(&files["site.json"]).unwrap();
    let room = json["growth"].as_array().into_iter().flatten();
    let of_module: Vec<_> = room.filter(|row| row["of"] == "outmod" && row["supply"] == "x1").collect();
    assert!(of_module.len() == 2 && of_module.iter().all(|row| row["left"] == 0.015), "{of_module:?}");
    let place = json["buses"][0]["figures"]["places"].as_array().unwrap().last().unwrap();
    assert!(place["boards"][0] == "ownmod" && place.get("supply-volts").is_none(), "{place}");
}
