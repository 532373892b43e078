//! Label sheets: the labels of the wire-label list, to be printed on paper with labels.
//!
//! In the order of that list, the labels of a cable next to each other; the paper is told by its millimetres. On the screen the page
//! says first how to print it; on paper stands nothing but labels. Out of scope: what stands on a label (`labels`).

use serde::Serialize;
use serde_json::Value;

use super::wire_labels;
use super::{Document, Drawings, Orientation, Shown, Table, View, parts, value};
use crate::base::wording::count;
use crate::compiled::Compiled;
use crate::draw::label_sheet::{self, Grid, Label};
use crate::labels::{self, Labels, sheet};
use crate::template;

/// The label sheets.
pub(crate) static DOCUMENT: Document = Document {
    name: "label-sheets",
    title: "Label sheets",
    about: "the labels of all cables, to be printed on paper with labels",
    orientation: Orientation::Exact,
    template: template!("label-sheets"),
    view: View::Drawn(view),
    table: Some(table),
};

#[derive(Serialize)]
struct Sheet {
    labels: String,
    pages: String,
    grid: String,
    used: String,
    drawings: Vec<Shown>,
    /// Those that have no room on the paper.
    large: Vec<String>,
    cables: Vec<Line>,
}

/// A cable with its labels; no far one where that end was not found.
#[derive(Serialize)]
struct Line {
    label: String,
    near: String,
    far: String,
}

fn view(compiled: &Compiled, drawings: &mut Drawings) -> Value {
    let site = &compiled.site;
    let grid = sheet::grid(site);
    let cables = by_cable(compiled);
    let (printed, large): (Vec<&[Label]>, Vec<_>) =
        cables.iter().map(Vec::as_slice).partition(|labels| labels.iter().all(|label| grid.holds(label)));
    let scenes = label_sheet::draw(&grid, &printed, sheet::used(site));
    let used = sheet::used(site);
    let line = |labels: &Vec<Label>| {
        let mut ends = labels.iter().map(|Label([_, end])| end.clone());
        let (near, far) = (ends.next().unwrap_or_default(), ends.next().unwrap_or_default());
        Line { label: name(labels), near, far }
    };
    value(&Sheet {
        labels: count(printed.iter().map(|labels| labels.len()).sum(), "label", None),
        pages: count(scenes.len(), "sheet", None),
        grid: said(&grid),
        used: if (1..grid.count()).contains(&used) { count(used, "label", None) } else { String::new() },
        drawings: drawings.show(parts("label-sheet", "Labels", &said(&grid), scenes)),
        large: large.into_iter().map(name).collect(),
        cables: cables.iter().map(line).collect(),
    })
}

/// The first line of a cable's labels.
fn name(labels: &[Label]) -> String {
    labels.first().map(|Label([name, _])| name.clone()).unwrap_or_default()
}

/// One row a label, in the order of printing: what a printer of labels takes.
fn table(compiled: &Compiled) -> Table {
    let row = |(Label([label, line]), end): (Label, &str)| vec![label, line, end.to_owned()];
    let rows = by_cable(compiled).into_iter().flat_map(|labels| labels.into_iter().zip(["near", "far"]).map(row));
    Table { columns: vec!["line 1", "line 2", "end"], rows: rows.collect() }
}

/// How many labels all cables take.
pub(crate) fn count_of(compiled: &Compiled) -> usize {
    by_cable(compiled).iter().map(Vec::len).sum()
}

/// The labels of every cable in the order of pulling, those of dead ones last.
fn by_cable(compiled: &Compiled) -> Vec<Vec<Label>> {
    let labels = Labels::of(&compiled.site, &compiled.wiring);
    let in_use = wire_labels::in_order_of_pulling(compiled, &labels).into_iter().map(|cable| labels.each(cable));
    in_use.chain(compiled.wiring.dead.iter().map(labels::of_dead)).collect()
}

/// The grid in words.
fn said(grid: &Grid) -> String {
    let Grid { paper, columns, rows, label, corner, pitch, printed, coded: _ } = grid;
    let zone = printed.map(|zone| format!(", of which the upper {zone} mm are printed")).unwrap_or_default();
    format!(
        "{columns} by {rows} labels on paper of {} by {} mm: each {} by {} mm{zone}; the first {} mm from the left and {} mm from the top, from one to the next {} mm across and {} mm down",
        paper.width, paper.height, label.width, label.height, corner.x, corner.y, pitch.width, pitch.height
    )
}
