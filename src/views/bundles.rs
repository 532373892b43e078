//! Bundles and holes: which cables set out on one way, how thick they are together, and the hole that they ask for.
//!
//! For whoever drills. A bundle is what `calc/bundle` finds; the limits are those of the safety notes. Of cable without a
//! diameter nothing is computed, and the sheet says so. Out of scope: notches, engineered timber, masonry.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;
use serde_json::Value;

use super::natural::natural;
use super::{Document, Orientation, Table, View, value};
use crate::base::Id;
use crate::base::wording::list;
use crate::calc::bundle::{self, By, Way};
use crate::calc::hole::{self, Timber};
use crate::compiled::Compiled;
use crate::model::{CableType, Conduit, Run, Site};
use crate::profiles::framing::{BEARING, JOIST, JOIST_EDGE, NONBEARING, PLATE, STUD_EDGE};
use crate::profiles::holes::{self, Drill};
use crate::profiles::raceway;
use crate::quantity::{LengthUnit, Metres};
use crate::template;
use crate::terms::Passage;
use crate::words;

/// The document.
pub(crate) static DOCUMENT: Document = Document {
    name: "bundles",
    title: "Bundles and holes",
    about: "which cables go one way, how thick they are together, which drill they want, and what timber takes the hole",
    orientation: Orientation::Portrait,
    template: template!("bundles"),
    view: View::Plain(view),
    table: Some(table),
};

#[derive(Serialize)]
struct Sheet {
    /// Ways of several cables.
    rows: Vec<Row>,
    /// Cables that go alone, by what they ask for.
    alone: Vec<AloneRow>,
    /// True where a cable needs a hole.
    holes: bool,
    conduits: Vec<ConduitRow>,
    fill_source: String,
    /// Types without a diameter.
    unknown: String,
    drills: Vec<DrillRow>,
    /// Names of the drills in the table of how many.
    heads: Vec<String>,
    many: Vec<ManyRow>,
    limits: Vec<LimitRow>,
    dressed: String,
}

#[derive(Serialize)]
struct Row {
    from: String,
    way: String,
    passes: String,
    cables: String,
    count: String,
    bundle: String,
    hole: String,
    timber: String,
    /// The only cable of its way: its type and its label.
    #[serde(skip)]
    alone: Option<(String, String)>,
}

/// Cables of a type that go alone through the same.
#[derive(Serialize)]
struct AloneRow {
    kind: String,
    bundle: String,
    passes: String,
    hole: String,
    timber: String,
    labels: String,
}

/// A conduit.
#[derive(Serialize)]
struct ConduitRow {
    title: String,
    inside: String,
    cables: String,
    filled: String,
    most: String,
}

/// What timber takes the hole of a drill.
#[derive(Serialize)]
struct DrillRow {
    drill: String,
    bearing: String,
    other: String,
    no_plate: String,
    joist: String,
}

/// How many cables of a type go through one hole of each drill.
#[derive(Serialize)]
struct ManyRow {
    kind: String,
    diameter: String,
    takes: Vec<String>,
}

#[derive(Serialize)]
struct LimitRow {
    figure: String,
    source: String,
}

fn view(compiled: &Compiled) -> Value {
    let site = &compiled.site;
    let drills = holes::drills(site.lengths);
    let kinds: BTreeSet<Id<CableType>> = compiled.wiring.cables.iter().map(|cable| cable.kind).collect();
    let mut kinds: Vec<&CableType> = kinds.into_iter().map(|kind| &site.cables[kind]).collect();
    kinds.sort_by(|one, other| natural(&one.described(), &other.described()));
    let unknown = kinds.iter().filter(|kind| kind.diameter.is_none()).map(|kind| kind.described());
    let limits = [BEARING, NONBEARING, STUD_EDGE, JOIST, JOIST_EDGE, PLATE];
    let shown: Vec<&Drill> = drills.iter().skip(1).step_by(2).take(5).collect();
    let (rows, alone): (Vec<Row>, Vec<Row>) = rows(compiled).into_iter().partition(|row| row.alone.is_none());
    value(&Sheet {
        holes: !rows.is_empty() || !alone.is_empty(),
        rows,
        alone: alone_rows(alone),
        conduits: site.conduits.iter().map(|conduit| conduit_row(compiled, conduit)).collect(),
        fill_source: raceway::most(1).source(),
        unknown: list(&unknown.collect::<Vec<_>>(), "and"),
        drills: drills.iter().map(|drill| drill_row(drill, site.lengths)).collect(),
        heads: shown.iter().map(|drill| drill.name.clone()).collect(),
        many: kinds.iter().filter_map(|kind| many_row(kind, &shown, site.lengths)).collect(),
        limits: limits.iter().map(|limit| LimitRow { figure: limit.figure(), source: limit.source() }).collect(),
        dressed: holes::dressed(),
    })
}

