//! Steps for cables: pull, take out, label, land, lift.

use super::super::ends::{Met, met, passed, screw, together};
use super::super::loop_path;
use super::place::{Places, Stage};
use super::{Sides, alone, cut, found, landings, other_ends, resistors, undone};
use crate::base::Id;
use crate::base::wording::as_seen;
use crate::compiled::Compiled;
use crate::diff::{Change, Kind, Subject, is_now};
use crate::labels::{self, Labels};
use crate::model::{Device, Room, Run, Site};
use crate::quantity::print;
use crate::record::fact;
use crate::register::{self, Cable, ConductorUse, DeadCable, End, Function, OwnerName, Point};
use crate::terms::{Passage, WireUse};
use crate::words;

/// Adds the steps of every cable that is new, gone or different.
pub(crate) fn steps(sides: &Sides<'_>, places: &mut Places) {
    for change in sides.changes(Kind::Cable) {
        let was = change.old.as_ref().and_then(|(subject, _)| sides.old_keys.cable(sides.old, &subject.key));
        let is = change.new.as_ref().and_then(|(subject, _)| sides.new_keys.cable(sides.new, &subject.key));
        let is_cut = was.is_some_and(|was| sides.found.cuts.iter().any(|cut| cut.was == was.label));
        match (was.filter(|_| !is_cut), is) {
            (_, Some(is)) if cut::is_piece(sides, is) => {}
            (Some(was), None) => remove(sides, was, None, "", places),
            (was, Some(is)) if change.new.as_ref().is_some_and(|(s, _)| sides.found.pulled.contains(s)) => {
                if let Some(was) = was {
                    let again = resistors::again(sides, was, is, places);
                    remove(sides, was, retired(sides, was, is).as_deref(), &again, places);
                }
                pull(sides, is, places);
                land(sides, is, &[], places);
            }
            (was, Some(is)) if change.new.as_ref().is_some_and(|(s, _)| sides.found.taken_over.contains(s)) => {
                let stays = match was {
                    Some(was) if undone::dead_before(sides, is).is_some() => {
                        undone::steps(sides, was, places);
                        Vec::new()
                    }
                    Some(was) => found::leave(sides, change, was, is, places),
                    None => Vec::new(),
                };
                found::take_over(sides, is, places);
                land(sides, is, &stays, places);
            }
            (Some(was), Some(is)) => differ(sides, change, was, is, places),
            (None, _) => {}
        }
        // Those of a cable that stays, and of one that is cut, are told below.
        let is_whole = change.new.as_ref().is_none_or(|(subject, _)| is_landed_whole(sides, subject));
        if is_whole && !is_cut && !is.is_some_and(|is| cut::is_piece(sides, is)) {
            resistors::of_cable(sides, (was, is), places);
        }
    }
    resistors::steps(sides, places);
    other_ends::steps(sides, places);
    cut::steps(sides, places);
    landings::steps(sides, places);
}

/// The two ends of a cable: room, what stands there in words, and the second line of the label.
pub(super) struct Ends {
    pub(super) near: Option<Id<Room>>,
    pub(super) near_words: String,
    pub(super) near_line: String,
    pub(super) far: Option<Id<Room>>,
    pub(super) far_words: String,
    /// Empty where that end was not found: it has no label.
    pub(super) far_line: String,
}

impl Ends {
    /// The rooms of its ends that are known, and how somebody in that room calls what is there. An end that was not found is in
    /// none.
    pub(super) fn in_rooms(&self) -> Vec<(Option<Id<Room>>, &'static str)> {
        if self.near == self.far {
            return vec![(self.near, "both ends")];
        }
        [self.near, self.far].into_iter().filter(Option::is_some).map(|room| (room, "this end")).collect()
    }
}

pub(super) fn ends(site: &Site, labels: &Labels, cable: &Cable) -> Ends {
    let labels::Ends { start, end, near, far, .. } = labels.ends(cable);
    Ends {
        near: site.start_room(cable.run),
        near_words: start,
        near_line: near,
        far: site.runs[cable.run].room,
        far_words: end,
        far_line: far.unwrap_or_default(),
    }
}

