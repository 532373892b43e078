//! What is counted where: sums, times and bands that lie across several nodes of a spec.

use super::{found, only, slugs};

/// The rules of a spec, without the notes that its brevity brings.
fn has(spec: &str, slug: &str) -> bool {
    slugs(spec).contains(&slug)
}

/// A router on a power supply lives as long as that does, and not as long as the panel.
#[test]
fn a_way_lives_as_long_as_the_battery_that_feeds_it() {
    let spec = |charger: &str, battery: &str| {
        format!(
            "part \"psu\" title=\"Power supply\" {{
    basis \"sheet\" ref=\"invented\"
    output \"out\" positive=\"O+\" negative=\"O-\" volts=(V)13.8 limit=(mA)1000
    draw idle=(mA)25
    {charger}
}}
power-supply \"psu\" part=\"psu\" room=\"lobby\" {{ transformer volts=(V)16.5 rating=(VA)75 outlet=\"no switch\"; {battery} }}
communicator \"net\" type=\"internet\" service=\"broadband\" {{ hop \"router\" name=\"router\" draw=(mA)500 min=(V)9 }}
circuit \"r\" board=\"psu\" output=\"out\" {{ run \"pair\" length=(ft)2 room=\"lobby\" {{ feed \"router\" }} }}
"
        )
    };
    let dark = found(&spec("", ""));
    let told = dark.iter().find(|finding| finding.rule.slug == "path-without-backup").unwrap();
    assert!(told.title.contains("is down as soon as the mains is"), "{}", told.title);
    assert!(told.labels[0].text.contains("fed by a supply without a battery"), "{}", told.labels[0].text);
    let charger = "charger current=(mA)500 cut-off=(V)10.5";
    // 0.53 A from 2.1 Ah: two hours, which is told of the battery; from 40 Ah more than the day that is asked.
    let short = found(&spec(charger, "battery capacity=(Ah)2.1 installed=\"2027-01-01\""));
    let told = short.iter().find(|finding| finding.rule.slug == "battery-short").unwrap();
    assert!(told.title.contains("has 2.1 Ah and the profile asks for"), "{}", told.title);
    assert!(short.iter().all(|finding| finding.rule.slug != "path-without-backup"));
    assert!(!has(&spec(charger, "battery capacity=(Ah)40 installed=\"2027-01-01\""), "path-without-backup"));
}

/// Two loops of an expander with detectors that feed on them draw from the bus: 13.6 V through 680 Ω and what the loop is
/// in alarm, some 18 mA each.
#[test]
fn two_wire_loops_of_an_expander_count_on_its_bus() {
    let zone = |number: u32| {
        format!(
            "zone {number} \"Smoke {number}\" type=\"smoke\" {{ loop \"two-wire\" board=\"m\" {{ run \"pair\" length=(ft)20 room=\"lobby\" {{ detector \"smoke-2\"; resistor \"4k7\" }} }} }}\n"
        )
    };
    let spec = |limit: u32| {
        format!(
            "part \"feeding\" title=\"Expander\" {{
    basis \"sheet\" ref=\"invented\"
    input 1 signal=\"I1\" return=\"R1\" two-wire=#true
    input 2 signal=\"I2\" return=\"R1\" two-wire=#true
    sensing wiring=\"two-wire\" supply=(V)13.6 pull-up=(ohm)680 tolerance=(percent)1 {{
        band \"short\" max=(V)2
        band \"alarm\" min=(V)3 max=(V)8
        band \"normal\" min=(V)9 max=(V)12.7
        band \"open\" min=(V)13
        loop-feed limit=(uA)200 resistor=\"4k7\" positive=\"signal\" {{ listed \"TW-1\" most=3 }}
    }}
    bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"
    draw idle=(mA)30 min=(V)9
    screw wires=2
}}
part \"small\" title=\"Control board\" {{
    basis \"sheet\" ref=\"invented\"
    bus-port \"data\" plus=\"B+\" minus=\"B-\" a=\"BA\" b=\"BB\" terminator=(ohm)120 bias=(ohm)470 bias-supply=(V)5 limit=(mA){limit} volts=(V)13.8
    draw idle=(mA)150 alarm=(mA)220
    charger current=(mA)400 cut-off=(V)10.5
}}
panel \"small\" part=\"small\" room=\"lobby\" {{ battery capacity=(Ah)12 installed=\"2027-01-01\"; transformer volts=(V)16.5 rating=(VA)75 outlet=\"no switch\" }}
bus \"data\" board=\"small\" rate=(baud)9600 {{ run \"bus-cable\" length=(ft)20 room=\"lobby\" {{ module \"m\" part=\"feeding\" address=1; terminator (ohm)120 }} }}
{}{}",
            zone(1),
            zone(2)
        )
    };
    assert!(has(&spec(50), "output-overloaded"));
    assert!(!has(&spec(100), "output-overloaded"));
}

