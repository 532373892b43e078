//! What stands on the labels of cables, both ends of each, and the paper that they are printed on.
//!
//! The first line is the cable's label, the same on both ends. The second says where the other end is: the board or joint
//! box, else the opening or the device, else the room. A far end that was not found has no label: nobody could put it on. Every sheet that shows a label or quotes one asks here, and so do
//! the checks. Out of scope: which label a cable has (`register`).

mod place;
pub(crate) mod sheet;
mod short;

use std::collections::{BTreeMap, BTreeSet};

use crate::base::Id;
use crate::draw::label_sheet::{self, Label};
use crate::model::{Run, Site};
use crate::register::{Cable, DeadCable, End, Wiring};

use place::Place;

/// The second line on both ends of a dead cable.
pub(crate) const DEAD: &str = "DEAD";

/// The labels of a site's cables, by the run that each is.
#[derive(Debug)]
pub(crate) struct Labels(BTreeMap<Id<Run>, Ends>);

/// The two ends of a cable.
#[derive(Clone, Debug, Default)]
pub(crate) struct Ends {
    /// What it starts at; with its room where another end would be called the same.
    pub(crate) start: String,
    /// What it ends at, likewise.
    pub(crate) end: String,
    /// What it ends at, always with its room.
    pub(crate) end_in_room: String,
    /// The second line at its near end: "to Scullery window".
    pub(crate) near: String,
    /// The second line at its far end: "from Main panel"; `None` where that end was not found.
    pub(crate) far: Option<String>,
}

impl Labels {
    /// The labels of every cable in use.
    pub(crate) fn of(site: &Site, wiring: &Wiring) -> Self {
        let ends = named(site, wiring);
        let mut names: BTreeMap<String, String> = BTreeMap::new();
        for (cable, ends) in wiring.cables.iter().zip(&ends) {
            for Named { name, .. } in ends {
                names.entry(name.clone()).or_insert_with(|| cable.label.clone());
            }
        }
        let room = sheet::grid(site).line() - label_sheet::length("from ");
        let short = short::forms(&names, |text| label_sheet::length(text) <= room);
        let line = |word: &str, name: &str, unknown: &str| {
            let short = short.get(name).filter(|short| !short.is_empty());
            short.map_or_else(|| unknown.to_owned(), |short| format!("{word} {short}"))
        };
        let both = |(cable, [start, end]): (&Cable, [Named; 2])| {
            let near = if end.found { line("to", &end.name, "near end") } else { end.name.clone() };
            let far = end.found.then(|| line("from", &start.name, "far end"));
            (cable.run, Ends { start: start.name, end: end.name, end_in_room: end.in_room, near, far })
        };
        Self(wiring.cables.iter().zip(ends).map(both).collect())
    }

    /// The labels of a cable of that site: of its near end, then of its far end where that is known.
    pub(crate) fn each(&self, cable: &Cable) -> Vec<Label> {
        let Ends { near, far, .. } = self.ends(cable);
        std::iter::once(near).chain(far).map(|end| Label([cable.label.clone(), end])).collect()
    }

    /// The ends of a cable of that site.
    pub(crate) fn ends(&self, cable: &Cable) -> Ends {
        self.0.get(&cable.run).cloned().unwrap_or_default()
    }
}

/// What an end of a cable is at.
pub(crate) struct Named {
    /// With its room where another end would be called the same.
    pub(crate) name: String,
    /// Always with its room.
    in_room: String,
    /// False where nobody knows the end.
    found: bool,
}

/// What a run ends at, always with its room.
pub(crate) fn end_in_room(site: &Site, run: Id<Run>) -> String {
    place::end(site, run).in_room()
}

/// What the start and the end of every cable are at, in the order of the cables.
pub(crate) fn named(site: &Site, wiring: &Wiring) -> Vec<[Named; 2]> {
    let ends: Vec<[Place; 2]> =
        wiring.cables.iter().map(|cable| [place::start(site, cable.run), place::end(site, cable.run)]).collect();
    let mut rooms: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for Place { name, room, found: _ } in ends.iter().flatten() {
        rooms.entry(name).or_default().insert(room);
    }
    let named = |place: &Place| {
        let shared = rooms.get(place.name.as_str()).is_some_and(|rooms| rooms.len() > 1);
        let in_room = place.in_room();
        Named { name: if shared { in_room.clone() } else { place.name.clone() }, in_room, found: place.found }
    };
    ends.iter().map(|ends| ends.each_ref().map(named)).collect()
}

/// The labels of a dead cable, the same on both ends; one where nobody knows where it ends.
pub(crate) fn of_dead(cable: &DeadCable) -> Vec<Label> {
    let ends = if cable.is_written_down(End::Far) { 2 } else { 1 };
    vec![Label([cable.label.clone(), DEAD.to_owned()]); ends]
}