/// The label for a cable that stays in the wall while the one that replaces it has its label: two cables never have one
/// text on their ends.
pub(crate) fn retired(sides: &Sides<'_>, was: &Cable, is: &Cable) -> Option<String> {
    (was.label == is.label).then(|| {
        // The register has retired it already where its type is another.
        let before = &sides.old.wiring.given;
        let is_this =
            |dead: &&DeadCable| dead.label.starts_with(&format!("{}-OLD", was.label)) && !before.contains(&dead.label);
        let known = || before.iter().chain(&sides.new.wiring.given).map(|label| as_seen(label)).collect();
        let kept = sides.new.wiring.dead.iter().find(is_this);
        kept.map_or_else(|| register::labels::retired(&was.label, &known()), |dead| dead.label.clone())
    })
}

/// What to write into the register by hand where a cable that is replaced stays in the wall.
pub(crate) fn to_register(sides: &Sides<'_>) -> Vec<String> {
    let site = &sides.old.site;
    let one = |change: &Change| {
        let was = sides.old_keys.cable(sides.old, &change.old.as_ref()?.0.key)?;
        let (subject, _) = change.new.as_ref().filter(|(subject, _)| sides.found.pulled.contains(subject))?;
        let label = retired(sides, was, sides.new_keys.cable(sides.new, &subject.key)?)?;
        if sides.new.wiring.dead.iter().any(|dead| dead.label == label) {
            return None;
        }
        let run = &site.runs[was.run];
        let of = OwnerName::of(site, run.owner);
        let kind = &site.cables[was.kind].name.value;
        let named = |property: &str, site: &Site, room: Option<Id<Room>>| {
            room.map(|room| format!(" {property}=\"{}\"", site.rooms[room].name.value)).unwrap_or_default()
        };
        let room = named("room", site, run.room);
        // What stays of a cable that is cut starts at the cut.
        let cut = sides.found.cuts.iter().find(|cut| cut.was == was.label);
        let piece = cut.and_then(|cut| sides.new_keys.cable(sides.new, &cut.near));
        let from = match piece {
            Some(piece) => named("from", &sides.new.site, sides.new.site.runs[piece.run].room),
            None => named("from", site, site.start_room(was.run)),
        };
        Some(format!(
            "If the old {} stays in the wall, add this line to register.kdl: label \"{label}\" of=\"{of}\" cable=\"{kind}\"{room}{from} dead=\"{}\" off=#true",
            was.label,
            register::dead::replaced(&was.label)
        ))
    };
    sides.changes(Kind::Cable).filter_map(one).collect()
}

/// What the new register says of a cable that the old revision has on its terminals, before what it takes to be so. Whether it is
/// so in the house, a comparison of two revisions cannot know.
fn unless_done(sides: &Sides<'_>, cable: &Cable) -> String {
    let wiring = &sides.new.wiring;
    let in_use = wiring.cables.iter().any(|other| other.label == cable.label);
    let (diff, old, new) = (&sides.found.diff, &sides.old.site, &sides.new.site);
    let is_this = |dead: &&DeadCable| is_now(diff, (cable, old), (dead, new));
    match wiring.dead.iter().find(|dead| dead.label == cable.label) {
        Some(dead) if dead.off && is_this(&dead) => {
            "register.kdl says that it is off its terminals; where that is not done yet: ".to_owned()
        }
        None if !in_use && wiring.given.contains(&cable.label) => {
            "register.kdl has its label as spent: it is out of the wall, or has another label now; where it is neither: ".to_owned()
        }
        Some(_) | None => String::new(),
    }
}

/// "RD off B+, BK off B-": what holds a cable at its start; `here` is what the step names already.
pub(super) fn lifted(site: &Site, cable: &Cable, here: &str) -> String {
    let lifted: Vec<String> = cable
        .conductors
        .iter()
        .flat_map(|used| used.near.iter().map(move |point| (used, point)))
        .filter_map(|(used, point)| match point {
            Point::Terminal(board, mark) => {
                let of = (Some(*board) != site.start_board(cable.run)).then(|| words::Paper.board(site, *board));
                let of = of.filter(|of| *of != here).map(|board| format!(" of {board}")).unwrap_or_default();
                Some(format!("{} off {mark}{of}", words::conductor_mark(site, cable, used.position)))
            }
            Point::Joint(..) => Some(format!("{} out of its joint", words::conductor_mark(site, cable, used.position))),
            Point::Device(..)
            | Point::Resistor(_)
            | Point::Terminator(_)
            | Point::Cable(_)
            | Point::Socket(_)
            | Point::WayOut(..)
            | Point::Hop(_)
            | Point::Transformer(_) => None,
        })
        .chain(landings::shield_lifted(site, cable))
        .collect();
    if !lifted.is_empty() {
        return lifted.join(", ");
    }
    let is_parked = cable.conductors.iter().all(|used| used.near.is_empty());
    if is_parked { "none of its conductors is on a terminal" } else { "lift all its conductors" }.to_owned()
}

