//! A site in one row, for who keeps many: what was found, how near their edges its loops, supplies and batteries are, and
//! what comes due first. No clock: a day that has passed is for the reader to see.

pub(crate) mod rules;
pub(crate) mod summary;

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::{Table, upkeep};
use crate::base::Id;
use crate::calc::band::Reading;
use crate::calc::power::standby::{self, Bank, Requirement};
use crate::compiled::Compiled;
use crate::diag::{Counts, Diagnostic};
use crate::model::Zone;
use crate::profiles::standby as profile;
use crate::words::{self, Paper};
use rules::Found;

/// The columns of a portfolio.
pub(crate) const COLUMNS: [&str; 15] = [
    "folder",
    "site",
    "errors",
    "warnings",
    "notes",
    "accepted",
    "next due",
    "what is due",
    "battery",
    "least spare of a supply",
    "tightest loop",
    "zones",
    "cables",
    "title",
    "revision",
];

/// Before which of them stands what changed, where that is asked for.
const CHANGED: usize = 6;

/// What a portfolio keeps of a site: what was found and what is to spare, wherever the site lies.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Kept {
    /// How much was found.
    pub(crate) counts: Counts,
    /// The site's name; empty where it could not be read.
    name: String,
    /// The cells from "next due" on.
    known: [String; 9],
    /// How near their edges battery, supply and loop are, to sort sites by.
    edges: [Option<Edge>; 3],
    /// What was found, by the slug of the rule.
    found: BTreeMap<String, Found>,
}

/// How near its edge something is. What is judged by other figures is not held against it, and comes later.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
struct Edge {
    later: bool,
    /// The bits of a figure: text keeps them exactly, whatever the figure is.
    figure: u64,
}

impl Edge {
    fn new(figure: f64) -> Self {
        Self { later: false, figure: figure.to_bits() }
    }

    fn nearer(&self, other: &Self) -> std::cmp::Ordering {
        let [one, two] = [self, other].map(|edge| f64::from_bits(edge.figure));
        self.later.cmp(&other.later).then(one.total_cmp(&two))
    }
}

/// A site in its folder.
#[derive(Clone, Debug)]
pub(crate) struct Placed {
    /// The folder as the user named it.
    pub(crate) folder: String,
    /// What became of the site since an earlier revision, where one is asked for.
    pub(crate) changed: Option<String>,
    /// What is kept of the site.
    pub(crate) kept: Kept,
}

impl Kept {
    /// What is kept of a site; of one that could not be read, only what was found.
    pub(crate) fn of(diagnostics: &[Diagnostic], compiled: Option<&Compiled>) -> Self {
        let (known, edges) = compiled.map(known).unwrap_or_default();
        Self {
            counts: Counts::of(diagnostics),
            name: compiled.map(|compiled| compiled.site.name.value.clone()).unwrap_or_default(),
            known,
            edges,
            found: rules::found(diagnostics),
        }
    }
}

/// A row for each site, with a column for what changed where that is known.
pub(crate) fn table(sites: &[Placed]) -> Table {
    let mut columns = COLUMNS.to_vec();
    let (before, after) = columns.split_at(CHANGED.min(columns.len()));
    if sites.iter().any(|site| site.changed.is_some()) {
        columns = [before, &["changed"], after].concat();
    }
    Table { columns, rows: sites.iter().map(row).collect() }
}

fn row(Placed { folder, changed, kept }: &Placed) -> Vec<String> {
    let Counts { errors, warnings, notes, accepted } = kept.counts;
    let counted = [errors, warnings, notes, accepted].map(|count| count.to_string());
    let before = [folder.clone(), kept.name.clone()].into_iter().chain(counted);
    before.chain(changed.clone()).chain(kept.known.clone()).collect()
}

