//! What the commissioning sheet asks for is on the site.

use super::sites::{markdown, packet, site};

const HEAD: &str = r#"site "s" title="S" lengths="ft"
include "../parts/example.kdl"
level "base" title="Base" { room "lobby" title="Lobby"; }
panel "board-a" title="Panel" part="control-a" room="lobby" { battery capacity=(Ah)7; transformer volts=(V)16.5 rating=(VA)40; }
"#;

#[test]
fn the_jack_is_looked_for_where_there_is_a_line_and_the_network_cable_where_there_is_one() {
    let of = |way: &str| markdown(&site(&format!("{HEAD}{way}")), "commissioning-sheet");
    let net = of(
        "communicator \"net\" type=\"internet\" service=\"broadband\" board=\"board-a\" { run \"quad\" length=(ft)9 room=\"lobby\"; }",
    );
    assert!(net.contains("| The network cable is where") && !net.contains("telephone line is"), "{net}");
    let line =
        of("communicator \"line\" type=\"telephone\" board=\"board-a\" { run \"quad\" length=(ft)9 room=\"lobby\"; }");
    assert!(line.contains("| The jack of the telephone line is") && !line.contains("network cable"), "{line}");
}

/// A spreadsheet takes a cell that begins with a sign for a formula, so its cell would be guarded by an apostrophe.
#[test]
fn neither_lead_of_a_battery_goes_to_a_place_that_begins_with_a_sign() {
    let house = r#"site "s" title="S" lengths="ft"
level "base" title="Base" { room "lobby" title="Lobby"; }
part "own" title="Board" { basis "sheet" ref="invented"; battery-port positive="BT+" negative="BT-"; }
panel "board-a" title="Panel" part="own" room="lobby" { battery capacity=(Ah)7; }
"#;
    let files = packet(&site(house)).files;
    let csv = String::from_utf8(files["terminal-schedule.csv"].clone()).unwrap();
    let leads: Vec<&str> = csv.lines().filter(|line| line.contains("battery lead")).collect();
    let want = [
        r#"Panel,Lobby,BT+,in use,battery lead,,battery +,"terminal + of the battery, 7 Ah","#,
        r#"Panel,Lobby,BT-,in use,battery lead,,battery −,"terminal − of the battery, 7 Ah","#,
    ];
    assert_eq!(leads, want, "{csv}");
}
