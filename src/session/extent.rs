//! How much a site holds, for who is told that nothing was found in it.

use serde::Serialize;

use super::{Made, Outcome, read};
use crate::base::wording::{count, list};
use crate::model::Site;
use crate::resolve::load::FileSource;

/// How many things a site has that rules look at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Extent {
    zones: usize,
    openings: usize,
    boards: usize,
    buses: usize,
    circuits: usize,
    runs: usize,
    devices: usize,
}

impl Extent {
    fn of(site: &Site) -> Self {
        Self {
            zones: site.zones.iter().count(),
            openings: site.openings.iter().count(),
            boards: site.boards.iter().count(),
            buses: site.buses.iter().count(),
            circuits: site.circuits.iter().count(),
            runs: site.runs.iter().count(),
            devices: site.devices.iter().count(),
        }
    }
}

/// `"2 zones, 1 board and 3 runs of cable"`.
impl std::fmt::Display for Extent {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self { zones, openings, boards, buses, circuits, runs, devices } = *self;
        let kinds = [
            (zones, "zone", None),
            (openings, "opening", None),
            (boards, "board", None),
            (buses, "bus", Some("buses")),
            (circuits, "circuit", None),
            (runs, "run of cable", Some("runs of cable")),
            (devices, "device", None),
        ];
        let some: Vec<String> =
            kinds.into_iter().filter(|kind| kind.0 > 0).map(|(number, one, many)| count(number, one, many)).collect();
        if some.is_empty() { f.write_str("nothing to look at") } else { f.write_str(&list(&some, "and")) }
    }
}

/// Reads and checks a site, and tells how much it holds; `None` where there is no site.
pub fn extent(files: &dyn FileSource) -> (Outcome, Option<Extent>) {
    match read(files) {
        Ok(made) => {
            let extent = Extent::of(&made.compiled.site);
            (Made::outcome(made), Some(extent))
        }
        Err(outcome) => (*outcome, None),
    }
}
