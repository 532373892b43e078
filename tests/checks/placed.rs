//! Where things are and what they are called: rooms of boards on buses, numbers, names of a part, empty circuits.

use super::{button, found, only, slugs};

const LOFT: &str = "level \"top\" storey=1 { room \"loft\" kind=\"kitchen\" { window \"loft-window\" reachable=#false; }; room \"far\" { window \"far-window\" reachable=#false; }; }\n";
const BOARD: &str = "part \"exp\" { basis \"sheet\"; bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"; output \"o\" positive=\"O+\" negative=\"O-\" volts=(V)12 limit=(mA)300 switched=#true; fault-contact form=\"NC\" a=\"F1\" b=\"F2\"; input 1 signal=\"1\" return=\"C1\"; sensing supply=(V)5 pull-up=(ohm)2200 tolerance=(percent)1 { band \"short\" max=(V)0.8; band \"normal\" min=(V)1.6 max=(V)3.1; band \"open\" min=(V)4.0; }; draw idle=(mA)30 min=(V)9; }
bus \"data\" board=\"board-a\" rate=(baud)19200 { run \"bus-cable\" length=(ft)20 room=\"loft\" { module \"exp\" part=\"exp\" address=1 inputs-from=17; terminator (ohm)120; }; }\n";

fn with_module(spec: &str) -> String {
    format!("{LOFT}{BOARD}{spec}")
}

/// A loop at the module without any run.
fn at_module(kind: &str, inside: &str) -> String {
    with_module(&format!(
        "zone 1 \"At board\" type=\"{kind}\" {{ loop \"end-of-line\" board=\"exp\" {{ {inside}; resistor \"2k2\"; }}; }}\n"
    ))
}

#[test]
fn a_module_on_a_bus_is_in_its_room_before_its_loops_are_read() {
    only(&at_module("twenty-four-hour", "contact \"reed\" on=\"far-window\""), "contact-at-board");
    assert_eq!(slugs(&at_module("twenty-four-hour", "contact \"reed\" on=\"loft-window\"")), [""; 0]);
    let smoke = at_module("smoke", "detector \"smoke\" supply=\"o\"; detector \"watch\" supply=\"o\"");
    assert_eq!(slugs(&smoke), ["smoke-detector-unsuited"]);
    // A run to the module's fault contact, and a strip fed by it, end where it hangs.
    let fault = "zone 2 \"Fault\" type=\"trouble\" { loop \"end-of-line\" board=\"board-a\" { run \"pair\" length=(ft)30 { fault \"exp\"; resistor \"2k2\"; }; }; }
strip \"ways\" board=\"exp\" output=\"o\" ways=4\n";
    let made = crate::packet::sites::site(&format!("{}{}", crate::pages::HEADER, with_module(fault)));
    let room = |name: &str| made.site.boards.iter().find(|board| board.name.value == name).and_then(|board| board.room);
    assert!(room("exp").is_some() && room("ways") == room("exp"));
    assert!(made.site.runs.iter().all(|run| run.room.is_some()));
    // A feed of a detector whose own run ends in the module's enclosure.
    let feed = "zone 1 \"Motion\" type=\"interior\" { loop \"end-of-line\" board=\"board-a\" { run \"pair\" length=(ft)30 into=\"exp\" { detector \"motion\" name=\"m1\"; resistor \"2k2\"; }; }; }
circuit \"f\" board=\"board-a\" output=\"aux\" { run \"pair\" length=(ft)20 { feed \"m1\"; }; }\n";
    assert_eq!(slugs(&with_module(feed)), [""; 0]);
}