/// The step that lifts the start of a cable, which lands on something else there.
pub(super) fn lift_again(sides: &Sides<'_>, was: &Cable, before: &Ends, places: &mut Places) {
    let site = &sides.old.site;
    let off = lifted(site, was, &before.near_words);
    places.add(site, before.near, "remove", format!("{} at {}: {off}; landed again", was.label, before.near_words));
}

/// The steps for a cable that goes; `retired` is the label that it gets if it stays in the wall beside its successor, `again` what
/// at its far end is used again.
fn remove(sides: &Sides<'_>, cable: &Cable, retired: Option<&str>, again: &str, places: &mut Places) {
    let site = &sides.old.site;
    let unless = unless_done(sides, cable);
    let Ends { near, near_words, far, far_words, far_line, .. } = ends(site, &sides.old_labels, cable);
    let (label, near_words) = (&cable.label, near_words.as_str());
    let lifted = lifted(site, cable, near_words);
    let (old, stays) = match retired {
        Some(retired) => (
            ", the old cable",
            format!(
                "; if it stays in the wall, cap it and change the label on this end to {retired}, second line DEAD"
            ),
        ),
        None => ("", "; if it stays in the wall, cap it and mark this end DEAD below its label".to_owned()),
    };
    places.add(site, near, "remove", format!("{label}{old} (to {far_words}) at {near_words}: {unless}{lifted}{stays}"));
    // An end that was not found is taken off nowhere, and what ends somewhere is not pulled out of a wall.
    if far_line.is_empty() {
        return;
    }
    let out = format!("{label}{old} (from {near_words}): {unless}take it off here{again}{stays}");
    places.add(site, far, "remove", out);
    places.pull_out(format!("{label}{old}, from {near_words} to {far_words}{}", hole(site, cable)));
}

/// What is done about the hole that a cable leaves where it passed what holds back fire.
pub(super) fn hole(site: &Site, cable: &Cable) -> &'static str {
    let passes = site.runs[cable.run].passes.as_ref().map(|passes| passes.value);
    if passes == Some(Passage::FireWall) {
        "; close the hole that it leaves in the wall or floor that holds back fire, the same day, with a listed firestop system"
    } else {
        ""
    }
}

fn pull(sides: &Sides<'_>, cable: &Cable, places: &mut Places) {
    let site = &sides.new.site;
    let run = &site.runs[cable.run];
    let Ends { near, near_words, near_line, far, far_words, far_line } = ends(site, &sides.new_labels, cable);
    let kind = site.cables[cable.kind].described();
    let length = run.length.as_ref().map(|length| format!(", {}", print::length(length.value, site.lengths)));
    let route = run.route.as_ref().map(|route| format!("; {route}")).unwrap_or_default();
    let passes = words::passes(run).map(|passes| format!("; {passes}"));
    let (length, passes) = (length.unwrap_or_default(), passes.unwrap_or_default());
    let label = &cable.label;
    let text = format!("{label}: {kind}{length}, from {near_words} to {far_words}{route}{passes}");
    places.pull(label, text);
    places.add(site, near, "label", format!("{label} on this end, {near_line}"));
    places.add(site, far, "label", format!("{label} on this end, {far_line}"));
}

