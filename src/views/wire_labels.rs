//! Wire-label list: every cable in the order of pulling, with the text for both its ends.
//!
//! Cables are grouped by their board: those that start at it, then those that go on where others end, then those that are in
//! the wall already. Of each, cables that go one way are a *bundle* and come first, the farthest bundle before all; then the
//! others, the farthest first. What goes one way is said by `calc/bundle`, whatever boards its cables belong to: all of it
//! is one stage of pulling.

use std::cmp::Ordering;
use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;
use serde_json::Value;

use super::bundles::way_words;
use super::conduits::Conduits;
use super::natural::natural;
use super::terminal_schedule::in_order;
use super::{Document, Orientation, Table, View, cable_marks, riser, value};
use crate::base::Id;
use crate::base::wording::{count, list};
use crate::calc::bundle::{self, Way};
use crate::compiled::Compiled;
use crate::labels::{DEAD, Ends, Labels};
use crate::model::{Board, Mounted, Owner, Run, Site};
use crate::quantity::print;
use crate::register::{Cable, DeadCable, End, Place};
use crate::template;
use crate::words::{self, Paper};

/// The wire-label list.
pub(crate) static DOCUMENT: Document = Document {
    name: "wire-labels",
    title: "Wire-label list",
    about: "every cable in the order of pulling: the text for both its ends, its type, length and way",
    orientation: Orientation::Portrait,
    template: template!("wire-labels"),
    view: View::Plain(view),
    table: Some(table),
};

#[derive(Serialize)]
struct Sheet {
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

/// The cables of a board.
#[derive(Serialize)]
struct Group {
    board: String,
    /// The second line at the far end of most of its cables; empty where none of them was found.
    far: String,
    /// True where that of some is another.
    has_others: bool,
    cables: Vec<Line>,
}

/// A cable with its two labels.
#[derive(Serialize)]
struct Line {
    /// The place of its row, and that of its label in the riser.
    mark: String,
    drawn: String,
    label: String,
    near: String,
    /// Empty where that end was not found: it gets no label.
    far: String,
    /// True where that is another than of most cables of the group.
    has_own_far: bool,
    kind: String,
    /// That it was in the wall before.
    existing: bool,
    /// That nothing hangs on it yet.
    #[serde(skip)]
    is_spare: bool,
    length: String,
    ends: String,
    /// Beside the text of the near end: the room, and what the cable ends at where the label has a short form of it.
    ends_in: String,
    height: String,
    way: String,
    notes: String,
}

fn view(compiled: &Compiled) -> Value {
    let groups = groups(compiled);
    let lines = groups.iter().flat_map(|group| &group.cables);
    let labels = lines.map(|line| 1 + usize::from(!line.far.is_empty())).sum();
    value(&Sheet { total: count(labels, "label", None), groups, dead: dead(compiled) })
}

/// The dead cables: what lies in the wall keeps a label, or the next person believes it to be in use.
fn dead(compiled: &Compiled) -> Vec<DeadLine> {
    let Compiled { site, wiring, .. } = compiled;
    let at = |cable: &DeadCable, end: End| match cable.place(end) {
        Place::Board(board) => Paper.board(site, board),
        Place::Room(Some(room)) => words::room(site, Some(room)),
        Place::Room(None) => cable.called(end).unwrap_or("not written down").to_owned(),
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

/// One row a cable, in the order and with the columns of the sheet.
fn table(compiled: &Compiled) -> Table {
    let columns = vec![
        "label",
        "near end",
        "far end",
        "cable type",
        "length",
        "ends at",
        "height",
        "way and passes",
        "notes",
        "board",
        "state",
    ];
    let mut rows = Vec::new();
    for Group { board, far: _, has_others: _, cables } in groups(compiled) {
        for line in cables {
            let Line {
                mark: _,
                drawn: _,
                label,
                near,
                far,
                has_own_far: _,
                kind,
                existing,
                is_spare,
                length,
                ends,
                ends_in: _,
                height,
                way,
                notes,
            } = line;
            let used = if is_spare { "spare" } else { "in use" };
            let state = if existing { format!("{used}, existing") } else { used.to_owned() };
            rows.push(vec![label, near, far, kind, length, ends, height, way, notes, board.clone(), state]);
        }
    }
    for DeadLine { mark: _, drawn: _, label, from, to, kind, because, ends: _ } in dead(compiled) {
        let cells = [&label, DEAD, DEAD, &kind, "", &to, "", "", &because, &from, "dead"];
        rows.push(cells.map(str::to_owned).to_vec());
    }
    Table { columns, rows }
}

/// The last part of a group.
const IN_THE_WALL: u8 = 2;

/// A cable as it is put in order.
struct Pull<'c> {
    at: usize,
    cable: &'c Cable,
    ends: Ends,
    /// Where in its group: it starts at the board, goes on from another's end, is in the wall already.
    part: u8,
    /// What it shares with those that are pulled with it; `None` where it goes alone.
    way: Option<Way>,
    metres: f64,
}

/// The cables in use, in the order of the list.
pub(crate) fn in_order_of_pulling<'c>(compiled: &'c Compiled, labels: &Labels) -> Vec<&'c Cable> {
    let pulls = by_board(compiled, labels).into_iter().flat_map(|(_, pulls)| pulls);
    pulls.map(|(pull, _)| pull.cable).collect()
}