#[test]
fn inputs_between_those_of_another_board_do_not_overlap() {
    let board = |second: u32| {
        format!("part \"gap\" {{ basis \"sheet\"; input 1 signal=\"I1\" return=\"R1\"; input {second} signal=\"I2\" return=\"R1\"; sensing supply=(V)5 pull-up=(ohm)2200 {{ band \"normal\" max=(V)3.1; band \"open\" min=(V)4.0; }}; bus-port \"data\" plus=\"B+\" minus=\"B-\" a=\"BA\" b=\"BB\" terminator=(ohm)120 bias=(ohm)470 bias-supply=(V)5 limit=(mA)600 volts=(V)13.8; draw idle=(mA)10; charger current=(mA)900 cut-off=(V)10.5; }}
panel \"gap\" part=\"gap\" room=\"lobby\" {{ battery capacity=(Ah)7 installed=\"2026-12-20\"; transformer volts=(V)16.5 rating=(VA)75; }}
bus \"data\" board=\"gap\" rate=(baud)19200 {{ run \"bus-cable\" length=(ft)20 room=\"lobby\" {{ module \"exp\" part=\"expander-a\" address=1 inputs-from=17; terminator (ohm)120; }}; }}\n")
    };
    assert_eq!(slugs(&board(101)), [""; 0]);
    let finding = only(&board(19), "inputs-overlap");
    assert!(finding.title.contains("numbered 19,"), "{}", finding.title);
}

#[test]
fn a_cable_that_two_runs_share_ends_in_one_room() {
    let zone = |number: u32, run: &str| {
        format!(
            "zone {number} \"Zone {number}\" type=\"twenty-four-hour\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"quad\" length=(ft)20 {run} {{ contact \"reed\"; resistor \"2k2\"; }}; }}; }}\n"
        )
    };
    let spec = |room: &str| {
        LOFT.to_owned() + &zone(1, "name=\"host\" room=\"far\"") + &zone(2, &format!("along=\"host\" room=\"{room}\""))
    };
    assert_eq!(slugs(&spec("far")), [""; 0]);
    let finding = only(&spec("lobby"), "shared-cable-contradicted");
    assert!(finding.title.starts_with("one cable is said to end in"), "{}", finding.title);
}

/// Where no plan says how far they are from each other, levels and rooms tell that two things are not at one place.
#[test]
fn a_shared_cable_ends_on_one_level_and_in_rooms_that_may_adjoin() {
    let zone = |number: u32, run: &str, window: &str| {
        format!(
            "zone {number} \"Zone {number}\" type=\"perimeter\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"quad\" length=(ft)20 {run} {{ contact \"reed\" on=\"{window}\"; resistor \"2k2\"; }}; }}; }}\n"
        )
    };
    let below = "level \"cellar\" storey=-1 { room \"store\" { window \"store-window\"; }; }\n";
    let spec = |other: &str| {
        LOFT.replace(" reachable=#false", "")
            + below
            + "area \"house\" number=1\n"
            + &zone(1, "name=\"host\"", "loft-window")
            + &zone(2, "along=\"host\"", other)
    };
    let told = |spec: &str| {
        let apart = found(spec).into_iter().find(|one| one.rule.slug == "shared-cable-ends-apart");
        apart.map(|one| one.title).unwrap_or_default()
    };
    assert_eq!(told(&spec("far-window")), "cable `Z1` ends in two rooms");
    assert_eq!(told(&spec("store-window")), "cable `Z1` ends on two levels");
    let plan = |x: u32| {
        let rect = |x: u32| format!("{{ rect (ft){x} (ft)0 (ft)10 (ft)10; window");
        let spec = spec("far-window").replace("kind=\"kitchen\" { window", &format!("kind=\"kitchen\" {}", rect(0)));
        spec.replace("room \"far\" { window", &format!("room \"far\" {}", rect(x)))
    };
    assert_eq!(told(&plan(10)), "");
    assert_eq!(told(&plan(30)), "cable `Z1` ends at two places that are 20 ft from each other");
}

