//! Every end of every conductor has one row of the terminal schedule.

use std::collections::BTreeMap;

use loopwright::compiled::Compiled;
use loopwright::views::DOCUMENTS;

use super::sites::{FULL, empty_site, full_site, hostile_site, of_files, schedule, site};
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
    for cable in &site.wiring.cables {
        if let Some(shield) = &site.site.cables[cable.kind].shield {
            for end in ["near", "far"] {
                wanted.insert((cable.label.clone(), format!("{shield:?}").to_lowercase(), end.to_owned()), 1);
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
    let schedule = schedule(&four_way_joint());
    let hall = schedule.split("## Hall, ").nth(1).unwrap();
    for row in [
        "| **SOUNDERS-1** | BK black | supply + from siren | Sounder (Hall), terminal +; joined to SOUNDERS-2: BK black, SOUNDERS-3: BK black |",
        "| **SOUNDERS-2** starts | BK black | supply + from siren | joined to SOUNDERS-1: BK black; Sounder (Hall), terminal +; joined to SOUNDERS-3: BK black |",
        "| **SOUNDERS-3** starts | BK black | supply + from siren | joined to SOUNDERS-1: BK black; Sounder (Hall), terminal +; joined to SOUNDERS-2: BK black |",
    ] {
        assert!(hall.contains(row), "{row} in\n{hall}");
    }
}

/// A loop passes the terminals of a contact across its pair as its supply does: a tail teed to it is not watched.
#[test]
fn a_loop_passes_the_terminals_of_a_contact_across_its_pair() {
    let mill = of_files(&AlderMill::new().files());
    let schedule = schedule(&mill);
    for row in [
        "| **I13** | Z13 | BU blue | zone 13 loop, out | Smoke, hall (Front hall), alarm terminal; with Z13-2: BU blue under the same terminal |",
        "| Z13 | BU blue, WH white | zone 13 loop | BU with Z13-2: BU blue under Smoke, hall (Front hall), alarm terminal; WH with Z13-2: WH white under its other alarm terminal |",
        "| Z13-2 starts | BU blue, WH white | zone 13 loop | BU with Z13: BU blue under Smoke, hall (Front hall), alarm terminal; WH with Z13: WH white under its other alarm terminal |",
        "| Z13-3 | BU blue, WH white | zone 13 loop | across BU and WH: Smoke, parlour: alarm; from those terminals BU → Supply relay, parlour: alarm → resistor",
        // A contact in series has one conductor on each side.
        "| **Z30-2** starts | GN green, WH white | zone 30 loop | GN joined to Surface reed contact, Workshop window, south: alarm",
    ] {
        assert!(schedule.contains(row), "{row} in\n{schedule}");
    }
    let document = DOCUMENTS.iter().find(|document| document.name == "terminal-schedule").unwrap();
    let table = (document.table.unwrap())(&mill);
    let under = "BU with Z13: BU blue under Smoke, hall (Front hall), alarm terminal; WH with Z13: WH white under its other alarm terminal";
    assert_eq!(table.rows.iter().filter(|row| row.iter().any(|cell| cell == under)).count(), 2);
}

/// One conductor is under one screw; the next device at its place has a short wire from there.
#[test]
fn a_conductor_is_under_one_screw() {
    let schedule = schedule(&of_files(&AlderMill::new().files()));
    for row in [
        "| **Z13-3** | RD red | supply + from fire | Smoke, parlour, terminal +; from there a short wire to Supply relay, parlour, terminal + |",
        "| Z20 | BK black | supply − from aux | Motion, landing, terminal -; from there a short wire to Carbon monoxide, landing, terminal - |",
    ] {
        assert!(schedule.contains(row), "{row} in\n{schedule}");
    }
}
