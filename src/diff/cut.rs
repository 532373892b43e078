//! Cables that are cut where they lie: a joint box is put in, or a device, and the piece towards the board stays in the wall.

use super::{Diff, Facts, Kind, Subject};
use crate::base::Id;
use crate::compiled::Compiled;
use crate::model::{Run, Site};
use crate::register::Cable;

/// A cable that was one piece in the old site.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Cut {
    /// The label that it had.
    pub(crate) was: String,
    /// The label of the piece towards the board, which stays.
    pub(crate) near: String,
    /// The label of the cable that goes on from the cut.
    pub(crate) far: String,
    /// Whether that is the other piece; else it is another cable, and the other piece goes.
    pub(crate) far_stays: bool,
}

/// The cables that are cut: what was there before, and ends in a box or in another room now, starts where one started that did
/// not end there, and what goes on from there ends where that one ended.
pub(super) fn cuts(diff: &Diff, facts: [&Facts; 2], old: &Compiled, new: &Compiled) -> Vec<Cut> {
    let pieces = new.wiring.cables.iter().filter(|cable| new.site.runs[cable.run].existing);
    pieces.filter_map(|near| cut(diff, facts, old, new, near)).collect()
}

fn cut(diff: &Diff, facts: [&Facts; 2], old: &Compiled, new: &Compiled, near: &Cable) -> Option<Cut> {
    let (was_in, is_in) = (&old.site, &new.site);
    let joint_box = |site: &Site, run: Id<Run>| {
        site.ends_in(run).map(|at| Subject::new(Kind::Board, site.boards[at].name.value.as_str()))
    };
    let at = joint_box(is_in, near.run);
    let starts = Some(start(facts[1], new, near, None)?);
    // A piece that had this label before is the cable that is cut, or was always a cable of its own.
    let before = old.wiring.cables.iter().find(|was| diff.now(cable_named(&was.label)).key == near.label);
    is_in.runs_after(near.run).find_map(|(run, after)| {
        let far = new.wiring.cable_of(run).filter(|far| far.run == run)?;
        let ends = is_in.rooms[after.room?].name.value.as_str();
        let was_there = |run: Id<Run>| match &at {
            Some(at) => joint_box(was_in, run).is_some_and(|before| diff.now(before) == *at),
            None => is_in.runs[near.run].room == after.room,
        };
        let is_whole = |was: &&Cable| {
            let run = &was_in.runs[was.run];
            let room = run.room.map(|room| Subject::new(Kind::Room, was_in.rooms[room].name.value.as_str()));
            let is = |cable: &Cable| diff.now(cable_named(&was.label)).key == cable.label;
            let kind = Subject::new(Kind::CableType, was_in.cables[was.kind].name.value.as_str());
            let goes = || !facts[1].contains_key(&diff.now(cable_named(&was.label)));
            diff.now(kind).key == is_in.cables[near.kind].name.value
                && (is(near) || is(far) || goes())
                && !was_there(was.run)
                && room.is_some_and(|room| diff.now(room).key == ends)
                && start(facts[0], old, was, Some(diff)) == starts
        };
        let was = match before {
            Some(before) => Some(before).filter(is_whole)?,
            None => old.wiring.cables.iter().find(is_whole)?,
        };
        let (was, near, far) = (was.label.clone(), near.label.clone(), far.label.clone());
        Some(Cut { was, near, far, far_stays: after.existing })
    })
}

/// Where a cable starts and what it belongs to, in the names of the new site. A board stands for its room: the cable may be on
/// another board there now.
fn start(facts: &Facts, side: &Compiled, cable: &Cable, diff: Option<&Diff>) -> Option<(Subject, Subject)> {
    let site = &side.site;
    let run = &site.runs[cable.run];
    let at = match run.upstream {
        Some(before) => Subject::new(Kind::Cable, side.wiring.cable_of(before)?.label.as_str()),
        None => {
            let board = &site.boards[site.start_board(cable.run)?];
            match board.room {
                Some(room) => Subject::new(Kind::Room, site.rooms[room].name.value.as_str()),
                None => Subject::new(Kind::Board, board.name.value.as_str()),
            }
        }
    };
    let of = facts.get(&Subject::new(Kind::Cable, cable.label.as_str()))?.of.clone()?;
    let known = |subject: Subject| match diff {
        Some(diff) => diff.now(subject),
        None => subject,
    };
    Some((known(at), known(of)))
}

fn cable_named(label: &str) -> Subject {
    Subject::new(Kind::Cable, label)
}