/// Cables that are pulled one after the other: those of a bundle together, then those that go alone.
pub(crate) struct Stage {
    /// The board that they belong to, with its room; empty where none is known.
    pub(crate) board: String,
    /// True of cables that go on where others end.
    pub(crate) onward: bool,
    /// The way of a bundle; empty for those that go alone.
    pub(crate) way: String,
    pub(crate) cables: Vec<Pulled>,
}

/// A cable of a stage.
pub(crate) struct Pulled {
    /// Its label.
    pub(crate) label: String,
    /// What it starts at, where that is not the board of the stage.
    pub(crate) start: Option<String>,
    /// The conduits that it goes into, and with what.
    pub(crate) conduits: Vec<String>,
}

/// What is pulled, in the order of the list; a bundle in one go, where the first of it stands. What is in the wall already is
/// not.
pub(crate) fn stages(compiled: &Compiled, labels: &Labels) -> Vec<Stage> {
    let site = &compiled.site;
    let (bundles, conduits) = (bundle::of_site(site), Conduits::of(compiled));
    let mut done: BTreeSet<Id<Run>> = BTreeSet::new();
    let mut stages: Vec<Stage> = Vec::new();
    for (board, pulls) in by_board(compiled, labels) {
        let (name, board) = board.map_or_else(Default::default, |id| (Paper.board(site, id), placed(site, id)));
        for (pull, with) in pulls.into_iter().filter(|(pull, _)| pull.part != IN_THE_WALL) {
            let (alone, onward) = (with.is_empty(), pull.part > 0);
            let way = pull.way.as_ref().filter(|_| !alone);
            let bundle =
                way.and_then(|way| bundles.get(way)).map_or(std::slice::from_ref(&pull.cable.run), Vec::as_slice);
            let cables: Vec<Pulled> = bundle
                .iter()
                .filter(|run| done.insert(**run))
                .filter_map(|run| compiled.wiring.cable_of(*run))
                .map(|cable| {
                    let start = Some(labels.ends(cable).start).filter(|start| onward || *start != name);
                    Pulled { label: cable.label.clone(), start, conduits: conduits.each(cable) }
                })
                .collect();
            let goes_on = |stage: &&mut Stage| stage.board == board && stage.onward == onward && stage.way.is_empty();
            if let Some(stage) = stages.last_mut().filter(|stage| alone && goes_on(stage)) {
                stage.cables.extend(cables);
            } else if !cables.is_empty() {
                let way = way.map(|way| way_words(site, way, Some(pull.cable.run))).unwrap_or_default();
                stages.push(Stage { board: board.clone(), onward, way, cables });
            }
        }
    }
    stages
}