/// 150 mA of strobe on a module's output of 100 mA, whose panel does not say what volts its bus has.
#[test]
fn an_output_of_a_module_is_overloaded_without_known_volts_too() {
    let spec = "part \"ctl\" title=\"Control board\" {
    basis \"sheet\" ref=\"invented\"
    bus-port \"data\" plus=\"B+\" minus=\"B-\" a=\"BA\" b=\"BB\" terminator=(ohm)120 bias=(ohm)470 bias-supply=(V)5 limit=(mA)600
    draw idle=(mA)150 alarm=(mA)220
    charger current=(mA)400 cut-off=(V)10.5
}
part \"outs\" title=\"Output module\" {
    basis \"sheet\" ref=\"invented\"
    bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"
    output \"bell\" positive=\"S+\" negative=\"S-\" volts=(V)13.8 limit=(mA)100 when=\"alarm\"
    draw idle=(mA)30 min=(V)9
}
panel \"ctl\" part=\"ctl\" room=\"lobby\" { battery capacity=(Ah)12 installed=\"2027-01-01\"; transformer volts=(V)16.5 rating=(VA)75 outlet=\"no switch\" }
bus \"data\" board=\"ctl\" { run \"bus-cable\" length=(ft)20 room=\"lobby\" { module \"m\" part=\"outs\" address=1; terminator (ohm)120 } }
circuit \"bells\" board=\"m\" output=\"bell\" { run \"pair\" length=(ft)20 room=\"lobby\" { load \"strobe\" } }
";
    assert!(has(spec, "output-overloaded"), "{:?}", slugs(spec));
}

/// 24 V of a module on a bus of 12 V: its devices get 24 V, and the bus gives the power, at 10.4 V at the end of the
/// battery: 23.5 V · 240 mA / 10.4 V + 30 mA = 572 mA of the 600 mA that the port gives, and 265 mA is too much.
#[test]
fn an_output_that_raises_its_volts_takes_as_much_more_current() {
    let spec = |least: u32, most: u32, takes: u32| {
        format!(
            "part \"raiser\" title=\"Raiser\" {{
    basis \"sheet\" ref=\"invented\"
    bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"
    output \"high\" positive=\"H+\" negative=\"H-\" volts=(V)24 least=(V)23.5 limit=(mA)400
    draw idle=(mA)30 min=(V)9
}}
part \"lock\" title=\"Lock\" {{ basis \"sheet\" ref=\"invented\"; supply min=(V){least} max=(V){most} idle=(mA){takes} }}
bus \"data\" board=\"board-a\" {{ run \"bus-cable\" length=(ft)20 room=\"lobby\" {{ module \"m\" part=\"raiser\" address=1; terminator (ohm)120 }} }}
circuit \"locks\" board=\"m\" output=\"high\" {{ run \"pair\" length=(ft)5 room=\"lobby\" {{ load \"lock\" }} }}
"
        )
    };
    let of_supply = |least, most, takes| {
        let slugs = slugs(&spec(least, most, takes));
        ["supply-too-low", "supply-above-maximum", "output-overloaded"].map(|slug| slugs.contains(&slug))
    };
    assert_eq!(of_supply(20, 28, 240), [false, false, false]);
    assert_eq!(of_supply(20, 28, 265), [false, false, true]);
    assert_eq!(of_supply(9, 16, 100), [false, true, false]);
    // Nobody is told a figure without losses as if it were one with them.
    let overloaded = super::found(&spec(20, 28, 265)).into_iter().find(|one| one.rule.slug == "output-overloaded");
    let figures = overloaded.unwrap().figures;
    assert!(figures.iter().any(|figure| figure.contains("which is the best case")), "{figures:?}");
}

