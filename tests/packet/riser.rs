//! The riser and the ways to the service, read back from their drawings.

use loopwright::compiled::Compiled;
use roxmltree::Document;

use super::dead::without_zone_2;
use super::sites::{FULL, full_site, packet, site};

/// The drawings of a name.
fn texts(made: &Compiled, name: &str) -> Vec<String> {
    let files = packet(made).files.into_iter().filter(|(path, _)| path.starts_with(name) && path.ends_with(".svg"));
    files.map(|(_, bytes)| String::from_utf8(bytes).unwrap()).collect()
}

/// Everything that drawings of a name say, and where the marks of each text lead.
fn said(made: &Compiled, name: &str) -> Vec<(String, String)> {
    let mut said = Vec::new();
    for text in texts(made, name) {
        let drawing = Document::parse(&text).unwrap();
        for node in drawing.descendants().filter(|node| node.tag_name().name() == "text") {
            let link = node.parent().and_then(|parent| parent.attribute("href")).unwrap_or_default();
            said.push((node.text().unwrap_or_default().to_owned(), link.to_owned()));
        }
    }
    said
}

/// In its place once; a cable that ends in a board stands in the board's room once more.
#[test]
fn every_cable_stands_in_the_riser_and_leads_to_its_row_and_back() {
    let made = full_site();
    let said = said(&made, "riser");
    let places = texts(&made, "riser").concat();
    let rows = String::from_utf8(packet(&made).files["wire-labels.html"].clone()).unwrap();
    for cable in &made.wiring.cables {
        let flag = format!("{}: ", cable.label);
        let here: Vec<_> = said.iter().filter(|(text, _)| *text == cable.label || text.starts_with(&flag)).collect();
        assert!((1..=2).contains(&here.len()), "{} in {said:?}", cable.label);
        assert!(here.iter().all(|(_, to)| *to == here[0].1), "{here:?}");
        let mark = here[0].1.strip_prefix("wire-labels.html#").unwrap();
        let row = rows.lines().find(|line| line.contains(&format!("id=\"{mark}\""))).unwrap();
        assert!(row.contains(&format!("riser.html#{mark}-riser\"")) && row.contains(&cable.label), "{row}");
        assert_eq!(places.matches(&format!("id=\"{mark}-riser\"")).count(), 1, "{mark}");
    }
}

/// A cable that no longer has a use stands where it ends, apart from those in use, and leads to its row and back; one
/// whose end nobody has written down does not.
#[test]
fn dead_and_spare_cables_stand_where_they_end() {
    let made = without_zone_2(true);
    let all = said(&made, "riser");
    let at = |label: &str| all.iter().position(|(text, _)| text == label);
    let z2 = at("Z2").expect("the dead cable");
    assert_eq!(all[z2].1, "wire-labels.html#dead-1");
    assert!(all[z2 - 1].0.contains("dead"), "{all:?}");
    let coil = at("COIL-1").expect("the spare cable");
    assert!(all[coil - 1].0.contains("spare"), "{all:?}");
    let rows = String::from_utf8(packet(&made).files["wire-labels.html"].clone()).unwrap();
    let row = rows.lines().find(|line| line.contains("id=\"dead-1\"")).unwrap();
    assert!(row.contains("riser.html#dead-1-riser"), "{row}");
}

#[test]
fn the_riser_has_levels_boards_by_number_bundles_and_ways_out() {
    let said: Vec<String> = said(&full_site(), "riser").into_iter().map(|(text, _)| text).collect();
    for wanted in ["Main panel", "no. 1", "no. 2a", "addr. 3", "DATA-1: 20/4", "line: to the street"] {
        assert!(said.iter().any(|text| text == wanted), "{wanted} in {said:?}");
    }
    assert!(said.iter().any(|text| text.starts_with("A: 1 × ")), "{said:?}");
}

/// What a device on the way lasts is told by the drawing as by the table: both ask one place.
#[test]
fn a_way_says_what_feeds_each_device_and_which_stops_first() {
    let words =
        |made: &Compiled, name: &str| said(made, name).into_iter().map(|(text, _)| text).collect::<Vec<_>>().join(" ");
    let net = words(&full_site(), "way-2");
    assert!(net.contains("net when the mains fails, as long as the panel"), "{net}");
    assert!(net.contains("without mains as long as the panel"), "{net}");
    let unfed = FULL.replace("hop \"router\" output=\"aux\" backup=(h)4", "hop \"router\" backup=(h)4");
    let made = site(&unfed);
    let net = words(&made, "way-2");
    assert!(net.contains("net when the mains fails, 4 h"), "{net}");
    assert!(net.contains("without mains 4 h, the first to stop"), "{net}");
    let line = words(&made, "way-1");
    for wanted in ["the line's jack", "LINE-1", "15 ft", "to the house phones", "to the street"] {
        assert!(line.contains(wanted), "{wanted} in {line}");
    }
}
