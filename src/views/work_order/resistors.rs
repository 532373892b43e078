//! Resistors and terminators at the far ends of cables, and values held against each other.

use super::Sides;
use super::boards::{after_it_is_down, terminator};
use super::cables::{is_whole, landed_anew};
use super::landings::staying;
use super::place::{Places, in_room};
use crate::base::Id;
use crate::base::wording::list;
use crate::compiled::Compiled;
use crate::diff::Kind;
use crate::materials::goods;
use crate::model::{Mounted, Owner, Run, Site};
use crate::quantity::Resistance;
use crate::record::Names;
use crate::register::{Cable, Fitted};
use crate::words;

/// What is said of the resistors at the far end of a cable that is pulled anew: those that its successor has too.
/// The place where they come out stands before that where they go in.
pub(super) fn again(sides: &Sides<'_>, was: &Cable, is: &Cable, places: &mut Places) -> String {
    let (had, has) = (&sides.old.site.runs[was.run].mounted, &sides.new.site.runs[is.run].mounted);
    let (had, gone) = (values(had), missing(&values(had), &values(has)));
    let kept: Vec<String> = missing(&had, &gone).iter().map(words::resistor).collect();
    if kept.is_empty() {
        return String::new();
    }
    let (old, new) = (&sides.old.site, &sides.new.site);
    let (from, to) = (old.runs[was.run].room, new.runs[is.run].room);
    if in_room(old, from) != in_room(new, to) {
        places.follows((old, from), (new, to));
    }
    let them = if kept.len() == 1 { "it is" } else { "they are" };
    format!(" and keep what is at its end, {}: {them} used again", list(&kept, "and"))
}

/// Resistors and terminators that are new or gone at the far ends of cables that stay.
pub(super) fn steps(sides: &Sides<'_>, places: &mut Places) {
    for (was, is) in staying(sides) {
        of_cable(sides, (Some(was), Some(is)), places);
    }
}

/// The same of one cable. Where several loops share it, each of its runs is held against that of its own zone: where a zone that
/// shared a cable has it alone now, its run goes by the cable's label, which was another zone's.
pub(super) fn of_cable(sides: &Sides<'_>, (was, is): (Option<&Cable>, Option<&Cable>), places: &mut Places) {
    let runs = |cable: Option<&Cable>| cable.map(|cable| cable.carries.clone()).unwrap_or_default();
    let shared = [was, is].into_iter().flatten().any(|cable| cable.carries.len() > 1);
    let mut left = runs(is);
    for run in runs(was) {
        let at = left.iter().position(|next| !shared || is_same_owner(sides, run, *next));
        let next = at.map(|at| left.remove(at));
        differ(sides, (was.map(|was| (was, run)), is.zip(next)), places);
    }
    for next in left {
        differ(sides, (None, is.map(|is| (is, next))), places);
    }
}

/// A run, and the cable that it goes through.
type Through<'c> = (&'c Cable, Id<Run>);

/// The steps of one run.
fn differ(sides: &Sides<'_>, (was, is): (Option<Through<'_>>, Option<Through<'_>>), places: &mut Places) {
    let (old, new) = (&sides.old.site, &sides.new.site);
    let at_end = |site: &Site, (_, run): Through<'_>| (site.runs[run].room, values(&site.runs[run].mounted));
    let (old_room, had) = was.map(|was| at_end(old, was)).unwrap_or_default();
    let (room, has) = is.map(|is| at_end(new, is)).unwrap_or_default();
    // Across the terminals of another board it is taken off and fitted again.
    let board = |site: &Site, (_, run): Through<'_>| site.runs[run].mounted.iter().find_map(Mounted::board);
    let (from, to) = (was.and_then(|was| board(old, was)), is.and_then(|is| board(new, is)));
    let is_whole = is.is_some_and(|(cable, _)| is_whole(sides, cable));
    let moves = !is_whole && from.is_some() && from != to.and_then(|to| sides.board_before(to));
    let (gone, come) = if moves { (had.clone(), has.clone()) } else { (missing(&had, &has), missing(&has, &had)) };
    if let Some(was) = was {
        for (several, value) in &alike(gone) {
            places.add(old, old_room, "remove", format!("{several}{}", resistor(sides.old, was, value)));
        }
    }
    let Some(is @ (_, run)) = is else { return };
    // A bus's terminator is under the screws of a cable that is landed anew; a loop's resistor is told with its pair.
    let is_bus = matches!(new.runs[run].owner, Owner::Bus(_));
    let come = if is_bus && is_whole { has } else { come };
    // On a board that is exchanged they are fitted with that.
    let boards = new.runs[run].mounted.iter().filter_map(|item| match item {
        Mounted::Board(board) => Some(*board),
        Mounted::Device(device) => new.devices[*device].board.as_ref().map(|board| board.value),
        Mounted::Run(_) | Mounted::Resistor(_) | Mounted::Terminator(_) | Mounted::Feed(_) | Mounted::Hop(_) => None,
    });
    let on_exchanged = boards.into_iter().any(|board| sides.exchanged.has(board, false));
    if on_exchanged {
        return;
    }
    let is_there = is_there(sides, new.runs[run].owner, Some(run));
    // What is new at a cable that is landed is told with its conductors.
    if landed_anew(sides, run) && !is_there {
        return;
    }
    for (several, value) in &alike(come) {
        let text = resistor(sides.new, is, value);
        let when =
            if had.contains(value) { after_it_is_down((old, old_room), (new, room), places) } else { String::new() };
        if is_there {
            places.add(new, room, "inspect", format!("{several}{text}: it is there; see that it has that value"));
        } else {
            places.add(new, room, "fit", format!("{several}{text}{when}"));
        }
    }
}

