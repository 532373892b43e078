//! Dead cables stand on every sheet of whoever meets them.

use loopwright::compiled::Compiled;
use loopwright::register::{Register, State};

use super::sites::{FULL, packet, schedule, site_after};

/// The full house without its second zone, whose cable is in the wall still; `off`: its conductors are off the terminals.
pub fn without_zone_2(off: bool) -> Compiled {
    let (_, register) = site_after(FULL, &Register::default());
    let (before, after) = FULL.split_once("zone 2 ").unwrap();
    let spec = format!("{before}{}", &after[after.find("zone 3 ").unwrap()..]);
    let (_, mut register) = site_after(&spec, &register);
    let entry = register.cables.iter_mut().find(|entry| entry.label == "Z2").unwrap();
    let State::Dead { off: is_off, .. } = &mut entry.state else { panic!("{entry:?}") };
    *is_off = off;
    site_after(&spec, &register).0
}

fn file(site: &Compiled, name: &str) -> String {
    String::from_utf8(packet(site).files[name].clone()).unwrap()
}

#[test]
fn a_screw_that_a_dead_cable_is_on_is_not_free() {
    let site = without_zone_2(false);
    let schedule = schedule(&site);
    let row = schedule.lines().find(|line| line.starts_with("| **I2** |")).unwrap();
    assert_eq!(row, "| **I2** | Z2 | GN green | **dead: zone 2 is gone** | take it off |");
    let csv = file(&site, "terminal-schedule.csv");
    let csv = csv.lines().find(|line| line.contains(",I2,")).unwrap();
    assert!(csv.starts_with("Main panel,Plant room,I2,dead,Z2,GN green,"), "{csv}");
    assert!(!schedule.contains("| **I2** | *free*"));
}

#[test]
fn a_dead_cable_stands_where_each_of_its_ends_lies() {
    let site = without_zone_2(true);
    let schedule = schedule(&site);
    assert!(schedule.contains("| **I2** | *free* |"), "off its terminals\n{schedule}");
    let board = &schedule[schedule.find("## Main panel").unwrap()..schedule.find("## Strip").unwrap_or(schedule.len())];
    assert!(board.contains("| Z2 | Hall | zone 2 is gone |"), "{board}");
    let hall = schedule.split("## Hall, ").nth(1).unwrap();
    assert!(hall.contains("| **Z2** | all | *dead* | capped and marked dead: zone 2 is gone |"), "{hall}");
    let csv = file(&site, "terminal-schedule.csv");
    let ends = csv.lines().filter(|line| line.contains(",dead,Z2,all,"));
    assert_eq!(ends.map(|line| line.rsplit(',').next().unwrap()).collect::<Vec<_>>(), ["near", "far"]);
}

#[test]
fn labels_and_data_have_the_dead_cables() {
    let site = without_zone_2(false);
    assert!(
        file(&site, "wire-labels.md")
            .contains("| [**Z2**](riser.md#dead-1-riser) | [Main panel](#dead-1) | Hall | 22 AWG, 6 conductors | zone 2 is gone | take it off")
    );
    let csv = file(&site, "wire-labels.csv");
    let labels: Vec<&str> = csv.lines().filter(|line| line.starts_with("Z2,")).collect();
    assert_eq!(labels.len(), 1, "{labels:?}");
    assert!(labels.iter().all(|line| line.starts_with("Z2,DEAD,DEAD,") && line.ends_with(",dead")), "{labels:?}");
    let json: serde_json::Value = serde_json::from_str(&file(&site, "site.json")).unwrap();
    let dead = &json["dead-cables"][0];
    assert_eq!((dead["label"].as_str(), dead["off"].as_bool()), (Some("Z2"), Some(false)));
    assert_eq!(dead["near-board"].as_str(), Some("main"));
    let main = json["boards"].as_array().unwrap().iter().find(|board| board["name"] == "main").unwrap();
    let i2 = main["terminals"].as_array().unwrap().iter().find(|terminal| terminal["mark"] == "I2").unwrap();
    assert_eq!(i2["holds"][0]["kind"].as_str(), Some("dead"));
}

/// Of a cable that came into a joint of the enclosure: the conductor that was under no screw is named as well.
#[test]
fn a_conductor_of_a_dead_cable_that_was_in_a_joint_stands_under_its_board() {
    let (_, register) = site_after(FULL, &Register::default());
    let (before, after) = FULL.split_once("zone 3 ").unwrap();
    let spec = format!("{before}{}", &after[after.find("zone 4 ").unwrap()..]);
    let site = site_after(&spec, &register).0;
    let schedule = schedule(&site);
    let panel = &schedule[schedule.find("## Main panel").unwrap()..];
    let rows = panel.lines().filter(|line| line.starts_with("| **no screw** | Z3"));
    let rows: Vec<&str> = rows.collect();
    assert_eq!(rows.len(), 2, "{panel}");
    assert!(rows.iter().all(|row| row.contains("out of its joint or socket, and cap it")), "{rows:#?}");
}
