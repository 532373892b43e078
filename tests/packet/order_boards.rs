//! What a work order says of boards: their resistors and terminators, and boards that are only called otherwise.

use loopwright::register::Register;
use loopwright::views::work_order::{Remarks, Sides, WorkOrder};

use super::power_supply::SUPPLY;
use super::sites::{FULL, site_after};
use crate::pages::{HEADER, PARTS as EXAMPLE};

/// The work order from one text to the next, the second after the first one's register.
fn kept(old: &str, new: &str) -> WorkOrder {
    let (old, register) = site_after(old, &Register::default());
    WorkOrder::of(&Sides::of(&old, &site_after(new, &register).0), &Remarks::default())
}

/// "remove: …", of all places.
fn steps(order: &WorkOrder) -> Vec<String> {
    let all = order.places.iter().flat_map(|place| &place.steps);
    all.map(|step| format!("{}: {}", step.kind, step.text)).collect()
}

/// The end of one bus is the head of another: its terminator lies across the port by which the repeater is on the first.
#[test]
fn a_terminator_lies_across_the_port_of_its_own_bus() {
    let spec = |ohms: u32| {
        format!(
            "{HEADER}part \"rep\" title=\"Repeater\" {{
    basis \"sheet\" ref=\"invented\"
    bus-port \"in\" plus=\"P+\" minus=\"P-\" a=\"PA\" b=\"PB\"
    bus-port \"out\" plus=\"Q+\" minus=\"Q-\" a=\"QA\" b=\"QB\" bias=(ohm)470 bias-supply=(V)5 limit=(mA)300 volts=(V)13 first-address=1 last-address=16
    draw idle=(mA)10 min=(V)9
}}
bus \"data\" board=\"board-a\" rate=(baud)9600 {{ run \"bus-cable\" length=(ft)20 room=\"lobby\" {{ module \"rep\" part=\"rep\" address=1; terminator (ohm){ohms} }} }}
bus \"more\" board=\"rep\" port=\"out\" rate=(baud)9600 {{ terminator (ohm)120; run \"bus-cable\" length=(ft)20 room=\"lobby\" {{ keypad \"k\" part=\"keypad-a\" address=1; terminator (ohm)120 }} }}
"
        )
    };
    let said = steps(&kept(&spec(120), &spec(150)));
    for wanted in ["remove: Terminator 120 Ω", "fit: Terminator 150 Ω"] {
        let step = said.iter().find(|step| step.starts_with(wanted)).unwrap_or_else(|| panic!("{wanted} in {said:#?}"));
        assert!(step.contains("across PA and PB"), "{step}");
    }
}

/// A loop's resistor that is fitted at the board goes with the loop to other terminals.
#[test]
fn a_resistor_at_the_board_moves_with_its_input() {
    let spec = |input: u32| {
        format!(
            "{HEADER}zone 1 \"Lobby\" type=\"perimeter\" {{ loop \"end-of-line\" board=\"board-a\" input={input} {{ resistor \"2k2\"; run \"pair\" length=(ft)20 room=\"lobby\" existing=#true {{ contact \"reed\" }} }} }}\n"
        )
    };
    let said = steps(&kept(&spec(1), &spec(3)));
    let of = |kind: &str| said.iter().any(|step| step.starts_with(&format!("{kind}: Resistor 2.2 kΩ")));
    assert!(of("remove") && of("fit"), "{said:#?}");
}

/// A title is for people: nothing is programmed, wired or tried for it.
#[test]
fn a_board_that_is_only_called_otherwise_is_programmed_as_before() {
    assert!(FULL.contains("title=\"Main panel\""));
    let order = kept(FULL, &FULL.replace("title=\"Main panel\"", "title=\"Hall box\""));
    assert!(order.program.is_empty(), "{:#?}", order.program);
    assert!(!order.walk.iter().any(|step| step.text.contains("does what drives it asks")), "{:#?}", order.walk);
    assert!(steps(&order).iter().all(|step| step.starts_with("label: ")), "{:#?}", steps(&order));
}

