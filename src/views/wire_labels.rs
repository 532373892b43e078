//! Wire-label list: the text for both ends of every cable.
//!
//! The first line is the cable's label, the same on both ends; the second says where the other end is. Cables are
//! grouped by the place they start at, which is where the coils stand while the labels are put on.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;
use serde_json::Value;

use super::abbreviate::abbreviate;
use super::natural::natural;
use super::{Document, Orientation, Reader, Table, View, cable_marks, riser, value};
use crate::compiled::Compiled;
use crate::model::{Mounted, Owner, Run, Site};
use crate::quantity::print;
use crate::register::{Cable, DeadCable, End, Place};
use crate::template;
use crate::words::{self, Paper};

/// Characters of one line of a wrap label.
const LINE: usize = 18;

/// Characters that a line has for the place, after "from ".
const PLACE: usize = LINE - 5;

/// The second line on both ends of a dead cable.
const DEAD: &str = "DEAD";

/// The wire-label list.
pub(crate) static DOCUMENT: Document = Document {
    name: "wire-labels",
    title: "Wire-label list",
    readers: &[Reader::Electrician, Reader::Installer],
    about: "the text for both ends of each cable, its type, length and way",
    orientation: Orientation::Landscape,
    template: template!("wire-labels"),
    view: View::Plain(view),
    table: Some(table),
};

#[derive(Serialize)]
struct Labels {
    total: String,
    groups: Vec<Group>,
    dead: Vec<DeadLine>,
}

/// A dead cable, which keeps its label.
#[derive(Serialize)]
struct DeadLine {
    /// The place of its row, and that of its label in the riser, where it is there.
    mark: String,
    drawn: Option<String>,
    label: String,
    from: String,
    to: String,
    kind: String,
    because: String,
    ends: &'static str,
}

#[derive(Serialize)]
struct Group {
    place: String,
    cables: Vec<Line>,
}

/// A cable with its two labels.
#[derive(Clone, Serialize)]
struct Line {
    /// The place of its row, and that of its label in the riser.
    mark: String,
    drawn: String,
    label: String,
    near: String,
    far: String,
    kind: String,
    /// That it was in the wall before.
    existing: bool,
    length: String,
    from: String,
    to: String,
    way: String,
}

fn view(compiled: &Compiled) -> Value {
    let lines = lines(compiled);
    let total = crate::base::wording::count(lines.len() * 2, "label", None);
    let mut groups: Vec<Group> = Vec::new();
    for line in lines {
        match groups.last_mut() {
            Some(group) if group.place == line.from => group.cables.push(line),
            _ => groups.push(Group { place: line.from.clone(), cables: vec![line] }),
        }
    }
    value(&Labels { total, groups, dead: dead(compiled) })
}

/// The dead cables: what lies in the wall keeps a label, or the next person believes it to be in use.
fn dead(compiled: &Compiled) -> Vec<DeadLine> {
    let Compiled { site, wiring, .. } = compiled;
    let at = |cable: &DeadCable, end: End| match cable.place(end) {
        Place::Board(board) => Paper.board(site, board),
        Place::Room(Some(room)) => words::room(site, Some(room)),
        Place::Room(None) => "not written down".to_owned(),
    };
    let line = |(nth, cable): (usize, &DeadCable)| DeadLine {
        mark: cable_marks::dead_row(nth),
        drawn: riser::has_dead(cable).then(|| cable_marks::dead_in_riser(nth)),
        label: cable.label.clone(),
        from: at(cable, End::Near),
        to: at(cable, End::Far),
        kind: words::dead_kind(site, cable),
        because: cable.because.clone(),
        ends: words::dead_end(cable),
    };
    wiring.dead.iter().enumerate().map(line).collect()
}

/// One row a label, two rows a cable.
fn table(compiled: &Compiled) -> Table {
    let columns =
        vec!["line 1", "line 2", "end", "at", "other end at", "cable type", "length", "route and passes", "state"];
    let mut rows = Vec::new();
    for line in lines(compiled) {
        let Line { mark: _, drawn: _, label, near, far, kind, existing, length, from, to, way } = line;
        let state = if existing { "in use, existing" } else { "in use" };
        let ends = [("near", near, from.clone(), to.clone()), ("far", far, to, from)];
        for (end, second, here, there) in ends {
            rows.push(vec![
                label.clone(),
                second,
                end.to_owned(),
                here,
                there,
                kind.clone(),
                length.clone(),
                way.clone(),
                state.to_owned(),
            ]);
        }
    }
    for line in dead(compiled) {
        let DeadLine { label, from, to, kind, .. } = line;
        for (end, here, there) in [("near", &from, &to), ("far", &to, &from)] {
            let cells = [&label, DEAD, end, here, there, &kind, "", "", "dead"];
            rows.push(cells.map(str::to_owned).to_vec());
        }
    }
    Table { columns, rows }
}

/// Every cable, by the place it starts at, then by label.
fn lines(compiled: &Compiled) -> Vec<Line> {
    let Compiled { site, wiring, .. } = compiled;
    let places: BTreeSet<String> =
        wiring.cables.iter().flat_map(|cable| [words::start(site, cable.run), far_place(site, cable)]).collect();
    let short = abbreviate(&places, PLACE);
    let mut lines: Vec<Line> =
        wiring.cables.iter().enumerate().map(|(at, cable)| line(site, at, cable, &short)).collect();
    lines.sort_by(|a, b| natural(&a.from, &b.from).then_with(|| natural(&a.label, &b.label)));
    lines
}

fn line(site: &Site, at: usize, cable: &Cable, short: &BTreeMap<String, String>) -> Line {
    let run = &site.runs[cable.run];
    let (near, far) = (words::start(site, cable.run), far_place(site, cable));
    let shorten = |place: &str| short.get(place).cloned().unwrap_or_default();
    Line {
        mark: cable_marks::row(at),
        drawn: cable_marks::in_riser(at),
        label: cable.label.clone(),
        near: format!("to {}", shorten(&far)),
        far: format!("from {}", shorten(&near)),
        kind: site.cables[cable.kind].described(),
        existing: run.existing,
        length: run.length.as_ref().map(|length| print::length(length.value, site.lengths)).unwrap_or_default(),
        from: words::in_room(&near, &words::room(site, site.start_room(cable.run))),
        to: words::in_room(&far, &words::room(site, run.room)),
        way: way(run),
    }
}

/// The place where a cable ends; where that is the room it starts in, what it ends at.
pub(crate) fn far_place(site: &Site, cable: &Cable) -> String {
    if let Owner::Transformer(_) = site.runs[cable.run].owner {
        return "transformer".to_owned();
    }
    let place = words::end(site, cable.run);
    if place != words::start(site, cable.run) {
        return place;
    }
    let ended = site.runs[cable.run].mounted.iter().find_map(Mounted::device);
    let opening = |device| site.devices[device].opening.as_ref().map(|at| site.openings[at.value].title.clone());
    ended.map_or(place, |device| opening(device).unwrap_or_else(|| Paper.device(site, device)))
}

fn way(run: &Run) -> String {
    run.route.clone().into_iter().chain(words::passes(run)).collect::<Vec<_>>().join("; ")
}