fn table(compiled: &Compiled) -> Table {
    let columns = vec!["from", "way", "passes", "cables", "how many", "bundle", "hole", "of the timber"];
    let row = |row: Row| {
        let Row { from, way, passes, cables, count, bundle, hole, timber, alone: _ } = row;
        vec![from, way, passes, cables, count, bundle, hole, timber]
    };
    Table { columns, rows: rows(compiled).into_iter().map(row).collect() }
}

/// A row a bundle: by the room in which they start, the most cables first.
fn rows(compiled: &Compiled) -> Vec<Row> {
    let site = &compiled.site;
    let mut rows: Vec<(usize, Row)> =
        bundle::bored(site).into_iter().map(|(way, runs)| (runs.len(), row(compiled, &way, &runs))).collect();
    rows.sort_by(|(many, one), (others, other)| {
        natural(&one.from, &other.from).then(others.cmp(many)).then_with(|| natural(&one.cables, &other.cables))
    });
    rows.into_iter().map(|(_, row)| row).collect()
}

fn row(compiled: &Compiled, way: &Way, runs: &[Id<Run>]) -> Row {
    let Compiled { site, wiring, .. } = compiled;
    let mut passages: BTreeMap<Passage, Vec<&str>> = BTreeMap::new();
    for run in runs {
        if let Some(passes) = &site.runs[*run].passes {
            passages.entry(passes.value).or_default().push(words::cable(wiring, *run));
        }
    }
    // A cable may pass more than the others do, farther on its way.
    let of_some = |(passage, labels): (&Passage, &Vec<&str>)| {
        let passage = passage.word().replace('-', " ");
        if labels.len() == runs.len() { passage } else { format!("{passage}: {}", labels.join(", ")) }
    };
    let mut kinds: BTreeMap<Id<CableType>, Vec<&str>> = BTreeMap::new();
    for run in runs {
        if let Some(kind) = &site.runs[*run].cable {
            kinds.entry(kind.value).or_default().push(words::cable(wiring, *run));
        }
    }
    let of_kind = |(kind, labels): (&Id<CableType>, &Vec<&str>)| {
        let mut labels = labels.clone();
        labels.sort_by(|one, other| natural(one, other));
        format!("{} × {}: {}", labels.len(), site.cables[*kind].short(), labels.join(", "))
    };
    let alone = match (runs, kinds.first_key_value()) {
        ([run], Some((kind, _))) => Some((site.cables[*kind].described(), words::cable(wiring, *run).to_owned())),
        ([..], _) => None,
    };
    let way_words = way_words(site, way, runs.first().copied());
    let cables: Option<Vec<Metres>> =
        runs.iter().map(|run| site.cables[site.runs[*run].cable.as_ref()?.value].diameter).collect();
    let timber = passages.keys().find_map(|passage| timber_of(*passage));
    let (bundle, hole, timber) = cables.map_or_else(
        || ("no diameter".to_owned(), String::new(), String::new()),
        |cables| {
            let (hole, timber) = hole_words(&cables, timber, site.lengths);
            (thickness(bundle::diameter(&cables), site.lengths), hole, timber)
        },
    );
    Row {
        from: words::room(site, way.from),
        way: way_words,
        passes: passages.iter().map(of_some).collect::<Vec<_>>().join("; "),
        cables: kinds.iter().map(of_kind).collect::<Vec<_>>().join("; "),
        count: runs.len().to_string(),
        bundle,
        hole,
        timber,
        alone,
    }
}

/// Cables that go alone, those of one type with the same hole in one row.
fn alone_rows(rows: Vec<Row>) -> Vec<AloneRow> {
    let mut alike: Vec<(AloneRow, Vec<String>)> = Vec::new();
    for Row { passes, bundle, hole, timber, alone, .. } in rows {
        let Some((kind, label)) = alone else { continue };
        let is_same = |row: &AloneRow| row.kind == kind && row.passes == passes && row.hole == hole;
        match alike.iter_mut().find(|(row, _)| is_same(row)) {
            Some((_, labels)) => labels.push(label),
            None => {
                alike.push((AloneRow { kind, bundle, passes, hole, timber, labels: String::new() }, vec![label]));
            }
        }
    }
    let mut rows: Vec<AloneRow> = alike
        .into_iter()
        .map(|(row, mut labels)| {
            labels.sort_by(|one, other| natural(one, other));
            AloneRow { labels: labels.join(", "), ..row }
        })
        .collect();
    rows.sort_by(|one, other| natural(&one.kind, &other.kind).then_with(|| natural(&one.passes, &other.passes)));
    rows
}

