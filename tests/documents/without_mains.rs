//! What the sheets promise for a power cut: a way to the service lives as long as the first of panel, adapter and devices.

use std::collections::BTreeMap;

use super::demo;

/// A flat with two ways to the service, and its panel's battery written so.
fn flat(battery: &str) -> BTreeMap<String, String> {
    let ways = "
communicator \"net\" title=\"Internet\" type=\"internet\" board=\"main\" supervised-every=(h)1 {
    hop \"media box\" from=\"router\"
    hop \"router\" name=\"router\" backup=(h)30
}
communicator \"cell\" title=\"Cell radio\" type=\"radio\" board=\"main\" supervised-every=(h)1
monitoring format=\"sia-dc-05\" description-width=24 test-every=(day)7
";
    demo("garden-flat", |text| {
        let is_site = text.contains("site \"garden-flat\"");
        let text = text.replace("    battery capacity=(Ah)7 installed=\"2027-03-14\"\n", battery);
        if is_site { text + ways } else { text }
    })
}

/// The rows of a sheet that name something.
fn rows<'s>(sheet: &'s str, named: &str) -> Vec<&'s str> {
    sheet.lines().filter(|line| line.starts_with('|') && line.contains(named)).collect()
}

#[test]
fn without_a_battery_at_the_panel_nothing_goes_on() {
    let sheets = flat("");
    assert!(sheets["owners-guide.md"].contains("the whole alarm is off until the power is back"));
    assert!(!sheets["owners-guide.md"].contains("goes on by its battery"));
    assert!(sheets["commissioning-sheet.md"].contains("No panel has a battery: without mains there is no alarm."));
    let ways = &sheets["zone-descriptions.md"];
    assert_eq!(rows(ways, "mains lost in the house"), ["| mains lost in the house | stopped | stopped |"], "{ways}");
    let power = &sheets["power-sheet.md"];
    let way = rows(power, "ends with the mains: main has no battery");
    assert!(way.len() == 2 && way.iter().all(|row| row.ends_with("| no |")), "{power}");
}

#[test]
fn a_small_battery_of_the_panel_ends_every_way() {
    let sheets = flat("    battery capacity=(Ah)1.2 installed=\"2027-03-14\"\n");
    let ways = &sheets["zone-descriptions.md"];
    let [lost] = rows(ways, "mains lost in the house")[..] else { panic!("{ways}") };
    let cells: Vec<&str> = lost.split(" | ").skip(1).map(|cell| cell.trim_end_matches(" |")).collect();
    assert!(cells.len() == 2 && cells[0] == cells[1] && cells[0].starts_with("stopped after "), "{lost}");
    let power = &sheets["power-sheet.md"];
    let way = rows(power, "as long as the panel: ");
    assert!(way.len() == 2 && way.iter().all(|row| row.ends_with("| no |")), "{power}");
    let hours = cells[0].trim_start_matches("stopped after ");
    assert!(way.iter().all(|row| row.contains(hours)), "{hours} in {power}");
}

/// What feeds a device on the way stops the way as well, and a way that falls with another tells nothing of it.
#[test]
fn what_feeds_a_device_of_a_way_stops_it() {
    let sheets = flat("    battery capacity=(Ah)26 installed=\"2027-03-14\"\n");
    let ways = &sheets["zone-descriptions.md"];
    assert_eq!(rows(ways, "router off or unplugged"), ["| router off or unplugged | goes on | stopped |"], "{ways}");
    let [net] = rows(ways, "| Internet | the house")[..] else { panic!("{ways}") };
    assert!(net.contains("30 h, then router is out") || net.contains("media box"), "{net}");
}