/// Two boards at one place of a bus are joined by short wires, which somebody has to fit and to take off; in whichever order the two
/// are written they are the same.
#[test]
fn boards_at_one_place_of_a_bus_have_short_wires() {
    let nothing = format!("{HEADER}// nothing");
    let first = steps(&kept(&nothing, FULL));
    let wires = "Receiver: short wires from Expander, terminal + to terminal +, - to -, A to A and B to B";
    assert!(first.contains(&format!("land: {wires}")), "{first:#?}");
    let [expander, receiver] = ["        module \"expander\"", "        receiver \"radio\""]
        .map(|at| FULL.lines().find(|line| line.starts_with(at)).unwrap());
    let both = format!("{expander}\n{receiver}");
    assert!(FULL.contains(&both));
    let exchanged = steps(&kept(FULL, &FULL.replace(&both, &format!("{receiver}\n{expander}"))));
    assert!(exchanged.iter().all(|step| !step.contains("short wire")), "{exchanged:#?}");
    // With a cable of its own the receiver is at a place of its own; the cable there starts at the board behind the wires.
    let on = format!("{expander}\n run \"bus-cable\" length=(ft)9 room=\"store\" {{ {}; }}", receiver.trim());
    let apart = steps(&kept(FULL, &FULL.replace(&both, &on)));
    let off = wires.replace("short wires", "take off the short wires");
    assert!(apart.contains(&format!("remove: {off}")), "{apart:#?}");
}

/// Each edit with what the order must say of it, anywhere.
const EDITS: [(&str, &str, &[&str]); 13] = [
    (
        "run \"pair\" length=(ft)61 room=\"hall\"",
        "run \"pair\" length=(ft)70 room=\"hall\"",
        &["switch its own supply off", "GATE-1 may be alive from there", "switch its own supply on again"],
    ),
    (
        "output=\"aux\" ways=4",
        "output=\"aux\" ways=6",
        &[
            "remove: Supply strip: take off the short wires from Main panel",
            "take down the strip of 4 ways, mount the strip of 6 ways",
            "land: Supply strip: short wires from Main panel",
            "land: Z2, back on Supply strip: RD on 1+, BK on 1-",
            "measure 2",
            "supply Motion, hall",
            "unplug the transformer",
        ],
    ),
    (
        "capacity=(Ah)7 replace",
        "capacity=(Ah)7 count=2 wired=\"parallel\" replace",
        &["put 1 battery in beside what is there: 2 × 7 Ah", "put the lead back on each battery, + to +"],
    ),
    (
        "capacity=(Ah)7 replace",
        "capacity=(Ah)7 fuse=(A)3 replace",
        &["buy 1 Fuse, 3 A", "fit: Main panel: fuse 3 A at its battery", "Main panel: runs on mains"],
    ),
    ("rate=(baud)19200", "rate=(baud)9600", &["Bus data: Expander, Hall keypad, Low keypad and Receiver still answer"]),
    ("jack=\"line-seizure\"", "jack=\"bridged\"", &["off the old one; on the new one: on the line's jack"]),
    (
        "rating=(VA)40",
        "rating=(VA)60",
        &["take the transformer 16.5 V, 40 VA (hall) down, mount", "Main panel: runs on mains"],
    ),
    (
        "title=\"Hall keypad\" part=\"keypad-a\"",
        "title=\"Hall keypad\" part=\"keypad-z\"",
        &["Low keypad: answers at its address", "supply Low keypad"],
    ),
    ("sounder \"sounder\" title=\"First\"", "sounder \"sounder-z\" title=\"First\"", &["Second (Hall) sounds"]),
    (
        "\"Trap door\"; }\n        resistor \"2k2\"",
        "\"Trap door\"; }\n        resistor \"1k1\"; resistor \"1k1\"",
        &["fit: 2 × Resistor 1.1 kΩ", "one of 2 in series, one behind the other between I3 and the cable's conductor"],
    ),
    (
        "outlet=\"hall\"",
        "outlet=\"landing\"",
        &["mount: Main panel: its transformer goes to another outlet: landing (before: hall)"],
    ),
    (
        "run \"bus-cable\" length=(ft)30 room=\"landing\"",
        "run \"bus-cable\" length=(ft)40 room=\"landing\"",
        &["fit: Terminator 120 Ω", "room=\"landing\" from=\"hall\" dead="],
    ),
    (
        "run \"six\" length=(ft)45 room=\"hall\"",
        "run \"six\" length=(ft)30 into=\"cut-box\"\n run \"six\" length=(ft)14 existing=#true room=\"hall\"",
        &["it starts in Landing, at Box, from now on", "buy 4 Crimp connector, for 2 conductors"],
    ),
];