/// The nearest walls of two rooms are no farther from each other than a cable between them is long.
#[test]
fn a_cable_is_not_shorter_than_the_gap_between_its_rooms() {
    let spec = |x: u32, length: u32| {
        format!(
            "level \"floor\" storey=1 {{ room \"here\" {{ rect (ft)0 (ft)0 (ft)10 (ft)10; }}; room \"there\" {{ rect (ft){x} (ft)0 (ft)10 (ft)10; }}; }}
spare-cable \"coil\" board=\"board-a\" {{ run \"quad\" length=(ft)90 room=\"here\" {{ run \"quad\" length=(ft){length} room=\"there\"; }}; }}\n"
        )
    };
    let gaps = |spec: &str| found(spec).into_iter().filter(|one| one.rule.slug == "way-longer-than-run").count();
    assert_eq!([gaps(&spec(40, 30)), gaps(&spec(40, 29)), gaps(&spec(10, 1))], [0, 1, 0]);
}

#[test]
fn each_input_port_and_switch_of_a_part_has_a_name_of_its_own() {
    for twice in [
        "input 1 signal=\"I1\" return=\"R1\"; input 1 signal=\"I2\" return=\"R2\"; sensing supply=(V)5 pull-up=(ohm)2200 { band \"normal\" max=(V)3.1; band \"open\" min=(V)4.0; }",
        "relay \"r\" common=\"C1\" make=\"M1\"; relay \"r\" common=\"C2\" make=\"M2\"",
        "relay \"r\" common=\"C1\" make=\"M1\"; transistor \"r\" terminal=\"T\" switches=\"minus\"",
        "bus-port \"p\" plus=\"B+\" minus=\"B-\" a=\"BA\" b=\"BB\"; bus-port \"p\" plus=\"D+\" minus=\"D-\" a=\"DA\" b=\"DB\"",
        "line-port \"l\" in-tip=\"LT\" in-ring=\"LR\"; line-port \"l\" in-tip=\"XT\" in-ring=\"XR\"",
    ] {
        let part = format!("part \"twins\" {{ basis \"sheet\"; output \"aux\" positive=\"A+\" negative=\"A-\" volts=(V)13.8 limit=(A)1; {twice}; draw idle=(mA)10; charger current=(A)1 cut-off=(V)10.5; }}
panel \"twins\" part=\"twins\" room=\"lobby\" {{ battery capacity=(Ah)7 installed=\"2026-12-20\"; transformer volts=(V)16.5 rating=(VA)75; }}\n");
        only(&part, "part-name-repeated");
    }
}

#[test]
fn a_bus_without_boards_is_told() {
    let bus = "bus \"data\" board=\"board-a\" rate=(baud)19200 { run \"bus-cable\" length=(ft)20 room=\"lobby\" { terminator (ohm)120; }; }\n";
    only(bus, "nothing-connected");
}

#[test]
fn batteries_stand_two_and_two_only_in_even_numbers() {
    let board = |battery: &str| {
        format!("part \"big\" {{ basis \"sheet\"; output \"aux\" positive=\"A+\" negative=\"A-\" volts=(V)27.6 limit=(A)1; draw idle=(mA)10; charger current=(mA)900 cut-off=(V)21; }}
panel \"big\" part=\"big\" room=\"lobby\" {{ battery capacity=(Ah)7 installed=\"2026-12-20\" {battery}; transformer volts=(V)24 rating=(VA)75; }}\n")
    };
    let finding = only(&board("count=3"), "batteries-wiring-unsaid");
    assert!(finding.help.contains("Put in 2 or 4"), "{}", finding.help);
    only(&board("count=3 wired=\"series-pairs\""), "batteries-wrong-volts");
    assert_eq!(slugs(&board("count=4 wired=\"series-pairs\"")), [""; 0]);
    // One is taken for a block of the trade, not for one of the board's volts.
    only(&board(""), "batteries-wrong-volts");
    assert_eq!(slugs(&board("volts=(V)24")), [""; 0]);
}

