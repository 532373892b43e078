//! Steps for cables: pull, take out, label, land, lift, and the resistors at their far ends.

use std::collections::BTreeSet;

use super::super::ends::{Met, met, passed, screw, together};
use super::super::loop_path;
use super::place::Places;
use super::{Keys, Sides};
use crate::base::Id;
use crate::compiled::Compiled;
use crate::diff::{Change, Kind, Subject, Thing};
use crate::labels::{self, Labels};
use crate::model::{Mounted, Room, Run, Site};
use crate::quantity::{Resistance, print};
use crate::record::fact;
use crate::register::{self, Cable, ConductorUse, End, Function, OwnerName, Point};
use crate::terms::WireUse;
use crate::words;

/// Adds the steps of every cable that is new, gone or different.
pub(crate) fn steps(sides: &Sides<'_>, places: &mut Places) {
    for change in sides.changes(Kind::Cable) {
        let was = change.old.as_ref().and_then(|(subject, _)| cable(sides.old, subject));
        let is = change.new.as_ref().and_then(|(subject, _)| cable(sides.new, subject));
        match (was, is) {
            (Some(was), None) => remove(sides, was, None, places),
            (was, Some(is)) if change.new.as_ref().is_some_and(|(s, _)| sides.found.pulled.contains(s)) => {
                if let Some(was) = was {
                    remove(sides, was, retired(sides, was, is).as_deref(), places);
                }
                pull(sides, is, places);
                land(sides, is, places);
            }
            (Some(was), Some(is)) => differ(sides, change, was, is, places),
            (None, Some(is)) if change.new.as_ref().is_some_and(|(s, _)| sides.found.taken_over.contains(s)) => {
                take_over(sides, is, places);
                land(sides, is, places);
            }
            (None, _) => {}
        }
        resistors(sides, change, places);
    }
    other_ends(sides, places);
    landings(sides, places);
}

fn cable<'m>(compiled: &'m Compiled, subject: &Subject) -> Option<&'m Cable> {
    compiled.wiring.cables.iter().find(|cable| cable.label == subject.key)
}

/// The two ends of a cable: room, what stands there in words, and the second line of the label.
struct Ends {
    near: Option<Id<Room>>,
    near_words: String,
    near_line: String,
    far: Option<Id<Room>>,
    far_words: String,
    far_line: String,
}

fn ends(site: &Site, labels: &Labels, cable: &Cable) -> Ends {
    let labels::Ends { start, end, near, far, .. } = labels.ends(cable);
    Ends {
        near: site.start_room(cable.run),
        near_words: start,
        near_line: near,
        far: site.runs[cable.run].room,
        far_words: end,
        far_line: far,
    }
}

/// The label for a cable that stays in the wall while the one that replaces it has its label: two cables never have one
/// text on their ends.
pub(crate) fn retired(sides: &Sides<'_>, was: &Cable, is: &Cable) -> Option<String> {
    (was.label == is.label).then(|| {
        // The register has retired it already where its type is another.
        let kept = sides.new.wiring.dead.iter().find(|dead| dead.label.starts_with(&format!("{}-OLD", was.label)));
        let known = &sides.old.wiring.given;
        kept.filter(|dead| !known.contains(&dead.label))
            .map_or_else(|| register::labels::retired(&was.label, known), |dead| dead.label.clone())
    })
}

/// What to write into the register by hand where a cable that is replaced stays in the wall.
pub(crate) fn to_register(sides: &Sides<'_>) -> Vec<String> {
    let site = &sides.old.site;
    let one = |change: &Change| {
        let was = cable(sides.old, &change.old.as_ref()?.0)?;
        let (subject, _) = change.new.as_ref().filter(|(subject, _)| sides.found.pulled.contains(subject))?;
        let label = retired(sides, was, cable(sides.new, subject)?)?;
        if sides.new.wiring.dead.iter().any(|dead| dead.label == label) {
            return None;
        }
        let run = &site.runs[was.run];
        let of = OwnerName::of(site, run.owner);
        let kind = &site.cables[was.kind].name.value;
        let room = run.room.map(|room| format!(" room=\"{}\"", site.rooms[room].name.value)).unwrap_or_default();
        Some(format!(
            "If the old {} stays in the wall, add this line to register.kdl: label \"{label}\" of=\"{of}\" cable=\"{kind}\"{room} dead=\"replaced by another cable, which has its label {}\" off=#true",
            was.label, was.label
        ))
    };
    sides.changes(Kind::Cable).filter_map(one).collect()
}

/// What the register says has been done to a cable that the spec no longer has.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Done {
    Nothing,
    /// Its conductors are off the terminals, its ends capped and marked.
    Off,
    /// It is out of the wall.
    Out,
}

