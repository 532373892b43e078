//! What the monitoring service is told: the rows of its list that differ.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Serialize;

use super::super::sheet_lines::{self, Difference, Line};
use super::super::zone_descriptions::lines::{self, ZONES};
use super::Sides;
use super::place::Step;
use crate::model::Site;

/// A line of the list that differs.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ServiceLine {
    /// The table of the list: "Zones", "Events", …
    pub(crate) list: &'static str,
    /// The zone's number; of another table, what names the line.
    pub(crate) zone: String,
    /// "new", "gone" or "changed".
    pub what: &'static str,
    /// What the service has: of a zone the whole line, else the columns that differ; empty where the line is new.
    pub(crate) old: String,
    /// What it should have; empty where the line is gone.
    pub(crate) new: String,
}

/// Whether somebody gets the signals of the house.
pub(crate) fn is_kept(sides: &Sides<'_>) -> bool {
    [&sides.old.site, &sides.new.site].iter().any(|site| reaches(site))
}

fn reaches(site: &Site) -> bool {
    site.monitoring.is_some() || !site.communicators.is_empty()
}

/// Before anything is opened or tried.
pub(crate) fn on_test() -> Step {
    Step::new("isolate", "Tell the monitoring service that the whole system is on test, and until when")
}

/// After everything has been tried.
pub(crate) fn off_test() -> Step {
    Step::new("walk-test", "Tell the monitoring service that the work is done, and take the system off test")
}

/// The rows of its list that differ, where both revisions reach it. A row is known by what the service knows: a zone with
/// another number is another zone.
pub(super) fn differences(sides: &Sides<'_>) -> Vec<Difference> {
    if !(reaches(&sides.old.site) && reaches(&sides.new.site)) {
        return Vec::new();
    }
    sheet_lines::differences(lines::lines(sides.old), lines::lines(sides.new), &BTreeMap::new())
}

/// What to tell it; none where there is no service.
pub(crate) fn lines(sides: &Sides<'_>, differences: &[Difference]) -> Vec<ServiceLine> {
    let whole = |what, old: &str, new: &str| {
        let (old, new) = (old.to_owned(), new.to_owned());
        vec![ServiceLine { list: "The whole list", zone: String::new(), what, old, new }]
    };
    match (reaches(&sides.old.site), reaches(&sides.new.site)) {
        (false, true) => whole("new", "", "all of the zone descriptions of this revision"),
        (true, false) => whole("gone", "all of the zone descriptions that it has", ""),
        (true, true) | (false, false) => differences.iter().filter_map(line).collect(),
    }
}

fn line(difference: &Difference) -> Option<ServiceLine> {
    let named = difference.line()?;
    let whole = |line: &Option<Line>| line.as_ref().map(all).unwrap_or_default();
    let (what, old, new) = match (&difference.old, &difference.new) {
        (None, _) => ("new", String::new(), whole(&difference.new)),
        (_, None) => ("gone", whole(&difference.old), String::new()),
        (Some(_), Some(_)) if named.list == ZONES => ("changed", whole(&difference.old), whole(&difference.new)),
        (Some(_), Some(_)) => {
            let columns = difference.columns();
            let side = |of: fn(&(&'static str, &str, &str)) -> String| {
                let cells = columns.iter().map(|column| format!("{} {}", column.0, of(column)).trim().to_owned());
                cells.collect::<Vec<_>>().join(" · ")
            };
            ("changed", side(|column| column.1.to_owned()), side(|column| column.2.to_owned()))
        }
    };
    Some(ServiceLine { list: named.list, zone: named.said.clone(), what, old, new })
}

/// All that is in a line; the heads of a zone's columns are known.
fn all(line: &Line) -> String {
    if line.list != ZONES {
        return line.words().join(" · ");
    }
    let cells = line.cells.iter().map(|(_, cell)| cell.clone()).filter(|cell| !cell.is_empty());
    cells.collect::<Vec<_>>().join(" · ")
}
