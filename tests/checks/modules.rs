//! Modules that feed something themselves, from outputs and bus ports of their own.

use super::{found, only, slugs};

/// An expander with an output for detectors, one for alarms, and a port for a bus of its own, named before the one that
/// it hangs by.
const HUB: &str = "part \"hub\" {
    basis \"sheet\"
    input 1 signal=\"I1\" return=\"R1\"
    sensing supply=(V)5 pull-up=(ohm)2200 { band \"short\" max=(V)0.8; band \"normal\" min=(V)1.6 max=(V)3.1; band \"open\" min=(V)4.0; }
    output \"own\" positive=\"A+\" negative=\"A-\" volts=(V)12 limit=(mA)100
    output \"own-siren\" positive=\"S+\" negative=\"S-\" volts=(V)12 limit=(mA)350 when=\"alarm\"
    bus-port \"down\" plus=\"D+\" minus=\"D-\" a=\"DA\" b=\"DB\" terminator=(ohm)120 bias=(ohm)470 bias-supply=(V)5 limit=(mA)200 volts=(V)12
    bus-port \"up\" plus=\"B+\" minus=\"B-\" a=\"BA\" b=\"BB\"
    draw idle=(mA)20 min=(V)9
    screw wires=2
}
";

/// A bus that starts at a board's port and ends at what is mounted on its one run, with the terminator.
fn bus(name: &str, start: &str, mounted: &str) -> String {
    format!(
        "bus \"{name}\" {start} rate=(baud)9600 {{ run \"bus-cable\" length=(ft)30 room=\"lobby\" {{ {mounted}; terminator (ohm)120; }}; }}\n"
    )
}

fn hub(name: &str, address: u32) -> String {
    format!("module \"{name}\" part=\"hub\" address={address}")
}

fn sounders(count: usize) -> String {
    let sounders = "sounder \"sounder\"; ".repeat(count);
    format!(
        "circuit \"loud\" board=\"hub\" output=\"own-siren\" {{ run \"pair\" length=(ft)20 room=\"lobby\" {{ {sounders} }}; }}\n"
    )
}

#[test]
fn a_module_hangs_by_a_port_that_no_bus_starts_at() {
    let first = HUB.to_owned() + &bus("data", "board=\"board-a\"", &hub("hub", 1));
    let behind = |address: u32| {
        let keypad = format!("keypad \"keys\" part=\"keypad-a\" address={address}");
        first.clone() + &bus("second", "board=\"hub\" port=\"down\"", &keypad)
    };
    assert_eq!(slugs(&behind(2)), [""; 0]);
    // What passes a bus on passes its addresses on, its own as well; but for those that its sheet gives it.
    let finding = only(&behind(1), "bus-address-passed-on");
    assert!(finding.help.contains("address=2"), "{}", finding.help);
    let own = behind(1).replace("bus-port \"down\"", "bus-port \"down\" first-address=1 last-address=8");
    assert_eq!(slugs(&own), [""; 0]);
}

/// Behind a module that has no addresses of its own, those of the panel are known, and the free ones are free on both sides.
#[test]
fn the_panel_knows_its_addresses_behind_a_repeater_too() {
    let panel = "part \"few\" title=\"Board\" {
    basis \"sheet\" ref=\"invented for the examples\"
    bus-port \"data\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\" terminator=(ohm)120 bias=(ohm)470 bias-supply=(V)5 first-address=1 last-address=16 limit=(mA)600 volts=(V)13.8
    draw idle=(mA)90
}
panel \"few\" part=\"few\" room=\"lobby\"
";
    let keys = |name: &str, address: u32| format!("keypad \"{name}\" part=\"keypad-a\" address={address}");
    let site = |far: &str| {
        let first = bus("data", "board=\"few\" port=\"data\"", &format!("{}; {}", keys("keys", 1), hub("hub", 2)));
        HUB.to_owned() + panel + &first + &bus("second", "board=\"hub\" port=\"down\"", far)
    };
    assert_eq!(slugs(&site(&keys("far", 16))), [""; 0]);
    let finding = only(&site(&keys("far", 17)), "bus-address-out-of-range");
    assert_eq!(finding.title, "keypad `far` has address 17, and panel `few` knows 1 to 16");
    assert!(finding.help.ends_with("address=3."), "{}", finding.help);
    let own = site(&keys("far", 17)).replace("bus-port \"down\"", "bus-port \"down\" first-address=1 last-address=32");
    assert_eq!(slugs(&own), [""; 0]);
}

#[test]
fn a_circle_is_one_finding() {
    let mutual = bus("data", "board=\"one\" port=\"down\"", &hub("two", 1))
        + &bus("second", "board=\"two\" port=\"down\"", &hub("one", 2));
    assert!(only(&(HUB.to_owned() + &mutual), "supply-circle").title.ends_with("feed each other in a circle"));
    let alone = bus("data", "board=\"one\" port=\"down\"", &hub("one", 1));
    assert!(only(&(HUB.to_owned() + &alone), "supply-circle").title.ends_with("hangs on its own bus"));
    let one_port = "bus \"data\" board=\"keys\" rate=(baud)9600 { run \"bus-cable\" length=(ft)30 room=\"lobby\" { keypad \"keys\" part=\"keypad-a\" address=1; }; }\n";
    only(one_port, "supply-circle");
}

