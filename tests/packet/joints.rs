//! Joints on paper: in a box with a name, and in the enclosure of an expander.

use loopwright::compiled::Compiled;

use super::sites::{markdown, packet, schedule, site};

const HEAD: &str = r#"site "s" title="S" lengths="ft"
include "../parts/example.kdl"
level "base" title="Base" {
    room "lobby" title="Lobby"
    room "den" title="Den"
}
panel "board-a" title="Panel" part="control-a" room="lobby" { battery capacity=(Ah)12; transformer volts=(V)16.5 rating=(VA)75; }
bus "data" board="board-a" rate=(baud)9600 {
    run "bus-cable" length=(ft)30 room="den" {
        module "expander" title="Expander" part="expander-a" address=1 inputs-from=5
        terminator (ohm)120
    }
}
zone 5 "Den motion" type="interior" {
    loop "end-of-line" board="expander" input=1 {
        run "quad" name="motion-cable" length=(ft)10 room="den" { detector "motion" name="den-motion"; resistor "2k2" }
    }
}
zone 6 "Den motion, north" type="interior" {
    loop "end-of-line" board="expander" input=2 {
        run "quad" name="north-cable" length=(ft)12 room="den" { detector "motion" name="north-motion"; resistor "2k2" }
    }
}
"#;

/// A cable to the expander, which goes on there in the cables of two detectors.
const IN_ENCLOSURE: &str = r#"circuit "up" board="board-a" output="aux" {
    run "pair" length=(ft)34 into="expander" joined-by="solder" {
        run "quad" along="motion-cable" length=(ft)10 room="den" { feed "den-motion" }
        run "quad" along="north-cable" length=(ft)12 room="den" { feed "north-motion" }
    }
}
"#;

const IN_BOX: &str = r#"joint-box "stair-box" title="Box under the stair" room="den" joined-by="crimp"
circuit "sounders" board="board-a" output="siren" {
    run "pair" length=(ft)20 into="stair-box" {
        run "pair" length=(ft)5 room="den" { sounder "sounder" title="Low siren" }
        run "pair" length=(ft)6 room="den" { sounder "sounder" title="High siren" }
    }
}
"#;

/// A cable joined to two others in the enclosure of a board.
pub fn in_enclosure() -> Compiled {
    site(&format!("{HEAD}{IN_ENCLOSURE}"))
}

/// The same in a joint box.
pub fn in_box() -> Compiled {
    site(&format!("{HEAD}{IN_BOX}"))
}

/// The same with its joints soldered.
pub fn in_soldered_box() -> Compiled {
    site(&format!("{HEAD}{}", IN_BOX.replace("\"crimp\"", "\"solder\"")))
}

fn section<'t>(schedule: &'t str, title: &str) -> &'t str {
    let from = &schedule[schedule.find(&format!("## {title}")).unwrap()..];
    &from[..from[1..].find("\n## ").map_or(from.len(), |end| end + 1)]
}

/// Where the enclosure hangs is known only when all buses are.
#[test]
fn a_contact_on_a_cable_into_an_enclosure_is_in_its_room() {
    let cover = r#"zone 8 "Expander cover" type="tamper" {
    loop "end-of-line" board="board-a" {
        run "pair" length=(ft)34 into="expander" { contact "reed" title="Cover of the expander"; resistor "2k2" }
    }
}
"#;
    let site = site(&format!("{HEAD}{cover}")).site;
    let found = site.devices.iter().find(|device| device.title == "Cover of the expander").unwrap();
    let expander = site.boards.iter().find(|board| board.name.value == "expander").unwrap();
    assert!(found.room.is_some() && found.room == expander.room);
}

#[test]
fn a_four_way_joint_stands_under_the_enclosure_that_the_spec_says_with_a_row_for_each_end() {
    let made = in_enclosure();
    let schedule = schedule(&made);
    let expander = section(&schedule, "Expander");
    for row in [
        "| **UP-1** | BK black | supply + from aux | joined to Z5: RD red, Z6: RD red (soldered) |",
        "| **Z5** starts | RD red | supply + from aux | joined to UP-1: BK black, Z6: RD red (soldered) |",
        "| **Z6** starts | RD red | supply + from aux | joined to UP-1: BK black, Z5: RD red (soldered) |",
    ] {
        assert!(expander.contains(row), "{row}\n{expander}");
    }
    assert!(!expander.contains("no terminal"), "{expander}");
    // Not in the room besides; and whoever stands at the panel is told where the other end is.
    let den = section(&schedule, "Den, Base");
    assert!(!den.contains("joined to UP-1"), "{den}");
    let aux = "| **A+** | UP-1 | BK black | supply + from aux | in Expander: joined to Z5: RD red, Z6: RD red |";
    assert!(section(&schedule, "Panel").contains(aux), "{schedule}");
}

