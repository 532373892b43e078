//! A board on a bus that has a supply of its own: the bus's positive goes past it, under no screw.

use loopwright::compiled::Compiled;

use super::sites::{markdown, packet, schedule, site};

const OWN: &str = "{ battery capacity=(Ah)7; transformer volts=(V)16.5 rating=(VA)40; }";

/// Boards one after the other on a bus, each with what stands in its braces.
fn on_a_bus(places: &[&str]) -> Compiled {
    let runs: Vec<String> =
        places.iter().map(|place| format!("run \"bus-cable\" length=(ft)30 room=\"den\" {{ {place}; }}")).collect();
    site(&format!(
        "site \"s\" title=\"S\" lengths=\"ft\"\ninclude \"../parts/example.kdl\"\nlevel \"base\" title=\"Base\" {{ room \"lobby\" title=\"Lobby\"; room \"den\" title=\"Den\"; }}\npanel \"board-a\" title=\"Panel\" part=\"control-a\" room=\"lobby\" {OWN}\nbus \"data\" board=\"board-a\" rate=(baud)9600 {{\n{}\n}}\n",
        runs.join("\n")
    ))
}

fn module() -> String {
    format!("module \"far\" title=\"Expander, den\" part=\"expander-a\" address=1 inputs-from=5 {OWN}")
}

/// A module in mid-bus with a supply of its own.
pub fn in_mid_bus() -> Compiled {
    on_a_bus(&[&module(), "keypad \"keys\" title=\"Keypad\" part=\"keypad-a\" address=2; terminator (ohm)120"])
}

/// The same at the end of the bus.
pub fn at_the_end() -> Compiled {
    on_a_bus(&[&format!("{}; terminator (ohm)120", module())])
}

fn rows<'t>(csv: &'t str, start: &str) -> Vec<&'t str> {
    csv.lines().filter(|line| line.starts_with(start)).collect()
}

fn csv(made: &Compiled) -> String {
    String::from_utf8(packet(made).files["terminal-schedule.csv"].clone()).unwrap()
}

#[test]
fn the_positive_of_a_bus_is_joined_in_the_enclosure_that_it_passes() {
    let made = in_mid_bus();
    let csv = csv(&made);
    let joint = rows(&csv, "\"Expander, den\",Den,joint,");
    let want = [
        "\"Expander, den\",Den,joint,in use,DATA-1,RD red,bus supply +,joined to DATA-2: RD red,far",
        "\"Expander, den\",Den,joint,in use,DATA-2,RD red,bus supply +,joined to DATA-1: RD red,near",
    ];
    assert_eq!(joint, want, "{csv}");
    // Not in the room besides, and the terminal is not free for it.
    assert_eq!(rows(&csv, ",Den,,in use,DATA"), Vec::<&str>::new());
    let schedule = schedule(&made);
    let empty = "| **+** | *stays empty* |  | *bus supply +: this board has a supply of its own* |  |";
    assert!(schedule.contains(empty), "{schedule}");
    let panel = "| DATA-1 | RD red | bus supply + | in Expander, den: joined to DATA-2: RD red |";
    assert!(schedule.contains(panel), "{schedule}");
}

#[test]
fn the_positive_of_a_bus_that_ends_at_such_a_board_is_parked_there() {
    let made = at_the_end();
    let csv = csv(&made);
    let parked = "\"Expander, den\",Den,parked,in use,DATA-1,RD red,bus supply +,\"insulate it and park it, for this board has a supply of its own; other end: Panel, terminal B+\",far";
    assert_eq!(rows(&csv, "\"Expander, den\",Den,parked,"), [parked], "{csv}");
    assert!(csv.contains("\"Expander, den\",Den,+,stays empty,"), "{csv}");
    assert!(csv.contains("Panel,Lobby,B+,in use,DATA-1,RD red,bus supply +,\"parked in Expander, den\",near"), "{csv}");
    let order = markdown(&made, "installation-order");
    assert!(order.contains("RD: insulate it and park it, for this board has a supply of its own"), "{order}");
}

/// Two boards at one place are linked to each other. Where the first leaves the positive alone, it goes to the second.
#[test]
fn beside_such_a_board_another_at_the_same_place_is_fed_by_the_bus() {
    let keys = "keypad \"keys\" title=\"Keypad\" part=\"keypad-a\" address=2";
    for place in [format!("{}; {keys}", module()), format!("{keys}; {}", module())] {
        let csv = csv(&on_a_bus(&[&place]));
        let fed =
            rows(&csv, "Keypad,Den,").into_iter().filter(|row| row.contains(",bus supply +,")).collect::<Vec<_>>();
        assert!(matches!(fed.as_slice(), [row] if row.contains(",DATA-1,RD red,")), "{csv}");
        assert!(csv.contains("\"Expander, den\",Den,+,stays empty,"), "{csv}");
    }
}
