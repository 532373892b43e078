//! Which cables end where, bundled by where they come from, by type and by whether they are in use.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::Id;
use crate::compiled::Compiled;
use crate::draw::riser::{Bundle, Label};
use crate::model::{Board, CableType, Mounted, Owner, Room, Run, Site};
use crate::register::{DeadCable, End, Place as At};
use crate::views::cable_marks;
use crate::views::natural::natural;
use crate::words;

/// Where a cable has an end: at a board, or in a room under no board.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Place {
    /// At a board, or joined in its enclosure.
    Board(Id<Board>),
    /// In a room; `None` where that is not known.
    Room(Option<Id<Room>>),
}

/// Whether a cable is in use.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Use {
    Live,
    Spare,
    Dead,
}

/// The cables that end in a place, by whether they are in use, where they start, and type.
type Ends = BTreeMap<(Use, Place, String), Vec<Label>>;

/// Every cable that is none between boards of a bus, by where it ends.
pub(super) struct Cables<'c> {
    compiled: &'c Compiled,
    ends: BTreeMap<Place, Ends>,
    starts: BTreeSet<Place>,
    /// What the types in use are called.
    kinds: BTreeMap<Id<CableType>, String>,
}

impl<'c> Cables<'c> {
    /// The cables of a site.
    pub(super) fn new(compiled: &'c Compiled) -> Self {
        let Compiled { site, wiring, buses, .. } = compiled;
        let mut found = Self { ends: BTreeMap::new(), starts: BTreeSet::new(), kinds: kinds(compiled), compiled };
        for (at, cable) in wiring.cables.iter().enumerate() {
            let owner = site.runs[cable.run].owner;
            if matches!(owner, Owner::Bus(bus) if buses.contains_key(&bus)) {
                continue;
            }
            let is = if matches!(owner, Owner::Spare(_)) { Use::Spare } else { Use::Live };
            let label = Label { text: cable.label.clone(), link: Some(cable_marks::riser_link(at)) };
            let kind = found.kind(cable.kind).to_owned();
            found.add(end(site, cable.run), (is, start(site, cable.run), kind), label);
        }
        let named: BTreeMap<&str, Id<CableType>> =
            site.cables.entries().map(|(id, kind)| (kind.name.value.as_str(), id)).collect();
        for (at, cable) in wiring.dead.iter().enumerate() {
            if let Some(to) = dead_end(cable) {
                let from = place(cable, End::Near);
                let label = Label { text: cable.label.clone(), link: Some(cable_marks::dead_link(at)) };
                let kind = named.get(cable.kind.as_str()).map(|kind| found.kind(*kind)).filter(|kind| !kind.is_empty());
                let kind = kind.map_or_else(|| words::dead_kind(site, cable), str::to_owned);
                found.add(to, (Use::Dead, from, kind), label);
            }
        }
        found
    }

    fn add(&mut self, to: Place, of: (Use, Place, String), label: Label) {
        self.starts.insert(of.1);
        self.ends.entry(to).or_default().entry(of).or_default().push(label);
    }

    /// True where a cable starts at a board, or where one before it ends there.
    pub(super) fn start_at(&self, board: Id<Board>) -> bool {
        self.starts.contains(&Place::Board(board))
    }

    /// What a type of cable that is in use is called.
    pub(super) fn kind(&self, id: Id<CableType>) -> &str {
        self.kinds.get(&id).map_or("", String::as_str)
    }

    /// The bundles that end in a place, in the order of the boards' letters; what is not in use behind the others.
    pub(super) fn bundles(&self, place: Place, letters: &BTreeMap<Id<Board>, String>) -> Vec<Bundle> {
        let site = &self.compiled.site;
        let bundle = |((is, start, kind), labels): (&(Use, Place, String), &Vec<Label>)| {
            let (state, idle) = match is {
                Use::Live => ("", false),
                Use::Spare => (", spare", true),
                Use::Dead => (", dead", true),
            };
            let what = format!("{} × {kind}{state}", labels.len());
            // A long name of a room is cut behind what counts.
            let words = match start {
                Place::Board(board) => format!("{}: {what}", letters.get(board).cloned().unwrap_or_default()),
                Place::Room(None) => what,
                Place::Room(room) => format!("{what}, from {}", words::room(site, *room)),
            };
            let is_onward = matches!(start, Place::Room(_));
            ((*is, is_onward), Bundle { words, labels: labels.clone(), idle })
        };
        let mut bundles: Vec<((Use, bool), Bundle)> = self.ends.get(&place).into_iter().flatten().map(bundle).collect();
        bundles.sort_by(|(one, a), (other, b)| one.cmp(other).then_with(|| natural(&a.words, &b.words)));
        bundles.into_iter().map(|(_, bundle)| bundle).collect()
    }
}

/// The types in use in short; by their titles where two are the same in short.
fn kinds(compiled: &Compiled) -> BTreeMap<Id<CableType>, String> {
    let site = &compiled.site;
    let used: BTreeSet<Id<CableType>> = compiled.wiring.cables.iter().map(|cable| cable.kind).collect();
    let mut short: BTreeMap<String, usize> = BTreeMap::new();
    for kind in &used {
        *short.entry(site.cables[*kind].short()).or_default() += 1;
    }
    let called = |id: Id<CableType>| {
        let kind = &site.cables[id];
        if short.get(&kind.short()).is_some_and(|count| *count > 1) { kind.title.clone() } else { kind.short() }
    };
    used.into_iter().map(|id| (id, called(id))).collect()
}

/// Where a dead cable ends; `None` where that is not known, and then the riser has no place for it.
pub(super) fn dead_end(cable: &DeadCable) -> Option<Place> {
    Some(place(cable, End::Far)).filter(|at| *at != Place::Room(None))
}

fn place(cable: &DeadCable, end: End) -> Place {
    match cable.place(end) {
        At::Board(board) => Place::Board(board),
        At::Room(room) => Place::Room(room),
    }
}

/// Where a run starts: at its board, else where the run before it ends.
fn start(site: &Site, run: Id<Run>) -> Place {
    match site.runs[run].upstream {
        Some(upstream) => end(site, upstream),
        None => site.start_board(run).map_or(Place::Room(None), Place::Board),
    }
}

/// Where a run ends: at the first board there, else in the enclosure in which it is joined, else in its room.
fn end(site: &Site, run: Id<Run>) -> Place {
    let board = site.runs[run].mounted.iter().find_map(Mounted::board).or_else(|| site.ends_in(run));
    board.map_or(Place::Room(site.runs[run].room), Place::Board)
}