#[test]
fn a_joint_box_has_a_section_of_its_own_and_is_named_on_the_labels() {
    let made = in_box();
    let schedule = schedule(&made);
    let joint_box = section(&schedule, "Box under the stair");
    assert!(joint_box.contains("joint box · in Den, Base · conductors are joined: crimped"), "{joint_box}");
    let row = "| **SOUNDERS-1** | BK black | supply + from siren | joined to SOUNDERS-2: BK black, SOUNDERS-3: BK black (crimped) |";
    assert!(joint_box.contains(row), "{joint_box}");
    assert!(!joint_box.contains("no terminals"), "{joint_box}");
    let files = packet(&made).files;
    let csv = String::from_utf8(files["terminal-schedule.csv"].clone()).unwrap();
    let rows = csv.lines().filter(|line| line.starts_with("Box under the stair,Den,joint,in use,"));
    assert_eq!(rows.count(), 6, "two conductors of three cables\n{csv}");
    let labels = String::from_utf8(files["wire-labels.md"].clone()).unwrap();
    assert!(
        labels.contains("far end **from Box under the stair**") || labels.contains("end: **from Box under the stair**"),
        "{labels}"
    );
    let json: serde_json::Value = serde_json::from_slice(&files["site.json"]).unwrap();
    let boxed = json["boards"].as_array().unwrap().iter().find(|board| board["name"] == "stair-box").unwrap();
    assert_eq!((boxed["kind"].as_str(), boxed["joined-by"].as_str()), (Some("joint box"), Some("crimp")));
}

/// Every end of every conductor stands once on the schedule, whether its cable is joined in a box, in an enclosure, or on
/// the way to the service.
#[test]
fn every_end_of_a_joined_cable_stands_on_the_schedule_once() {
    let net = r#"communicator "net" type="internet" service="broadband" board="board-a" {
    run "quad" length=(ft)9 room="lobby"
    run "quad" length=(ft)40 room="den"
    hop "switch" name="switch" draw=(mA)60
    hop "router" backup=(h)24
}
circuit "switch-supply" board="board-a" output="aux" { run "pair" length=(ft)6 room="lobby" { feed "switch" } }
"#;
    let made = site(&format!("{HEAD}{IN_ENCLOSURE}{IN_BOX}{net}"));
    let csv = String::from_utf8(packet(&made).files["terminal-schedule.csv"].clone()).unwrap();
    for cable in &made.wiring.cables {
        for end in ["near", "far"] {
            let here = |line: &&str| line.contains(&format!(",{},", cable.label)) && line.ends_with(&format!(",{end}"));
            let rows: Vec<&str> = csv.lines().filter(here).collect();
            let in_use = rows.iter().filter(|row| row.contains(",in use,")).count();
            assert_eq!(in_use, cable.conductors.len(), "{} {end}\n{rows:#?}", cable.label);
        }
    }
}

/// Two pairs side by side are four conductors in each joint, and both of a side leave the board.
#[test]
fn pairs_side_by_side_are_joined_in_one_joint() {
    let boxed = IN_BOX.replace("\"pair\" length=(ft)20 into", "\"quad\" length=(ft)20 pairs=2 into");
    let schedule = schedule(&site(&format!("{HEAD}{boxed}")));
    let stair = section(&schedule, "Box under the stair");
    for row in [
        "| **SOUNDERS-1** | RD red | supply + from siren | joined to SOUNDERS-1: GN green, SOUNDERS-2: BK black, SOUNDERS-3: BK black (crimped) |",
        "| **SOUNDERS-2** starts | BK black | supply + from siren | joined to SOUNDERS-1: RD red and GN green, SOUNDERS-3: BK black (crimped) |",
    ] {
        assert!(stair.contains(row), "{row}\n{stair}");
    }
}

/// A box that is new joins cables that were there before anew.
#[test]
fn connectors_are_bought_for_the_joints_of_a_new_box() {
    let old = IN_BOX
        .replace("run \"pair\"", "run \"pair\" existing=#true")
        .replace("sounder \"sounder\"", "sounder \"sounder\" existing=#true");
    let bought = |text: &str| markdown(&site(&format!("{HEAD}{text}")), "materials");
    assert!(bought(&old).contains("| Crimp connector, for 3 conductors | 2 |"), "{}", bought(&old));
    let all_old = old.replace("joint-box \"stair-box\"", "joint-box \"stair-box\" existing=#true");
    assert!(!bought(&all_old).contains("Crimp connector"), "{}", bought(&all_old));
}
