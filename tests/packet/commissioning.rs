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

/// A gas detector whose contact opens in alarm, with a relay that opens where their supply fails: the board cannot tell the two apart.
#[test]
fn a_relay_is_tried_by_all_its_conductors_and_shows_what_its_loop_reads() {
    let gas = |form: &str, cable: &str, pairs: &str| {
        format!(
            r#"part "gas-a" title="Gas detector" senses="gas" {{ basis "sheet" ref="invented"; supply min=(V)9 max=(V)16 idle=(mA)8 alarm=(mA)35; contact form="{form}"; screw wires=4; }}
cable "six" conductors=6 size=(AWG)22 {{ conductor "RD" for="supply+"; conductor "BK" for="supply-"; conductor "GN" for="loop"; conductor "WH" for="loop"; conductor "BU"; conductor "YE"; }}
zone 1 "Gas" type="gas" {{
    loop "end-of-line" board="board-a" {{
        run "{cable}" length=(ft)20 room="lobby"{pairs} {{ detector "gas-a" title="Gas" supply="aux"; detector "watch" title="Relay" supply="aux"; resistor "2k2" }}
    }}
}}
"#
        )
    };
    let sheet = |text: String| markdown(&site(&format!("{HEAD}{text}")), "commissioning-sheet");
    let alike = sheet(gas("NC", "quad", ""));
    assert!(
        alike.contains("| Relay (Lobby): zone 1 | Z1: RD red, off A+ of Panel | the alarm: both read alike | ☐ |"),
        "{alike}"
    );
    let two = sheet(gas("NO", "six", " pairs=2"));
    assert!(two.contains("| Relay (Lobby): zone 1 | Z1: RD red and BU blue, off A+ of Panel | trouble | ☐ |"), "{two}");
}

/// A board of which no bands are known: that two readings are not known makes them no more alike.
#[test]
fn a_relay_on_a_board_without_bands_is_expected_to_show_trouble() {
    let blind = r#"site "s" title="S" lengths="ft"
include "../parts/example.kdl"
part "blind" title="Board without bands" {
    basis "sheet" ref="invented"
    input 1 signal="I1" return="R1"
    output "aux" positive="A+" negative="A-" volts=(V)13.8 limit=(mA)1000
    draw idle=(mA)150
}
level "base" { room "lobby" title="Lobby" }
panel "board-a" part="blind" room="lobby"
zone 1 "Smoke" type="smoke" {
    loop "end-of-line" board="board-a" {
        run "quad" length=(ft)20 room="lobby" { detector "smoke" title="Smoke" supply="aux"; detector "watch" title="Relay" supply="aux"; resistor "2k2" }
    }
}
"#;
    let sheet = markdown(&site(blind), "commissioning-sheet");
    assert!(sheet.contains("| trouble is expected; how the board reads this is not known | ☐ |"), "{sheet}");
}

/// A key that arms is heard at the service as the zones are; the lid of a supply that stands alone is told by no board.
#[test]
fn keys_are_heard_and_lids_of_lone_supplies_are_not_told() {
    let house = r#"power-supply "lone" title="Lone supply" part="supply-a" room="lobby" { battery capacity=(Ah)7; transformer volts=(V)16.5 rating=(VA)40; }
communicator "line" type="telephone" board="board-a" { run "quad" length=(ft)9 room="lobby"; }
area "house" title="House" number=1
part "key-a" title="Key switch" { basis "sheet" ref="invented"; contact form="NO"; }
zone 1 "Porch key" type="keyswitch" area="house" {
    loop "end-of-line" board="board-a" { run "pair" length=(ft)20 room="lobby" { contact "key-a" title="Key"; resistor "2k2" }; }
}
"#;
    let sheet = markdown(&site(&format!("{HEAD}{house}")), "commissioning-sheet");
    let (_, heard) = sheet.split_once("## Each event heard").unwrap();
    assert!(heard.contains("| **1** | Porch key | ☐ | ☐ |"), "{heard}");
    assert!(sheet.contains("| lid of Lone supply | nobody, unless a loop watches it |"), "{sheet}");
}
