//! Where shields of cables are landed, joined and cut back.

use super::{found, slugs};

const CABLE: &str = "cable \"foiled\" conductors=4 size=(AWG)20 shield=\"drain\" {
    conductor \"RD\" for=\"supply+\"; conductor \"BK\" for=\"supply-\"; conductor \"BU\" for=\"bus-a\"; conductor \"WH\" for=\"bus-b\"
}
";

/// A board with one bus port; `port` stands at that.
fn board(port: &str) -> String {
    format!(
        "part \"hub\" {{
    basis \"sheet\"
    earth-terminal \"E\"
    bus-port \"data\" plus=\"B+\" minus=\"B-\" a=\"BA\" b=\"BB\" terminator=(ohm)120 bias=(ohm)470 bias-supply=(V)5 limit=(mA)600 volts=(V)13.8 {port}
    draw idle=(mA)150
}}
panel \"hub\" title=\"Hub\" part=\"hub\" room=\"lobby\"
"
    )
}

/// A bus of two runs; `first` and `second` stand at them.
fn bus(first: &str, second: &str) -> String {
    format!(
        "bus \"data\" board=\"hub\" rate=(baud)9600 {{
    run \"foiled\" length=(ft)30 room=\"lobby\" {first} {{ keypad \"one\" title=\"One\" part=\"keypad-a\" address=1; }}
    run \"foiled\" length=(ft)30 room=\"lobby\" {second} {{ keypad \"two\" title=\"Two\" part=\"keypad-a\" address=2; terminator (ohm)120; }}
}}
"
    )
}

/// The rows of the bus sheet's table of shields.
fn rows(spec: &str) -> Vec<String> {
    let made = crate::packet::sites::site(&format!("{}{spec}", crate::pages::HEADER));
    let sheet = crate::packet::sites::markdown(&made, "bus-sheet");
    sheet.lines().filter(|line| line.contains("| drain wire |")).map(str::to_owned).collect()
}

#[test]
fn a_shield_is_landed_at_the_board_and_carried_on() {
    let spec = CABLE.to_owned() + &board("") + &bus("", "");
    assert_eq!(
        rows(&spec),
        [
            "| **DATA-1** | drain wire | Hub, terminal E (no earth conductor of this board is in the spec) | joined to DATA-2: drain wire |",
            "| **DATA-2** | drain wire | joined to DATA-1: drain wire | cut it back and insulate it |"
        ]
    );
    let made = crate::packet::sites::site(&format!("{}{spec}", crate::pages::HEADER));
    let schedule = crate::packet::sites::schedule(&made);
    for row in [
        "| **E** | DATA-1 | drain wire | shield | other end: joined to DATA-2: drain wire |",
        "| **joint** | DATA-1 | drain wire | shield | joined to DATA-2: drain wire |",
        "| **joint** | DATA-2 | drain wire | shield | joined to DATA-1: drain wire |",
        "| **cut back** | DATA-2 | drain wire | shield | cut it back and insulate it |",
    ] {
        assert!(schedule.contains(row), "{row}: {schedule}");
    }
}

#[test]
fn the_sheet_of_the_board_may_name_a_terminal_and_want_both_ends() {
    let spec = |port: &str, second: &str| CABLE.to_owned() + &board(port) + &bus("", second);
    assert!(rows(&spec("shield=\"SH\"", ""))[0].contains("Hub, terminal SH"));
    let both = rows(&spec("shield=\"SH\" shield-at-both-ends=#true", ""));
    assert!(both[1].ends_with("| landed where the sheet says: no terminal for it is in the spec |"), "{both:?}");
    let twice = |spec: &str| slugs(spec).into_iter().filter(|slug| *slug == "shield-landed-twice").count();
    assert_eq!(twice(&spec("shield=\"SH\" shield-at-both-ends=#true", "")), 0);
    assert_eq!(twice(&spec("", "shield=\"far\"")), 0, "the first run's end does not reach the second's then");
    assert_eq!(twice(&spec("", "shield=\"both\"")), 1);
}

#[test]
fn a_shield_takes_room_under_its_screw() {
    let spec =
        CABLE.to_owned() + &board("shield=\"B-\"").replace("draw idle", "screw wires=1; draw idle") + &bus("", "");
    let finding = found(&spec).into_iter().find(|finding| finding.rule.slug == "terminal-overfull").unwrap();
    assert_eq!(finding.figures, ["`B-`: `DATA-1` BK, `DATA-1` drain wire"]);
}

#[test]
fn what_is_said_of_a_run_is_done() {
    let spec = |first: &str| CABLE.to_owned() + &board("") + &bus(first, "");
    let neither = rows(&spec("shield=\"neither\""));
    assert!(neither[0].contains("| cut it back and insulate it | joined to DATA-2"), "{neither:?}");
    let far = rows(&spec("shield=\"far\""));
    assert!(far[0].contains("| cut it back and insulate it | landed where the sheet says"), "{far:?}");
}
