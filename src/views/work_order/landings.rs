//! Steps for conductors and shields of cables that stay, and meet something else now.
//!
//! A loop's pair at the end of a cable is told as a whole, as the terminal schedule has it: which of its two conductors meets
//! what follows from the order of all that stands there.

use std::collections::{BTreeMap, BTreeSet};

use super::super::ends::{Met, met_at, passed, screw};
use super::super::loop_path::{self, Stop};
use super::cables::{ends, is_landed_whole};
use super::devices::{exchanged, stands_at};
use super::moved::{AGAIN, FREE, moved};
use super::place::{Places, Stage};
use super::{Keys, Sides, alone, colours};
use crate::base::Id;
use crate::compiled::Compiled;
use crate::diff::{Kind, Subject, Thing};
use crate::model::{Board, Device, Room, Run, Site, Zone};
use crate::register::{Cable, ConductorUse, End, Function, Point, ShieldLanding, Wiring};
use crate::words;

/// Adds the steps of every conductor and shield of a cable that stays.
pub(super) fn steps(sides: &Sides<'_>, places: &mut Places) {
    let both = both(sides);
    conductors(&both, places);
    colours::steps(sides, places);
    for (was, is) in staying(sides) {
        for pair in pairs(sides, was, is) {
            for end in [End::Near, End::Far] {
                pair_differs(&both, is, &pair, end, places);
            }
        }
        shields(&both, was, is, places);
    }
}

/// The cables that are in the wall before and after, as they were and as they are.
pub(super) fn staying<'s>(sides: &Sides<'s>) -> Vec<(&'s Cable, &'s Cable)> {
    let own = own_steps(sides);
    let now: BTreeMap<&str, &Cable> =
        sides.new.wiring.cables.iter().map(|cable| (cable.label.as_str(), cable)).collect();
    let subject = |cable: &Cable| Subject::new(Kind::Cable, cable.label.as_str());
    let both = sides.old.wiring.cables.iter().filter_map(|was| {
        let called = sides.found.diff.now(subject(was));
        let is = *now.get(called.key.as_str())?;
        (!own.contains(&called) && !own.contains(&subject(was))).then_some((was, is))
    });
    both.collect()
}

/// One zone's pair in a cable that stays: its run and zone in the new site, and in the old one where the cable had it.
struct Pair {
    was: Option<(Id<Run>, Id<Zone>)>,
    /// The pairs of other zones that the cable had.
    others: Vec<(Id<Run>, Id<Zone>)>,
    is: (Id<Run>, Id<Zone>),
}

fn loops(cable: &Cable) -> Vec<(Id<Run>, Id<Zone>)> {
    let run = |used: &ConductorUse| {
        if let Function::LoopOut(zone) = used.function { Some((used.run, zone)) } else { None }
    };
    cable.conductors.iter().filter_map(run).collect()
}

fn pairs(sides: &Sides<'_>, was: &Cable, is: &Cable) -> Vec<Pair> {
    let old = loops(was);
    let pair = |is: (Id<Run>, Id<Zone>)| {
        let (same, others): (Vec<_>, Vec<_>) = old.iter().partition(|was| is_same_zone(sides, was.1, is.1));
        Pair { was: same.first().copied(), others, is }
    };
    loops(is).into_iter().map(pair).collect()
}

fn is_same_zone(sides: &Sides<'_>, was: Id<Zone>, is: Id<Zone>) -> bool {
    let number = |site: &Site, zone: Id<Zone>| Subject::new(Kind::Zone, site.zones[zone].number.value.to_string());
    sides.found.diff.now(number(&sides.old.site, was)) == number(&sides.new.site, is)
}

/// One revision, and the names under which the things of both are compared.
struct Side<'s> {
    sides: &'s Sides<'s>,
    compiled: &'s Compiled,
    devices: BTreeMap<Id<Device>, &'s str>,
    /// The devices that are exchanged, alone or with the board that they are part of: the terminals of another are told with it.
    exchanged: BTreeSet<Id<Device>>,
    /// What is in the old site alone: in the new one another thing may have its key.
    gone: BTreeSet<&'s Subject>,
    is_old: bool,
}

