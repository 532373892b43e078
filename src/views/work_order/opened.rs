//! Screws that are opened: whatever is under one of them is measured and tried again, also what is landed as before.

use std::collections::{BTreeMap, BTreeSet};

use super::cables::is_landed_whole;
use super::devices::{exchanged, stands_at};
use super::{Sides, joints, touched, tried};
use crate::base::Id;
use crate::compiled::Compiled;
use crate::diff::{Kind, Subject};
use crate::model::{Board, Owner, Run, Site};
use crate::register::{FittedKind, OnTerminal, Point};
use crate::words;

/// A terminal: its board's name in the new site, and its mark.
type Screw = (String, String);

/// The zones with a conductor under a screw that is opened, and those of the detectors that such a conductor feeds.
pub(super) fn zones(sides: &Sides<'_>) -> BTreeSet<u32> {
    let site = &sides.new.site;
    let mut zones = BTreeSet::new();
    for run in runs(sides) {
        match site.runs[run].owner {
            Owner::Zone(zone) => zones.extend([site.zones[zone].number.value]),
            Owner::Circuit(_) => zones.extend(fed_beyond(site, run)),
            Owner::Bus(_) | Owner::Spare(_) | Owner::Communicator(_) | Owner::Transformer(_) => {}
        }
    }
    zones
}

/// The runs of circuits with a conductor under a screw that is opened, and those that go on from them.
pub(super) fn circuits(sides: &Sides<'_>) -> BTreeSet<Id<Run>> {
    let site = &sides.new.site;
    let mut next: Vec<Id<Run>> = runs(sides).into_iter().collect();
    next.retain(|run| matches!(site.runs[*run].owner, Owner::Circuit(_)));
    let mut found = BTreeSet::new();
    while let Some(run) = next.pop() {
        if found.insert(run) {
            next.extend(site.runs_after(run).map(|(after, _)| after));
        }
    }
    found
}

/// The zones of the detectors that a run feeds, and those that the runs after it do.
fn fed_beyond(site: &Site, run: Id<Run>) -> Vec<u32> {
    let mut zones = super::measure::fed(site, Some(&site.runs[run].mounted));
    zones.extend(site.runs_after(run).flat_map(|(next, _)| fed_beyond(site, next)));
    zones
}

/// The runs of the new site with a conductor under a screw that is opened, or in a joint that is made again.
fn runs(sides: &Sides<'_>) -> BTreeSet<Id<Run>> {
    let (before, after) = (under(sides, sides.old), under(sides, sides.new));
    let opened = |screw: &Screw| before.get(screw) != after.get(screw);
    let (site, wiring) = (&sides.new.site, &sides.new.wiring);
    let mut runs = beside(sides);
    // A conductor of a circuit that is landed or joined otherwise: what hangs on it was off.
    runs.extend(touched::runs(sides).into_iter().filter(|run| matches!(site.runs[*run].owner, Owner::Circuit(_))));
    runs.extend(joints::remade(sides).into_iter().flat_map(|(_, is)| joints::through(site, is.run)));
    for ((board, mark), things) in &wiring.terminals {
        if !opened(&(site.boards[*board].name.value.clone(), mark.clone())) {
            continue;
        }
        for thing in things {
            let OnTerminal::Conductor(cable, conductor) = thing else { continue };
            let used = wiring.cables.get(*cable).and_then(|cable| cable.conductors.get(*conductor));
            runs.extend(used.map(|used| used.run));
        }
    }
    runs
}

/// The runs of the new site at a board that is new, exchanged or somewhere else, or at a device that is exchanged: all that was on
/// it was off.
pub(super) fn beside(sides: &Sides<'_>) -> BTreeSet<Id<Run>> {
    let site = &sides.new.site;
    let (boards, devices) = (tried::touched_boards(sides), exchanged(sides, false));
    let mut runs = BTreeSet::new();
    if !boards.is_empty() {
        for used in sides.new.wiring.cables.iter().flat_map(|cable| &cable.conductors) {
            let at = used.near.iter().chain(&used.far).filter_map(Point::board);
            runs.extend(at.filter(|board| boards.contains(board)).map(|_| used.run));
        }
        // The loop of a power supply's fault contact.
        let faults =
            site.devices.iter().filter(|device| device.board.as_ref().is_some_and(|at| boards.contains(&at.value)));
        runs.extend(faults.filter_map(|device| device.run));
    }
    if !devices.is_empty() {
        let at =
            site.runs.entries().map(|(id, _)| id).filter(|run| devices.iter().any(|id| stands_at(site, *run, *id)));
        runs.extend(at.flat_map(|run| joints::through(site, run)));
    }
    runs
}

/// What is under each screw of a revision, in words that are the same in both where it stays there.
fn under(sides: &Sides<'_>, side: &Compiled) -> BTreeMap<Screw, BTreeSet<String>> {
    let Compiled { site, wiring, .. } = side;
    let is_old = std::ptr::eq(side, sides.old);
    let key = |subject: Subject| sides.called(subject, is_old);
    let board = |id: Id<Board>| key(Subject::new(Kind::Board, site.boards[id].name.value.as_str())).key;
    // A cable that is landed as a whole is none that was there.
    let label = |cable: usize| {
        let subject = key(Subject::new(Kind::Cable, wiring.cables.get(cable)?.label.as_str()));
        let anew = if !is_old && is_landed_whole(sides, &subject) { " anew" } else { "" };
        Some(format!("{}{anew}", subject.key))
    };
    let mut under: BTreeMap<Screw, BTreeSet<String>> = BTreeMap::new();
    for ((on, mark), things) in &wiring.terminals {
        let words = things.iter().filter_map(|thing| match thing {
            OnTerminal::Conductor(cable, conductor) => {
                let used = wiring.cables.get(*cable)?.conductors.get(*conductor)?;
                Some(format!("conductor {} of {}", used.position, label(*cable)?))
            }
            OnTerminal::Shield(cable) => Some(format!("shield of {}", label(*cable)?)),
            OnTerminal::Link(to, there) => Some(format!("short wire to {} {there}", board(*to))),
            OnTerminal::Lead(lead) => Some(format!("lead {lead:?}")),
        });
        under.entry((board(*on), mark.clone())).or_default().extend(words);
    }
    for fitted in &wiring.fitted {
        let words = match &fitted.kind {
            FittedKind::Resistor { value, .. } => format!("resistor {}", words::resistor(value)),
            FittedKind::Terminator(ohms) => format!("terminator {}", words::terminator(*ohms)),
        };
        let (one, other) = &fitted.across;
        for mark in [one, other] {
            under.entry((board(fitted.board), mark.clone())).or_default().insert(words.clone());
        }
    }
    under
}
