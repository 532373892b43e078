//! The register matched with the runs of a site: which entry each run's cable is, and which terminals the dead keep.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{Id, Spanned};
use crate::model::{Board, Run, Site};

use super::dead;
use super::entry::{CableEntry, Known, Mounting, Register, State, Wire};
use super::features;
use super::notice::Notice;
use super::owner::OwnerName;
use super::recognise::{self, Features, Names};
use super::wiring::Function;

/// A register as seen from a site.
#[derive(Debug)]
pub(crate) struct Recognised<'r> {
    /// The register.
    pub(crate) register: &'r Register,
    /// The entry of each run's cable, where it has one.
    pub(crate) of_run: BTreeMap<Id<Run>, &'r CableEntry>,
    /// Entries that no run is.
    pub(crate) dead: Vec<&'r CableEntry>,
    /// The first of them that still keeps a terminal, by the terminal's board and mark.
    holders: BTreeMap<(&'r str, &'r str), &'r CableEntry>,
    /// The boards that the register speaks of.
    boards: BTreeSet<&'r str>,
    /// The names that the site has.
    pub(crate) names: Names,
}

impl<'r> Recognised<'r> {
    /// Finds the entry of every run that has a cable of its own.
    pub(crate) fn new(site: &Site, register: &'r Register, notices: &mut Vec<Notice>) -> Self {
        let names = features::names(site);
        let runs: Vec<Id<Run>> = site.runs.entries().filter(|(_, run)| !run.along_written).map(|(id, _)| id).collect();
        let new: Vec<Features> = runs.iter().map(|run| features::of_run(site, *run)).collect();
        let in_use: Vec<&CableEntry> = register.cables.iter().filter(|entry| entry.state == State::InUse).collect();
        let old: Vec<Features> = in_use.iter().map(|entry| features::of_entry(entry)).collect();
        let pairing = recognise::pair(&old, &new, &names);

        let mut of_run = BTreeMap::new();
        for (run, old) in runs.iter().zip(&pairing.old_of) {
            if let Some(entry) = old.and_then(|old| in_use.get(old)) {
                of_run.insert(*run, *entry);
            }
        }
        for guess in &pairing.guesses {
            notices.push(Notice::Guessed {
                runs: guess.new.iter().filter_map(|new| runs.get(*new)).copied().collect(),
                entries: guess
                    .old
                    .iter()
                    .filter_map(|old| in_use.get(*old))
                    .map(|entry| (entry.label.clone(), entry.place))
                    .collect(),
            });
        }
        contested(&runs, &in_use, &old, &new, &names, &pairing, notices);

        // What has been out of use comes back only where nothing in use is meant.
        let resting: Vec<&CableEntry> = register.cables.iter().filter(|entry| entry.dead()).collect();
        let unpaired: Vec<usize> = (0..runs.len()).filter(|at| pairing.old_of.get(*at) == Some(&None)).collect();
        let old: Vec<Features> = resting.iter().map(|entry| features::of_entry(entry)).collect();
        let new: Vec<Features> = unpaired.iter().filter_map(|at| new.get(*at)).cloned().collect();
        for (at, old) in unpaired.iter().zip(recognise::pair_again(&old, &new, &names).old_of) {
            if let (Some(run), Some(entry)) = (runs.get(*at), old.and_then(|old| resting.get(old))) {
                of_run.insert(*run, *entry);
                if let State::Dead { because, off } = &entry.state
                    && (*off || !dead::is_by_the_program(because, &entry.of))
                {
                    let (label, because) = (entry.label.clone(), because.clone());
                    notices.push(Notice::Revived { run: *run, label, because, entry: entry.place });
                }
            }
        }
        let found: BTreeSet<&str> = of_run.values().map(|entry| entry.label.as_str()).collect();
        let dead: Vec<&CableEntry> = register
            .cables
            .iter()
            .filter(|entry| entry.state != State::Out && !found.contains(entry.label.as_str()))
            .collect();
        let mut holders: BTreeMap<(&str, &str), &CableEntry> = BTreeMap::new();
        for entry in &dead {
            for landing in entry.occupies() {
                holders.entry((&landing.board, &landing.mark)).or_insert(entry);
            }
        }
        let landings =
            register.cables.iter().flat_map(|entry| &entry.wires).flat_map(|wire| wire.near.iter().chain(&wire.far));
        let inputs = register.inputs.iter().map(|input| input.board.as_str());
        let boards = inputs.chain(landings.map(|landing| landing.board.as_str())).collect();
        let known = Self { register, of_run, dead, holders, boards, names };
        known.tell_types(site, notices);
        known
    }

    /// Tells which types of cable are taken as having another name now.
    fn tell_types(&self, site: &Site, notices: &mut Vec<Notice>) {
        type Renamed = (Vec<Id<Run>>, Vec<(String, Spanned<()>)>);
        let mut renamed: BTreeMap<(&str, &str), Renamed> = BTreeMap::new();
        for (run, entry) in self.of_run.iter().filter(|(run, entry)| !self.replaced(site, **run, entry)) {
            let Some(kind) = site.runs[*run].cable.as_ref() else { continue };
            let is = site.cables[kind.value].name.value.as_str();
            if is != entry.kind {
                let (runs, entries) = renamed.entry((entry.kind.as_str(), is)).or_default();
                runs.push(*run);
                entries.push((entry.label.clone(), entry.place));
            }
        }
        notices.extend(renamed.into_iter().map(|((was, is), (runs, entries))| {
            let (was, is) = (was.to_owned(), is.to_owned());
            Notice::TypeRenamed { was, is, runs, entries }
        }));
    }

