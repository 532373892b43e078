//! The programming sheet, and the table of zones, areas and outputs for what connects next.

use std::collections::BTreeSet;

use loopwright::compiled::Compiled;
use serde_json::Value;

use super::sites::{FULL, full_site, markdown, packet, site};

fn identifiers(made: &Compiled) -> Vec<String> {
    let packet = packet(made);
    let mut reader = csv::Reader::from_reader(packet.files["programming-sheet.csv"].as_slice());
    reader.records().map(|row| row.unwrap()[0].to_owned()).collect()
}

#[test]
fn every_zone_is_keyed_in_once() {
    let made = full_site();
    let sheet = markdown(&made, "programming-sheet");
    for zone in made.site.zones.iter() {
        let row = format!("| **{}** | ", zone.number.value);
        let rows = sheet.lines().filter(|line| line.starts_with(&row) && line.contains(&zone.description.value));
        let wanted = usize::from(zone.reserved.is_none() && (zone.wired.is_some() || zone.wireless.is_some()));
        assert_eq!(rows.count(), wanted, "zone {}", zone.number.value);
    }
}

#[test]
fn what_connects_next_finds_each_identifier_once_and_in_the_data() {
    let made = full_site();
    let found = identifiers(&made);
    let data: Value = serde_json::from_slice(&packet(&made).files["site.json"]).unwrap();
    let of = |list: &str| data[list].as_array().unwrap().iter().map(|of| of["id"].as_str().unwrap().to_owned());
    let data: BTreeSet<String> = ["areas", "zones", "circuits"].into_iter().flat_map(of).collect();
    assert!(found.len() > 5);
    assert_eq!(found.iter().collect::<BTreeSet<_>>().len(), found.len());
    assert!(found.iter().all(|id| data.contains(id)), "{found:?}");
}

/// A zone of the house that the examples of the rule pages stand in.
fn with_zone(rest: &str) -> Compiled {
    site(&format!("{}{rest}", include_str!("../pages/header.kdl")))
}

#[test]
fn an_identifier_stays_when_all_else_changes() {
    let with = |title: &str, area: &str| {
        with_zone(&format!(
            "area \"house\" title=\"{area}\"
zone 7 \"{title}\" type=\"perimeter\" area=\"house\" {{
    loop \"normally-closed\" board=\"board-a\" {{
        run \"pair\" length=(ft)20 room=\"lobby\" {{ contact \"reed\" title=\"Reed\" }}
    }}
}}
"
        ))
    };
    assert_eq!(identifiers(&with("Cellar door", "House")), ["area-house", "zone-7"]);
    assert_eq!(identifiers(&with("Cellar hatch", "Home")), ["area-house", "zone-7"]);
}

#[test]
fn two_halves_of_a_resistor_are_one_value_for_the_board() {
    let made = with_zone(
        "zone 1 \"Windows\" type=\"perimeter\" {
    loop \"end-of-line\" board=\"board-a\" {
        run \"pair\" length=(ft)20 room=\"lobby\" { contact \"reed\" title=\"One\"; resistor \"1k1\" }
        run \"pair\" length=(ft)20 room=\"lobby\" from=\"board\" { contact \"reed\" title=\"Other\"; resistor \"1k1\" }
    }
}
",
    );
    assert!(markdown(&made, "programming-sheet").contains("| end of line, 2.2 kΩ |"));
}

/// How the panel counts them is in no spec; a blank would say that there are none.
#[test]
fn inputs_of_a_board_that_the_spec_does_not_number_are_no_blank() {
    assert!(FULL.contains(" inputs-from=5"));
    let sheet = markdown(&site(&FULL.replace(" inputs-from=5", "")), "programming-sheet");
    let row = sheet.lines().find(|line| line.contains("| Expander |")).unwrap();
    assert!(row.contains("| (the sheets of both say which) |"), "{row}");
}