/// "up the old belt shaft", as it is written of one of the cables that go that way; "to Study".
pub(super) fn way_words(site: &Site, way: &Way, run: Option<Id<Run>>) -> String {
    match &way.by {
        By::Leg(_) => run.and_then(|run| bundle::leg(&site.runs[run])).unwrap_or_default().to_owned(),
        By::To(room, _) => format!("to {}", words::room(site, *room)),
    }
}

fn conduit_row(compiled: &Compiled, conduit: &Conduit) -> ConduitRow {
    let Compiled { site, wiring, .. } = compiled;
    let cables = conduit.cables(site);
    let labels: Vec<&str> = cables.iter().map(|run| words::cable(wiring, *run)).collect();
    let filled = conduit.diameters(site).map(|(known, unknown)| {
        let share = words::share_taken(bundle::filled(&known, conduit.inside.value));
        if unknown > 0 { format!("more than {share}") } else { share.to_string() }
    });
    ConduitRow {
        title: conduit.title.value.clone(),
        inside: thickness(conduit.inside.value, site.lengths),
        cables: labels.join(", "),
        filled: filled.unwrap_or_else(|| "no diameter".to_owned()),
        most: words::share_taken(raceway::most(cables.len()).value).to_string(),
    }
}

/// The timber that is drilled where a cable passes something.
fn timber_of(passage: Passage) -> Option<Timber> {
    match passage {
        Passage::Stud => Some(Timber::Stud),
        Passage::Joist => Some(Timber::Joist),
        Passage::Attic
        | Passage::Plenum
        | Passage::Riser
        | Passage::Outdoors
        | Passage::Underground
        | Passage::Mains
        | Passage::FireWall => None,
    }
}

/// Drill and number of holes, and their share of the timber.
fn hole_words(cables: &[Metres], timber: Option<Timber>, unit: LengthUnit) -> (String, String) {
    let drills = holes::drills(unit);
    let widest = timber.map_or(Metres(f64::INFINITY), Timber::widest);
    let member = |timber: Timber| match timber {
        Timber::Stud => "2×4 stud",
        Timber::Joist => "2×8 joist",
    };
    let Some((count, drill)) = hole::holes(cables, &drills, widest) else {
        let too_wide = match timber {
            Some(timber) if hole::holes(cables, &drills, Metres(f64::INFINITY)).is_some() => {
                format!("too wide for a bearing {} without a plate", member(timber))
            }
            _ => "wider than any here".to_owned(),
        };
        return (too_wide, String::new());
    };
    let several = if count > 1 { format!("{count} × ") } else { String::new() };
    let share =
        |timber: Timber| format!("{:.0} % of a {}", drill.diameter.0 / timber.width().0 * 100.0, member(timber));
    (format!("{several}{}", drill.name), timber.map(share).unwrap_or_default())
}

fn drill_row(drill: &Drill, unit: LengthUnit) -> DrillRow {
    let hole::Needs { bearing, other, no_plate, joist } = hole::needs(drill.diameter);
    let [bearing, other, no_plate, joist] = [bearing, other, no_plate, joist].map(|width| timber(width, unit));
    DrillRow { drill: drill.name.clone(), bearing, other, no_plate, joist }
}

fn many_row(kind: &CableType, drills: &[&Drill], unit: LengthUnit) -> Option<ManyRow> {
    let diameter = kind.diameter?;
    let takes = |drill: &&Drill| match hole::takes(diameter, drill) {
        0 => "–".to_owned(),
        count => count.to_string(),
    };
    let (kind, diameter) = (kind.described(), thickness(diameter, unit));
    Some(ManyRow { kind, diameter, takes: drills.iter().map(takes).collect() })
}

/// The thickness of a cable, bundle or hole: "0.37 in", "9.4 mm".
pub(super) fn thickness(of: Metres, unit: LengthUnit) -> String {
    match unit {
        LengthUnit::Feet => format!("{:.2} in", of.0 / 0.0254),
        LengthUnit::Metres => format!("{:.1} mm", of.0 * 1000.0),
    }
}

/// The width of timber, rounded up so that it is enough: "2.2 in", "55 mm".
fn timber(of: Metres, unit: LengthUnit) -> String {
    match unit {
        LengthUnit::Feet => format!("{:.1} in", (of.0 / 0.0254 * 10.0 - 1e-6).ceil() / 10.0),
        LengthUnit::Metres => format!("{:.0} mm", (of.0 * 1000.0 - 1e-6).ceil()),
    }
}