/// The steps that land a cable, but for the ends that stay as they are landed.
fn land(sides: &Sides<'_>, cable: &Cable, stay: &[End], places: &mut Places) {
    let site = &sides.new.site;
    let at = ends(site, &sides.new_labels, cable);
    let (near, far) = (at.near, at.far);
    let label = &cable.label;
    let stage = alone::stage(sides, cable);
    if stage == Stage::Alone {
        places.follows((site, far), (site, near));
    }
    let at_near = landed_at(sides.new, &alone::without_sounders(sides, cable), End::Near, &at.near_words);
    if !at_near.is_empty() && !stay.contains(&End::Near) {
        places.add_at(stage, site, near, "land", format!("{label} at {}: {at_near}", at.near_words));
    }
    let at_far = landed_at(sides.new, cable, End::Far, "");
    if !at_far.is_empty() && !stay.contains(&End::Far) {
        places.add(site, far, "land", format!("{label}: {at_far}"));
    }
    let stays = |room| room == near && stay.contains(&End::Near) || room == far && stay.contains(&End::Far);
    for (room, end) in at.in_rooms().into_iter().filter(|(room, _)| near == far || !stays(*room)) {
        if !cable.spare.is_empty() {
            let parked = format!("{label}: park the spare {} on {end}, marked", words::spare(site, cable));
            places.add(site, room, "land", parked);
        }
        let kept = cable.conductors.iter().filter(|used| used.function.wire_use() == WireUse::Reserved);
        let kept: Vec<String> = kept.map(|used| words::conductor(site, cable, used.position)).collect();
        if !kept.is_empty() {
            let parked = format!("{label}: park {}, kept for later, on {end}, marked", kept.join(", "));
            places.add(site, room, "land", parked);
        }
    }
}

/// Where all of a cable lands at an end, its shield too; `here` is what the step names already.
pub(super) fn landed_at(compiled: &Compiled, cable: &Cable, end: End, here: &str) -> String {
    let conductors = match end {
        End::Near => at_start(compiled, cable, here),
        End::Far => at_end(compiled, cable),
    };
    let shield = landings::shield(&compiled.site, &compiled.wiring, cable, end);
    conductors.into_iter().chain(shield).collect::<Vec<_>>().join("; ")
}

/// Where the conductors of a cable land at its start, where `here` is; `None` where none is in use.
fn at_start(compiled: &Compiled, cable: &Cable, here: &str) -> Option<String> {
    let site = &compiled.site;
    let mut landed: Vec<Landed> = Vec::new();
    for used in &cable.conductors {
        let after = site.runs[used.run].upstream.is_some();
        // Where a loop's cable starts at the end of another, its pair has one text, as in the terminal schedule.
        if let Function::LoopOut(zone) = used.function
            && after
        {
            landed.push(Landed { on: None, words: loop_path::at_start_of(site, &compiled.wiring, used.run, zone) });
        } else if !(after && matches!(used.function, Function::LoopBack(_))) {
            landed.extend(landing(compiled, cable, used, End::Near, here));
        }
    }
    (!landed.is_empty()).then(|| said(landed))
}

/// The same at its end.
fn at_end(compiled: &Compiled, cable: &Cable) -> Option<String> {
    let mut landed: Vec<Landed> = Vec::new();
    for used in &cable.conductors {
        if let Function::LoopOut(zone) = used.function {
            let words = loop_path::at_end_of(&compiled.site, &compiled.wiring, used.run, zone);
            landed.push(Landed { on: None, words });
        } else if used.function.zone().is_none() {
            landed.extend(landing(compiled, cable, used, End::Far, ""));
        }
    }
    (!landed.is_empty()).then(|| said(landed))
}

/// Where a conductor lands, in words.
struct Landed {
    /// On which thing, where that is not the board at which the others of the cable land.
    on: Option<String>,
    /// "RD on A+".
    words: String,
}

/// Several, with each thing said once: "on Keypad in the hall: RD on terminal B+, BK on terminal B-".
fn said(landed: Vec<Landed>) -> String {
    let mut on_each: Vec<(Option<String>, Vec<String>)> = Vec::new();
    for Landed { on, words } in landed {
        match on_each.last_mut().filter(|(last, _)| *last == on) {
            Some((_, those)) => those.push(words),
            None => on_each.push((on, vec![words])),
        }
    }
    let told = |(on, words): (Option<String>, Vec<String>)| match on {
        Some(thing) => format!("on {thing}: {}", words.join(", ")),
        None => words.join(", "),
    };
    on_each.into_iter().map(told).collect::<Vec<_>>().join("; ")
}

