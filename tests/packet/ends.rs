//! Every end of every conductor has one row of the terminal schedule.

use std::collections::BTreeMap;

use loopwright::compiled::Compiled;
use loopwright::views::DOCUMENTS;

use super::sites::{FULL, empty_site, full_site, hostile_site, markdown, of_files, site};
use crate::alder_mill::AlderMill;

/// The rows of the CSV by cable, conductor and end.
fn rows(site: &Compiled) -> BTreeMap<(String, String, String), usize> {
    let document = DOCUMENTS.iter().find(|document| document.name == "terminal-schedule").unwrap();
    let table = (document.table.unwrap())(site);
    let column = |name: &str| table.columns.iter().position(|column| *column == name).unwrap();
    let (cable, conductor, end) = (column("cable"), column("conductor"), column("end"));
    let mut rows = BTreeMap::new();
    let state = column("state");
    for row in table.rows.iter().filter(|row| !row[end].is_empty() && row[state] != "dead") {
        let colour =
            if row[conductor].starts_with("no.") { &row[conductor] } else { row[conductor].split(' ').next().unwrap() };
        *rows.entry((row[cable].clone(), colour.to_owned(), row[end].clone())).or_default() += 1;
    }
    rows
}

fn both_ends_have_a_row(site: &Compiled) {
    let mut wanted = BTreeMap::new();
    for cable in &site.wiring.cables {
        for position in 0..site.site.cables[cable.kind].count.value as usize {
            for end in ["near", "far"] {
                let colour = site.site.cables[cable.kind].conductors.get(position);
                let conductor =
                    colour.map_or_else(|| format!("no. {}", position + 1), |one| one.colour.value.to_string());
                *wanted.entry((cable.label.clone(), conductor, end.to_owned())).or_insert(0) += 1;
            }
        }
    }
    let rows = rows(site);
    let wrong: Vec<_> = wanted.keys().chain(rows.keys()).filter(|end| wanted.get(*end) != rows.get(*end)).collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn every_end_of_every_conductor_has_one_row() {
    for site in [full_site(), empty_site(), hostile_site(), four_way_joint(), of_files(&AlderMill::new().files())] {
        both_ends_have_a_row(&site);
    }
}

/// One circuit whose cable is joined to three others on the landing.
fn four_way_joint() -> Compiled {
    let branches = "run \"pair\" length=(ft)50 room=\"hall\" passes=\"riser\" { sounder \"sounder\"; run \"pair\" length=(ft)5 room=\"store\" { sounder \"sounder\" title=\"One\"; }; run \"pair\" length=(ft)6 room=\"landing\" { sounder \"sounder\" title=\"Two\"; }; }";
    site(&FULL.replace("run \"pair\" length=(ft)50 room=\"hall\" passes=\"riser\" { sounder \"sounder\"; }", branches))
}

#[test]
fn a_joint_stands_under_each_cable_that_is_in_it() {
    let schedule = markdown(&four_way_joint(), "terminal-schedule");
    let hall = schedule.split("## Hall, ").nth(1).unwrap();
    for row in [
        "| **SOUNDERS-1** | ends | BK black | supply + from siren | Sounder (Hall), terminal +; joined to SOUNDERS-2: BK black; joined to SOUNDERS-3: BK black |",
        "| **SOUNDERS-2** | starts | BK black | supply + from siren | joined to SOUNDERS-1: BK black; Sounder (Hall), terminal +; joined to SOUNDERS-3: BK black |",
        "| **SOUNDERS-3** | starts | BK black | supply + from siren | joined to SOUNDERS-1: BK black; Sounder (Hall), terminal +; joined to SOUNDERS-2: BK black |",
    ] {
        assert!(hall.contains(row), "{row} in\n{hall}");
    }
}
