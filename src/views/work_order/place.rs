//! Steps, gathered by the place in the house where they are done.

use std::collections::{BTreeMap, BTreeSet};

use schemars::JsonSchema;
use serde::Serialize;

use super::boards::at_height;
use crate::base::Id;
use crate::model::{Device, DeviceKind, Room, Site};
use crate::quantity::Metres;
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
    /// True where the text is the name of a thing alone, so that several of a place can stand in one line.
    #[serde(skip)]
    pub(crate) names_only: bool,
    /// True where no conductor is near: of a detector that is heard by radio.
    #[serde(skip)]
    pub(super) by_radio: bool,
}

impl Step {
    /// A step.
    pub(crate) fn new(kind: &'static str, text: impl Into<String>) -> Self {
        Self { kind, text: text.into(), names_only: false, by_radio: false }
    }
}

/// At which stage of the work in a place a step is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Stage {
    /// Before anything else in the place.
    First,
    /// In the order of its kind.
    InOrder,
    /// Behind what is taken off: a cable is cut, and both its pieces get their labels before another is cut.
    Cut,
    /// Behind what is mounted, because it is mounted once something that is mounted here has set it free; so many such steps
    /// come before it.
    Freed(usize),
    /// Behind what is mounted, and before anything else is landed: a blank board is switched on alone.
    Alone,
    /// Before anything is landed on it: a resistor at a board, whose free lead takes a conductor.
    BeforeLanding,
}

impl Stage {
    /// Kind by kind; what lies between two kinds stands behind the first.
    fn rank(self, kind: &str) -> (usize, usize) {
        let of = |kind: &str| 1 + ORDER.iter().position(|known| *known == kind).unwrap_or(ORDER.len());
        match self {
            Self::First => (0, 0),
            Self::InOrder => (of(kind), 0),
            Self::Cut => (of("remove"), 1),
            Self::Freed(steps) => (of("mount"), steps),
            Self::Alone => (of("mount"), usize::MAX - 1),
            Self::BeforeLanding => (of("mount"), usize::MAX),
        }
    }
}

/// When something goes up that comes down first, in words and as a stage of the work.
pub(super) struct When {
    pub(super) words: String,
    pub(super) stage: Stage,
}

impl From<String> for When {
    fn from(words: String) -> Self {
        Self { words, stage: Stage::InOrder }
    }
}

/// An end of a cable that was in the wall before.
pub(super) struct Found {
    pub(super) room: Option<Id<Room>>,
    /// What is said in this place where it is the first of the two to which one comes.
    pub(super) first: String,
    /// And where the cable is known already.
    pub(super) second: String,
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
    rooms: BTreeMap<Key, Vec<(Stage, Step)>>,
    /// The two ends of each cable that was in the wall before: place, what is said there first, and second.
    finds: Vec<[(Key, String, String); 2]>,
    /// A place, and those that come before it: something that goes up there is taken down in them.
    follows: BTreeMap<Key, BTreeSet<Key>>,
    pulls: BTreeMap<String, Step>,
    out: Vec<Step>,
    /// True where a sheet beside the steps has the heights of all that is mounted.
    pub(super) heights_are_told: bool,
}

impl Places {
    /// Adds a step in a room of a site.
    pub(crate) fn add(&mut self, site: &Site, room: Option<Id<Room>>, kind: &'static str, text: impl Into<String>) {
        self.add_at(Stage::InOrder, site, room, kind, text);
    }

    /// The same at a stage of the work.
    pub(crate) fn add_at(
        &mut self,
        stage: Stage,
        site: &Site,
        room: Option<Id<Room>>,
        kind: &'static str,
        text: impl Into<String>,
    ) {
        self.add_step(stage, site, room, Step::new(kind, text));
    }

    /// Adds a thing that is mounted, in words that name it alone or say `more`.
    pub(super) fn mount(&mut self, site: &Site, room: Option<Id<Room>>, named: String, more: When) {
        let names_only = more.words.is_empty();
        let step = Step { names_only, ..Step::new("mount", named + &more.words) };
        self.add_step(more.stage, site, room, step);
    }

    /// Adds a step of one device: two that are alike in one room are two.
    pub(super) fn of_device(&mut self, site: &Site, id: Id<Device>, stage: Stage, step: Step) {
        let device = &site.devices[id];
        let step = Step { by_radio: device.kind == DeviceKind::Wireless, ..step };
        self.rooms.entry(key(site, device.room)).or_default().push((stage, step));
    }

    fn add_step(&mut self, stage: Stage, site: &Site, room: Option<Id<Room>>, step: Step) {
        let steps = self.rooms.entry(key(site, room)).or_default();
        if !steps.contains(&(stage, step.clone())) {
            steps.push((stage, step));
        }
    }

    /// Adds a cable that was in the wall before: it is identified at the end to which one comes first, before any conductor of it
    /// is landed.
    pub(super) fn find(&mut self, site: &Site, ends: [Found; 2]) {
        let ends = ends.map(|Found { room, first, second }| (key(site, room), first, second));
        for (place, ..) in &ends {
            self.rooms.entry(place.clone()).or_default();
        }
        self.finds.push(ends);
    }

    /// How high something is mounted, behind its name; nothing where another sheet says so.
    pub(super) fn at_height(&self, site: &Site, mount: Option<Metres>) -> String {
        if self.heights_are_told { String::new() } else { at_height(site, mount) }
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
        let place = |((_, level, room), mut steps): (Key, Vec<(Stage, Step)>)| {
            steps.sort_by_key(|(stage, step)| stage.rank(step.kind));
            let steps = steps.into_iter().map(|(_, step)| step).collect();
            Place { title: if level.is_empty() { room } else { format!("{room}, {level}") }, steps }
        };
        let Self { rooms: mut left, follows, finds, .. } = self;
        let mut done: Vec<(Key, Vec<(Stage, Step)>)> = Vec::new();
        // Where two places wait for each other, the lower one is first.
        while let Some((lowest, _)) = left.first_key_value() {
            let waits = |key: &Key| {
                follows
                    .get(key)
                    .is_some_and(|before| before.iter().any(|other| other != key && left.contains_key(other)))
            };
            let next = left.keys().find(|key| !waits(key)).unwrap_or(lowest).clone();
            done.extend(left.remove_entry(&next));
        }
        let order: BTreeMap<Key, usize> = done.iter().enumerate().map(|(at, (key, _))| (key.clone(), at)).collect();
        for [one, other] in finds {
            let (one, other) = if order.get(&other.0) < order.get(&one.0) { (other, one) } else { (one, other) };
            for (place, text) in [(one.0, one.1), (other.0, other.2)] {
                if let Some((_, steps)) = order.get(&place).and_then(|at| done.get_mut(*at)) {
                    steps.push((Stage::InOrder, Step::new("find", text)));
                }
            }
        }
        done.into_iter().map(place).collect()
    }
}

/// "in Workshop": the room in the middle of a sentence; empty where it is not known.
pub(crate) fn in_room(site: &Site, room: Option<Id<Room>>) -> String {
    let room = words::room(site, room);
    if room.is_empty() { room } else { format!(" in {room}") }
}
