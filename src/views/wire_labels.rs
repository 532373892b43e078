//! Wire-label list: the text for both ends of every cable.
//!
//! The first line is the cable's label, the same on both ends; the second says where the other end is. Cables are
//! grouped by the place they start at, which is where the coils stand while the labels are put on.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;
use serde_json::Value;

use super::abbreviate::abbreviate;
use super::natural::natural;
use super::{Document, Table, value, words};
use crate::compiled::Compiled;
use crate::model::{Device, Mounted, Run, Site};
use crate::quantity::print;
use crate::register::Cable;
use crate::template;

/// Characters of one line of a wrap label.
const LINE: usize = 18;

/// Characters that a line has for the place, after "from ".
const PLACE: usize = LINE - 5;

/// The wire-label list.
pub static DOCUMENT: Document = Document {
    name: "wire-labels",
    title: "Wire-label list",
    about: "for whoever pulls the cables: the text for both ends of each, its type, length and way",
    template: template!("wire-labels"),
    view,
    table: Some(table),
};

#[derive(Serialize)]
struct Labels {
    total: String,
    groups: Vec<Group>,
}

#[derive(Serialize)]
struct Group {
    place: String,
    cables: Vec<Line>,
}

/// A cable with its two labels.
#[derive(Clone, Serialize)]
struct Line {
    label: String,
    near: String,
    far: String,
    kind: String,
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
    value(&Labels { total, groups })
}

/// One row a label, two rows a cable.
fn table(compiled: &Compiled) -> Table {
    let columns = vec!["line 1", "line 2", "end", "at", "other end at", "cable type", "length", "route and passes"];
    let mut rows = Vec::new();
    for line in lines(compiled) {
        let Line { label, near, far, kind, length, from, to, way } = line;
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
            ]);
        }
    }
    Table { columns, rows }
}

/// Every cable, by the place it starts at, then by label.
fn lines(compiled: &Compiled) -> Vec<Line> {
    let Compiled { site, wiring, .. } = compiled;
    let places: BTreeSet<String> =
        wiring.cables.iter().flat_map(|cable| [near_place(site, cable), far_place(site, cable)]).collect();
    let short = abbreviate(&places, PLACE);
    let mut lines: Vec<Line> = wiring.cables.iter().map(|cable| line(site, cable, &short)).collect();
    lines.sort_by(|a, b| natural(&a.from, &b.from).then_with(|| natural(&a.label, &b.label)));
    lines
}

fn line(site: &Site, cable: &Cable, short: &BTreeMap<String, String>) -> Line {
    let run = &site.runs[cable.run];
    let (near, far) = (near_place(site, cable), far_place(site, cable));
    let shorten = |place: &str| short.get(place).cloned().unwrap_or_default();
    Line {
        label: cable.label.clone(),
        near: format!("to {}", shorten(&far)),
        far: format!("from {}", shorten(&near)),
        kind: site.cables[cable.kind].title.clone(),
        length: run.length.as_ref().map(|length| print::length(length.value, site.lengths)).unwrap_or_default(),
        from: with_room(&near, &words::room(site, words::near_room(site, cable.run))),
        to: with_room(&far, &words::room(site, run.room)),
        way: way(run),
    }
}

/// The board at which a cable starts, or the room where the cable before it ends.
fn near_place(site: &Site, cable: &Cable) -> String {
    let home = words::home(site, cable.run).filter(|_| site.runs[cable.run].upstream.is_none());
    match home {
        Some(board) => words::board(site, board),
        None => site.runs[cable.run].upstream.map(|run| end_of(site, &site.runs[run])).unwrap_or_default(),
    }
}

/// The place where a cable ends; where that is the room it starts in, what it ends at.
fn far_place(site: &Site, cable: &Cable) -> String {
    let run = &site.runs[cable.run];
    let place = end_of(site, run);
    if place != near_place(site, cable) {
        return place;
    }
    let device = |item: &Mounted| if let Mounted::Device(device) = item { Some(&site.devices[*device]) } else { None };
    let opening = |device: &Device| device.opening.as_ref().map(|opening| site.openings[opening.value].title.clone());
    let ended = run.mounted.iter().find_map(device);
    ended.map_or(place, |device| opening(device).unwrap_or_else(|| device.title.clone()))
}

/// The first board at a run's far end, else its room.
fn end_of(site: &Site, run: &Run) -> String {
    let board = run.mounted.iter().find_map(|item| if let Mounted::Board(board) = item { Some(*board) } else { None });
    board.map_or_else(|| words::room(site, run.room), |board| words::board(site, board))
}

fn with_room(place: &str, room: &str) -> String {
    if room.is_empty() || place.to_lowercase().contains(&room.to_lowercase()) {
        return place.to_owned();
    }
    format!("{place} ({room})")
}

fn way(run: &Run) -> String {
    let passes = run.passes.as_ref().map(|passage| format!("passes {}", passage.value.word().replace('-', " ")));
    run.route.clone().into_iter().chain(passes).collect::<Vec<_>>().join("; ")
}