/// 300 mA of 350 mA are well; 600 mA are too much for the module, and with its own 20 mA for the panel's port as well.
#[test]
fn a_modules_output_has_a_limit_of_its_own() {
    let first = HUB.to_owned() + &bus("data", "board=\"board-a\"", &hub("hub", 1));
    assert_eq!(slugs(&(first.clone() + &sounders(1))), [""; 0]);
    let wide = first.replace("limit=(mA)350", "limit=(mA)500");
    let both = found(&(wide.clone() + &sounders(2)));
    let titles: Vec<&str> = both.iter().map(|finding| finding.title.as_str()).collect();
    assert!(
        titles.contains(&"bus port `data` of panel `board-a` gives 620 mA in alarm; its limit is 600 mA"),
        "{titles:?}"
    );
    assert!(
        titles.contains(&"output `own-siren` of module `hub` gives 600 mA in alarm; its limit is 500 mA"),
        "{titles:?}"
    );
    assert_eq!(titles.len(), 2, "{titles:?}");
    let lesser = (first + &sounders(2)).replace("part=\"hub\"", "part=\"hub\" ").replace("\"sounder\";", "\"soft\";")
        + "part \"soft\" { basis \"sheet\"; supply min=(V)9 max=(V)15 idle=(mA)0 alarm=(mA)200; }\n";
    let finding = only(&lesser, "output-overloaded");
    assert_eq!(finding.title, "output `own-siren` of module `hub` gives 400 mA in alarm; its limit is 350 mA");
    assert_eq!(finding.figures[0], "2 of part `soft`: 400 mA");
    only(&lesser.replace("limit=(mA)350", "limit=(mA)400"), "output-nearly-full");
}

/// The module brings 13.7 V down to 12 V itself: that is no loss of a cable.
#[test]
fn what_a_module_takes_off_the_volts_is_no_drop() {
    let zone = |feet: u32| {
        format!(
            "zone 1 \"Motion\" type=\"interior\" {{ loop \"end-of-line\" board=\"hub\" {{ run \"quad\" length=(ft){feet} room=\"lobby\" {{ detector \"motion\" supply=\"own\"; resistor \"2k2\"; }}; }}; }}\n"
        )
    };
    let first = HUB.to_owned() + &bus("data", "board=\"board-a\"", &hub("hub", 1));
    assert_eq!(slugs(&(first.clone() + &zone(30))), [""; 0]);
    // 22 AWG at 35 °C: 17.09 Ω/kft; 18 mA through 4,000 ft of it are 1.23 V, over a tenth of 12 V.
    let finding = only(&(first + &zone(2000)), "supply-drop-large");
    assert!(finding.title.starts_with("1.23 V of 12.00 V are lost"), "{}", finding.title);
}

#[test]
fn nothing_starts_at_a_strip() {
    let strip = "strip \"st\" board=\"board-a\" output=\"aux\" ways=2\n".to_owned();
    for start in [
        "strip \"more\" board=\"st\" output=\"aux\" ways=2\n",
        "circuit \"c\" board=\"st\" output=\"aux\" { run \"pair\" length=(ft)20 room=\"lobby\"; }\n",
        "bus \"data\" board=\"st\" rate=(baud)9600 { run \"bus-cable\" length=(ft)20 room=\"lobby\" { keypad \"keys\" part=\"keypad-a\" address=1; }; }\n",
        "communicator \"line\" type=\"telephone\" service=\"copper\" board=\"st\"\n",
    ] {
        let found = found(&(strip.clone() + start));
        let told: Vec<&str> =
            found.iter().filter(|one| one.rule.slug == "unknown-name").map(|one| one.title.as_str()).collect();
        assert!(told.len() == 1 && told[0].starts_with("strip `st` has no "), "{found:#?}");
    }
}

#[test]
fn a_hop_is_fed_by_its_communicators_panel() {
    let other = "panel \"another\" part=\"control-a\" room=\"lobby\" { battery capacity=(Ah)7; transformer volts=(V)16.5 rating=(VA)40; }\n";
    let adapter = "part \"adapter\" { basis \"sheet\"; bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"; draw idle=(mA)30 min=(V)9; }\n";
    let way = |output: &str| {
        format!(
            "communicator \"net\" type=\"internet\" service=\"broadband\" module=\"net\" {{ hop \"router\" output=\"{output}\" draw=(mA)950; }}\n"
        )
    };
    let spec =
        other.to_owned() + adapter + &bus("data", "board=\"board-a\"", "module \"net\" part=\"adapter\" address=1");
    let found_here = found(&(spec.clone() + &way("aux")));
    let full = found_here.iter().find(|one| one.rule.slug == "output-nearly-full").unwrap();
    assert!(full.title.starts_with("output `aux` of panel `board-a`"), "{}", full.title);
    let found = found(&(spec + &way("auks")));
    assert!(found.iter().any(|one| one.title == "no panel has an output `auks`"), "{found:#?}");
}

/// A fault contact whose board is misspelt, or has none: one finding, and none about the loop that would be empty then.
#[test]
fn a_fault_contact_of_no_board_is_one_finding() {
    let spec = |board: &str| {
        format!(
            "power-supply \"yard\" part=\"supply-a\" room=\"lobby\" {{ battery capacity=(Ah)7 installed=\"2027-01-01\"; transformer volts=(V)16.5 rating=(VA)40 outlet=\"lobby\"; }}
strip \"rail\" board=\"board-a\" output=\"aux\" ways=2
zone 1 \"Yard\" type=\"trouble\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"pair\" length=(ft)20 {{ fault \"{board}\"; resistor \"2k2\"; }}; }}; }}
"
        )
    };
    assert_eq!(super::slugs(&spec("yrd")), ["unknown-name"]);
    assert_eq!(super::slugs(&spec("rail")), ["unknown-name"]);
    assert_eq!(super::slugs(&spec("yard")), [""; 0]);
}