fn groups(compiled: &Compiled) -> Vec<Group> {
    let conduits = Conduits::of(compiled);
    let group = |(board, pulls): (Option<Id<Board>>, Vec<Bundled<'_>>)| {
        let mut cables: Vec<Line> =
            pulls.into_iter().map(|(pull, with)| line(compiled, &conduits, &pull, &with)).collect();
        let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
        for line in cables.iter().filter(|line| !line.far.is_empty()) {
            *counts.entry(&line.far).or_default() += 1;
        }
        // Of two that stand as often the first by name.
        let most = counts.into_iter().rev().max_by_key(|(_, count)| *count);
        let far = most.map(|(far, _)| far.to_owned()).unwrap_or_default();
        for line in &mut cables {
            line.has_own_far = !line.far.is_empty() && line.far != far;
        }
        let board = board.map_or_else(String::new, |board| placed(&compiled.site, board));
        Group { board, has_others: cables.iter().any(|line| line.has_own_far), far, cables }
    };
    by_board(compiled, &Labels::of(&compiled.site, &compiled.wiring)).into_iter().map(group).collect()
}

/// The cables of each board; those of which no board is known come last.
fn by_board<'c>(compiled: &'c Compiled, labels: &Labels) -> Vec<(Option<Id<Board>>, Vec<Bundled<'c>>)> {
    let Compiled { site, wiring, .. } = compiled;
    let mut of_board: BTreeMap<Option<Id<Board>>, Vec<Pull<'_>>> = BTreeMap::new();
    for (at, cable) in wiring.cables.iter().enumerate() {
        let pull = pull(site, at, cable, labels.ends(cable));
        of_board.entry(site.home(site.runs[cable.run].owner)).or_default().push(pull);
    }
    let bundles: BTreeMap<Way, Vec<String>> = bundle::of_site(site)
        .into_iter()
        .map(|(way, runs)| (way, runs.iter().map(|run| words::cable(wiring, *run).to_owned()).collect()))
        .collect();
    let boards = in_order(site).into_iter().map(Some).chain([None]);
    boards.filter_map(|board| Some((board, ordered(of_board.remove(&board)?, &bundles)))).collect()
}

/// A board with its room.
fn placed(site: &Site, board: Id<Board>) -> String {
    words::in_room(&Paper.board(site, board), &words::room(site, site.boards[board].room))
}

fn pull<'c>(site: &Site, at: usize, cable: &'c Cable, ends: Ends) -> Pull<'c> {
    let run = &site.runs[cable.run];
    let part = match (run.existing, run.upstream) {
        (false, None) => 0,
        (false, Some(_)) => 1,
        (true, _) => IN_THE_WALL,
    };
    let metres = run.length.as_ref().map_or(0.0, |length| length.value.0);
    Pull { at, cable, ends, part, way: bundle::way(site, cable.run), metres }
}

/// A cable, with the labels of the others of its bundle.
type Bundled<'c> = (Pull<'c>, Vec<String>);

/// Cables in the order of pulling.
fn ordered<'c>(pulls: Vec<Pull<'c>>, bundles: &BTreeMap<Way, Vec<String>>) -> Vec<Bundled<'c>> {
    let mut groups: BTreeMap<(u8, Option<Way>, usize), Vec<Pull<'_>>> = BTreeMap::new();
    for pull in pulls {
        let alone = if pull.way.is_none() { pull.at } else { 0 };
        groups.entry((pull.part, pull.way.clone(), alone)).or_default().push(pull);
    }
    let farther = |one: &Pull<'_>, other: &Pull<'_>| {
        other.metres.total_cmp(&one.metres).then_with(|| natural(&one.cable.label, &other.cable.label))
    };
    let others = |pull: &Pull<'_>| -> Vec<String> {
        let all = pull.way.as_ref().and_then(|way| bundles.get(way)).into_iter().flatten();
        all.filter(|label| **label != pull.cable.label).cloned().collect()
    };
    let mut groups: Vec<Vec<Bundled<'_>>> = groups
        .into_values()
        .map(|mut pulls| {
            pulls.sort_by(farther);
            pulls
                .into_iter()
                .map(|pull| {
                    let with = others(&pull);
                    (pull, with)
                })
                .collect()
        })
        .collect();
    groups.sort_by(|one, other| match (one.first(), other.first()) {
        (Some((a, with_a)), Some((b, with_b))) => {
            a.part.cmp(&b.part).then_with(|| with_a.is_empty().cmp(&with_b.is_empty())).then_with(|| farther(a, b))
        }
        (Some(_) | None, None) | (None, Some(_)) => Ordering::Equal,
    });
    groups.into_iter().flatten().collect()
}