/// An output that passes on what its bus has does so too where its sheet gives its least volts on battery: 45 m of thin
/// cable for 300 mA leave its load less than it needs.
#[test]
fn an_output_that_passes_its_bus_on_raises_nothing() {
    let spec = |least: &str| {
        format!(
            "part \"outs\" title=\"Output module\" {{
    basis \"sheet\" ref=\"invented\"
    bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"
    output \"out\" positive=\"O+\" negative=\"O-\" volts=(V)13.8 {least} limit=(mA)400
    draw idle=(mA)30 min=(V)5
}}
part \"lock\" title=\"Lock\" {{ basis \"sheet\" ref=\"invented\"; supply min=(V)10.4 max=(V)16 idle=(mA)300 }}
bus \"data\" board=\"board-a\" {{ run \"bus-cable\" length=(ft)150 room=\"lobby\" {{ module \"m\" part=\"outs\" address=1; terminator (ohm)120 }} }}
circuit \"locks\" board=\"m\" output=\"out\" {{ run \"pair\" length=(ft)5 room=\"lobby\" {{ load \"lock\" }} }}
"
        )
    };
    for least in ["", "least=(V)10.6"] {
        assert!(has(&spec(least), "supply-below-minimum"), "{least}");
    }
}

/// Ten minutes at each arming are no short sign.
#[test]
fn a_sounder_that_arming_turns_on_for_minutes_is_told() {
    let spec = |time: &str| {
        format!(
            "circuit \"sign\" board=\"board-a\" output=\"aux\" switch=\"relay-1\" {{ drive \"armed\" for={time}; run \"pair\" length=(ft)20 room=\"lobby\" {{ sounder \"sounder\" }} }}\n"
        )
    };
    let told = found(&spec("(min)10"));
    let told = told.iter().find(|finding| finding.rule.slug == "sounder-always-on").unwrap();
    assert!(told.title.contains("for 10 min whenever an area is armed"), "{}", told.title);
    assert!(!has(&spec("(s)5"), "sounder-always-on"));
}

/// 900 mA into three batteries side by side are 300 mA each, which their sheet allows.
#[test]
fn batteries_share_a_charger_to_the_last_digit() {
    let header = |most: u32| {
        format!(
            "site \"example\" title=\"Example house\" {{ revision \"A\" date=\"2027-01-01\" }}
include \"../parts/example.kdl\"
level \"base\" title=\"Base\" {{ room \"lobby\" title=\"Lobby\" }}
part \"strong\" title=\"Board\" {{ basis \"sheet\" ref=\"invented\"; battery-port positive=\"BT+\" negative=\"BT-\"; draw idle=(mA)50; charger current=(mA)900 cut-off=(V)10.5 }}
panel \"board-a\" part=\"strong\" room=\"lobby\" {{ battery count=3 wired=\"parallel\" capacity=(Ah)1.2 max-charge=(mA){most} installed=\"2027-01-01\" }}
"
        )
    };
    let is_told =
        |most| super::found_under(&header(most), "").iter().any(|finding| finding.rule.slug == "charger-too-strong");
    assert_eq!([is_told(300), is_told(299)], [false, true]);
}

/// A zone that is kept for later has no detector: no standby of fire is asked for it.
#[test]
fn a_zone_kept_for_later_asks_for_no_standby() {
    let header = "site \"example\" title=\"Example house\" {
    revision \"A\" date=\"2027-01-01\"
    profile \"us-household\"
}
include \"../parts/example.kdl\"
level \"base\" title=\"Base\" { room \"lobby\" title=\"Lobby\" }
panel \"board-a\" part=\"control-a\" room=\"lobby\" { battery capacity=(Ah)4 installed=\"2027-01-01\"; transformer volts=(V)16.5 rating=(VA)75 outlet=\"no switch\" }
";
    let short =
        |zone: &str| super::found_under(header, zone).iter().any(|finding| finding.rule.slug == "battery-short");
    assert!(!short("zone 2 \"Later smoke\" type=\"smoke\" reserved=#true\n"));
    assert!(short(
        "zone 2 \"Smoke\" type=\"smoke\" { loop \"end-of-line\" board=\"board-a\" { run \"quad\" length=(ft)20 room=\"lobby\" { detector \"smoke\" supply=\"aux\"; resistor \"2k2\" } } }\n"
    ));
}

