//! What becomes of cables between two sites: which start in another room, which are pulled, and which are found in the wall.
//!
//! A cable ends where its ends are: none comes after a thing that moves to another room, however long it is.

use std::collections::{BTreeMap, BTreeSet};

use super::{Atom, Change, Diff, Facts, FieldChange, Kind, Subject, Thing};
use crate::base::Id;
use crate::compiled::Compiled;
use crate::model::{Mounted, Run, Site};
use crate::record::fact;
use crate::register::{Cable, DeadCable, End, Place};

/// The room in which a cable starts.
pub(crate) const STARTS_IN: &str = "starts in";

/// The rooms in which cables start, by label.
fn starts(side: &Compiled) -> BTreeMap<String, Option<Subject>> {
    let site = &side.site;
    let one = |cable: &Cable| {
        let room = site.start_room(cable.run);
        let room = room.map(|room| Subject::new(Kind::Room, site.rooms[room].name.value.as_str()));
        (cable.label.clone(), room)
    };
    side.wiring.cables.iter().map(one).collect()
}

/// Adds to the changes of cables the room in which they start, where that is another: no line of a cable's own says so, and
/// a cable that starts in another room does not come back from there.
pub(super) fn tell_starts(diff: &mut Diff, facts: [&Facts; 2], old: &Compiled, new: &Compiled) {
    let after = starts(new);
    let room = |room: Option<&Subject>| room.map(|room| vec![Atom::Thing(room.clone())]);
    let known = diff.changes.iter().enumerate().filter_map(|(at, change)| Some((change.new.as_ref()?.0.clone(), at)));
    let known: BTreeMap<Subject, usize> = known.collect();
    for (label, from) in starts(old) {
        let was = Subject::new(Kind::Cable, label);
        let is = diff.now(was.clone());
        let (Some(before), Some(now)) = (facts[0].get(&was), facts[1].get(&is)) else { continue };
        let to = after.get(&is.key).and_then(Option::as_ref);
        if from.clone().map(|room| diff.now(room)).as_ref() == to {
            continue;
        }
        let field = FieldChange { field: STARTS_IN.to_owned(), old: room(from.as_ref()), new: room(to) };
        match known.get(&is).and_then(|at| diff.changes.get_mut(*at)) {
            Some(change) => change.fields.push(field),
            None => {
                let (old, new) = (Some((was, before.clone())), Some((is, now.clone())));
                diff.changes.push(Change { old, new, fields: vec![field] });
            }
        }
    }
    diff.changes = super::sorted(std::mem::take(&mut diff.changes));
}

/// The cables of the new site that are pulled: new ones, and those that start or end in another room, are of another type, are
/// longer than the one in the wall, or were said to be in the wall before and are said no more to be.
pub(crate) fn pulled(diff: &Diff, old: &Compiled, new: &Compiled) -> BTreeSet<Subject> {
    let (before, after) = (lengths(old), lengths(new));
    let is_pulled = |change: &&Change| {
        let Some((subject, thing)) = &change.new else { return false };
        if subject.kind != Kind::Cable || is_there(thing) || thing.fields.contains_key(fact::Run::shares) {
            return false;
        }
        if was_dead(diff, old, new, subject).is_some() {
            return false;
        }
        let Some((was, _)) = &change.old else { return true };
        change.field(fact::Run::existing).is_some_and(|existing| existing.new.is_none())
            || change.field(fact::Run::kind).is_some()
            || is_elsewhere(diff, change, old, new)
            || after.get(subject.key.as_str()) > before.get(was.key.as_str())
    };
    let subjects = diff.changes.iter().filter(is_pulled).filter_map(|change| change.new.as_ref());
    subjects.map(|(subject, _)| subject.clone()).collect()
}

/// The length of each cable of which it is known, in metres, by label.
fn lengths(side: &Compiled) -> BTreeMap<&str, f64> {
    let length = |cable: &Cable| side.site.runs[cable.run].length.as_ref().map(|length| length.value.0);
    side.wiring.cables.iter().filter_map(|cable| Some((cable.label.as_str(), length(cable)?))).collect()
}

/// Whether a cable starts or ends in another room: an end in the wall does not come after it, however long the cable is. A room
/// that was not said before is no news of the cable, unless its length is another as well. Nor is one that only is called
/// otherwise: see [`stays`].
fn is_elsewhere(diff: &Diff, change: &Change, old: &Compiled, new: &Compiled) -> bool {
    let tells =
        |field: &FieldChange| field.old.is_some() && field.new.is_some() || change.field(fact::Run::length).is_some();
    let run = |side: &Compiled, of: &Option<(Subject, Thing)>| {
        let (subject, _) = of.as_ref()?;
        side.wiring.cables.iter().find(|cable| cable.label == subject.key).map(|cable| cable.run)
    };
    let runs = run(old, &change.old).zip(run(new, &change.new));
    let before = |(was, is): (Id<Run>, Id<Run>)| old.site.runs[was].upstream.zip(new.site.runs[is].upstream);
    let at_far = || change.field(fact::Place::room).is_some_and(tells) && !stays(diff, runs, old, new);
    let at_start = || change.field(STARTS_IN).is_some_and(tells) && !stays(diff, runs.and_then(before), old, new);
    at_far() || at_start()
}

