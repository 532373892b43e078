//! Which conductors in an enclosure are joined to each other, under no screw.

use std::collections::BTreeMap;

use crate::base::Id;
use crate::compiled::Compiled;
use crate::model::Run;
use crate::register::{End, Function, Point};

use super::row::{At, Row};
use crate::views::loop_path;

/// An end of a conductor: what it does in a run. `None` is the shield of the run's cable.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Key {
    pub(crate) run: Id<Run>,
    pub(crate) function: Option<Function>,
    pub(crate) end: End,
}

/// Numbers the joints of a board: rows of one joint get one number, in the order of their first rows.
pub(super) fn number<'r>(compiled: &Compiled, rows: impl Iterator<Item = &'r mut Row>) {
    let mut joined: Vec<&mut Row> = rows.filter(|row| matches!(row.at, At::Joint(_))).collect();
    let place: BTreeMap<Key, usize> = joined.iter().enumerate().filter_map(|(at, row)| Some((row.key?, at))).collect();
    // The first row of the joint that each row is in.
    let mut first: Vec<usize> = (0..joined.len()).collect();
    for (one, other) in place.keys().flat_map(|key| met(compiled, *key)) {
        let first_of = |key: Key| place.get(&key).and_then(|at| first.get(*at)).copied();
        if let (Some(one), Some(other)) = (first_of(one), first_of(other)) {
            let (low, high) = (one.min(other), one.max(other));
            first.iter_mut().filter(|first| **first == high).for_each(|first| *first = low);
        }
    }
    for (row, first) in joined.iter_mut().zip(first) {
        row.at = At::Joint(first);
    }
}

/// Ends that are joined to each other, as far as one end tells. Of a loop the conductor that comes out tells of all.
pub(crate) fn met(compiled: &Compiled, key: Key) -> Vec<(Key, Key)> {
    let Compiled { site, wiring, .. } = compiled;
    let Key { run, function, end } = key;
    let Some(function) = function else {
        let shield = wiring.cable_of(run).and_then(|cable| cable.shield_at(end));
        let others = shield.map(|shield| shield.joined.as_slice()).unwrap_or_default().iter();
        return others.map(|run| (key, Key { run: *run, function: None, end: end.other() })).collect();
    };
    if let (Function::LoopOut(zone), End::Far) = (function, end) {
        let at =
            |(of, function)| Key { run: of, function: Some(function), end: if of == run { end } else { End::Near } };
        let joints = loop_path::joints_at(site, wiring, run, zone);
        return joints.into_iter().map(|(one, other)| (at(one), at(other))).collect();
    }
    let Some((_, used)) = wiring.conductor_for(run, function) else { return Vec::new() };
    let other = |point: &Point| match point {
        Point::Cable(next) if end == End::Far && function.zone().is_none() => {
            Some(Key { run: *next, function: Some(function), end: End::Near })
        }
        Point::Joint(_, next) => Some(Key { run: *next, function: Some(function.other_side()), end }),
        Point::Cable(_)
        | Point::Terminal(..)
        | Point::Device(..)
        | Point::Resistor(_)
        | Point::Terminator(_)
        | Point::Socket(_)
        | Point::WayOut(..)
        | Point::Hop(_)
        | Point::Transformer(_) => None,
    };
    used.points(end).iter().filter_map(other).map(|other| (key, other)).collect()
}