/// Bands of one name with another between them: a loop that spans all three is not certain of it.
#[test]
fn bands_of_one_name_are_not_one_band() {
    let spec = |resistor: &str| {
        format!(
            "part \"changes\" title=\"Any change\" {{
    basis \"sheet\" ref=\"invented\"
    input 1 signal=\"I1\" return=\"R1\"
    sensing supply=(V)5 pull-up=(ohm)2200 tolerance=(percent)1 {{
        band \"alarm\" max=(V)2.1
        band \"normal\" min=(V)2.15 max=(V)2.75
        band \"alarm\" min=(V)2.8
    }}
    draw idle=(mA)150 alarm=(mA)220
    charger current=(mA)400 cut-off=(V)10.5
}}
panel \"c\" part=\"changes\" room=\"lobby\" {{ battery capacity=(Ah)12 installed=\"2027-01-01\"; transformer volts=(V)16.5 rating=(VA)75 outlet=\"no switch\" }}
zone 1 \"Button\" type=\"perimeter\" {{ loop \"end-of-line\" board=\"c\" {{ run \"pair\" length=(ft)20 room=\"lobby\" {{ contact \"reed\"; resistor \"{resistor}\" }} }} }}
"
        )
    };
    assert!(!has(&spec("2k2"), "loop-resistor-wrong"));
    let wide = found(&spec("2k2N"));
    let told = wide.iter().find(|finding| finding.rule.severity() == loopwright::diag::Severity::Error).unwrap();
    assert!(!told.title.contains("reads alarm"), "{}", told.title);
}

/// A door whose two contacts are zones of two areas starts the delay of both: each is held against the way to the keypad.
#[test]
fn a_door_of_two_areas_is_one_of_each() {
    let spec = |other: u32| {
        format!(
            "level \"up\" title=\"Up\" storey=2 {{
    room \"hall\" title=\"Hall\" {{ rect (m)0 (m)0 (m)40 (m)4; door \"d\" title=\"Front door\" wall=\"west\" }}
    room \"den\" title=\"Den\" {{ rect (m)0 (m)4 (m)40 (m)4 }}
}}
bus \"data\" board=\"board-a\" rate=(baud)9600 {{ run \"bus-cable\" length=(m)8 room=\"den\" {{ keypad \"k\" part=\"keypad-a\" address=1; terminator (ohm)120 }} }}
area \"house\" number=1 entry=(s)60 exit=(s)60 abort=(s)30
area \"other\" number=2 entry=(s)30 exit=(s)60 abort=(s)30
zone 3 \"Front door outer contact\" type=\"entry-exit\" area=\"house\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"pair\" length=(ft)20 {{ contact \"reed\" on=\"d\"; resistor \"2k2\" }} }} }}
zone {other} \"Front door lock contact\" type=\"entry-exit\" area=\"other\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"pair\" length=(ft)20 {{ contact \"reed\" on=\"d\" shares=#true; resistor \"2k2\" }} }} }}
"
        )
    };
    for number in [2, 4] {
        let found = found(&spec(number));
        assert!(found.iter().any(|finding| finding.title.contains("area `other`")), "{number}: {found:#?}");
    }
}

/// IEC 60062: the last of five bands is the tolerance, brown for 1 %; silver of four for 10 %.
#[test]
fn the_fix_of_a_resistor_told_by_its_bands_keeps_its_tolerance() {
    let spec = |bands: &str| {
        format!(
            "zone 1 \"Lobby motion\" type=\"interior\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"quad\" length=(ft)20 room=\"lobby\" {{ detector \"motion\" supply=\"aux\"; resistor \"{bands}\" }} }} }}\n"
        )
    };
    for (bands, marking) in [("red red black brown brown", "2k2F"), ("red red red silver", "2k2K")] {
        let told = only(&spec(bands), "value-out-of-range");
        assert!(told.help.contains(marking), "{}", told.help);
    }
}

/// Cables of a known diameter that are too much alone are told, whatever else is in the conduit.
#[test]
fn a_cable_of_no_known_diameter_hides_no_overfull_conduit() {
    let spec = |inside: &str| {
        format!(
            "cable \"thick\" conductors=2 size=(AWG)18 diameter=(in)0.25
cable \"odd\" conductors=2 size=(AWG)18
spare-cable \"one\" board=\"board-a\" {{ run \"thick\" name=\"one\" length=(ft)30 room=\"lobby\" }}
spare-cable \"other\" board=\"board-a\" {{ run \"odd\" name=\"other\" length=(ft)30 room=\"lobby\" }}
conduit \"Tube\" inside=(in){inside} {{ holds \"one\" \"other\" }}
"
        )
    };
    let told = only(&spec("0.4"), "conduit-overfull");
    assert_eq!(told.title, "2 cables fill Tube to more than 40 %");
    assert!(!has(&spec("0.75"), "conduit-overfull"));
}