/// All that is bought, done at a place, measured and tried.
fn all(order: &WorkOrder) -> String {
    let texts = |steps: &[loopwright::views::work_order::Step]| steps.iter().map(|step| step.text.clone()).collect();
    let mut said: Vec<String> = steps(order);
    said.extend(
        [&order.off, &order.after, &order.walk, &order.paper].into_iter().flat_map(|steps| -> Vec<_> { texts(steps) }),
    );
    said.extend(order.buy.iter().map(|item| format!("buy {} {}", item.count, item.what)));
    said.extend(order.measure.iter().map(|row| format!("measure {}", row.zone)));
    said.extend(order.supplies.iter().map(|row| format!("supply {}", row.at)));
    said.join("\n")
}

#[test]
fn what_is_exchanged_is_landed_bought_and_tried() {
    let more = "joint-box \"cut-box\" title=\"Box\" room=\"landing\" joined-by=\"crimp\"
part \"keypad-z\" title=\"Keypad, other\" { basis \"sheet\" ref=\"invented\"; bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"; draw idle=(mA)50 min=(V)9; }
circuit \"two\" board=\"main\" output=\"siren\" { run \"pair\" length=(ft)9 room=\"hall\" { sounder \"sounder\" title=\"First\"; }; run \"pair\" length=(ft)9 room=\"hall\" { sounder \"sounder\" title=\"Second\"; }; }
part \"sounder-z\" title=\"Sounder, other\" { basis \"sheet\" ref=\"invented\"; supply min=(V)9 max=(V)16 idle=(mA)0 alarm=(mA)200; }
";
    let house = format!("{FULL}{more}").replace("rating=(VA)40", "rating=(VA)40 outlet=\"hall\"");
    for (from, to, wanted) in EDITS {
        assert!(house.contains(from), "{from}");
        let said = all(&kept(&house, &house.replacen(from, to, 1)));
        for wanted in wanted {
            assert!(said.contains(wanted), "{wanted} in {said}");
        }
    }
}

/// Whatever else becomes of its cable, each conductor comes off the old board and lands on the new one, once.
#[test]
fn a_board_is_exchanged_while_its_cable_changes_otherwise() {
    let spec = |part: &str, ohms: u32, more: &str| {
        format!(
            "{HEADER}part \"keypad-z\" title=\"Keypad, other\" {{ basis \"sheet\" ref=\"invented\"; bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\"; draw idle=(mA)50 min=(V)9; }}
bus \"data\" board=\"board-a\" rate=(baud)9600 {{ run \"bus-cable\" length=(ft)20 room=\"lobby\" {{ keypad \"k\" title=\"Keys\" part=\"{part}\" address=1; {more}terminator (ohm){ohms}; }} }}
"
        )
    };
    let further =
        "}; run \"bus-cable\" length=(ft)9 room=\"lobby\" { keypad \"l\" title=\"Low\" part=\"keypad-a\" address=2; ";
    let old = spec("keypad-a", 120, "");
    for new in [spec("keypad-z", 120, ""), spec("keypad-z", 150, ""), spec("keypad-z", 120, further)] {
        let said = steps(&kept(&old, &new));
        let one = |start: &str, end: &str, word: &str, times: usize| {
            let found: Vec<&String> =
                said.iter().filter(|step| step.starts_with(start) && step.contains(end)).collect();
            let [step] = found.as_slice() else { panic!("{start} {end} in {said:#?}") };
            assert_eq!(step.matches(word).count(), times, "{said:#?}");
        };
        one("remove: ", " at Keys: ", " off ", 4);
        one("land: ", "back on Keys: ", " on ", 5); // "back on" is one of them
        assert_eq!(said.iter().filter(|step| step.starts_with("fit: Terminator")).count(), 1, "{said:#?}");
    }
}