/// Where a conductor lands at an end; `here` is what the step names already.
fn landing(compiled: &Compiled, cable: &Cable, used: &ConductorUse, end: End, here: &str) -> Option<Landed> {
    let (site, points) = (&compiled.site, used.points(end));
    let mark = words::conductor_mark(site, cable, used.position);
    if let [Point::Terminal(board, terminal)] = points
        && end == End::Near
        && Some(*board) == site.start_board(cable.run)
    {
        let words = if compiled.wiring.is_behind_resistor(used.function, *board, terminal) {
            format!("{mark} on the free lead of the resistor whose other lead is under {terminal}")
        } else {
            format!("{mark} on {terminal}")
        };
        return Some(Landed { on: None, words });
    }
    if used.unused_at(site, end).is_some() {
        return Some(Landed { on: None, words: format!("{mark}: {}", words::UNUSED) });
    }
    let met = met(site, &compiled.wiring, used, points);
    let passes = passed(site, &compiled.wiring, used, points).is_some();
    if let Some((thing, screw)) = points.first().and_then(|point| screw(site, used, point, passes)) {
        let rest = met.get(1..).unwrap_or_default().iter().map(|met| format!("({met})"));
        let words: Vec<String> = std::iter::once(format!("{mark} on {screw}")).chain(rest).collect();
        return Some(Landed { on: Some(thing).filter(|thing| thing != here), words: words.join(" ") });
    }
    let on = match met.first()? {
        Met::Conductor(_) | Met::SameTerminal(_) | Met::Joint(_) | Met::Onward(_) | Met::ShortWire(_) => "",
        Met::Place(_) => "on ",
    };
    Some(Landed { on: None, words: format!("{mark} {on}{}", together(&met)) })
}

/// Where the conductors land that a device has, for whoever mounts another in its place: with each cable's label. Those that are
/// landed anew are told by their own steps.
pub(super) fn at_device(sides: &Sides<'_>, device: Id<Device>) -> Vec<(String, String)> {
    let compiled = sides.new;
    let site = &compiled.site;
    let mut said = Vec::new();
    for cable in &compiled.wiring.cables {
        let label = &cable.label;
        let runs: Vec<Id<Run>> = cable.conductors.iter().map(|used| used.run).collect();
        for end in [End::Far, End::Near] {
            let is_told = is_whole(sides, cable) && !cut::is_kept(sides, cable, end);
            if is_told || !runs.iter().any(|run| landings::stands_at_one(site, *run, end, [device])) {
                continue;
            }
            let words = match end {
                End::Far => at_end(compiled, cable),
                End::Near => at_start(compiled, cable, &ends(site, &sides.new_labels, cable).near_words),
            };
            said.extend(words.map(|words| (label.clone(), words)));
        }
    }
    said
}

/// A cable that stays but is called otherwise, or whose papers differ.
fn differ(sides: &Sides<'_>, change: &Change, was: &Cable, is: &Cable, places: &mut Places) {
    let site = &sides.new.site;
    let at = ends(site, &sides.new_labels, is);
    if was.label != is.label {
        for (room, end) in at.in_rooms() {
            let text = format!("{} becomes {}: change the label on {end}", was.label, is.label);
            places.add(site, room, "label", text);
        }
    }
    if change.field(fact::Run::length).is_some() {
        let length = |site: &Site, run: Id<Run>| {
            site.runs[run].length.as_ref().map(|length| print::length(length.value, site.lengths))
        };
        let (before, now) = (length(&sides.old.site, was.run), length(site, is.run));
        if let (Some(before), Some(now)) = (before, now) {
            places.add(
                site,
                at.near,
                "check",
                format!("{}: written down as {now} now, {before} before; nothing is pulled", is.label),
            );
        }
    }
}

/// True for a cable whose ends are landed as a whole: it is pulled, or taken over.
pub(super) fn is_landed_whole(sides: &Sides<'_>, cable: &Subject) -> bool {
    sides.found.pulled.contains(cable) || sides.found.taken_over.contains(cable)
}

/// The same of a cable of the new site.
pub(super) fn is_whole(sides: &Sides<'_>, cable: &Cable) -> bool {
    is_landed_whole(sides, &Subject::new(Kind::Cable, cable.label.as_str()))
}

/// Whether a run of a loop is in a cable that is landed as a whole, or meets something else at its end now: the step that lands
/// its far end says what stands there, resistors and all.
pub(crate) fn landed_anew(sides: &Sides<'_>, run: Id<Run>) -> bool {
    let lands = |used: &ConductorUse| used.run == run && matches!(used.function, Function::LoopOut(_));
    let cable = sides.new.wiring.cable_of(run).filter(|cable| is_whole(sides, cable));
    cable.is_some_and(|cable| cable.conductors.iter().any(lands)) || sides.told.contains(&run)
}
