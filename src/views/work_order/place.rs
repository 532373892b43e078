//! Steps, gathered by the place in the house where they are done.

use std::collections::{BTreeMap, BTreeSet};

use schemars::JsonSchema;
use serde::Serialize;

use crate::base::Id;
use crate::model::{Room, Site};
use crate::words;

/// The kinds of step at a place, in the order in which they are done.
const ORDER: [&str; 9] = ["remove", "inspect", "find", "label", "mount", "land", "fit", "address", "check"];

/// A box to tick.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Step {
    /// What kind of step: "isolate", "remove", "inspect", "pull", "pull-out", "find", "label", "mount", "land", "fit", "address", "check", "program",
    /// "walk-test", "paper".
    pub kind: &'static str,
    /// What to do.
    pub text: String,
}

impl Step {
    /// A step.
    pub(crate) fn new(kind: &'static str, text: impl Into<String>) -> Self {
        Self { kind, text: text.into() }
    }
}

/// The steps in one place.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Place {
    /// Room and level.
    pub(crate) title: String,
    /// In the order in which they are done.
    pub steps: Vec<Step>,
}

/// Storey, level and room.
type Key = (i64, String, String);

fn key(site: &Site, room: Option<Id<Room>>) -> Key {
    match room {
        Some(id) => {
            let level = &site.levels[site.rooms[id].level];
            (level.storey, level.title.clone(), site.rooms[id].title.clone())
        }
        None => (i64::MAX, String::new(), "No place given".to_owned()),
    }
}

/// Steps by place, from the lowest storey up, but for what is taken down in one and goes up in another; and what is pulled, by label, and pulled out. A cable has two places: it must be
/// there before either of its ends is labelled and landed, so all are pulled first, and comes out only after both its ends are
/// off, so that is last.
#[derive(Default)]
pub(crate) struct Places {
    rooms: BTreeMap<Key, Vec<Step>>,
    /// A place, and those that come before it: something that goes up there is taken down in them.
    follows: BTreeMap<Key, BTreeSet<Key>>,
    pulls: BTreeMap<String, Step>,
    out: Vec<Step>,
}

impl Places {
    /// Adds a step in a room of a site.
    pub(crate) fn add(&mut self, site: &Site, room: Option<Id<Room>>, kind: &'static str, text: impl Into<String>) {
        let steps = self.rooms.entry(key(site, room)).or_default();
        let step = Step::new(kind, text);
        if !steps.contains(&step) {
            steps.push(step);
        }
    }

    /// Says that something goes from one place to another: the first stands before the other.
    pub(crate) fn follows(&mut self, from: (&Site, Option<Id<Room>>), to: (&Site, Option<Id<Room>>)) {
        self.follows.entry(key(to.0, to.1)).or_default().insert(key(from.0, from.1));
    }

    /// Adds a cable that is pulled.
    pub(crate) fn pull(&mut self, label: &str, text: impl Into<String>) {
        self.pulls.insert(label.to_owned(), Step::new("pull", text));
    }

    /// Adds a cable that may come out of the wall.
    pub(crate) fn pull_out(&mut self, text: impl Into<String>) {
        self.out.push(Step::new("pull-out", text));
    }

    /// What comes out of the wall.
    pub(crate) fn pulled_out(&mut self) -> Vec<Step> {
        std::mem::take(&mut self.out)
    }

    /// What is pulled, in the order of these labels.
    pub(crate) fn pulled(&mut self, order: &[&str]) -> Vec<Step> {
        order.iter().filter_map(|label| self.pulls.remove(*label)).collect()
    }

    /// The places in order, each with its steps in the order of the work.
    pub(crate) fn done(self) -> Vec<Place> {
        let rank = |step: &Step| ORDER.iter().position(|kind| *kind == step.kind).unwrap_or(ORDER.len());
        let place = |((_, level, room), mut steps): (Key, Vec<Step>)| {
            steps.sort_by_key(rank);
            Place { title: if level.is_empty() { room } else { format!("{room}, {level}") }, steps }
        };
        let Self { rooms: mut left, follows, .. } = self;
        let mut done = Vec::new();
        // Where two places wait for each other, the lower one is first.
        while let Some((lowest, _)) = left.first_key_value() {
            let waits = |key: &Key| {
                follows
                    .get(key)
                    .is_some_and(|before| before.iter().any(|other| other != key && left.contains_key(other)))
            };
            let next = left.keys().find(|key| !waits(key)).unwrap_or(lowest).clone();
            done.extend(left.remove_entry(&next).map(place));
        }
        done
    }
}

/// "in Workshop": the room in the middle of a sentence; empty where it is not known.
pub(crate) fn in_room(site: &Site, room: Option<Id<Room>>) -> String {
    let room = words::room(site, room);
    if room.is_empty() { room } else { format!(" in {room}") }
}
