//! A cable that was replaced on paper and comes back, or is replaced once more, before anybody has said that its conductors are
//! off: a window typed in the wrong room, compiled and put right, or a commit that is reverted. Nothing of it was done in the
//! house as far as the register knows, so the entry that took its label goes, and it has its label again.

use std::borrow::Cow;
use std::collections::BTreeMap;

use crate::model::{Owner, Site};

use super::dead;
use super::entry::{CableEntry, Known, Register, State};
use super::features;
use super::notice::Notice;
use super::owner::OwnerName;
use super::recognise::Features;

/// The register without what was undone.
pub(crate) fn undone<'r>(site: &Site, register: &'r Register, notices: &mut Vec<Notice>) -> Cow<'r, Register> {
    let in_use: Vec<&CableEntry> = register.cables.iter().filter(|entry| entry.state == State::InUse).collect();
    let by_reason: BTreeMap<String, &CableEntry> =
        in_use.iter().map(|entry| (dead::replaced(&entry.label), *entry)).collect();
    let pairs = register.cables.iter().filter_map(|before| {
        let State::Dead { because, off: false, .. } = &before.state else { return None };
        Some((before, *by_reason.get(because)?))
    });
    let back: Vec<(&CableEntry, &CableEntry)> =
        pairs.filter(|(before, now)| comes_back(site, &in_use, before, now)).collect();
    if back.is_empty() {
        return Cow::Borrowed(register);
    }
    let mut register = register.clone();
    for (before, now) in back {
        let (label, other) = (now.label.clone(), before.label.clone());
        notices.push(Notice::NeverPulled { label, other, entry: now.place, back: before.place });
        register.cables.retain(|entry| entry.label != before.label);
        for entry in register.cables.iter_mut().filter(|entry| entry.label == now.label) {
            // The new one is on the terminals that were its own; one of another type has other conductors.
            let wires = if before.kind == now.kind { now } else { before }.wires.clone();
            let (label, place) = (now.label.clone(), now.place);
            *entry = CableEntry { label, place, wires, state: State::InUse, from: None, ..before.clone() };
        }
    }
    Cow::Owned(register)
}

/// Whether the site has no cable that is like the one that took the place of another, but has the other one again, or a third: a
/// slip that was made twice in a row leaves no cable that never was.
fn comes_back(site: &Site, in_use: &[&CableEntry], before: &CableEntry, now: &CableEntry) -> bool {
    let owner = |owner: Owner| OwnerName::of(site, owner) == now.of;
    let runs = site.runs.entries().filter(|(_, run)| !run.along_written && owner(run.owner));
    let runs: Vec<Features> = runs.map(|(id, _)| features::of_run(site, id)).collect();
    let is = |entry: &CableEntry| runs.iter().any(|run| is_like(run, entry));
    let is_new = |run: &Features| !in_use.iter().any(|entry| entry.of == now.of && is_like(run, entry));
    let stays = |run: &Features| run.kind == now.kind && run.room == now.room;
    let third = || before.kind == now.kind && runs.iter().any(is_new) && !runs.iter().any(stays);
    !is(now) && (is(before) || third())
}

fn is_like(run: &Features, entry: &CableEntry) -> bool {
    let known = |features: &[super::entry::Mounting]| -> Vec<Known> {
        let mut known: Vec<Known> = features.iter().map(|mounting| mounting.known.clone()).collect();
        known.sort();
        known
    };
    run.kind == entry.kind && run.room == entry.room && known(&run.mounted) == known(&entry.mounted)
}