/// Whether what is fitted at the end of a run, or at the board of a loop or bus, was in the house before, and the old revision
/// knew nothing of it: it is looked at where it is.
pub(super) fn is_there(sides: &Sides<'_>, owner: Owner, run: Option<Id<Run>>) -> bool {
    let (site, wiring) = (&sides.new.site, &sides.new.wiring);
    let is_known = |run: Id<Run>| {
        wiring.cable_of(run).is_some_and(|cable| {
            let was = sides.name_before(Kind::Cable, &cable.label);
            sides.old_keys.cables.contains_key(&was) || sides.old.wiring.dead.iter().any(|dead| dead.label == was)
        })
    };
    let runs: Vec<Id<Run>> = run.map_or_else(|| site.runs_of(owner).map(|(run, _)| run).collect(), |run| vec![run]);
    goods::fitted_before(site, owner, run) && !runs.into_iter().any(is_known)
}

/// Whether a run of the old site and one of the new site belong to the same thing.
fn is_same_owner(sides: &Sides<'_>, was: Id<Run>, is: Id<Run>) -> bool {
    let owner = |names: &Names<'_>, site: &Site, run: Id<Run>| names.owner(site.runs[run].owner).subject();
    sides.found.diff.now(owner(&sides.old_names, &sides.old.site, was)) == owner(&sides.new_names, &sides.new.site, is)
}

/// A resistor at the far end of a cable; the terminator of a bus with the two terminals that it lies across.
fn resistor(compiled: &Compiled, (cable, run): Through<'_>, value: &Resistance) -> String {
    let (site, label, value) = (&compiled.site, &cable.label, words::resistor(value));
    let run = &site.runs[run];
    let of = match run.owner {
        Owner::Bus(bus) => {
            let boards = run.mounted.iter().filter_map(Mounted::board);
            let is_terminated = run.mounted.iter().any(|item| item.terminator().is_some());
            let mut fitted = boards.filter_map(|board| terminator(compiled, bus, board)).filter(|_| is_terminated);
            if let Some(Fitted { board, across: (one, other), .. }) = fitted.next() {
                let board = words::Paper.board(site, *board);
                return format!("Terminator {value} across {one} and {other} of {board}, where {label} ends");
            }
            String::new()
        }
        // Two loops in one cable may have resistors that are alike.
        Owner::Zone(zone) if cable.carries.len() > 1 => format!(" of zone {}", site.zones[zone].number.value),
        Owner::Zone(_) | Owner::Circuit(_) | Owner::Transformer(_) | Owner::Spare(_) | Owner::Communicator(_) => {
            String::new()
        }
    };
    // Several in one room are told apart by what they are at.
    let opening = |item: &Mounted| {
        let Mounted::Device(device) = item else { return None };
        site.devices[*device].opening.as_ref().map(|opening| format!(", {}", words::Paper.opening(site, opening.value)))
    };
    let at = run.mounted.iter().find_map(opening).unwrap_or_default();
    format!("Resistor {value}{of} at the far end of {label}{at}")
}

/// The values among what is mounted.
pub(crate) fn values(items: &[Mounted]) -> Vec<Resistance> {
    let value = |item: &Mounted| match item {
        Mounted::Resistor(value) => Some(value.value),
        Mounted::Terminator(value) => Some(Resistance::new(value.value)),
        Mounted::Run(_) | Mounted::Device(_) | Mounted::Board(_) | Mounted::Feed(_) | Mounted::Hop(_) => None,
    };
    items.iter().filter_map(value).collect()
}

/// Those of `these` that are not among `those`, each counted once.
pub(crate) fn missing(these: &[Resistance], those: &[Resistance]) -> Vec<Resistance> {
    let mut left = those.to_vec();
    let mut found = Vec::new();
    for value in these {
        match left.iter().position(|other| other == value) {
            Some(position) => {
                left.remove(position);
            }
            None => found.push(*value),
        }
    }
    found
}

/// Each value once, with "2 × " before what is said of several: two steps alike would be one.
pub(crate) fn alike(values: Vec<Resistance>) -> Vec<(String, Resistance)> {
    let mut found: Vec<(usize, Resistance)> = Vec::new();
    for value in values {
        match found.iter_mut().find(|(_, other)| *other == value) {
            Some((number, _)) => *number += 1,
            None => found.push((1, value)),
        }
    }
    let several = |number: usize| if number > 1 { format!("{number} × ") } else { String::new() };
    found.into_iter().map(|(number, value)| (several(number), value)).collect()
}