fn done(sides: &Sides<'_>, cable: &Cable) -> Done {
    let wiring = &sides.new.wiring;
    match wiring.dead.iter().find(|dead| dead.label == cable.label) {
        Some(dead) if dead.off => Done::Off,
        Some(_) => Done::Nothing,
        None if wiring.cables.iter().any(|other| other.label == cable.label) => Done::Nothing,
        None if wiring.given.contains(&cable.label) => Done::Out,
        None => Done::Nothing,
    }
}

/// The steps for a cable that goes; `retired` is the label that it gets if it stays in the wall beside its successor.
fn remove(sides: &Sides<'_>, cable: &Cable, retired: Option<&str>, places: &mut Places) {
    if done(sides, cable) != Done::Nothing {
        return;
    }
    let site = &sides.old.site;
    let Ends { near, near_words, far, far_words, .. } = ends(site, &sides.old_labels, cable);
    let label = &cable.label;
    let terminals: Vec<String> = cable
        .conductors
        .iter()
        .flat_map(|used| used.near.iter().map(move |point| (used, point)))
        .filter_map(|(used, point)| match point {
            Point::Terminal(_, mark) => {
                Some(format!("{} off {mark}", words::conductor_mark(site, cable, used.position)))
            }
            Point::Device(..)
            | Point::Resistor(_)
            | Point::Terminator(_)
            | Point::Cable(_)
            | Point::Joint(..)
            | Point::Socket(_)
            | Point::WayOut(..)
            | Point::Hop(_)
            | Point::Transformer(_) => None,
        })
        .collect();
    let lifted = if terminals.is_empty() { "lift all its conductors".to_owned() } else { terminals.join(", ") };
    let (old, stays) = match retired {
        Some(retired) => (
            ", the old cable",
            format!(
                "; if it stays in the wall, cap it and change the label on this end to {retired}, second line DEAD"
            ),
        ),
        None => ("", "; if it stays in the wall, cap it and mark this end DEAD below its label".to_owned()),
    };
    places.add(site, near, "remove", format!("{label}{old} (to {far_words}) at {near_words}: {lifted}{stays}"));
    let out = format!("{label}{old} (from {near_words}): take it off here and pull it out{stays}");
    places.add(site, far, "remove", out);
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

/// The steps for a cable that was in the wall before: it is found by its two ends and gets its label.
fn take_over(sides: &Sides<'_>, cable: &Cable, places: &mut Places) {
    let site = &sides.new.site;
    let Ends { near, near_line, far, far_line, .. } = ends(site, &sides.new_labels, cable);
    let (label, kind) = (&cable.label, site.cables[cable.kind].described());
    let found =
        format!("{label} is in the wall already ({kind}): find its two ends with a meter before you cut or land it");
    places.add(site, near, "find", format!("{found}; {label} on this end, {near_line}"));
    places.add(site, far, "find", format!("{label}, the cable that is there: its label on this end, {far_line}"));
}

fn land(sides: &Sides<'_>, cable: &Cable, places: &mut Places) {
    let compiled = sides.new;
    let site = &compiled.site;
    let Ends { near, near_words, far, .. } = ends(site, &sides.new_labels, cable);
    let label = &cable.label;
    let in_loop = |words: String| Landed { on: None, words };
    let mut at_near: Vec<Landed> = Vec::new();
    for used in &cable.conductors {
        let after = site.runs[used.run].upstream.is_some();
        // Where a loop's cable starts at the end of another, its pair has one text, as in the terminal schedule.
        if let Function::LoopOut(zone) = used.function
            && after
        {
            at_near.push(in_loop(loop_path::at_start_of(site, &compiled.wiring, used.run, zone)));
        } else if !(after && matches!(used.function, Function::LoopBack(_))) {
            at_near.extend(landing(compiled, cable, used, End::Near, &near_words));
        }
    }
    if !at_near.is_empty() {
        places.add(site, near, "land", format!("{label} at {near_words}: {}", said(at_near)));
    }
    let mut at_far: Vec<Landed> = Vec::new();
    for used in &cable.conductors {
        if let Function::LoopOut(zone) = used.function {
            at_far.push(in_loop(loop_path::at_end_of(site, &compiled.wiring, used.run, zone)));
        } else if used.function.zone().is_none() {
            at_far.extend(landing(compiled, cable, used, End::Far, ""));
        }
    }
    if !at_far.is_empty() {
        places.add(site, far, "land", format!("{label}: {}", said(at_far)));
    }
    for room in [near, far] {
        if !cable.spare.is_empty() {
            let parked = format!("{label}: park the spare {} on this end, marked", words::spare(site, cable));
            places.add(site, room, "land", parked);
        }
        let kept = cable.conductors.iter().filter(|used| used.function.wire_use() == WireUse::Reserved);
        let kept: Vec<String> = kept.map(|used| words::conductor(site, cable, used.position)).collect();
        if !kept.is_empty() {
            let parked = format!("{label}: park {}, kept for later, on this end, marked", kept.join(", "));
            places.add(site, room, "land", parked);
        }
    }
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
    let home = site.home(site.runs[used.run].owner);
    if let [Point::Terminal(board, terminal)] = points
        && Some(*board) == home
    {
        return Some(Landed { on: None, words: format!("{mark} on {terminal}") });
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

/// A cable that stays but is called otherwise, or whose papers differ.
fn differ(sides: &Sides<'_>, change: &Change, was: &Cable, is: &Cable, places: &mut Places) {
    let site = &sides.new.site;
    let Ends { near, far, .. } = ends(site, &sides.new_labels, is);
    if was.label != is.label {
        for room in [near, far] {
            places.add(
                site,
                room,
                "label",
                format!("{} becomes {}: change the label on this end", was.label, is.label),
            );
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
                near,
                "check",
                format!("{}: written down as {now} now, {before} before; nothing is pulled", is.label),
            );
        }
    }
}

/// True for a cable whose ends are landed as a whole: it is pulled, or taken over.
fn is_landed_whole(sides: &Sides<'_>, cable: &Subject) -> bool {
    sides.found.pulled.contains(cable) || sides.found.taken_over.contains(cable)
}

/// Whether a run of a loop is in a cable that is landed as a whole: the step that lands its far end says what stands there, resistors
/// and all.
pub(crate) fn landed_anew(sides: &Sides<'_>, run: Id<Run>) -> bool {
    let lands = |used: &ConductorUse| used.run == run && matches!(used.function, Function::LoopOut(_));
    let whole = |cable: &&Cable| is_landed_whole(sides, &Subject::new(Kind::Cable, cable.label.as_str()));
    sides.new.wiring.cables.iter().filter(whole).any(|cable| cable.conductors.iter().any(lands))
}

/// The second line of the labels on cables that stay, where the other end is called otherwise now.
fn other_ends(sides: &Sides<'_>, places: &mut Places) {
    let site = &sides.new.site;
    for is in &sides.new.wiring.cables {
        let subject = Subject::new(Kind::Cable, is.label.as_str());
        let Some(was) = cable(sides.old, &subject).filter(|_| !sides.found.pulled.contains(&subject)) else { continue };
        let before = ends(&sides.old.site, &sides.old_labels, was);
        let now = ends(site, &sides.new_labels, is);
        let label = &is.label;
        if before.near_line != now.near_line {
            let text = format!(
                "change the label of {label} at {}: {}, until now {}",
                now.near_words, now.near_line, before.near_line
            );
            places.add(site, now.near, "label", text);
        }
        if before.far_line != now.far_line {
            let text =
                format!("change the label of {label} on this end: {}, until now {}", now.far_line, before.far_line);
            places.add(site, now.far, "label", text);
        }
    }
}

/// Resistors and terminators that are new or gone at the far end of a cable.
fn resistors(sides: &Sides<'_>, change: &Change, places: &mut Places) {
    let fitted = |compiled: &Compiled, keys: &Keys, subject: &Subject| {
        let run = keys.runs.get(&subject.key).copied();
        let items = run.map(|run| compiled.site.runs[run].mounted.clone()).unwrap_or_default();
        (run.and_then(|run| compiled.site.runs[run].room), values(&items))
    };
    let (old_room, had) = change.old.as_ref().map(|(s, _)| fitted(sides.old, &sides.old_keys, s)).unwrap_or_default();
    let (room, has) = change.new.as_ref().map(|(s, _)| fitted(sides.new, &sides.new_keys, s)).unwrap_or_default();
    let Some(subject) = change.subject() else { return };
    let gone = change.old.as_ref().and_then(|(subject, _)| cable(sides.old, subject));
    let told = change.new.is_none() && gone.is_some_and(|cable| done(sides, cable) == Done::Out);
    for value in missing(&had, &has).iter().filter(|_| !told) {
        places.add(
            &sides.old.site,
            old_room,
            "remove",
            format!("Resistor {} at the far end of {}", words::resistor(value), subject.key),
        );
    }
    let run = change.new.as_ref().and_then(|(subject, _)| sides.new_keys.runs.get(&subject.key));
    let landed = run.is_some_and(|run| landed_anew(sides, *run));
    for value in missing(&has, &had).iter().filter(|_| !landed) {
        places.add(
            &sides.new.site,
            room,
            "fit",
            format!("Resistor {} at the far end of {}", words::resistor(value), subject.key),
        );
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

/// Conductors of cables that stay, and land elsewhere now.
fn landings(sides: &Sides<'_>, places: &mut Places) {
    let pulled = own_steps(sides);
    for change in sides.changes(Kind::Conductor) {
        let end = |keys: &Keys, side: &Option<(Subject, Thing)>| {
            side.as_ref().and_then(|(subject, _)| keys.conductors.get(&subject.key)).copied()
        };
        let (was, is) = (end(&sides.old_keys, &change.old), end(&sides.new_keys, &change.new));
        let of = |side: &Option<(Subject, Thing)>| side.as_ref().and_then(|(_, thing)| thing.of.clone());
        let Some((cable, position)) = is.or(was) else { continue };
        if [of(&change.old), of(&change.new)].into_iter().flatten().any(|cable| pulled.contains(&cable)) {
            continue;
        }
        // Every single thing that a conductor meets, one by one.
        let meets = |compiled: &Compiled, at: Option<(usize, usize)>, near: bool| -> Vec<Met> {
            let Some((cable, position)) = at else { return Vec::new() };
            let cable = compiled.wiring.cables.get(cable);
            let used = cable.and_then(|cable| cable.conductors.iter().find(|used| used.position == position));
            let Some(used) = used else { return Vec::new() };
            let points = if near { &used.near } else { &used.far };
            let one = |point| met(&compiled.site, &compiled.wiring, used, std::slice::from_ref(point));
            points.iter().flat_map(one).collect()
        };
        let compiled = if is.is_some() { &sides.new } else { &sides.old };
        let Some(cable) = compiled.wiring.cables.get(cable) else { continue };
        let (near, far) = (compiled.site.start_room(cable.run), compiled.site.runs[cable.run].room);
        let mark = words::conductor_mark(&compiled.site, cable, position);
        for (room, at_near) in [(near, true), (far, false)] {
            let (before, now) = (meets(sides.old, was, at_near), meets(sides.new, is, at_near));
            let only = |these: &[Met], those: &[Met]| -> Vec<Met> {
                these.iter().filter(|met| !those.contains(met)).cloned().collect()
            };
            let (before, now) = (only(&before, &now), only(&now, &before));
            let Some(text) = moved(&before, &now) else { continue };
            let text = format!("{} {mark}: {text}", cable.label);
            places.add(&compiled.site, room, "land", text);
        }
    }
}

/// What is done to a conductor that met some things and now meets others; `None` where both are the same.
fn moved(before: &[Met], now: &[Met]) -> Option<String> {
    match (joined(before), joined(now)) {
        _ if before.is_empty() && now.is_empty() => None,
        (Some(out), Some(into)) => Some(format!("{out} out of the joint, {into} into it")),
        (Some(out), None) if now.is_empty() => Some(format!("{out} out of the joint")),
        (None, Some(into)) if before.is_empty() => Some(format!("{into} into the joint")),
        _ if before.is_empty() => Some(onto(now)),
        _ if now.is_empty() => Some(off(before)),
        _ => Some(format!("{}, {}", off(before), onto(now))),
    }
}

/// "to Panel, terminal I4"; "on by Z17-2 to Bedroom east".
fn onto(met: &[Met]) -> String {
    match met.first() {
        Some(Met::Onward(_) | Met::SameTerminal(_) | Met::ShortWire(_)) => together(met),
        Some(Met::Conductor(_) | Met::Joint(_) | Met::Place(_)) | None => format!("to {}", together(met)),
    }
}

/// "from Panel, terminal I4"; "no longer on by Z17-2 to Bedroom east".
fn off(met: &[Met]) -> String {
    match met.first() {
        Some(Met::Onward(_) | Met::SameTerminal(_) | Met::ShortWire(_)) => format!("no longer {}", together(met)),
        Some(Met::Conductor(_) | Met::Joint(_) | Met::Place(_)) | None => format!("from {}", together(met)),
    }
}

/// The conductors of other cables that are joined to one, where it meets nothing else.
fn joined(met: &[Met]) -> Option<String> {
    let conductor = |met: &Met| if let Met::Conductor(conductor) = met { Some(conductor.clone()) } else { None };
    let conductors = met.iter().map(conductor).collect::<Option<Vec<_>>>()?;
    (!conductors.is_empty()).then(|| conductors.join(", "))
}

/// Cables that are pulled, taken over or taken out, by either name: their conductors need no steps of their own.
fn own_steps(sides: &Sides<'_>) -> BTreeSet<Subject> {
    let own = sides
        .changes(Kind::Cable)
        .filter(|change| change.new.as_ref().is_none_or(|(subject, _)| is_landed_whole(sides, subject)));
    own.flat_map(|change| [&change.old, &change.new]).flatten().map(|(subject, _)| subject.clone()).collect()
}