    /// The name by which the register knows a board: its own. A name that no board has any more was that of one that the
    /// register does not speak of otherwise.
    pub(crate) fn is_board(&self, site: &Site, board: Id<Board>, written: &str) -> bool {
        let name = site.boards[board].name.value.as_str();
        let is_gone = || !self.names.mounted.contains(&super::entry::Known::Board(written.to_owned()));
        name == written || (!self.boards.contains(name) && is_gone())
    }

    /// True where a run has the label of an entry and is another cable: one of another type, which has that label in so many
    /// words, or one that ends in another room, for no end in the wall goes there. A type or room that the spec no longer
    /// has may have another name now, a type one that no other had, and a cable that was there before stays. So does one that ends at the opening where it
    /// ended: a window moves to no other room, but a new wall, or a slip put right, gives its place another name.
    pub(crate) fn replaced(&self, site: &Site, run: Id<Run>, entry: &CableEntry) -> bool {
        let mounted = features::of_run(site, run).mounted;
        let at_opening = |one: &Mounting| matches!(one.known, Known::Opening(_));
        let stays = mounted
            .iter()
            .filter(|one| at_opening(one))
            .any(|one| entry.mounted.iter().any(|other| other.known == one.known));
        let run = &site.runs[run];
        let kind = run.cable.as_ref().map(|kind| site.cables[kind.value].name.value.as_str());
        let has_it = |other: &CableEntry| other.state == State::InUse && kind == Some(other.kind.as_str());
        let other_type = kind != Some(entry.kind.as_str())
            && (self.names.kinds.contains(&entry.kind) || self.register.cables.iter().any(has_it));
        let room = run.room.map(|room| site.rooms[room].name.value.as_str());
        let left =
            entry.room.as_ref().filter(|was| room.is_some_and(|is| is != *was) && self.names.rooms.contains(*was));
        entry.state == State::InUse && !run.existing && (other_type || left.is_some() && !stays)
    }

    /// The label of a dead cable that still keeps a terminal, with its entry.
    pub(crate) fn holder(&self, site: &Site, board: Id<Board>, mark: &str) -> Option<&'r CableEntry> {
        self.holders.get(&(site.boards[board].name.value.as_str(), mark)).copied()
    }

    /// The wires that a cable's entry has for a function of one of the runs it carries, the nearest first: those of the same
    /// owner before those of one that this one took the place of, with the same output before with another.
    pub(crate) fn wires(&self, site: &Site, host: Id<Run>, run: Id<Run>, function: Function) -> Vec<&'r Wire> {
        let Some(entry) = self.of_run.get(&host) else { return Vec::new() };
        let (does, output, kept_for) = (function.wire_use(), function.output_name(site), function.kept_for(site, run));
        let owner = OwnerName::of(site, site.runs[run].owner);
        let is_guest = site.runs[run].owner != site.runs[host].owner;
        let is_same = |wire: &Wire| *wire.of.as_ref().unwrap_or(&entry.of) == owner;
        // A guest follows one whose name is gone, a host the one that the cable belonged to.
        let follows = |wire: &Wire| match &wire.of {
            Some(of) => is_guest && !self.names.owners.contains(of),
            None => !is_guest,
        };
        let is_own = |wire: &Wire| wire.output == output && wire.kept_for == kept_for && wire.pin == function.pin();
        let rank = |wire: &Wire| match (is_same(wire), is_own(wire)) {
            (true, true) => Some(0),
            (true, false) => wire.pin.is_none().then_some(1),
            (false, true) => follows(wire).then_some(2),
            (false, false) => (follows(wire) && (is_guest || wire.pin.is_none())).then_some(3),
        };
        let fits = entry.wires.iter().filter(|wire| wire.does == does);
        let mut ranked: Vec<_> = fits.filter_map(|wire| Some((rank(wire)?, wire))).collect();
        ranked.sort_by_key(|(rank, _)| *rank);
        ranked.into_iter().map(|(_, wire)| wire).collect()
    }
}

/// A label given to one run while another, which is given none, is plainly the cable that has it.
fn contested(
    runs: &[Id<Run>],
    in_use: &[&CableEntry],
    old: &[Features],
    new: &[Features],
    names: &Names,
    pairing: &recognise::Pairing,
    notices: &mut Vec<Notice>,
) {
    if new.iter().all(|cable| cable.label.is_none()) {
        return;
    }
    let bare: Vec<Features> = new.iter().map(|cable| Features { label: None, ..cable.clone() }).collect();
    let plain = recognise::pair(old, &bare, names);
    let guessed: BTreeSet<usize> = plain.guesses.iter().flat_map(|guess| guess.old.iter().copied()).collect();
    let holders: BTreeMap<usize, usize> =
        plain.old_of.iter().enumerate().filter_map(|(new, old)| Some(((*old)?, new))).collect();
    for (at, (given, itself)) in pairing.old_of.iter().zip(&plain.old_of).enumerate() {
        let plainly = |entry: &usize| !guessed.contains(entry);
        let Some(entry) = given.filter(|_| given != itself).filter(plainly) else { continue };
        let holder = holders.get(&entry).copied();
        let unnamed = |holder: &usize| new.get(*holder).is_some_and(|cable| cable.label.is_none());
        let holder = holder.filter(unnamed).and_then(|holder| runs.get(holder));
        if let (Some(run), Some(holder), Some(entry)) = (runs.get(at), holder, in_use.get(entry)) {
            notices.push(Notice::LabelTaken { run: *run, holder: *holder, entry: entry.place });
        }
    }
}