impl Side<'_> {
    fn key(&self, subject: Subject) -> String {
        if self.gone.contains(&subject) {
            return format!("{} that goes", subject.key);
        }
        self.sides.called(subject, self.is_old).key
    }

    /// What a conductor meets, in names that are the same in both revisions: a thing goes by its name there and not by its title,
    /// what is no thing by its words.
    fn told_apart(&self, used: &ConductorUse, point: &Point, passes: bool, met: &Met) -> String {
        let thing = match point {
            Point::Device(id, _) => self.device(*id),
            Point::Terminal(board, _) | Point::Socket(board) => self.board(*board),
            Point::Joint(board, run) => format!("{} {}", self.board(*board), self.cable(*run)),
            Point::Resistor(_)
            | Point::Terminator(_)
            | Point::Cable(_)
            | Point::WayOut(..)
            | Point::Hop(_)
            | Point::Transformer(_) => return met.to_string(),
        };
        let screw = screw(&self.compiled.site, used, point, passes).map(|(_, screw)| screw).unwrap_or_default();
        let by = if matches!(met, Met::ShortWire(_)) { " by a short wire" } else { "" };
        format!("{thing} {screw}{by}")
    }

    fn device(&self, id: Id<Device>) -> String {
        self.key(Subject::new(Kind::Device, self.devices.get(&id).copied().unwrap_or_default()))
    }

    fn board(&self, id: Id<Board>) -> String {
        self.key(Subject::new(Kind::Board, self.compiled.site.boards[id].name.value.as_str()))
    }

    /// Whether a point is a terminal of a board that is exchanged: what is on it is told with that.
    fn is_told(&self, point: &Point) -> bool {
        matches!(point, Point::Terminal(board, _) if self.sides.exchanged.has(*board, self.is_old))
    }

    /// What a conductor meets at an end, and what tells that apart; the terminals of a board that is exchanged are told with it.
    fn meets(&self, at: Option<(usize, usize)>, end: End) -> Vec<(String, Met)> {
        let Some(used) = used(self.compiled, at) else { return Vec::new() };
        let (Compiled { site, wiring, .. }, points) = (self.compiled, used.points(end));
        let passes = passed(site, wiring, used, points).is_some();
        let met = met_at(site, wiring, used, points).into_iter().filter(|(point, _)| !self.is_told(point));
        met.map(|(point, met)| (self.told_apart(used, point, passes, &met), met)).collect()
    }

    /// Whether a cable's shield is landed at a board that is exchanged: it is lifted and landed with that.
    fn is_shield_told(&self, cable: &Cable, end: End) -> bool {
        let board = cable.shield_board(&self.compiled.site, end);
        board.is_some_and(|board| self.sides.exchanged.has(board, self.is_old))
    }

    fn cable(&self, run: Id<Run>) -> String {
        let label = self.compiled.wiring.cable_of(run).map(|cable| cable.label.clone()).unwrap_or_default();
        self.key(Subject::new(Kind::Cable, label))
    }

    /// The terminals of a device that its loop is on, in order.
    fn terminals(&self, id: Id<Device>, zone: Id<Zone>) -> String {
        if self.exchanged.contains(&id) {
            return String::new();
        }
        let (site, device) = (&self.compiled.site, &self.compiled.site.devices[id]);
        let tamper = site.device_part(id).and_then(|part| part.tamper.as_ref()).filter(|_| device.tamper_in_loop);
        let contacts = tamper.into_iter().chain(site.contact_of(id)).map(|contact| contact.mark.clone());
        let fed = [true, false].into_iter().filter_map(|out| site.loop_fed_mark(zone, id, out));
        contacts.chain(fed).fold(String::new(), |all, mark| format!("{all} on {mark}"))
    }

    fn stop(&self, stop: &Stop, zone: Id<Zone>) -> String {
        match stop {
            Stop::Device(id) | Stop::Fed(id) | Stop::Over(id) => {
                let over = if matches!(stop, Stop::Over(_)) { "over " } else { "" };
                let on = self.terminals(*id, zone);
                format!("{over}device {}{on}", self.device(*id))
            }
            Stop::Resistor(value) => format!("resistor {}", words::resistor(value)),
            Stop::Cable(run) => format!("cable {}", self.cable(*run)),
        }
    }

    /// What a pair meets at an end of its cable, in names that are the same in both revisions; `None` where the cable starts
    /// at a board.
    fn shape(&self, (run, zone): (Id<Run>, Id<Zone>), end: End) -> Option<Vec<String>> {
        let Compiled { site, wiring, .. } = self.compiled;
        let mark = |function| {
            let (_, used) = wiring.conductor_for(run, function)?;
            Some(used.position.to_string())
        };
        let mut shape: Vec<String> =
            [Function::LoopOut(zone), Function::LoopBack(zone)].into_iter().filter_map(mark).collect();
        let stops = |stops: &[Stop]| stops.iter().map(|stop| self.stop(stop, zone)).collect::<Vec<_>>().join(", ");
        if end == End::Far {
            let way = loop_path::way(site, wiring, run, zone);
            shape.extend([stops(&way.across), stops(&way.series)]);
            return Some(shape);
        }
        let before = site.runs[run].upstream?;
        let way = loop_path::way(site, wiring, before, zone);
        shape.push(self.cable(before));
        match way.series.iter().position(|stop| *stop == Stop::Cable(run)) {
            Some(at) => {
                let beside = [at.checked_sub(1), Some(at + 1)];
                let one = |at: Option<usize>| {
                    at.and_then(|at| way.series.get(at)).map(|stop| self.stop(stop, zone)).unwrap_or_default()
                };
                shape.extend(beside.map(one));
            }
            None => shape.push(stops(&way.across)),
        }
        Some(shape)
    }
}

