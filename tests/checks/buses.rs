//! Buses: corners that the pages do not show.

use super::{found, only, slugs};

/// A bus on the board of the examples with what stands in its braces.
fn bus(more: &str, inside: &str) -> String {
    format!("bus \"data\" board=\"board-a\" rate=(baud)19200{more} {{\n{inside}}}\n")
}

fn run(length: u32, inside: &str) -> String {
    format!("run \"bus-cable\" length=(ft){length} room=\"lobby\" {{ {inside}; }}\n")
}

fn keypad(number: u32, address: u32) -> String {
    format!("keypad \"keys-{number}\" part=\"keypad-a\" address={address}")
}

const END: &str = "; terminator (ohm)120";

#[test]
fn a_module_on_two_buses_is_told_as_one_board() {
    let one = bus("", &run(30, &(keypad(1, 1) + END)));
    let other = "bus \"more\" board=\"board-a\" port=\"data\" { run \"bus-cable\" length=(ft)9 room=\"lobby\" { keypad \"keys-1\" part=\"keypad-a\" address=1; } }\n";
    let found = found(&(one + other));
    let told = found.iter().find(|one| one.rule.slug == "duplicate-name").unwrap();
    assert_eq!(told.labels.len(), 2);
    assert!(told.help.contains("hang on one bus only"), "{}", told.help);
    assert!(found.iter().all(|one| ["duplicate-name", "bus-port-shared"].contains(&one.rule.slug)), "{found:#?}");
}

#[test]
fn a_bus_that_starts_where_its_board_hangs_is_one_pair_with_the_first() {
    let first = bus("", &run(30, &format!("module \"hub\" part=\"keypad-a\" address=1{END}")));
    let second = "bus \"more\" board=\"hub\" rate=(baud)9600 { run \"bus-cable\" length=(ft)9 room=\"lobby\" { keypad \"keys\" part=\"keypad-a\" address=1; } }\n";
    let finding = only(&(first + second), "bus-port-shared");
    assert_eq!(finding.labels.len(), 2);
}

#[test]
fn every_board_with_one_address_is_labelled_and_the_free_ones_are_named() {
    let inside = run(30, &keypad(1, 2)) + &run(30, &keypad(2, 2)) + &run(30, &(keypad(3, 2) + END));
    let finding = only(&bus("", &inside), "bus-address-repeated");
    assert_eq!(finding.labels.len(), 3);
    assert!(finding.help.ends_with("address=1 and address=3."), "{}", finding.help);
    let remedied = inside.replacen("address=2", "address=1", 1).replacen("address=2", "address=3", 1);
    assert_eq!(slugs(&bus("", &remedied)), [""; 0]);
}

/// The one that stands first in the spec keeps its address, whatever it is called.
#[test]
fn the_first_of_one_address_is_the_first_that_is_written() {
    let named = |name: &str, end: &str| run(30, &format!("keypad \"{name}\" part=\"keypad-a\" address=2{end}"));
    let finding = only(&bus("", &(named("zulu", "") + &named("alpha", END))), "bus-address-repeated");
    let place = |text: &str| {
        let label = format!("{:?}", finding.labels.iter().find(|label| label.text == text).unwrap());
        let start = label.split("start: ").nth(1).and_then(|rest| rest.split(',').next());
        start.and_then(|start| start.trim().parse::<usize>().ok()).unwrap_or_else(|| panic!("{label}"))
    };
    assert!(place("the first") < place("the same address again"), "{finding:?}");
}

#[test]
fn a_board_without_a_free_address_left_says_so() {
    let part = "part \"small\" { basis \"sheet\"; bus-port \"data\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\" terminator=(ohm)120 bias=(ohm)470 bias-supply=(V)5 volts=(V)13.8 limit=(A)1 first-address=1 last-address=1; }\npanel \"small\" part=\"small\" room=\"lobby\"\n";
    let inside = run(30, &keypad(1, 1)) + &run(30, &(keypad(2, 1) + END));
    let finding = only(&(part.to_owned() + &bus("", &inside).replace("board-a", "small")), "bus-address-repeated");
    assert!(finding.help.contains("on another bus"), "{}", finding.help);
}