/// What is used again goes along, and nothing of it is bought.
#[test]
fn a_board_that_moves_takes_its_battery_along_and_leaves_its_earth() {
    let battery = "room=\"plant\" {\n    battery capacity=(Ah)7 ";
    assert!(FULL.contains(battery));
    let earth = "    earth size=(AWG)14 to=\"earth bar\"\n";
    let old = FULL.replacen(
        battery,
        &format!("room=\"plant\" {{\n{earth}    battery capacity=(Ah)7 count=2 wired=\"parallel\" "),
        1,
    );
    let said = all(&kept(&old, &old.replacen("room=\"plant\"", "room=\"hall\"", 1).replacen("count=2", "count=3", 1)));
    for wanted in [
        "remove: Main panel: take off its earth conductor",
        "remove: battery 2 × 7 Ah side by side of Main panel: take them down; they are used again in Hall",
        "buy 1 Battery, 12 V 7 Ah",
    ] {
        assert!(said.contains(wanted), "{wanted} in {said}");
    }
    let said = all(&kept(&old, &old.replacen("count=2 wired=\"parallel\"", "count=2 wired=\"series\"", 1)));
    assert!(
        said.contains("mount: Main panel: take the wires between its batteries off, and join them anew: 2 × 7 Ah in"),
        "{said}"
    );
}

/// Every conductor is lifted and landed again, and the blank board is switched on alone, as the commissioning sheet has it.
#[test]
fn a_panel_that_is_exchanged_is_tried_before_anything_is_landed_on_it() {
    let part = EXAMPLE.split("\npart \"control-a\"").nth(1).and_then(|text| text.split("\n}").next()).unwrap();
    let house = format!("{FULL}part \"control-z\"{part}\n}}\n");
    let said = all(&kept(
        &house,
        &house.replacen("title=\"Main panel\" part=\"control-a\"", "title=\"Main panel\" part=\"control-z\"", 1),
    ));
    for wanted in [
        "remove: Z1 at Main panel: BK off I1",
        "remove: Supply strip: take off the short wires from Main panel",
        "land: Z1, back on Main panel: BK on I1",
        "land: Supply strip: short wires from Main panel",
        "in its place; it is switched on alone first",
        "Main panel: output aux, ",
        "capped until the walk-test",
        "Main panel: the same volts, within a few tenths",
        "Main panel: switch it off, land its sounders (SOUNDERS-1: BK on S+, ",
    ] {
        assert!(said.contains(wanted), "{wanted} in {said}");
    }
    let order = [
        "in its place; it is switched on alone first",
        "check: Main panel: the conductors of its loops, outputs and bus are lifted and capped",
        "check: Main panel: then unplug the transformer",
        "land: Z1, back on Main panel",
    ];
    assert!(order.map(|step| said.find(step)).is_sorted(), "{said}");
    assert!(!said.contains("land: SOUNDERS-1"), "{said}");
}

/// The loop of its fault contact is another board's, which stays alive unless it is switched off as well.
#[test]
fn a_power_supply_that_is_exchanged_is_dark_with_the_board_that_watches_it() {
    let house = format!(
        "{HEADER}{SUPPLY}part \"supply-z\" title=\"Other supply\" {{ basis \"sheet\" ref=\"invented\"; ac-port a=\"AC1\" b=\"AC2\"; battery-port positive=\"BT+\" negative=\"BT-\"; output \"out\" positive=\"O+\" negative=\"O-\" volts=(V)13.8 limit=(mA)1000; fault-contact form=\"NC\" a=\"TA\" b=\"TB\" resistance=(ohm)0.5; draw idle=(mA)25; charger current=(mA)400 cut-off=(V)10.5; }}\n"
    );
    let said = all(&kept(&house, &house.replacen("part=\"supply-a\"", "part=\"supply-z\"", 1)));
    for wanted in [
        "lobby, no switch",
        "shed, no switch",
        "lead on AC1, to transformer",
        " off FA, ",
        " on TA, ",
        "measure 1",
        "measure 2",
        "supply Motion detector",
    ] {
        assert!(said.contains(wanted), "{wanted} in {said}");
    }
}