/// Whether the end of a run is where it was though its room has another name: at the same opening, for no window moves to another
/// room; and, of a cable that is said to have been there before, at a device or board of the same name.
fn stays(diff: &Diff, runs: Option<(Id<Run>, Id<Run>)>, old: &Compiled, new: &Compiled) -> bool {
    let Some((was, is)) = runs else { return false };
    let now = |kind, key: &str| diff.now(Subject::new(kind, key));
    let known = |side: &Site, run: Id<Run>| -> Vec<Subject> {
        let existing = new.site.runs[is].existing;
        let named = |item: &Mounted| match item {
            Mounted::Device(id) => {
                let device = &side.devices[*id];
                let opening =
                    device.opening.as_ref().map(|opening| (Kind::Opening, &side.openings[opening.value].name));
                opening.or_else(|| Some((Kind::Device, device.name.as_ref().filter(|_| existing)?)))
            }
            Mounted::Board(id) if existing => Some((Kind::Board, &side.boards[*id].name)),
            Mounted::Board(_)
            | Mounted::Run(_)
            | Mounted::Resistor(_)
            | Mounted::Terminator(_)
            | Mounted::Feed(_)
            | Mounted::Hop(_) => None,
        };
        side.runs[run]
            .mounted
            .iter()
            .filter_map(named)
            .map(|(kind, name)| Subject::new(kind, name.value.as_str()))
            .collect()
    };
    let now: Vec<Subject> = known(&old.site, was).iter().map(|subject| now(subject.kind, &subject.key)).collect();
    known(&new.site, is).iter().any(|subject| now.contains(subject))
}

/// The dead cable that a cable of the new site was, in the wall without use: no end of it is known to be elsewhere.
pub(crate) fn was_dead<'o>(diff: &Diff, old: &'o Compiled, new: &Compiled, subject: &Subject) -> Option<&'o DeadCable> {
    // Few are: the cables are gone through for them alone.
    let dead = old.wiring.dead.iter().find(|dead| dead.is_again(&subject.key, &new.wiring))?;
    let cable = new.wiring.cables.iter().find(|cable| cable.label == subject.key)?;
    let rooms = |end| [(dead.place(end), &old.site), (cable.place(&new.site, end), &new.site)];
    [End::Near, End::Far].into_iter().all(|end| may_be_one(diff, rooms(end))).then_some(dead)
}

/// Whether a cable of the old site is a dead one of the new one: it has its label, and no end of it is known to be elsewhere.
pub(crate) fn is_now(diff: &Diff, (cable, old): (&Cable, &Site), (dead, new): (&DeadCable, &Site)) -> bool {
    let rooms = |end| [(cable.place(old, end), old), (dead.place(end), new)];
    dead.label == cable.label && [End::Near, End::Far].into_iter().all(|end| may_be_one(diff, rooms(end)))
}

/// True where an end in the old site may be one in the new site: not where they are known to be in two rooms, and not where one is
/// at a board and the other at none that is there. A cable that is pulled though it is there costs less than one that is looked for
/// in vain.
fn may_be_one(diff: &Diff, [was, is]: [(Place, &Site); 2]) -> bool {
    if let (Place::Board(_), Place::Room(None)) | (Place::Room(None), Place::Board(_)) = (was.0, is.0) {
        return false;
    }
    let room = |(place, site): (Place, &Site)| {
        let room = place.room(site)?;
        Some(Subject::new(Kind::Room, site.rooms[room].name.value.as_str()))
    };
    room(was).zip(room(is)).is_none_or(|(was, is)| diff.now(was) == is)
}

/// The cables of the new site that are found in the wall and not pulled: those that the old one did not know and that were there
/// before, those that it had as dead, and those of which an end is said to be in another room though they were there before, or are
/// again what they were before another cable took their label.
pub(crate) fn taken_over(diff: &Diff, old: &Compiled, new: &Compiled) -> BTreeSet<Subject> {
    let is_found = |change: &&Change| {
        let Some((subject, thing)) = &change.new else { return false };
        let found = match &change.old {
            None => is_there(thing),
            Some(_) => is_there(thing) && is_elsewhere(diff, change, old, new),
        };
        subject.kind == Kind::Cable && (found || was_dead(diff, old, new, subject).is_some())
    };
    let subjects = diff.changes.iter().filter(is_found).filter_map(|change| change.new.as_ref());
    subjects.map(|(subject, _)| subject.clone()).collect()
}

/// True for a cable that was in the wall before.
fn is_there(cable: &Thing) -> bool {
    cable.fields.contains_key(fact::Run::existing)
}
