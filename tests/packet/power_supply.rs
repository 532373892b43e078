//! A power supply that stands alone: what it feeds, its battery, and the fault contact that a loop of the panel watches.

use super::sites::{markdown, packet, site, unlinked};
use crate::pages::HEADER;

/// A house with a power supply in its shed.
pub const SUPPLY: &str = "level \"yard\" { room \"shed\" title=\"Shed\" kind=\"workshop\"; }
power-supply \"yard\" title=\"Yard supply\" part=\"supply-a\" room=\"shed\" {
    battery capacity=(Ah)7 installed=\"2027-01-01\"
    transformer volts=(V)16.5 rating=(VA)40 outlet=\"shed, no switch\"
}
zone 1 \"Yard supply\" type=\"trouble\" {
    loop \"end-of-line\" board=\"board-a\" {
        run \"pair\" length=(ft)40 room=\"lobby\"
        run \"pair\" length=(ft)20 { fault \"yard\"; resistor \"2k2\"; }
    }
}
zone 2 \"Shed motion\" type=\"interior\" area=\"house\" {
    loop \"end-of-line\" board=\"board-a\" {
        run \"pair\" length=(ft)60 room=\"shed\" { detector \"motion\" name=\"shed-motion\"; resistor \"2k2\"; }
    }
}
area \"house\" number=1
circuit \"yard\" board=\"yard\" output=\"out\" {
    run \"pair\" length=(ft)15 { feed \"shed-motion\"; }
}
";

fn sheet(name: &str) -> String {
    markdown(&site(&format!("{HEADER}{SUPPLY}")), name)
}

#[test]
fn the_loop_lands_on_both_terminals_of_the_fault_contact() {
    let schedule = unlinked(&sheet("terminal-schedule"));
    for row in [
        "| **I1** | Z1 | BK black | zone 1 loop, out | on by Z1-2 to Fault contact of Yard supply (Shed) |",
        "| **FA** | Z1-2 | BK black | zone 1 loop, out | on by Z1 to Lobby |",
        "| **FB** | Z1-2 | RD red | zone 1 loop, back | on by Z1 to Lobby; on the free lead of the resistor in series, not under this screw |",
        "| FB | resistor | lead | zone 1 | in series between this terminal and the cable: 2.2 kΩ ±5 % (red red red gold) |",
    ] {
        assert!(schedule.contains(row), "{row}: {schedule}");
    }
    assert!(!schedule.contains("| **FA** | *free*"));
}

/// A loop that ends at the fault contact goes on in the supply's own drawing.
#[test]
fn the_drawings_of_panel_and_supply_name_each_other() {
    let direct = SUPPLY
        .replace("        run \"pair\" length=(ft)40 room=\"lobby\"\n", "")
        .replace("length=(ft)20 { fault", "length=(ft)60 { fault");
    let files = packet(&site(&format!("{HEADER}{direct}"))).files;
    for (drawing, on) in [("enclosure-1.svg", "goes on in drawing 2"), ("enclosure-2.svg", "goes on in drawing 1")] {
        let svg = String::from_utf8_lossy(&files[drawing]);
        assert!(svg.contains(on), "{drawing}: {svg}");
    }
}

#[test]
fn what_it_feeds_counts_in_its_own_battery() {
    let power = sheet("power-sheet");
    let own = power.split("\n## ").find(|part| part.starts_with("Yard supply")).unwrap();
    assert!(own.contains("| output out |"), "{own}");
    assert!(own.contains("| battery fitted | **7 Ah** |"), "{own}");
    let panel = power.split("\n## ").find(|part| part.starts_with("board-a")).unwrap();
    assert!(!panel.contains("Motion detector"), "the panel feeds it too: {panel}");
}

#[test]
fn a_fault_is_named_as_one_and_reported_as_trouble() {
    let loops = sheet("loop-sheet");
    assert!(loops.contains("Fault contact of Yard supply telling a fault"), "{loops}");
    let form = sheet("zone-descriptions");
    assert!(form.contains("| 1 | Yard supply |") && form.contains("| 330 | peripheral trouble |"), "{form}");
}

/// The contact comes with its supply: the shop sells one power supply and no second one for the loop.
#[test]
fn a_fault_contact_is_not_bought_or_mounted() {
    let made = packet(&site(&format!("{HEADER}{SUPPLY}")));
    let json: serde_json::Value = serde_json::from_slice(&made.files["site.json"]).unwrap();
    let count = |part: &str| {
        let parts = json["parts"].as_array().unwrap().iter();
        parts.filter(|row| row["name"] == part).map(|row| row["count"].as_u64().unwrap()).sum::<u64>()
    };
    assert_eq!(count("supply-a"), 1);
}

/// One cable with the loop of one board and the supply of another: whoever lands it is told which screws are whose.
#[test]
fn a_cable_that_lands_on_two_boards_names_the_other() {
    let near = SUPPLY.replace("room=\"shed\" {\n    battery", "room=\"lobby\" {\n    battery");
    let near = near
        .replace("run \"pair\" length=(ft)60 room", "run \"quad\" name=\"shed-loop\" length=(ft)60 room")
        .replace("run \"pair\" length=(ft)15 {", "run \"quad\" length=(ft)60 along=\"shed-loop\" {");
    let order = markdown(&site(&format!("{HEADER}{near}")), "installation-order");
    assert!(order.contains("on Yard supply: "), "{order}");
}