/// What is taken down in one place and goes up in another is told in that order.
#[test]
fn a_place_comes_after_that_from_which_something_comes() {
    let sounder = "run \"pair\" length=(ft)50 room=\"hall\"";
    assert!(FULL.contains(sounder));
    let order = kept(&FULL.replacen(sounder, &sounder.replace("hall", "landing"), 1), FULL);
    let places = serde_json::to_value(&order.places).unwrap();
    let at = |room: &str| {
        let titles = places.as_array().unwrap().iter().map(|place| place["title"].as_str().unwrap());
        titles.clone().position(|title| title.starts_with(room)).unwrap()
    };
    assert!(at("Landing") < at("Hall"), "{places}");
    let line = "run \"quad\" length=(ft)15 room=\"hall\"";
    let bus = "run \"bus-cable\" length=(ft)30 room=\"landing\"";
    let motion = "run \"six\" length=(ft)45 room=\"hall\"";
    assert!([line, bus, motion].iter().all(|run| FULL.contains(run)));
    let there = FULL.replace(line, &line.replace("hall", "landing"));
    let said = all(&kept(&there, FULL));
    assert!(said.contains("of line; after it is down in Landing"), "{said}");
    let said = all(&kept(FULL, &FULL.replace(bus, &bus.replace("landing", "hall"))));
    assert!(said.contains("fit: Terminator 120") && said.contains(" ends; after it is down in Landing"), "{said}");
    // One of its part is exchanged in one place, and one goes up in another.
    let part = "part \"motion-z\" title=\"Motion, other\" senses=\"motion\" { basis \"sheet\" ref=\"invented\"; supply min=(V)9 max=(V)16 idle=(mA)6; contact form=\"NC\"; tamper form=\"NC\"; }\n";
    let more = "zone 9 \"Store\" type=\"interior\" { loop \"end-of-line\" board=\"main\" { run \"six\" length=(ft)5 room=\"hall\" { detector \"motion\" title=\"Motion, more\" supply=\"aux\"; resistor \"2k2\"; }; }; }\n";
    let other = FULL.replace("detector \"motion\" supply", "detector \"motion-z\" supply") + part;
    for (room, when) in [("store", "one is down in Hall"), ("hall", "one is down here")] {
        let said = all(&kept(FULL, &format!("{other}{}", more.replace("hall", room))));
        assert!(said.contains(&format!("; after {when}")), "{said}");
        assert!(said.contains("buy 1 Motion detector: of those that are taken down, if sound"), "{said}");
    }
}

/// An earth conductor that goes to another terminal of its board is moved, in the dark.
#[test]
fn an_earth_conductor_under_another_terminal_is_moved() {
    let part = include_str!("../pages/example.kdl").split("part \"control-a\"").nth(1).unwrap();
    let part = part.split("\npart ").next().unwrap();
    let part = part.replacen("basis", "earth-terminal \"E1\"\n terminal \"E2\" for=\"second earth\"\n basis", 1);
    let house = |mark: &str| {
        let earth = format!("rating=(VA)40\n earth size=(AWG)14 to=\"bar\" terminal=\"{mark}\"");
        let house = FULL.replace("part=\"control-a\"", "part=\"control-e\"").replace("rating=(VA)40", &earth);
        format!("{house}\npart \"control-e\"{part}\n")
    };
    let said = all(&kept(&house("E1"), &house("E2")));
    for wanted in [
        "remove: Main panel: take off its earth conductor GNYE green/yellow, 14 AWG on E1, to bar",
        "land: Main panel: earth conductor GNYE green/yellow, 14 AWG on E2, to bar",
        "unplug the transformer",
    ] {
        assert!(said.contains(wanted), "{wanted} in {said}");
    }
}