#[test]
fn a_terminator_built_into_a_module_counts_until_it_is_taken_off() {
    let part = "part \"ended\" { basis \"sheet\"; bus-port \"bus\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\" terminator=(ohm)120; draw idle=(mA)10; }\n";
    let module = |more: &str| format!("module \"ended\" part=\"ended\" address=9{more}");
    let at_end = run(30, &keypad(1, 1)) + &run(30, &module(""));
    assert_eq!(slugs(&(part.to_owned() + &bus("", &at_end))), [""; 0]);
    let on = run(30, &module("")) + &run(30, &(keypad(1, 1) + END));
    let finding = only(&(part.to_owned() + &bus("", &on)), "bus-terminator-surplus");
    assert!(finding.help.contains("`built-in-terminator=#false` on module `ended`"), "{}", finding.help);
    let off = run(30, &module(" built-in-terminator=#false")) + &run(30, &(keypad(1, 1) + END));
    assert_eq!(slugs(&(part.to_owned() + &bus("", &off))), [""; 0]);
}

#[test]
fn two_terminators_at_one_end_are_one_too_many_or_one_to_move() {
    let doubled = run(30, &keypad(1, 1)) + &run(30, &(keypad(2, 2) + END + END));
    let finding = only(&bus("", &doubled), "bus-terminator-surplus");
    assert!(finding.title.contains("3 terminators"), "{}", finding.title);
    let both_here = bus(" built-in-terminator=#false", &doubled);
    let finding = only(&both_here, "bus-terminator-misplaced");
    assert!(finding.help.contains("leave out `built-in-terminator=#false`"), "{}", finding.help);
    assert_eq!(slugs(&bus("", &doubled.replacen(END, "", 1))), [""; 0]);
}

#[test]
fn a_bus_no_longer_than_a_stub_needs_no_terminator() {
    assert_eq!(slugs(&bus("", &run(5, &keypad(1, 1)))), [""; 0]);
    assert_eq!(slugs(&bus("", &run(8, &keypad(1, 1)))), ["bus-terminator-missing"]);
}

#[test]
fn half_a_bias_is_no_bias() {
    for (port, lacks) in [(" bias=(ohm)470", "bias-supply="), (" bias-supply=(V)5", "bias=")] {
        let part = format!(
            "part \"half\" {{ basis \"sheet\"; bus-port \"data\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\" terminator=(ohm)120{port} volts=(V)13.8 limit=(A)1; }}\npanel \"half\" part=\"half\" room=\"lobby\"\n"
        );
        let spec = part + &bus("", &run(30, &(keypad(1, 1) + END))).replace("board-a", "half");
        let finding = only(&spec, "bus-bias-unknown");
        assert!(finding.labels.iter().any(|label| label.text == format!("lacks {lacks}")), "{:?}", finding.labels);
    }
}

#[test]
fn a_bus_that_could_not_be_read_whole_is_left_alone() {
    let good = run(30, &keypad(1, 1)) + &run(30, &(keypad(2, 2) + END));
    assert_eq!(slugs(&bus("", &good)), [""; 0]);
    for slip in [
        good.replacen("(ft)30", "(V)30", 1),
        good.replacen("\"bus-cable\"", "\"buss-cable\"", 1),
        good.replacen("\"keypad-a\"", "\"keypad-b\"", 1),
        good.replacen("terminator (ohm)120", "terminator (V)120", 1),
        good.replacen("terminator", "terminater", 1),
        good.replacen("(ft)30", "(ft)0", 1),
    ] {
        let slugs = slugs(&bus("", &slip));
        assert!(slugs.len() == 1 && !slugs[0].starts_with("bus-"), "{slugs:?}\n{slip}");
    }
}