#[test]
fn a_number_left_out_is_the_next_free_one() {
    let zone =
        |number, area| button(number, "board=\"board-a\"", "Bed").replace("type=", &format!("area=\"{area}\" type="));
    let spec = "area \"annex\"\narea \"house\" number=1\n".to_owned()
        + &zone(1, "house")
        + &zone(2, "annex").replace("Bed", "Desk");
    assert_eq!(slugs(&spec), ["area-number-unwritten"]);
    let made = crate::packet::sites::site(&format!("{}{spec}", crate::pages::HEADER));
    let numbers: Vec<u32> = made.site.areas.iter().map(|area| area.number).collect();
    assert_eq!(numbers, [2, 1]);
}

#[test]
fn what_a_smoke_detector_is_on_is_not_watched() {
    let spec = |contact: &str| {
        format!("level \"top\" storey=0 {{ room \"bed\" {{ window \"w\" reachable=#true; }}; }}
zone 1 \"Window\" type=\"smoke\" {{ loop \"end-of-line\" board=\"board-a\" {{ run \"quad\" length=(ft)20 {{ {contact}; detector \"watch\" supply=\"fire\"; resistor \"2k2\"; }}; }}; }}\n")
    };
    let slugs: Vec<_> =
        found(&spec("detector \"smoke\" supply=\"fire\" on=\"w\"")).iter().map(|one| one.rule.slug).collect();
    assert!(slugs.contains(&"opening-unwatched"), "{slugs:?}");
}

#[test]
fn a_sheet_may_list_the_terminals_of_a_two_wire_detector() {
    let part = "part \"tw\" senses=\"smoke\" { basis \"sheet\"; loop-fed min=(V)8.5 max=(V)28 idle=(uA)50 alarm-min=(V)4 alarm-max=(V)6.5 alarm=(mA)60 positive=\"1\" negative=\"2\" identifier=\"TW-1\"; terminals \"1\" \"2\"; }
panel \"feeds\" part=\"feeds-a\" room=\"lobby\"
zone 1 \"Smoke\" type=\"smoke\" { loop \"two-wire\" board=\"feeds\" input=1 { run \"pair\" length=(ft)20 room=\"lobby\" { detector \"tw\"; resistor \"4k7\"; }; }; }\n";
    assert_eq!(slugs(part), [""; 0]);
}

#[test]
fn a_limit_is_held_against_the_cables_behind_it() {
    let spec = |limit: &str| {
        format!("part \"exp\" {{ basis \"sheet\"; bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"; output \"o\" positive=\"O+\" negative=\"O-\" volts=(V)12 limit={limit}; draw idle=(mA)30 min=(V)9; }}
part \"strong\" {{ basis \"sheet\"; bus-port \"data\" plus=\"B+\" minus=\"B-\" a=\"BA\" b=\"BB\" terminator=(ohm)120 bias=(ohm)470 bias-supply=(V)5 limit=(A)5 volts=(V)13.8; draw idle=(mA)10; charger current=(mA)900 cut-off=(V)10.5; }}
cable \"heavy\" conductors=4 size=(AWG)14 jacket=\"CL2R\" {{ conductor \"RD\" for=\"supply+\"; conductor \"BK\" for=\"supply-\"; conductor \"BU\" for=\"bus-a\"; conductor \"WH\" for=\"bus-b\"; }}
panel \"strong\" part=\"strong\" room=\"lobby\" {{ battery capacity=(Ah)18 installed=\"2026-12-20\"; transformer volts=(V)16.5 rating=(VA)100; }}
bus \"data\" board=\"strong\" rate=(baud)19200 {{ run \"heavy\" length=(ft)20 room=\"lobby\" {{ module \"exp\" part=\"exp\" address=1; terminator (ohm)120; }}; }}
circuit \"lamps\" board=\"exp\" output=\"o\" {{ run \"pair\" length=(ft)20 room=\"lobby\" {{ load \"lamp\"; }}; }}\n")
    };
    assert_eq!(slugs(&spec("(mA)300")), [""; 0]);
    let finding = only(&spec("(A)5"), "conductor-unguarded");
    assert!(finding.title.contains("output `o`"), "{}", finding.title);
}
