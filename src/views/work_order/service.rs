//! The changed lines of the zone list that the monitoring service has.

use std::collections::{BTreeMap, BTreeSet};

use schemars::JsonSchema;
use serde::Serialize;

use super::super::zone_descriptions;
use super::Sides;
use super::place::Step;
use crate::compiled::Compiled;

/// A line of the list that differs.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ServiceLine {
    /// The zone's number.
    pub(crate) zone: String,
    /// "new", "gone" or "changed".
    pub what: &'static str,
    /// The line that the service has; empty where the zone is new.
    pub(crate) old: String,
    /// The line that it should have; empty where the zone is gone.
    pub(crate) new: String,
}

/// Whether somebody gets the signals of the house.
pub(crate) fn is_kept(sides: &Sides<'_>) -> bool {
    [&sides.old.site, &sides.new.site].iter().any(|site| site.monitoring.is_some() || !site.communicators.is_empty())
}

/// Before anything is opened or tried.
pub(crate) fn on_test() -> Step {
    Step::new("isolate", "Tell the monitoring service that the whole system is on test, and until when")
}

/// After everything has been tried.
pub(crate) fn off_test() -> Step {
    Step::new("walk-test", "Tell the monitoring service that the work is done, and take the system off test")
}

/// The columns of the list that the service keeps: description on its form, area, code, meaning, handling.
const COLUMNS: [&str; 5] = ["description on the form", "area title", "event code", "meaning", "handling"];

/// The lines that differ, by zone number; none where the site has no monitoring.
pub(crate) fn lines(sides: &Sides<'_>) -> Vec<ServiceLine> {
    if sides.new.site.monitoring.is_none() && sides.old.site.monitoring.is_none() {
        return Vec::new();
    }
    let (old, new) = (list(sides.old), list(sides.new));
    let numbers: BTreeSet<&u32> = old.keys().chain(new.keys()).collect();
    let line = |number: &u32| {
        let (was, is) = (old.get(number), new.get(number));
        let what = match (was, is) {
            (None, _) => "new",
            (_, None) => "gone",
            (Some(was), Some(is)) if was != is => "changed",
            _ => return None,
        };
        let words = |line: Option<&Vec<String>>| line.map(|cells| cells.join(" · ")).unwrap_or_default();
        Some(ServiceLine { zone: number.to_string(), what, old: words(was), new: words(is) })
    };
    numbers.into_iter().filter_map(line).collect()
}

/// The list of one revision: zone → its cells that are not empty.
fn list(compiled: &Compiled) -> BTreeMap<u32, Vec<String>> {
    let Some(make) = zone_descriptions::DOCUMENT.table else { return BTreeMap::new() };
    let table = make(compiled);
    let place = |name: &str| table.columns.iter().position(|column| *column == name);
    let columns: Vec<usize> = COLUMNS.iter().filter_map(|name| place(name)).collect();
    let number = place("zone").unwrap_or_default();
    let row = |row: &Vec<String>| {
        let cells = columns.iter().filter_map(|column| row.get(*column)).filter(|cell| !cell.is_empty());
        Some((row.get(number)?.parse().ok()?, cells.cloned().collect()))
    };
    // A zone's own event stands before what else it reports.
    let mut list = BTreeMap::new();
    for (zone, cells) in table.rows.iter().filter_map(row) {
        list.entry(zone).or_insert(cells);
    }
    list
}