#[test]
fn boards_outside_the_known_addresses_are_each_given_another() {
    let part = "part \"few\" { basis \"sheet\"; draw idle=(mA)20; charger current=(mA)400; bus-port \"data\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\" terminator=(ohm)120 bias=(ohm)470 bias-supply=(V)5 volts=(V)13.8 limit=(A)1 first-address=1 last-address=4; }\npanel \"few\" part=\"few\" room=\"lobby\" { battery capacity=(Ah)12; transformer volts=(V)16.5 rating=(VA)40; }\n";
    let inside = run(30, &keypad(1, 9)) + &run(30, &keypad(2, 9)) + &run(30, &(keypad(3, 2) + END));
    let spec = part.to_owned() + &bus("", &inside).replace("board-a", "few");
    let found = found(&spec);
    let helps: Vec<&str> = found.iter().map(|finding| finding.help.split("address=").nth(1).unwrap()).collect();
    assert_eq!(helps, ["1.", "3."], "{found:#?}");
    let remedied = spec.replacen("address=9", "address=1", 1).replacen("address=9", "address=3", 1);
    assert_eq!(slugs(&remedied), [""; 0]);
}

/// A module that a bus starts at and passes again, with a supply of its own: its cable would come back to its own terminals.
#[test]
fn a_bus_that_starts_at_its_own_module_is_told_once() {
    let part = "part \"own\" { basis \"sheet\"; ac-port a=\"AC1\" b=\"AC2\"; battery-port positive=\"BT+\" negative=\"BT-\"; bus-port \"data\" plus=\"+\" minus=\"-\" a=\"A\" b=\"B\" terminator=(ohm)120 bias=(ohm)470 bias-supply=(V)5 volts=(V)13.8 limit=(A)1; draw idle=(mA)20 min=(V)9; charger current=(mA)400 cut-off=(V)10.5; screw wires=2; }\n";
    let module = "module \"own\" part=\"own\" address=2 { battery capacity=(Ah)12; transformer volts=(V)16.5 rating=(VA)40; }\nkeypad \"more\" part=\"keypad-a\" address=3";
    let spec = part.to_owned() + &bus("", &(run(30, module) + &run(30, &(keypad(1, 1) + END))));
    let found = found(&spec.replacen("board=\"board-a\"", "board=\"own\"", 1));
    let titles: Vec<&str> = found.iter().map(|it| it.title.as_str()).collect();
    let own: Vec<&&str> = titles
        .iter()
        .filter(|title| title.contains("bus `data` starts at module `own`, which also hangs on it"))
        .collect();
    assert!(
        own.len() == 1
            && !titles.iter().any(|title| title.contains("are on one port") || title.contains("take 2 conductors")),
        "{titles:#?}"
    );
}

#[test]
fn a_branched_bus_is_told_with_its_terminators() {
    let arm = |inside: &str| run(90, inside).replace("room=", "from=\"board\" room=");
    let star = |ends: &str| arm(&keypad(1, 1)) + &arm(&keypad(2, 2)) + &arm(&(keypad(3, 3) + ends));
    let figures = |ends: &str| {
        let found = found(&bus("", &star(ends)));
        found.into_iter().find(|one| one.rule.slug == "bus-branched").unwrap().figures
    };
    let said = |figures: &[String]| {
        figures.iter().any(|line| line.ends_with("one cable has one at each of its two ends, and no other"))
    };
    // The board's own is the other.
    assert!(said(&figures("")), "{:?}", figures(""));
    assert!(!said(&figures(END)), "{:?}", figures(END));
}

/// Data against minus: no terminator is wanted, one that is there is told, and nothing of TIA-485-A is asked for.
#[test]
fn a_bus_that_is_not_differential_wants_no_terminator() {
    let bus = |more: &str| {
        format!(
            "bus \"data\" board=\"board-a\" differential=#false{more} {{ run \"bus-cable\" length=(ft)5000 room=\"lobby\" {{ keypad \"keys\" part=\"keypad-a\" address=1 }} }}\n"
        )
    };
    assert_eq!(slugs(&bus(" built-in-terminator=#false").replace("5000", "50")), [""; 0]);
    let finding = only(&bus("").replace("5000", "50"), "bus-terminator-surplus");
    assert!(finding.title.ends_with("has 1 terminator, and is not differential"), "{}", finding.title);
    assert!(!slugs(&bus(" built-in-terminator=#false")).iter().any(|slug| slug.starts_with("bus-")));
}