fn line(compiled: &Compiled, conduits: &Conduits<'_>, pull: &Pull<'_>, with: &[String]) -> Line {
    let site = &compiled.site;
    let Pull { at, cable, ends, .. } = pull;
    let run = &site.runs[cable.run];
    let route = run.route.clone().into_iter().chain(words::passes(run));
    Line {
        mark: cable_marks::row(*at),
        drawn: cable_marks::in_riser(*at),
        label: cable.label.clone(),
        near: ends.near.clone(),
        far: ends.far.clone().unwrap_or_default(),
        has_own_far: false,
        kind: site.cables[cable.kind].described(),
        existing: run.existing,
        is_spare: matches!(run.owner, Owner::Spare(_)),
        length: run.length.as_ref().map_or_else(|| "—".to_owned(), |length| print::length(length.value, site.lengths)),
        ends: ends.end_in_room.clone(),
        ends_in: {
            let room = words::room(site, run.room);
            let is_whole = ends.near == format!("to {}", ends.end) || ends.end == room;
            match (is_whole, room.is_empty()) {
                (true, _) => room,
                (false, true) => ends.end.clone(),
                (false, false) => format!("{room}: {}", ends.end),
            }
        },
        height: heights(site, cable),
        way: route.chain(conduits.words(cable)).collect::<Vec<_>>().join("; "),
        notes: notes(site, conduits, cable, with),
    }
}

/// How high that hangs at which the runs of a cable end, where the spec says so of a board or a device there; each height once.
fn heights(site: &Site, cable: &Cable) -> String {
    let mount = |item: &Mounted| match item {
        Mounted::Board(board) => site.boards[*board].mount,
        Mounted::Device(device) => site.devices[*device].mount,
        Mounted::Feed(device) => site.devices[device.value].mount,
        Mounted::Run(_) | Mounted::Resistor(_) | Mounted::Terminator(_) | Mounted::Hop(_) => None,
    };
    let mut heights: Vec<String> = Vec::new();
    for run in cable.carries.iter().map(|run| &site.runs[*run]) {
        let joined = run.into.as_ref().and_then(|board| site.boards[board.value].mount);
        for height in run.mounted.iter().filter_map(mount).chain(joined).map(|mount| print::height(mount, site.lengths))
        {
            if !heights.contains(&height) {
                heights.push(height);
            }
        }
    }
    heights.join(", ")
}

/// What else it serves, and what is pulled with it.
fn notes(site: &Site, conduits: &Conduits<'_>, cable: &Cable, with: &[String]) -> String {
    let own = site.runs[cable.run].owner;
    let mut others: Vec<Owner> =
        cable.carries.iter().map(|run| site.runs[*run].owner).filter(|of| *of != own).collect();
    others.sort();
    others.dedup();
    let others: Vec<String> = others.into_iter().map(|owner| Paper.owner(site, owner)).collect();
    let shared = (!others.is_empty()).then(|| format!("also for {}", list(&others, "and")));
    let bundled = (!with.is_empty()).then(|| format!("with {}", few(with)));
    bundled.into_iter().chain(conduits.shared(cable)).chain(shared).collect::<Vec<_>>().join("; ")
}

/// Labels, of many the first three.
pub(super) fn few<T: std::fmt::Display>(labels: &[T]) -> String {
    match labels {
        [one, other, third, _, ..] => format!("{one}, {other}, {third} and more"),
        [..] => list(&labels.iter().map(ToString::to_string).collect::<Vec<_>>(), "and"),
    }
}