fn both<'s>(sides: &'s Sides<'s>) -> [Side<'s>; 2] {
    let devices = |keys: &'s Keys| keys.devices.iter().map(|(key, id)| (*id, key.as_str())).collect();
    let of_board = |compiled: &Compiled, is_old| -> Vec<Id<Device>> {
        let is_its =
            |device: &Device| device.board.as_ref().is_some_and(|board| sides.exchanged.has(board.value, is_old));
        compiled.site.devices.entries().filter(|(_, device)| is_its(device)).map(|(id, _)| id).collect()
    };
    let gone = sides.found.diff.changes.iter().filter(|change| change.new.is_none());
    let gone: BTreeSet<&Subject> = gone.filter_map(|change| Some(&change.old.as_ref()?.0)).collect();
    let side = |compiled, keys: &'s Keys, is_old| Side {
        sides,
        compiled,
        devices: devices(keys),
        exchanged: exchanged(sides, is_old).into_iter().chain(of_board(compiled, is_old)).collect(),
        gone: if is_old { gone.clone() } else { BTreeSet::new() },
        is_old,
    };
    [side(sides.old, &sides.old_keys, true), side(sides.new, &sides.new_keys, false)]
}

fn is_other([old, new]: &[Side<'_>; 2], pair: &Pair, end: End) -> bool {
    // Where two zones have changed their numbers, a pair is another zone's and meets what it met.
    let before = if pair.was.is_some() { pair.was.as_slice() } else { pair.others.as_slice() };
    !before.iter().any(|was| old.shape(*was, end) == new.shape(pair.is, end))
}

/// The step for a pair that meets something else at an end of its cable, or that was no pair of this zone before. That of a
/// cable that starts at a board is told conductor by conductor.
fn pair_differs(both: &[Side<'_>; 2], cable: &Cable, pair: &Pair, end: End, places: &mut Places) {
    let [Side { sides, .. }, _] = both;
    let (site, old) = (&sides.new.site, &sides.old.site);
    let starts_on = |site: &Site, run: Id<Run>| site.runs[run].upstream.is_some();
    if end == End::Near && !starts_on(site, pair.is.0) || !is_other(both, pair, end) || is_told_there(both, pair, end) {
        return;
    }
    let words = |compiled: &Compiled, (run, zone): (Id<Run>, Id<Zone>)| match end {
        End::Near => loop_path::at_start_of(&compiled.site, &compiled.wiring, run, zone),
        End::Far => loop_path::at_end_of(&compiled.site, &compiled.wiring, run, zone),
    };
    let at = ends(site, &sides.new_labels, cable);
    let (room, here) = match end {
        End::Near => (at.near, format!(" at {}", at.near_words)),
        End::Far => (at.far, String::new()),
    };
    let was = pair.was.filter(|was| end == End::Far || starts_on(old, was.0));
    let before = was.map(|was| format!(". Until now: {}", words(sides.old, was))).unwrap_or_default();
    places.add(site, room, "land", format!("{}{here}: {}{before}", cable.label, words(sides.new, pair.is)));
}

/// Whether a pair's end is at a device that is exchanged, as it was before: the step that exchanges it tells all that it meets.
fn is_told_there([old, new]: &[Side<'_>; 2], pair: &Pair, end: End) -> bool {
    let at = |side: &Side<'_>, run| stands_at_one(&side.compiled.site, run, end, side.exchanged.iter().copied());
    at(new, pair.is.0) && pair.was.is_some_and(|was| at(old, was.0))
}

/// The runs of cables that stay at whose ends a step tells all that stands there.
pub(super) fn told(sides: &Sides<'_>) -> BTreeSet<Id<Run>> {
    let both = both(sides);
    let pairs = staying(sides).into_iter().flat_map(|(was, is)| pairs(sides, was, is));
    pairs.filter(|pair| is_other(&both, pair, End::Far)).map(|pair| pair.is.0).collect()
}

/// What becomes of a cable's shield at an end: "drain wire: joined to DATA-2: drain wire". `None` where it has none.
pub(super) fn shield(site: &Site, wiring: &Wiring, cable: &Cable, end: End) -> Option<String> {
    cable.shield_at(end)?;
    Some(format!("{}: {}", words::shield(site, cable), words::shield_end(site, wiring, cable, end)))
}

/// "drain wire off PE", of a cable that goes; `None` where its shield is under no screw at its start.
pub(super) fn shield_lifted(site: &Site, cable: &Cable) -> Option<String> {
    let at = cable.shield_at(End::Near)?;
    let what = words::shield(site, cable);
    match &at.landed {
        Some(ShieldLanding::Terminal(_, mark)) => Some(format!("{what} off {mark}")),
        Some(ShieldLanding::Unnamed) => Some(format!("{what} off where it is landed")),
        None => (!at.joined.is_empty()).then(|| format!("{what} out of its joint")),
    }
}

/// Steps for the shield of a cable that stays.
fn shields(both: &[Side<'_>; 2], was: &Cable, is: &Cable, places: &mut Places) {
    let [old @ Side { sides, .. }, new] = both;
    let shape = |side: &Side<'_>, cable: &Cable, end| {
        let at = cable.shield_at(end)?;
        let landed = at.landed.as_ref().map(|landed| match landed {
            ShieldLanding::Terminal(board, mark) => (side.board(*board), mark.clone()),
            ShieldLanding::Unnamed => (String::new(), String::new()),
        });
        let joined: BTreeSet<String> = at.joined.iter().map(|run| side.cable(*run)).collect();
        Some((landed, joined))
    };
    let site = &sides.new.site;
    let at = ends(site, &sides.new_labels, is);
    for (end, room) in [(End::Near, at.near), (End::Far, at.far)] {
        if shape(old, was, end) == shape(new, is, end) {
            continue;
        }
        // On a board that is exchanged it is landed with that, and off the old one it is lifted with that.
        if new.is_shield_told(is, end) && is.shield_at(end).is_some_and(|at| at.joined.is_empty()) {
            if !old.is_shield_told(was, end) {
                shield_off(sides, was, is, (end, room), places);
            }
            continue;
        }
        let Some(now) = shield(site, &sides.new.wiring, is, end) else { continue };
        let before = words::shield_end(&sides.old.site, &sides.old.wiring, was, end);
        let is_under = was.shield_at(end).is_some_and(|at| at.landed.is_some());
        let before = match (is_under, before.as_str()) {
            (true, _) if old.is_shield_told(was, end) => String::new(),
            // What is under a screw comes off before anything is landed, as conductors do.
            (true, _) => {
                shield_off(sides, was, is, (end, room), places);
                String::new()
            }
            (false, "") => String::new(),
            (false, before) => format!(". Until now: {before}"),
        };
        let here = if end == End::Near { &at.near_words } else { &at.far_words };
        places.add(site, room, "land", format!("{} at {here}: {now}{before}", is.label));
    }
}

/// The step that takes a shield off a screw.
fn shield_off(sides: &Sides<'_>, was: &Cable, is: &Cable, (end, room): (End, Option<Id<Room>>), places: &mut Places) {
    let site = &sides.new.site;
    if was.shield_at(end).is_some_and(|at| at.landed.is_some()) {
        let (what, before) = (words::shield(site, is), words::shield_end(&sides.old.site, &sides.old.wiring, was, end));
        places.add(site, room, "remove", format!("{} {what}: off {before}", was.label));
    }
}

/// Conductors of cables that stay, and land elsewhere now.
fn conductors(both: &[Side<'_>; 2], places: &mut Places) {
    let [old, new] = both;
    let sides = new.sides;
    let pulled = own_steps(sides);
    let exchanged = exchanged(sides, false);
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
        let compiled = if is.is_some() { &sides.new } else { &sides.old };
        let Some(cable) = compiled.wiring.cables.get(cable) else { continue };
        let (near, far) = (compiled.site.start_room(cable.run), compiled.site.runs[cable.run].room);
        let mark = words::conductor_mark(&compiled.site, cable, position);
        // What is lifted comes off before any label is changed.
        let hung = was.and_then(|(at, _)| sides.old.wiring.cables.get(at)).map_or(&cable.label, |was| &was.label);
        for (room, at_near) in [(near, true), (far, false)] {
            if in_pair(sides, was, is, at_near) || is_exchanged(sides, is, at_near, &exchanged) {
                continue;
            }
            let end = if at_near { End::Near } else { End::Far };
            let (before, now) = (old.meets(was, end), new.meets(is, end));
            let only = |these: &[(String, Met)], those: &[(String, Met)]| -> Vec<Met> {
                let stays = |key: &String| those.iter().any(|(other, _)| other == key);
                these.iter().filter(|(key, _)| !stays(key)).map(|(_, met)| met.clone()).collect()
            };
            let in_loop = follows(sides.new, is, at_near);
            let on_board = used(sides.new, is).is_some_and(|used| used.points(end).iter().any(|at| new.is_told(at)));
            let is_free = now.is_empty() && !on_board && !in_loop;
            let (before, mut now) = (only(&before, &now), only(&now, &before));
            let again = in_loop || on_board || !now.is_empty();
            if in_loop {
                now.clear(); // told with the other one of its loop
            }
            let lifted = if is_free {
                FREE
            } else if again {
                AGAIN
            } else {
                ""
            };
            let joint = used(sides.new, is).and_then(|used| end.run(&sides.new.site, used.run));
            let joint = joint.and_then(|run| sides.new.site.joining(run));
            for (kind, text) in moved(&before, &now, lifted, joint) {
                let waits = at_near && is.is_some() && used(compiled, is).is_some_and(|used| alone::waits(sides, used));
                let (label, stage) = match (kind, waits) {
                    ("remove", _) => (hung, Stage::InOrder),
                    (_, true) => continue,
                    (_, false) => (&cable.label, alone::stage(sides, cable)),
                };
                places.add_at(stage, &compiled.site, room, kind, format!("{label} {mark}: {text}"));
            }
        }
    }
}

/// Whether a conductor's end is at a device that is exchanged: how all are landed on the new one is told there.
fn is_exchanged(sides: &Sides<'_>, at: Option<(usize, usize)>, near: bool, exchanged: &[Id<Device>]) -> bool {
    let end = if near { End::Near } else { End::Far };
    used(sides.new, at).is_some_and(|used| stands_at_one(&sides.new.site, used.run, end, exchanged.iter().copied()))
}

/// Whether a run's end is at one of some devices.
pub(super) fn stands_at_one(
    site: &Site,
    run: Id<Run>,
    end: End,
    devices: impl IntoIterator<Item = Id<Device>>,
) -> bool {
    end.run(site, run).is_some_and(|run| devices.into_iter().any(|device| stands_at(site, run, device)))
}

/// The conductor at a place of the list.
fn used(compiled: &Compiled, at: Option<(usize, usize)>) -> Option<&ConductorUse> {
    let (cable, position) = at?;
    compiled.wiring.cables.get(cable)?.conductors.iter().find(|used| used.position == position)
}

/// Whether all that a conductor met and meets at an end is told with the other one of its loop.
fn in_pair(sides: &Sides<'_>, was: Option<(usize, usize)>, is: Option<(usize, usize)>, near: bool) -> bool {
    let zone = |compiled, at| used(compiled, at).and_then(|used| used.function.zone());
    let same = zone(sides.old, was).zip(zone(sides.new, is)).is_some_and(|(was, is)| is_same_zone(sides, was, is));
    same && follows(sides.old, was, near) && follows(sides.new, is, near)
}

/// Whether a conductor is one of a loop's pair, at an end where both have one text.
fn follows(compiled: &Compiled, at: Option<(usize, usize)>, near: bool) -> bool {
    used(compiled, at).is_some_and(|used| {
        used.function.zone().is_some() && !(near && compiled.site.runs[used.run].upstream.is_none())
    })
}

/// Cables that are pulled, taken over or taken out, by either name: their conductors need no steps of their own.
fn own_steps(sides: &Sides<'_>) -> BTreeSet<Subject> {
    let own = sides
        .changes(Kind::Cable)
        .filter(|change| change.new.as_ref().is_none_or(|(subject, _)| is_landed_whole(sides, subject)));
    own.flat_map(|change| [&change.old, &change.new]).flatten().map(|(subject, _)| subject.clone()).collect()
}
