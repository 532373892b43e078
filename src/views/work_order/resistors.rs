//! Resistors and terminators at the far ends of cables, and values held against each other.

use super::boards::{after_it_is_down, terminator};
use super::cables::{is_landed_whole, landed_anew};
use super::place::{Places, in_room};
use super::{Keys, Sides};
use crate::base::Id;
use crate::base::wording::list;
use crate::compiled::Compiled;
use crate::diff::{Change, Subject};
use crate::model::{Mounted, Owner, Run};
use crate::quantity::Resistance;
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

/// Resistors and terminators that are new or gone at the far end of a cable.
pub(super) fn steps(sides: &Sides<'_>, change: &Change, places: &mut Places) {
    let fitted = |compiled: &Compiled, keys: &Keys, subject: &Subject| {
        let run = keys.runs.get(&subject.key).copied();
        let items = run.map(|run| compiled.site.runs[run].mounted.clone()).unwrap_or_default();
        (run.and_then(|run| compiled.site.runs[run].room), values(&items))
    };
    let (old_room, had) = change.old.as_ref().map(|(s, _)| fitted(sides.old, &sides.old_keys, s)).unwrap_or_default();
    let (room, has) = change.new.as_ref().map(|(s, _)| fitted(sides.new, &sides.new_keys, s)).unwrap_or_default();
    let Some(subject) = change.subject() else { return };
    for (several, value) in &alike(missing(&had, &has)) {
        // It comes off before any label is changed.
        let hung = change.old.as_ref().map_or(subject, |(subject, _)| subject);
        let run = sides.old_keys.runs.get(&hung.key);
        let text = resistor(sides.old, run.copied(), &hung.key, value);
        places.add(&sides.old.site, old_room, "remove", format!("{several}{text}"));
    }
    let run = change.new.as_ref().and_then(|(subject, _)| sides.new_keys.runs.get(&subject.key));
    let landed = run.is_some_and(|run| landed_anew(sides, *run));
    // A bus's terminator is under the screws of a cable that is landed anew; a loop's resistor is told with its pair.
    let is_bus = run.is_some_and(|run| matches!(sides.new.site.runs[*run].owner, Owner::Bus(_)));
    let come = if is_bus && is_landed_whole(sides, subject) { has } else { missing(&has, &had) };
    // On a board that is exchanged they are fitted with that.
    let on_exchanged = run.is_some_and(|run| {
        let boards = sides.new.site.runs[*run].mounted.iter().filter_map(|item| match item {
            Mounted::Board(board) => Some(*board),
            Mounted::Device(device) => sides.new.site.devices[*device].board.as_ref().map(|board| board.value),
            Mounted::Run(_) | Mounted::Resistor(_) | Mounted::Terminator(_) | Mounted::Feed(_) | Mounted::Hop(_) => {
                None
            }
        });
        boards.into_iter().any(|board| sides.exchanged.has(board, false))
    });
    for (several, value) in alike(come).iter().filter(|_| !landed && !on_exchanged) {
        let text = resistor(sides.new, run.copied(), &subject.key, value);
        let when = if had.contains(value) {
            after_it_is_down((&sides.old.site, old_room), (&sides.new.site, room), places)
        } else {
            String::new()
        };
        places.add(&sides.new.site, room, "fit", format!("{several}{text}{when}"));
    }
}

/// A resistor at the far end of a cable; the terminator of a bus with the two terminals that it lies across.
fn resistor(compiled: &Compiled, run: Option<Id<Run>>, label: &str, value: &Resistance) -> String {
    let site = &compiled.site;
    let fitted = run.map(|run| &site.runs[run]).and_then(|run| {
        let Owner::Bus(bus) = run.owner else { return None };
        run.mounted.iter().find(|item| item.terminator().is_some())?;
        run.mounted.iter().filter_map(Mounted::board).find_map(|board| terminator(compiled, bus, board))
    });
    let value = words::resistor(value);
    match fitted {
        Some(Fitted { board, across: (one, other), .. }) => {
            let board = words::Paper.board(site, *board);
            format!("Terminator {value} across {one} and {other} of {board}, where {label} ends")
        }
        None => format!("Resistor {value} at the far end of {label}"),
    }
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