/// The cells from "next due" on, and how near their edges battery, supply and loop are.
fn known(compiled: &Compiled) -> ([String; 9], [Option<Edge>; 3]) {
    let Compiled { site, wiring, .. } = compiled;
    let (day, what) = next_due(compiled).unwrap_or_default();
    let near = [battery(compiled), supply(compiled), tightest(compiled)];
    let edges = near.each_ref().map(|found| found.as_ref().map(|(edge, _)| *edge));
    let [battery, supply, tightest] = near.map(|found| found.map(|(_, text)| text).unwrap_or_default());
    let cells = [
        day,
        what,
        battery,
        supply,
        tightest,
        site.zones_in_use().count().to_string(),
        wiring.cables.len().to_string(),
        site.title.clone(),
        site.revision.as_ref().map(|revision| revision.mark.clone()).unwrap_or_default(),
    ];
    (cells, edges)
}

/// The first day on which something is due, and all that is due on it, but for the household's own test; what is of an age that nobody
/// knows may be due before, and is counted.
fn next_due(compiled: &Compiled) -> Option<(String, String)> {
    let entries: Vec<_> = upkeep::entries(compiled).into_iter().filter(|entry| entry.key != upkeep::TEST).collect();
    let undated = entries.iter().filter(|entry| entry.due.is_none() && !entry.life.is_empty()).count();
    let mut due: Vec<_> = entries.into_iter().filter_map(|entry| Some((entry.due?, entry.title))).collect();
    due.sort();
    let day = due.first().map(|(day, _)| *day);
    let mut what: Vec<String> =
        due.into_iter().take_while(|(other, _)| Some(*other) == day).map(|(_, what)| what).collect();
    if undated > 0 {
        what.push(format!("{undated} of an age that is not known"));
    }
    (!what.is_empty()).then(|| (day.map(|day| day.to_string()).unwrap_or_default(), what.join("; ")))
}

/// The battery with the least of what the profile asks for.
fn battery(compiled: &Compiled) -> Option<(Edge, String)> {
    let site = &compiled.site;
    let requirement = Requirement::from(profile::of_site(site));
    let counted = site.boards.entries().filter(|(id, _)| standby::is_counted(site, *id));
    let shares = counted.filter_map(|(id, _)| {
        let capacity = Bank::of(site, id)?.capacity;
        let asked = requirement.asked(standby::currents(site, &compiled.power, id));
        (asked.0 > 0.0).then_some((capacity.0 / asked.0, id, capacity, asked))
    });
    let (share, board, capacity, asked) = shares.min_by(|(one, ..), (other, ..)| one.total_cmp(other))?;
    Some((
        Edge::new(share),
        format!("{}: {capacity}, asked for {}", Paper.board(site, board), words::needed_capacity(asked)),
    ))
}

/// The output or port that leaves the least share of its limit.
fn supply(compiled: &Compiled) -> Option<(Edge, String)> {
    let feedings = compiled.power.feedings.iter();
    let shares = feedings.flat_map(|feeding| {
        feeding.limits().map(move |(node, limit)| (feeding.spare(node, limit), feeding.tree.outlet_of(node)))
    });
    let (spare, source) = shares.min_by(|(one, _), (other, _)| one.total_cmp(other))?;
    let text = format!("{}: {}", Paper.source(&compiled.site, source), words::share(spare, 100.0));
    Some((Edge::new(spare), text))
}

/// The loop with the least margin in any state: in volts, where a board judges by volts.
fn tightest(compiled: &Compiled) -> Option<(Edge, String)> {
    let readings =
        || compiled.loops.iter().flat_map(|(zone, loops)| loops.states.iter().map(move |state| (*zone, state.reading)));
    let least = |in_ohms: bool| {
        let of_kind = readings().filter(|(_, reading)| reading.in_ohms == in_ohms && reading.margin.is_some());
        let margin = |(_, reading): &(Id<Zone>, Reading)| reading.margin.unwrap_or(f64::INFINITY);
        of_kind.min_by(|one, other| margin(one).total_cmp(&margin(other)))
    };
    let (zone, reading) = least(false).or_else(|| least(true))?;
    let edge = Edge { later: reading.in_ohms, ..Edge::new(reading.margin.unwrap_or(f64::INFINITY)) };
    Some((edge, format!("zone {}: {}", compiled.site.zones[zone].number.value, words::margin(reading))))
}
