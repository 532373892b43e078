//! Steps, gathered by the place in the house where they are done.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Serialize;

use crate::base::Id;
use crate::model::{Room, Site};
use crate::words;

/// The kinds of step at a place, in the order in which they are done.
const ORDER: [&str; 7] = ["remove", "label", "mount", "land", "fit", "address", "check"];

/// A box to tick.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Step {
    /// What kind of step: "isolate", "remove", "pull", "label", "mount", "land", "fit", "address", "check", "program",
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

/// Steps by place, from the lowest storey up.
#[derive(Default)]
pub(crate) struct Places(BTreeMap<(i64, String, String), Vec<Step>>);

impl Places {
    /// Adds a step in a room of a site.
    pub(crate) fn add(&mut self, site: &Site, room: Option<Id<Room>>, kind: &'static str, text: impl Into<String>) {
        let key = match room {
            Some(id) => {
                let level = &site.levels[site.rooms[id].level];
                (level.storey, level.title.clone(), site.rooms[id].title.clone())
            }
            None => (i64::MAX, String::new(), "No place given".to_owned()),
        };
        let steps = self.0.entry(key).or_default();
        let step = Step::new(kind, text);
        if !steps.contains(&step) {
            steps.push(step);
        }
    }

    /// What is pulled, and the places in order, each with its other steps in the order of the work. A cable has two
    /// places and must be there before either of its ends is labelled and landed, so all are pulled first.
    pub(crate) fn done(self) -> (Vec<Step>, Vec<Place>) {
        let rank = |step: &Step| ORDER.iter().position(|kind| *kind == step.kind).unwrap_or(ORDER.len());
        let mut pulls = Vec::new();
        let mut places = Vec::new();
        for ((_, level, room), steps) in self.0 {
            let (pulled, mut steps): (Vec<Step>, Vec<Step>) = steps.into_iter().partition(|step| step.kind == "pull");
            pulls.extend(pulled);
            steps.sort_by_key(rank);
            if !steps.is_empty() {
                places.push(Place { title: if level.is_empty() { room } else { format!("{room}, {level}") }, steps });
            }
        }
        (pulls, places)
    }
}

/// "in Workshop": the room in the middle of a sentence; empty where it is not known.
pub(crate) fn in_room(site: &Site, room: Option<Id<Room>>) -> String {
    let room = words::room(site, room);
    if room.is_empty() { room } else { format!(" in {room}") }
}
