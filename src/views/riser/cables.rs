//! Which cables end where, bundled by where they come from and by type.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::Id;
use crate::compiled::Compiled;
use crate::draw::riser::{Bundle, Label};
use crate::model::{Board, CableType, Mounted, Owner, Room, Run, Site};
use crate::views::cable_marks;
use crate::words;

/// Where a cable has an end: at a board, or in a room under no board.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Place {
    /// At a board, or joined in its enclosure.
    Board(Id<Board>),
    /// In a room; `None` where that is not known.
    Room(Option<Id<Room>>),
}

/// The cables that end in a place: by where they start and by type, their positions.
type Ends = BTreeMap<(Place, Id<CableType>), Vec<usize>>;

/// Every cable that is none between boards of a bus, by where it ends.
pub(super) struct Cables<'c> {
    compiled: &'c Compiled,
    ends: BTreeMap<Place, Ends>,
    starts: BTreeSet<Place>,
    kinds: BTreeSet<Id<CableType>>,
}

impl<'c> Cables<'c> {
    /// The cables of a site.
    pub(super) fn new(compiled: &'c Compiled) -> Self {
        let Compiled { site, wiring, buses, .. } = compiled;
        let (mut ends, mut starts) = (BTreeMap::<Place, Ends>::new(), BTreeSet::new());
        for (at, cable) in wiring.cables.iter().enumerate() {
            if let Owner::Bus(bus) = site.runs[cable.run].owner
                && buses.contains_key(&bus)
            {
                continue;
            }
            let start = start(site, cable.run);
            starts.insert(start);
            let of_place = ends.entry(end(site, cable.run)).or_default();
            of_place.entry((start, cable.kind)).or_default().push(at);
        }
        let kinds = wiring.cables.iter().map(|cable| cable.kind).collect();
        Self { compiled, ends, starts, kinds }
    }

    /// True where a cable starts at a board, or where one before it ends there.
    pub(super) fn start_at(&self, board: Id<Board>) -> bool {
        self.starts.contains(&Place::Board(board))
    }

    /// True where a cable ends in a place.
    pub(super) fn end_in(&self, place: Place) -> bool {
        self.ends.contains_key(&place)
    }

    /// A type of cable in short; by its title where another in use is the same in short.
    fn kind(&self, id: Id<CableType>) -> String {
        let site = &self.compiled.site;
        let kind = &site.cables[id];
        let same = |other: &CableType| other.name.value != kind.name.value && other.short() == kind.short();
        let others = self.kinds.iter().map(|other| &site.cables[*other]);
        if others.into_iter().any(same) { kind.title.clone() } else { kind.short() }
    }

    /// The bundles that end in a place, in the order of the boards' letters.
    pub(super) fn bundles(&self, place: Place, letters: &BTreeMap<Id<Board>, String>) -> Vec<Bundle> {
        let Compiled { site, wiring, .. } = self.compiled;
        let bundle = |((start, kind), cables): (&(Place, Id<CableType>), &Vec<usize>)| {
            let what = format!("{} × {}", cables.len(), self.kind(*kind));
            // A long name of a room is cut behind what counts.
            let words = match start {
                Place::Board(board) => format!("{}: {what}", letters.get(board).cloned().unwrap_or_default()),
                Place::Room(room) => format!("{what}, from {}", words::room(site, *room)),
            };
            let label = |at: &usize| {
                let text = wiring.cables.get(*at)?.label.clone();
                Some(Label { text, link: Some(cable_marks::riser_link(*at)) })
            };
            let is_onward = matches!(start, Place::Room(_));
            (is_onward, Bundle { words, labels: cables.iter().filter_map(label).collect() })
        };
        let mut bundles: Vec<(bool, Bundle)> = self.ends.get(&place).into_iter().flatten().map(bundle).collect();
        bundles.sort_by(|(one, a), (other, b)| one.cmp(other).then_with(|| a.words.cmp(&b.words)));
        bundles.into_iter().map(|(_, bundle)| bundle).collect()
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
